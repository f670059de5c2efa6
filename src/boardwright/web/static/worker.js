// Keeps what was opened of a home on this device, so that it can be read where nothing answers.
//
// The server is always asked first; what it says is kept. Entries are not this worker's business:
// they wait in the page's own queue.

const KEPT = "boardwright-kept-1";
const PATIENCE_MS = 4000;
const PAUSE_MS = 30;
const NOTHING = "/offline";
const OPENED = /^\/($|jobs\/|static\/|api\/jobs\/[^/]+(\/(limits|events))?$|manifest\.webmanifest$)/;

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(KEPT).then((kept) => kept.add(NOTHING)).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(tidy().then(() => self.clients.claim()));
});

async function tidy() {
  for (const name of await caches.keys()) if (name !== KEPT) await caches.delete(name);
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== self.location.origin || !OPENED.test(pathname)) return;
  event.respondWith(answered(event));
});

async function answered({ request }) {
  const known = await find(request.url);
  const asked = fetch(request).then((answer) => keep(request.url, answer));
  asked.catch(() => null);
  try {
    // With a copy at hand, a signal of one bar is not waited for.
    return await (known ? Promise.race([asked, late(known)]) : asked);
  } catch {
    if (known) return known;
    if (request.mode === "navigate") return (await find(NOTHING)) ?? Response.error();
    return Response.error();
  }
}

function late(known) {
  return new Promise((done) => { setTimeout(done, PATIENCE_MS, known); });
}

async function find(url) {
  const kept = await caches.open(KEPT);
  return kept.match(url, { ignoreVary: true });
}

async function keep(url, answer) {
  if (answer.ok && answer.type === "basic" && !answer.redirected) {
    const copy = answer.clone();
    await (await caches.open(KEPT)).put(url, copy).catch(() => null);
  }
  return answer;
}

// The page asks to keep a whole home. What several pages ask for is fetched once, one address after
// the other, with a pause, so that the server has time for the person.
const wanted = new Set();
let fetching = null;

self.addEventListener("message", (event) => {
  if (!Array.isArray(event.data?.keep)) return;
  const addresses = event.data.keep.map(String);
  for (const address of addresses) wanted.add(address);
  fetching ??= fetchWanted().finally(() => { fetching = null; });
  event.waitUntil(fetching.then((all) => {
    event.source?.postMessage({ kept: all ? addresses.length : 0, of: addresses.length });
  }));
});

async function fetchWanted() {
  for (const address of wanted) {
    const url = new URL(address, self.location.origin);
    wanted.delete(address);
    if (url.origin !== self.location.origin || !OPENED.test(url.pathname)) continue;
    try {
      await keep(url.href, await fetch(url.href, { credentials: "same-origin" }));
    } catch {
      wanted.clear(); // nothing answers: the next page asks again
      return false;
    }
    await new Promise((done) => { setTimeout(done, PAUSE_MS); });
  }
  return true;
}
