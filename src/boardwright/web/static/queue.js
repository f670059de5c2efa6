// What was entered on this device and has not reached the server yet.
//
// Kept in the browser's own store, so that a reload or an empty battery loses nothing; sent in the
// order in which it was entered, as soon as the server answers. Sending twice does no harm: events
// have ids, and a change that was made already merges with itself.

const DB = "boardwright";
const LOCAL = "boardwright-waiting";
const LOCK = "boardwright-send";
const MOST_EVENTS = 200;
const LONGEST_BATCH = 1e6;
const FIRST_WAIT_MS = 2000;
const LONGEST_WAIT_MS = 60000;
const PATIENCE_MS = 20000;

const listeners = new Set();
let sending = null;
let entering = Promise.resolve();
let wait = FIRST_WAIT_MS;
let timer = 0;
let reached = true;

// -- where entries wait ---------------------------------------------------------------------

function asked(request) {
  return new Promise((done, failed) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });
}

function ended(transaction) {
  return new Promise((done, failed) => {
    transaction.oncomplete = () => done();
    transaction.onabort = transaction.onerror = () => failed(transaction.error);
  });
}

async function database() {
  const open = indexedDB.open(DB, 1);
  open.onupgradeneeded = () => {
    open.result.createObjectStore("rows", { keyPath: "seq", autoIncrement: true });
  };
  const db = await asked(open);
  const within = async (mode, work) => {
    const transaction = db.transaction("rows", mode, { durability: "strict" });
    const result = work(transaction.objectStore("rows"));
    await ended(transaction);
    return result;
  };
  return {
    lasts: true,
    all: () => asked(db.transaction("rows").objectStore("rows").getAll()),
    write: (puts, drops = []) => within("readwrite", (rows) => {
      for (const seq of drops) rows.delete(seq);
      for (const row of puts) rows.put(row);
    }),
  };
}

// Without a database: the smaller store of the browser, or the page alone, which says so.
function plain() {
  let kept = [];
  let lasts = true;
  try {
    kept = JSON.parse(localStorage.getItem(LOCAL) ?? "[]");
  } catch {
    lasts = false;
  }
  return {
    lasts,
    all: async () => kept.map((row) => ({ ...row })),
    write: async (puts, drops = []) => {
      kept = kept.filter((row) => !drops.includes(row.seq));
      for (const row of puts) {
        row.seq ??= Math.max(0, ...kept.map((each) => each.seq)) + 1;
        kept = [...kept.filter((each) => each.seq !== row.seq), row].sort((a, b) => a.seq - b.seq);
      }
      // Only a database holds pictures; elsewhere they last as long as the page.
      if (lasts) localStorage.setItem(LOCAL, JSON.stringify(kept.filter((row) => !(row.body instanceof Blob))));
    },
  };
}

const box = database().catch(plain);

// -- names of this device and of what is entered on it --------------------------------------

