// Keeps the pages that were looked at last, so that the market list opens where there is no network.
// The network always comes first; what is kept is only shown when it does not answer.
const KEPT = "chauka-pages-1";

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const asked = event.request;
  if (asked.method !== "GET" || new URL(asked.url).origin !== self.location.origin) return;
  event.respondWith(fromNetworkOrKept(asked));
});

async function fromNetworkOrKept(asked) {
  const kept = await caches.open(KEPT);
  try {
    const answer = await fetch(asked);
    if (answer.ok && !answer.redirected) kept.put(asked, answer.clone());
    return answer;
  } catch (noNetwork) {
    const there = await kept.match(asked, { ignoreVary: true });
    if (there) return there;
    throw noNetwork;
  }
}
