/* Keeps the bench in the browser for when the laptop is out of reach. Only where the browser lets a page be kept: on
   the laptop itself and over HTTPS. EDITION and PARTS are written above by the server. Views, notes and alarms are not
   kept here but by the page itself, so that an old answer is never taken for a new one. */
/* global EDITION, PARTS */

const PARTS_CACHE = `oventide-parts-${EDITION}`;
const PAGES_CACHE = "oventide-pages";
const PATIENCE = 4000;

const isPage = (path) => path === "/bench" || /^\/bench\/[^/]+$/.test(path) && path !== "/bench/alarms";
const isWords = (path) => /^\/words\/[a-z]{2}\.json$/.test(path);

async function keep(cacheName, request, answer) {
  if (answer.ok && !answer.redirected) await (await caches.open(cacheName)).put(request, answer.clone());
  return answer;
}

/** The network's answer, in time; else the kept one. */
async function fresh(request) {
  const cache = await caches.open(PAGES_CACHE);
  try {
    return await keep(PAGES_CACHE, request, await fetch(request, { signal: AbortSignal.timeout(PATIENCE) }));
  } catch {
    return (await cache.match(request, { ignoreSearch: true })) ?? (await cache.match("/bench")) ?? Response.error();
  }
}

async function part(request) {
  const found = await caches.match(request);
  return found ?? keep(PARTS_CACHE, request, await fetch(request));
}

self.addEventListener("install", (event) => {
  event.waitUntil((async () => {
    await (await caches.open(PARTS_CACHE)).addAll(PARTS);
    await (await caches.open(PAGES_CACHE)).add("/bench").catch(() => {});
    await self.skipWaiting();
  })());
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    await self.clients.claim();
    const pages = await caches.open(PAGES_CACHE);
    // the page that has just been opened is kept as well, and pages of an older edition are taken anew
    const open = (await self.clients.matchAll({ type: "window" })).map((client) => new URL(client.url).pathname).filter(isPage);
    const kept = (await pages.keys()).map((request) => new URL(request.url).pathname);
    for (const path of new Set([...open, ...kept])) {
      try {
        await keep(PAGES_CACHE, path, await fetch(path));
      } catch {
        /* it stays as it was */
      }
    }
    for (const name of await caches.keys()) {
      if (name.startsWith("oventide-parts-") && name !== PARTS_CACHE) await caches.delete(name);
    }
  })());
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return;
  if (url.pathname.startsWith("/static/")) event.respondWith(part(request));
  else if (isPage(url.pathname) && request.mode === "navigate" || isWords(url.pathname)) event.respondWith(fresh(request));
});
