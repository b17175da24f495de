// Small courtesies of every page; each works without script as well.
"use strict";

// A form that has been sent is not sent again by an impatient second press.
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (event.defaultPrevented || form.method !== "post" || form.hasAttribute("hx-post")) return;
  if (form.dataset.sent) {
    event.preventDefault();
    return;
  }
  form.dataset.sent = "yes";
  setTimeout(() => delete form.dataset.sent, 4000);
});

// The first field that is amiss takes the focus, so that it is seen and read out.
document.addEventListener("DOMContentLoaded", () => {
  const amiss = document.querySelector(".field.wrong input, .field.wrong select, .field.wrong textarea");
  if (amiss) amiss.focus();
});

// Who logs out takes the pages kept on the phone along; what still waits to be sent stays for them.
document.addEventListener("submit", (event) => {
  if (event.target.matches(".leave") && "caches" in window) caches.delete("kerfbook-pages");
});
