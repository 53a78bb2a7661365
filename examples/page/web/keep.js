// Keeps the page for hours without a network: its own few files and nothing else.
const NAME = "page-{{HASH}}",
  FILES = ["./", "page.css", "page.js", "worker.js", "app.wasm.gz"];
self.addEventListener("install", (e) =>
  e.waitUntil(
    caches
      .open(NAME)
      .then((c) => c.addAll(FILES))
      .then(() => self.skipWaiting()),
  ),
);
self.addEventListener("activate", (e) =>
  e.waitUntil(
    caches
      .keys()
      .then((all) => Promise.all(all.filter((k) => k.startsWith("page-") && k !== NAME).map((k) => caches.delete(k))))
      .then(() => self.clients.claim()),
  ),
);
self.addEventListener("fetch", (e) => {
  if (e.request.method !== "GET" || new URL(e.request.url).origin !== location.origin) return;
  e.respondWith(
    caches.match(e.request, { cacheName: NAME, ignoreSearch: true }).then((hit) => hit || fetch(e.request)),
  );
});
