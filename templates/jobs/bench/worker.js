// Keeps the bench pages and their files on the phone. Served with the list of files and a version made from them.
"use strict";

const TOLD = JSON.parse("{{ told_json|escapejs }}");
const FILES = `kerfbook-files-${TOLD.version}`;
const PAGES = "kerfbook-pages";
const PATIENCE_MS = 4000;

self.addEventListener("install", (event) => {
  event.waitUntil(
    caches.open(FILES).then((cache) => cache.addAll(TOLD.files.map((file) => new Request(file, { cache: "reload" })))),
  );
  self.skipWaiting();
});

self.addEventListener("activate", (event) => {
  event.waitUntil(tidy().then(() => self.clients.claim()).then(keepPages));
});

// Only the bench's own pages, which show nobody's prices, are kept; and only for who is logged in now.
self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== self.location.origin) return;
  if (TOLD.files.includes(url.pathname)) event.respondWith(fromFiles(event.request));
  else if (TOLD.pages.includes(url.pathname)) event.respondWith(page(url.pathname));
  else if (event.request.mode === "navigate") event.respondWith(elsewhere(event.request));
});

self.addEventListener("message", (event) => {
  if (event.data === "keep") event.waitUntil(keepPages());
});

async function tidy() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith("kerfbook-files-") && name !== FILES);
  await Promise.all(old.map((name) => caches.delete(name)));
}

const keepPages = () => Promise.all(TOLD.pages.map((path) => fresh(path).catch(() => null)));

async function fromFiles(request) {
  return (await caches.match(request, { cacheName: FILES, ignoreSearch: true, ignoreVary: true })) || fetch(request);
}

// The workshop's page where it can be had in time, the kept one where not.
async function page(path) {
  const kept = await caches.match(path, { cacheName: PAGES, ignoreVary: true });
  const asked = fresh(path);
  if (!kept) return asked;
  const patience = new Promise((done) => setTimeout(done, PATIENCE_MS, null));
  return Promise.race([asked.catch(() => null), patience]).then((answer) => answer || kept);
}

// Sent to log in means that the kept pages are somebody's who is here no longer: they go.
async function fresh(path) {
  const answer = await fetch(path, { cache: "no-store", credentials: "same-origin" });
  if (answer.redirected) {
    await caches.delete(PAGES);
    return Response.redirect(answer.url);
  }
  if (answer.ok && !(await tellsNews(answer.clone()))) await (await caches.open(PAGES)).put(path, answer.clone());
  return answer;
}

// News of something just done is said once, not again tomorrow from a kept page.
const tellsNews = async (answer) => (await answer.text()).includes('class="said"');

async function elsewhere(request) {
  try {
    return await fetch(request);
  } catch (fault) {
    const bench = await caches.match(TOLD.pages[0], { cacheName: PAGES, ignoreVary: true });
    if (bench) return Response.redirect(TOLD.pages[0]);
    throw fault;
  }
}
