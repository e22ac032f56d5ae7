"use strict";
// Opens the page with no server: what was last seen of it.
const pages = "slipcase-pages";
self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (e) => e.waitUntil(self.clients.claim().then(() => keep("/"))));
async function keep(url) {
  const r = await fetch(url, {credentials: "same-origin"});
  if (r.redirected) return Response.redirect(r.url);
  if (r.ok) await (await caches.open(pages)).put("/", r.clone());
  return r;
}
self.addEventListener("fetch", (e) => {
  const url = new URL(e.request.url);
  if (e.request.method !== "GET" || url.origin !== location.origin || url.pathname !== "/" || url.search) return;
  e.respondWith(keep(e.request.url).catch(async () => (await caches.match("/")) || Response.error()));
});
