// Which timer runs, as far as this phone knows: what the page said, and what was pressed here since.

export function runningNow(bar, waiting) {
  let running = bar.dataset.key ? { key: bar.dataset.key, since: bar.dataset.since } : null;
  for (const { kind, message, label, job, state } of waiting) {
    if (state !== "waiting") continue;
    if (kind === "start" || kind === "switch") running = { key: message.key, since: message.at, label, job };
    if (kind === "stop" && running && running.key === message.timer) running = null;
  }
  return running;
}

export function asHours(ms) {
  const minutes = Math.max(0, Math.round(ms / 60000));
  return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")}`;
}

const clock = (iso) => new Date(iso).toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });

// Redraws the bar only where the phone knows better than the page.
export function drawBar(bar, running) {
  if ((running?.key || "") === (bar.dataset.shown ?? bar.dataset.key ?? "")) return;
  bar.dataset.shown = running?.key || "";
  bar.dataset.shownSince = running?.since || "";
  bar.replaceChildren(...(running ? parts(running) : [line("p", "what none", "No timer runs")]));
}

function parts(running) {
  const what = line("p", "what");
  what.append(line("b", "", running.label || ""), line("span", "", running.job || ""));
  const length = line("p", "for");
  const hours = line("b", "", asHours(Date.now() - new Date(running.since)));
  hours.id = "elapsed";
  length.append(hours, line("span", "", `since ${clock(running.since)}`));
  const form = document.createElement("form");
  form.dataset.kind = "stop";
  form.dataset.label = `Stop ${running.label || ""}`;
  const timer = Object.assign(document.createElement("input"), { type: "hidden", name: "timer", value: running.key });
  form.append(timer, line("button", "stop", "Stop"));
  return [what, length, form];
}

export function tick(bar) {
  const since = bar.dataset.shownSince ?? bar.dataset.since;
  const hours = bar.querySelector("#elapsed");
  if (hours && since) hours.textContent = asHours(Date.now() - new Date(since));
}

export function line(name, className, text = "") {
  return Object.assign(document.createElement(name), { className, textContent: text });
}

export function button(words, act) {
  const made = line("button", "do", words);
  made.type = "button";
  made.addEventListener("click", act);
  return made;
}
