/** Serves what was kept on this phone where the network does not: pages of the shop, their files, their photos.
 *  It keeps nothing by itself; shop/kept.js does, when it is asked to. */
const LIST = "/shop/";

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== self.location.origin) return;
  const isKept = pathname.startsWith("/static/") || pathname.startsWith("/engine/") || (pathname.startsWith(LIST) && pathname !== LIST);
  if (isKept) event.respondWith(keptFirst(request, pathname));
  else if (pathname.includes("/photos/")) event.respondWith(fetch(request).catch(() => anyWidth(pathname)));
  else if (request.mode === "navigate") event.respondWith(fetch(request).catch(() => kept(LIST)));
});

/** What is kept is complete in itself and its files never change: it is quicker, and needs no signal. */
async function keptFirst(request, pathname) {
  return (await caches.match(pathname)) ?? fetch(request).catch(() => (request.mode === "navigate" ? kept(LIST) : Response.error()));
}

async function kept(pathname) {
  return (await caches.match(pathname)) ?? Response.error();
}

/** A photo is kept in one width; the page may ask for another. */
async function anyWidth(pathname) {
  const photo = pathname.slice(0, pathname.lastIndexOf("/") + 1);
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {
      if (new URL(request.url).pathname.startsWith(photo)) return cache.match(request);
    }
  }
  return Response.error();
}
