// Reads a form of the bench into a message, and shows beside its fields what is amiss.

import { smaller } from "./picture.js";

const LEFT_OUT = new Set(["csrfmiddlewaretoken", "photo", "key"]);

export async function read(form, button) {
  const data = new FormData(form);
  if (button?.name) data.set(button.name, button.value);
  const message = {};
  for (const [name, value] of data) {
    if (!LEFT_OUT.has(name) && value !== "") message[name] = value;
  }
  const file = data.get("photo");
  return { message, photo: file && file.size ? await smaller(file) : null };
}

export function labelOf(form, message, button) {
  if (form.dataset.label) return form.dataset.label;
  if (button?.dataset.title) return button.dataset.title;
  const phase = form.elements.phase?.selectedOptions?.[0]?.textContent.trim() || "";
  const what = { hours: message.hours || message.pick, cost: message.total, note: message.text }[form.dataset.kind];
  return [phase, what].filter(Boolean).join(": ");
}

export function showAmiss(form, errors) {
  clear(form);
  for (const [name, said] of Object.entries(errors)) {
    const field = form.elements[name];
    const box = (field instanceof RadioNodeList ? field[0] : field)?.closest(".field");
    const words = document.createElement("p");
    words.className = box ? "amiss" : "amiss whole";
    words.textContent = said.join(" ");
    if (!box) words.setAttribute("role", "alert");
    (box || form).classList.add(box ? "wrong" : "has-amiss");
    box ? box.append(words) : form.prepend(words);
  }
  form.querySelector(".wrong input, .wrong select, .wrong textarea")?.focus();
}

function clear(form) {
  form.querySelectorAll(".amiss").forEach((words) => words.remove());
  form.querySelectorAll(".wrong").forEach((box) => box.classList.remove("wrong"));
}

// What was typed comes back from the queue to be put right. What can be chosen no longer stays as it was, unless it
// is what was amiss.
export function fill(form, message, errors) {
  for (const [name, value] of Object.entries(message)) {
    const field = form.elements[name];
    if (value === undefined) continue;
    if (field instanceof RadioNodeList) [...field].forEach((one) => (one.checked = one.value === value));
    else if (field?.type === "checkbox") field.checked = true;
    else if (field && field.type !== "hidden") field.value = value;
    if (field?.selectedIndex === -1 && !errors[name]) field.append(new Option("as it was", value, true, true));
  }
}
