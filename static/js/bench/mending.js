// What the workshop refused comes back into its form: with its picture, at its own time, under its own key.

import * as store from "./store.js";
import { asHours, button, line } from "./timer.js";
import { dayOf } from "./today.js";

const TIMED = ["start", "switch", "stretch"];

// Hours of a timer come back as typed ones: on the day it began, and as long as it ran where it is over.
export function asTyped(item, items) {
  if (!TIMED.includes(item.kind)) return item.message;
  const { phase, change, note, at, started_at: began = at, ended_at: ended = endOf(item, items) } = item.message;
  const hours = ended && asHours(new Date(ended) - new Date(began));
  return { phase, change, note, on_date: dayOf(new Date(began)), hours };
}

function endOf({ message: { key } }, items) {
  const end = items.map((one) => one.message).find((other) => other.timer === key || other.stops === key);
  return end && (end.stopped_at || end.at);
}

// What stopped that timer has nothing more to stop.
export async function dropStop(timed) {
  if (!TIMED.includes(timed.kind)) return;
  const stops = (await store.all()).filter((one) => one.message.timer === timed.message.key);
  for (const one of stops) await store.remove(one.id);
}

// The picture taken before goes along unless another is chosen or it is left out.
export function showPicture(form, item) {
  const field = form.elements.photo;
  if (!field || !item.photo) return;
  const words = line("p", "attached", "A picture is attached. ");
  words.append(button("Leave it out", () => words.remove()));
  field.closest(".field").append(words);
  field.addEventListener("change", () => field.files.length && words.remove());
}

const keepsPicture = (form) => Boolean(form.querySelector(".attached"));

export function asBefore(form, old, item) {
  const key = old.kind === item.kind ? old.message.key : item.message.key;
  const message = { ...item.message, key };
  if (message.at && old.message.at) message.at = old.message.at;
  const photo = item.photo || (keepsPicture(form) ? old.photo : null);
  return { ...item, message, photo, written: old.written, id: old.id };
}
