// The queue made visible: a count in the head, rows under today's entries, and a page to put conflicts right.

import * as store from "./store.js";
import { asHours, button, line } from "./timer.js";

const KINDS = { start: "Start", switch: "Switch to", stop: "", stretch: "Hours", hours: "Hours", cost: "Cost", note: "Note" };

const ANEW = { state: "waiting", asks: null, words: null, errors: null, tries: 0 };

export function drawCount(link, items) {
  const amiss = items.filter((item) => item.state !== "waiting").length;
  link.hidden = items.length === 0;
  link.textContent = amiss ? `${amiss} to put right` : `${items.length} waiting`;
}

export function drawDay(list, items) {
  list.querySelectorAll(".queued").forEach((row) => row.remove());
  for (const item of items) {
    const row = line("li", "queued");
    row.append(line("b", "", said(item)), line("span", "n", when(item)));
    row.append(line("small", "", item.state === "waiting" ? "waits for a signal" : item.words || "to put right"));
    list.append(row);
  }
}

export function drawQueue(list, items, place, again) {
  list.replaceChildren(...items.map((item) => row(item, items, place, again)));
  document.getElementById("empty").hidden = items.length > 0;
  document.getElementById("send-now").hidden = items.length === 0;
}

const said = (item) => [KINDS[item.kind], item.label].filter(Boolean).join(" ");
const when = (item) =>
  new Date(item.message.at || item.written).toLocaleString("en-GB", { hour: "2-digit", minute: "2-digit", day: "numeric", month: "short" });

function row(item, items, place, again) {
  const box = line("li", "");
  box.append(line("p", "", `${said(item)}, ${when(item)}`));
  if (item.state === "waiting") {
    box.append(line("p", "quiet", "Waits for a signal."), acts(dropButton(item, again)));
    return box;
  }
  box.append(line("p", "amiss", item.words || Object.values(item.errors || {}).flat().join(" ")));
  box.append(acts(...ways(item, items, place, again)));
  return box;
}

function acts(...found) {
  const box = line("p", "acts");
  box.append(...found);
  return box;
}

// The ways out of a conflict are the person's to choose; none is taken for them.
function ways(item, items, place, again) {
  const found = [];
  if (item.asks === "at") found.push(...askWhen(item, again));
  const stop = items.find((other) => other.kind === "stop" && other.message.timer === item.message.key);
  if ((item.kind === "start" || item.kind === "switch") && stop) {
    const length = asHours(new Date(stop.message.at) - new Date(item.message.at));
    found.push(button(`Keep it as ${length} h`, () => asStretch(item, stop).then(again)));
  }
  if (place.mends[item.kind] && !item.asks) {
    found.push(Object.assign(line("a", "do", "Put right"), { href: `${place.mends[item.kind]}#mend-${item.id}` }));
  }
  found.push(button("Send again", () => store.put({ ...item, ...ANEW }).then(again)));
  found.push(dropButton(item, again));
  return found;
}

// A switch began its own timer when it was pressed: the answer ends the old one alone.
function askWhen(item, again) {
  const time = Object.assign(line("input", ""), { type: "datetime-local", ariaLabel: "When did you stop?" });
  const stopped = button("I stopped then", () => {
    if (!time.value) return time.focus();
    const said = new Date(time.value).toISOString();
    const message = { ...item.message, ...(item.kind === "switch" ? { stopped_at: said } : { at: said, sure: true }) };
    return store.put({ ...item, ...ANEW, message }).then(again);
  });
  return [time, stopped];
}

async function asStretch(start, stop) {
  const { key, person, phase, change, at } = start.message;
  const message = { key: crypto.randomUUID(), act: "stretch", person, phase, change, started_at: at, ended_at: stop.message.at };
  await store.put({ ...start, ...ANEW, kind: "stretch", message });
  await store.remove(stop.id);
  return key;
}

// Dropping loses what was logged, so it takes two presses.
function dropButton(item, again) {
  let sure = false;
  const drop = button("Drop", () => {
    if (sure) return store.remove(item.id).then(again);
    sure = true;
    drop.textContent = "Drop it for good";
    return null;
  });
  drop.classList.add("last");
  return drop;
}
