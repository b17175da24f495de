// What the workshop refused comes back into its form: with its picture, at its own time, under its own key.

import { button, line } from "./timer.js";

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
  const message = { ...item.message, key: old.message.key || item.message.key };
  if (message.at && old.message.at) message.at = old.message.at;
  const photo = item.photo || (keepsPicture(form) ? old.photo : null);
  return { ...item, message, photo, written: old.written, id: old.id };
}