export function newId() {
  // randomUUID is there only on a secure page; random bytes are everywhere.
  return [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

export function device() {
  try {
    const known = localStorage.getItem("boardwright-device") ?? newId();
    localStorage.setItem("boardwright-device", known);
    return known;
  } catch {
    return (device.here ??= newId());
  }
}

// -- what the page asks -----------------------------------------------------------------------

// Keep an entry and send it as soon as it can be. `body` is that of the JSON API at `url`.
// One after the other: what is entered last must stand last.
export function enqueue(entry) {
  entering = entering.catch(() => null).then(() => enter(entry));
  return entering;
}

async function enter({ url, body }) {
  const rows = await (await box).all();
  const refused = rows.filter((row) => row.refused && row.url === url);
  const row = { url, body: body instanceof Blob ? body : structuredClone(body), at: new Date().toISOString() };
  if (body.edits) {
    // What was refused before may pass together with this: a figure and who read it.
    const again = refused.flatMap((each) => each.body.edits).filter((old) => !touches([old], body.edits));
    row.body.edits = [...again, ...body.edits];
  }
  await (await box).write([row], refused.map((each) => each.seq));
  await tell();
  flush();
}

// Return the entries of a home that the server does not have yet, oldest first.
export async function waiting(job) {
  const rows = await (await box).all();
  return rows.filter((row) => !job || row.url.startsWith(`/api/jobs/${job}/`));
}

// Send what waits; ends when nothing does, or the server does not answer.
export function flush() {
  sending ??= locked(drain).finally(() => { sending = null; });
  return sending;
}

// Call back with every change of {waiting, refused, reached, lasts} and with what became of entries.
export function watch(told) {
  listeners.add(told);
  tell();
  return () => listeners.delete(told);
}

// -- sending --------------------------------------------------------------------------------------

async function locked(work) {
  // Two pages of one browser send one after the other.
  if (navigator.locks) return navigator.locks.request(LOCK, work);
  return work();
}

async function drain() {
  clearTimeout(timer);
  for (;;) {
    const row = await next();
    if (!row) break;
    const answer = await post(row);
    reached = answer !== null;
    if (!reached) {
      timer = setTimeout(flush, wait);
      wait = Math.min(2 * wait, LONGEST_WAIT_MS);
      break;
    }
    wait = FIRST_WAIT_MS;
    await settle(row, answer);
    await tell();
  }
  await tell();
}

// Return the next entry to send, with those behind it that go along. Once sent it stays as it is:
// the server may have it already, without our having heard so.
async function next() {
  const rows = (await (await box).all()).filter((row) => !row.refused);
  const [first, ...rest] = rows;
  if (!first || first.sent || first.body instanceof Blob) return first;
  const along = [];
  for (const row of first.alone ? [] : rest) {
    if (row.url !== first.url || row.alone || row.body.base !== first.body.base) break;
    along.push(row);
  }
  const all = [first, ...along];
  const body = { ...first.body };
  if (body.edits) body.edits = lastOfEach(all.flatMap((row) => row.body.edits));
  if (body.events) {
    all.splice(MOST_EVENTS);
    body.events = all.flatMap((row) => row.body.events);
  }
  const row = { ...first, body, sent: true };
  await (await box).write([row], all.slice(1).map((each) => each.seq));
  return row;
}

function lastOfEach(edits) {
  return [...new Map(edits.map((edit) => [edit.path, edit])).values()];
}

async function post(row) {
  const binary = row.body instanceof Blob;
  try {
    const answer = await fetch(row.url, {
      method: "POST",
      headers: { "Content-Type": binary ? row.body.type : "application/json" },
      body: binary ? row.body : JSON.stringify(row.body),
      signal: AbortSignal.timeout?.(PATIENCE_MS),
    });
    if (answer.status >= 500 || [401, 403, 408, 429].includes(answer.status)) return null;
    return { status: answer.status, said: await answer.json().catch(() => ({})) };
  } catch {
    return null;
  }
}

async function settle(row, { status, said }) {
  if (status < 300) {
    const others = await related(row);
    // What this device changes again, after its own change was kept, goes against that version.
    const later = others.filter((each) => !each.refused).map((each) => ({ ...each, body: { ...each.body, base: said.version } }));
    const settled = others.filter((each) => each.refused).map((each) => each.seq);
    await (await box).write(later, [row.seq, ...settled]);
    news({ kind: "saved", row, said });
  } else if (status === 409) {
    // The server keeps both texts; the person chooses.
    await (await box).write([], [row.seq]);
    news({ kind: "conflict", row, said });
  } else if ((row.body.edits?.length ?? 0) > 1) {
    // One wrong answer must not hold up the others; they keep their place before what came later.
    const each = row.body.edits.map((edit, at) => ({
      seq: row.seq + (at + 1) / LONGEST_BATCH, url: row.url, at: row.at, alone: true, body: { ...row.body, edits: [edit] },
    }));
    await (await box).write(each, [row.seq]);
  } else {
    const details = said.details?.length ? said.details : [said.error ?? `The server answered ${status}.`];
    const newer = (await related(row)).some((each) => each.seq > row.seq);
    await (await box).write(newer ? [] : [{ ...row, refused: details }], newer ? [row.seq] : []);
    if (!newer) news({ kind: "refused", row, said: { ...said, details } });
  }
}

// Return the other entries that speak of the same fields.
async function related(row) {
  if (!row.body.edits) return [];
  const rows = await (await box).all();
  return rows.filter((each) => each.seq !== row.seq && each.url === row.url && touches(each.body.edits, row.body.edits));
}

function touches(some, others) {
  const within = (a, b) => a === b || a.startsWith(`${b}.`);
  return some.some(({ path }) => others.some((other) => within(path, other.path) || within(other.path, path)));
}

// -- telling ----------------------------------------------------------------------------------------

function news(what) {
  for (const told of listeners) told(state.last, what);
}

const state = { last: { waiting: 0, refused: 0, reached: true, lasts: true } };

async function tell() {
  const here = await box;
  const rows = await here.all();
  const count = (wanted) => rows
    .filter((row) => Boolean(row.refused) === wanted)
    .reduce((sum, row) => sum + (row.body.edits?.length ?? row.body.events?.length ?? 1), 0);
  state.last = { waiting: count(false), refused: count(true), reached, lasts: here.lasts };
  for (const told of listeners) told(state.last, null);
}

if (typeof document !== "undefined") {
  addEventListener("online", flush);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) flush(); });
  flush();
}
