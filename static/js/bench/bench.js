// The bench on a phone: every press is written down here first, then sent; without a signal it waits its turn.

import * as store from "./store.js";
import { fill, labelOf, read, showAmiss } from "./forms.js";
import { asBefore, asTyped, dropStop, showPicture } from "./mending.js";
import { sendAll } from "./send.js";
import { drawBar, line, runningNow, tick } from "./timer.js";
import { bringDay, clearDay, isOver } from "./today.js";
import { drawCount, drawDay, drawQueue } from "./waiting.js";

const AGAIN_MS = 20000;
const TICK_MS = 5000;
const SAID = "kerfbook-said";
const UNREACHED = {
  "log-in": "Log in again, then it goes by itself.",
  fault: "The workshop's server has a fault. It is tried again by itself.",
};
const thumb = () => document.getElementById("thumb");
const tabs = [...thumb().querySelectorAll(".tabs a")].map((link) => link.getAttribute("href"));
const place = {
  person: Number(thumb().dataset.person),
  queue: thumb().dataset.queue,
  bench: thumb().dataset.bench,
  mends: { hours: tabs[1], cost: tabs[2], note: tabs[3], start: tabs[1], switch: tabs[1], stretch: tabs[1] },
};
let mending = null;

async function mine() {
  return (await store.all()).filter((item) => item.message.person === place.person);
}

async function draw() {
  const items = await mine();
  const bar = document.getElementById("running");
  drawCount(document.getElementById("waiting"), items);
  drawBar(bar, runningNow(bar, items));
  const again = document.getElementById("again");
  if (again) again.textContent = runningNow(bar, items) ? "Switch to" : "Start again";
  const day = document.getElementById("day");
  if (day) drawDay(day, items);
  const list = document.getElementById("queue");
  if (list) drawQueue(list, items, place, flush);
}

// Sends what waits and redraws; the pages kept for later are fetched anew when something was stored.
async function flush() {
  await draw();
  const { came, unreached } = await sendAll(place);
  if ([...came.values()].some((answer) => answer.stored)) await freshen();
  await draw();
  drawSignal(unreached);
  return came;
}

function drawSignal(unreached) {
  const signal = document.getElementById("signal");
  if (signal && UNREACHED[unreached]) signal.textContent = UNREACHED[unreached];
}

async function freshen() {
  const pages = [...tabs, place.queue];
  const [bench] = await Promise.all(pages.map((page) => fetch(page, { cache: "no-store" }).catch(() => null)));
  if (!bench?.ok || bench.redirected) return;
  const fresh = new DOMParser().parseFromString(await bench.text(), "text/html");
  const parts = location.pathname === place.bench ? ["main", "running"] : ["running"];
  for (const id of parts) document.getElementById(id).replaceWith(fresh.getElementById(id));
}

async function newDay() {
  if (!mending) bringDay(document.querySelector(".bench-form"));
  if (!isOver(document.getElementById("day"))) return;
  await freshen();
  const day = document.getElementById("day");
  if (isOver(day)) clearDay(day); // without a signal the page is yesterday's again
  await draw();
}

function shownAgain() {
  newDay();
  flush();
}

async function pressed(event) {
  const form = event.target.closest("form[data-kind]");
  if (!form || event.type !== "submit") return;
  event.preventDefault();
  if (form.dataset.busy) return;
  form.dataset.busy = "yes";
  try {
    await take(form, event.submitter);
  } finally {
    delete form.dataset.busy;
  }
}

async function take(form, button) {
  const { message, photo } = await read(form, button);
  const item = await itemOf(form, button, message, photo);
  const id = await (mending ? store.put(asBefore(form, mending, item)) : store.add(item));
  if (mending) await dropStop(mending);
  const answer = (await flush()).get(id);
  if (answer && !answer.stored) {
    if (!mending) await store.remove(id); // it is still in the form before you
    await draw();
    return refuse(form, answer);
  }
  const kept = [`${item.label}: kept on the phone until there is a signal.`];
  say(answer ? [answer.words, ...answer.flags] : kept, "success", answer?.correct);
  if (form.classList.contains("bench-form")) location.assign(place.bench);
  else showSaid();
}

async function itemOf(form, button, message, photo) {
  const bar = document.getElementById("running");
  const running = runningNow(bar, await mine());
  let kind = form.dataset.kind;
  if (kind === "start" && running) kind = "switch";
  const now = new Date().toISOString();
  const key = kind === "stop" ? message.timer && crypto.randomUUID() : crypto.randomUUID();
  Object.assign(message, { key, act: kind, person: place.person });
  if (kind === "switch") message.stops = running.key;
  if (["start", "switch", "stop", "note"].includes(kind) && !message.clock) message.at = now;
  const label = labelOf(form, message, button);
  return { kind, message, photo, label, job: button?.dataset.job || "", written: now, state: "waiting" };
}

async function refuse(form, answer) {
  if (answer.errors) return showAmiss(form, answer.errors);
  if (form.classList.contains("bench-form")) return showAmiss(form, { "": [answer.words] });
  say([answer.words], "error");
  await freshen();
  await draw();
  return showSaid();
}

function say(words, tone = "success", correct = "") {
  sessionStorage.setItem(SAID, JSON.stringify({ words, tone, correct }));
}

function showSaid() {
  const kept = sessionStorage.getItem(SAID);
  if (!kept) return;
  sessionStorage.removeItem(SAID);
  const { words, tone, correct } = JSON.parse(kept);
  document.querySelectorAll("#main > .said").forEach((box) => box.remove());
  const box = line("div", "said");
  box.setAttribute("role", "status");
  box.append(...words.map((text, at) => line("p", at ? "warning" : tone, text)));
  if (correct) {
    const link = line("a", "", "Correct it");
    link.href = correct;
    box.firstChild.append(" ", link);
  }
  document.getElementById("main").prepend(box);
  box.scrollIntoView({ block: "nearest" });
}

async function mend() {
  const found = location.hash.match(/^#mend-(\d+)$/);
  const form = document.querySelector(".bench-form");
  const items = await mine();
  const item = found && form && items.find((one) => one.id === Number(found[1]));
  if (!item) return;
  mending = item;
  fill(form, asTyped(item, items), item.errors || {});
  showPicture(form, item);
  showAmiss(form, item.errors || { "": [item.words] });
}

document.addEventListener("submit", pressed, true);
document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && shownAgain());
window.addEventListener("online", flush);
window.addEventListener("pageshow", (event) => event.persisted && shownAgain());
document.getElementById("send-now")?.addEventListener("click", flush);
setInterval(async () => (await mine()).some((item) => item.state === "waiting") && flush(), AGAIN_MS);
setInterval(() => tick(document.getElementById("running")), TICK_MS);

navigator.serviceWorker?.register(thumb().dataset.worker).catch(() => null);
if (location.pathname === place.bench) navigator.serviceWorker?.controller?.postMessage("keep");
navigator.storage?.persist?.();
showSaid();
mend().then(newDay);
flush();
