// Sends what waits, in order and one at a time. A message leaves the phone's store once the workshop has answered
// that it is stored; without an answer it is sent again under the same key, and the workshop knows it.

import * as store from "./store.js";
import { asBase64 } from "./picture.js";

const PATIENCE_MS = 20000;
const BYTES_A_MS = 5; // what a thin signal carries
const TRIES = 3;
const TOO_LARGE = "This is more than the workshop's server takes in. Put it right without the picture.";
const FAILED = "The workshop's server failed at this three times. Send it again later, or tell who looks after the server.";

// Several tabs or events may ask at once: one sends, the others wait and find nothing left.
export function sendAll(place) {
  return navigator.locks ? navigator.locks.request("kerfbook-send", () => sendInOrder(place)) : sendInOrder(place);
}

// What came of each message by its id, and whether the workshop could be reached.
async function sendInOrder(place) {
  const came = new Map();
  const held = new Set();
  for (const item of await store.all()) {
    if (item.message.person !== place.person) continue;
    if (item.state !== "waiting" || held.has(item.message.timer) || held.has(item.message.stops)) {
      held.add(item.message.key);
      continue;
    }
    const answer = await afterTries(item, await sendOne(item, place), place);
    if (answer.unreached) return { came, unreached: answer.unreached };
    came.set(item.id, answer);
    if (!answer.stored) held.add(item.message.key);
    await keepAnswer(item, answer);
  }
  return { came, unreached: null };
}

async function keepAnswer(item, answer) {
  if (answer.stored) return store.remove(item.id);
  return amend(item, { errors: null, words: null, ...answer, state: answer.errors ? "amiss" : "refused" });
}

// What was dropped while it was on its way stays dropped.
async function amend(item, answer) {
  if (await store.get(item.id)) await store.put({ ...item, ...answer });
}

// A message that the server fails at, while it is there for others, keeps these waiting twice and no longer.
async function afterTries(item, answer, place) {
  if (!answer.failed) return answer;
  const tries = (item.tries || 0) + 1;
  await amend(item, { tries });
  return tries >= TRIES && (await isThere(place)) ? { words: FAILED } : { unreached: "fault" };
}

// Asked by HEAD, which the worker does not answer from what it keeps.
async function isThere(place) {
  const answer = await fetch(place.queue, { method: "HEAD", cache: "no-store", redirect: "manual" }).catch(() => null);
  return Boolean(answer?.ok);
}

async function sendOne(item, place) {
  const body = JSON.stringify({ ...item.message, ...(item.photo ? { photo: await asBase64(item.photo) } : {}) });
  for (const attempt of [1, 2]) {
    const answer = await post(place.queue, body);
    if (!answer) return { unreached: "signal" };
    if (answer.type === "opaqueredirect") return { unreached: "log-in" };
    if (answer.status === 403 && attempt === 1) {
      await fetch(place.bench, { cache: "no-store" }).catch(() => null); // a fresh token for the forms
      continue;
    }
    return read(answer);
  }
  return { unreached: "log-in" };
}

async function post(address, body) {
  try {
    return await fetch(address, {
      method: "POST",
      body,
      redirect: "manual",
      signal: AbortSignal.timeout(PATIENCE_MS + body.length / BYTES_A_MS),
      headers: { "Content-Type": "application/json", "X-CSRFToken": token() },
    });
  } catch {
    return null;
  }
}

async function read(answer) {
  const json = await answer.json().catch(() => null);
  if (answer.ok && json) return { stored: true, words: json.words, flags: json.flags || [], correct: json.correct };
  if (answer.status === 409 && json) return { words: json.words, asks: json.asks };
  if (answer.status === 400) return { errors: json?.errors || { message: ["The workshop cannot read this."] } };
  if (answer.status === 413) return { words: TOO_LARGE };
  if (answer.status >= 500) return { failed: true };
  return { unreached: answer.status === 403 ? "log-in" : "signal" };
}

function token() {
  const found = document.cookie.match(/(?:^|; )(?:__Host-)?kerfbook-csrf=([^;]+)/);
  return found ? found[1] : "";
}
