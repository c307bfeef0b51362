// Keeps the pages that were looked at last, so that the market list opens where there is no network.
// The network always comes first; what is kept is only shown when it does not answer.
const KEPT = "chauka-pages-2";
const WORTH_KEEPING = /^(text\/(html|css|javascript)|image\/svg|font\/)/;

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => {
  const dropOld = caches.keys().then((names) => Promise.all(names.filter((n) => n !== KEPT).map((n) => caches.delete(n))));
  event.waitUntil(Promise.all([dropOld, self.clients.claim()]));
});

self.addEventListener("fetch", (event) => {
  const asked = event.request;
  if (asked.method !== "GET" || new URL(asked.url).origin !== self.location.origin) return;
  if (asked.headers.has("HX-Request")) return; // a part of a page that moves: an old answer would be a wrong one
  event.respondWith(fromNetworkOrKept(event));
});

async function fromNetworkOrKept(event) {
  const asked = event.request;
  const kept = await caches.open(KEPT);
  try {
    const answer = await fetch(asked);
    const worth = WORTH_KEEPING.test(answer.headers.get("Content-Type") ?? "");
    // Not before the copy is whole may the worker be put to sleep.
    if (answer.ok && !answer.redirected && worth) event.waitUntil(kept.put(asked, answer.clone()));
    return answer;
  } catch (noNetwork) {
    const there = await kept.match(asked, { ignoreVary: true });
    if (there) return there;
    throw noNetwork;
  }
}
