// A page kept on the phone, or left open over night, carries the day it was made on. What is logged belongs to the
// phone's own today.

export const dayOf = (at) =>
  [at.getFullYear(), at.getMonth() + 1, at.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
const today = () => dayOf(new Date());

// A day that nobody has touched is today's.
export function bringDay(form) {
  const field = form?.elements.on_date;
  if (!field || field.value !== field.defaultValue || field.value >= today()) return;
  field.value = field.defaultValue = today();
}

export const isOver = (list) => Boolean(list) && list.dataset.day < today();

// Yesterday's entries are not shown as today's.
export function clearDay(list) {
  list.querySelectorAll("li:not(.queued)").forEach((row) => row.remove());
  const total = list.parentElement.querySelector(".total");
  if (total) total.textContent = "";
}
