// Sends what waits, in order and one at a time. A message leaves the phone's store once the workshop has answered
// that it is stored; without an answer it is sent again under the same key, and the workshop knows it.

import * as store from "./store.js";
import { asBase64 } from "./picture.js";

const PATIENCE_MS = 20000;

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
    const answer = await sendOne(item, place);
    if (answer.unreached) return { came, unreached: answer.unreached };
    came.set(item.id, answer);
    if (!answer.stored) held.add(item.message.key);
    await keepAnswer(item, answer);
  }
  return { came, unreached: null };
}

async function keepAnswer(item, answer) {
  if (answer.stored) return store.remove(item.id);
  return store.put({ ...item, state: answer.errors ? "amiss" : "refused", ...answer });
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
      signal: AbortSignal.timeout(PATIENCE_MS),
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
  return { unreached: answer.status === 403 ? "log-in" : "signal" };
}

function token() {
  const found = document.cookie.match(/(?:^|; )(?:__Host-)?kerfbook-csrf=([^;]+)/);
  return found ? found[1] : "";
}
