// A device is moved by hand or by keys; lead sum, level and findings follow at once, nothing is saved.
"use strict";

import { ask, clash, job, refresh, saved, say, version, workOut } from "/static/parts.js";

const query = () => new URLSearchParams(location.search);
const rail = () => document.getElementById("rail");
const placeOf = (item) => rail()?.querySelector(`li[data-item="${CSS.escape(item)}"]`);
const deviceOf = (item) => document.querySelector(`#board .device[data-item="${CSS.escape(item)}"]`);
let lifted = null;
let asked = 0;

/** Let every device that may be moved be reached and taken up. */
function dress() {
  for (const place of rail()?.querySelectorAll("li[data-movable]") ?? []) {
    const device = deviceOf(place.dataset.item);
    if (!device) continue;
    device.setAttribute("tabindex", "0");
    device.setAttribute("role", "button");
    device.setAttribute("aria-pressed", String(lifted?.item === place.dataset.item));
    device.setAttribute("aria-label", `${place.textContent}, way ${place.dataset.way}: move it`);
    device.classList.add("movable");
    device.classList.toggle("lifted", lifted?.item === place.dataset.item);
  }
}

/** Show the board with these moves; while one drags, only what they would do. */
async function show(moves, only) {
  const now = query();
  now.delete("move");
  for (const move of moves) now.append("move", move);
  const mine = ++asked;
  const fresh = `${location.pathname}?${now}`;
  if (!only) history.replaceState(null, "", fresh);
  const done = await refresh({ at: fresh, only, wanted: () => mine === asked });
  if (done && !only) band(mine);
  return done;
}

/** What the study leaves at the board with the new leads: a run of the solver, so it comes after. */
async function band(mine) {
  const tried = document.getElementById("tried");
  const place = document.getElementById("tried-band");
  if (!place || !tried.dataset.lead) return;
  const { status, said } = await ask("GET", `/api/jobs/${job}/surge/try?lead_m=${tried.dataset.lead}`);
  if (status !== 200 || mine !== asked) return;
  place.textContent = said.places[0].range;
  place.closest(".band-line").hidden = false;
}

/** The moves with one more; of one device moved twice in a row only the last counts. */
function moved(item, way) {
  const before = lifted.before;
  const again = before.at(-1)?.startsWith(`${item}:`);
  return [...(again ? before.slice(0, -1) : before), `${item}:${way}`];
}

/** Put what is lifted on a way, and see what it does. */
function goTo(way, only) {
  const last = Number(rail().dataset.last);
  const to = Math.min(Math.max(way, 1), last);
  if (to === lifted.way) return;
  lifted.way = to;
  show(to === lifted.from ? lifted.before : moved(lifted.item, to), only).then((done) => {
    if (done && lifted) {
      say(`${lifted.label}: way ${lifted.way}`);
      if (!only) deviceOf(lifted.item)?.focus({ preventScroll: true });
    }
  });
}

function lift(item) {
  const place = placeOf(item);
  const from = Number(place.dataset.way);
  lifted = { item, from, way: from, label: place.textContent, before: query().getAll("move") };
  document.body.dataset.busy = "yes";
  document.body.classList.add("moving");
  dress();
  say(`${lifted.label} taken up from way ${from}`);
}

function letGo() {
  lifted = null;
  delete document.body.dataset.busy;
  document.body.classList.remove("moving");
}

function putDown(back) {
  if (!lifted) return;
  const { item, before, way, from } = lifted;
  letGo();
  if (back) show(before).then(() => deviceOf(item)?.focus());
  else if (way !== from) document.getElementById("tried-said")?.focus();
  dress();
}

document.addEventListener("keydown", (event) => {
  const device = event.target.closest?.("#board .device.movable");
  if (!device) return;
  const along = rail().dataset.hand === "right" ? -1 : 1;
  const item = device.dataset.item;
  const keys = {
    Enter: () => (lifted ? putDown(false) : lift(item)),
    " ": () => (lifted ? putDown(false) : lift(item)),
    Escape: () => putDown(true),
    ArrowLeft: () => lifted && goTo(lifted.way - along),
    ArrowRight: () => lifted && goTo(lifted.way + along),
    Home: () => lifted && goTo(1),
    End: () => lifted && goTo(999),
  };
  if (!keys[event.key] || event.ctrlKey || event.altKey) return;
  event.preventDefault();
  event.stopPropagation();
  keys[event.key]();
}, true);

/** The way at a place of the screen: counted from the device that is nearest on that rail. */
function wayAt(x, y) {
  let best = null;
  for (const place of rail().querySelectorAll("li")) {
    const box = deviceOf(place.dataset.item)?.querySelector("rect")?.getBoundingClientRect();
    if (!box || place.dataset.item === lifted?.item) continue;
    const off = Math.hypot(Math.max(box.left - x, 0, x - box.right), 3 * Math.max(box.top - y, 0, y - box.bottom));
    if (!best || off < best.off) best = { off, box, place };
  }
  if (!best) return 1;
  const { box, place } = best;
  const pitch = box.width / Number(place.dataset.modules);
  const steps = rail().dataset.hand === "right" ? (box.right - x) / pitch : (x - box.left) / pitch;
  return Number(place.dataset.way) + Math.floor(steps);
}

let drag = null;
document.addEventListener("pointerdown", (event) => {
  const device = event.target.closest?.("#board .device.movable");
  if (!device || event.button || lifted) return;
  const box = device.querySelector("rect").getBoundingClientRect();
  const modules = Number(placeOf(device.dataset.item).dataset.modules);
  const scale = device.ownerSVGElement.getScreenCTM().a;
  const half = box.width / modules / 2;
  const edge = rail().dataset.hand === "right" ? box.right - half : box.left + half;
  drag = { device, x: event.clientX, y: event.clientY, hold: edge - event.clientX, scale, timer: 0 };
});

document.addEventListener("pointermove", (event) => {
  if (!drag) return;
  const [dx, dy] = [event.clientX - drag.x, event.clientY - drag.y];
  if (!lifted) {
    if (Math.hypot(dx, dy) < 6) return;
    lift(drag.device.dataset.item);
    drag.device.setPointerCapture?.(event.pointerId);
    drag.device.parentNode.append(drag.device);
  }
  event.preventDefault();
  drag.device.setAttribute("transform", `translate(${dx / drag.scale} ${dy / drag.scale})`);
  const way = wayAt(event.clientX + drag.hold, event.clientY);
  clearTimeout(drag.timer);
  drag.timer = setTimeout(() => lifted && goTo(way, ["tried"]), 40);
});

document.addEventListener("pointerup", async (event) => {
  if (!drag) return;
  const { device, timer, hold } = drag;
  clearTimeout(timer);
  drag = null;
  if (!lifted) return;
  const way = Math.min(Math.max(wayAt(event.clientX + hold, event.clientY), 1), Number(rail().dataset.last));
  const moves = way === lifted.from ? lifted.before : moved(lifted.item, way);
  const { item } = lifted;
  letGo();
  await show(moves);
  // Where it may not stand the drawing is as it was: the device goes back to its place.
  if (device.isConnected) device.removeAttribute("transform");
  dress();
  deviceOf(item)?.focus({ preventScroll: true });
});
document.addEventListener("pointercancel", () => { drag = null; putDown(true); });
// A drag is no pick of a conductor, and on a touch screen it does not scroll the drawing.
document.addEventListener("touchmove", (event) => lifted && event.preventDefault(), { passive: false });

/** Save the moves: the job says the person's way; then the whole board is worked out. */
document.addEventListener("submit", async (event) => {
  if (event.target.id === "move-form") {
    event.preventDefault();
    const form = new FormData(event.target);
    show([...form.getAll("move"), `${form.get("device")}:${form.get("to")}`]);
    return;
  }
  if (event.target.id !== "keep-moves") return;
  event.preventDefault();
  const edits = new FormData(event.target).getAll("way").map((line) => {
    const [key, way] = line.split(":");
    return { path: `wishes.ways.${key}`, value: way };
  });
  const why = "devices placed by hand";
  const { status, said } = await ask("POST", `/api/jobs/${job}/changes`, { base: version(), why, edits });
  if (status === 409) return clash();
  if (status !== 200) return say(said.details?.join(" ") ?? "Not saved");
  saved(said);
  const now = query();
  now.delete("move");
  history.replaceState(null, "", `${location.pathname}?${now}`);
  workOut();
});

document.addEventListener("click", (event) => {
  if (event.target.closest("#put-back")) {
    event.preventDefault();
    letGo();
    show([]);
  }
});

let were = new Map();

/** Show for two seconds which devices came to stand elsewhere. */
function seeChanges() {
  const ways = new Map([...(rail()?.querySelectorAll("li") ?? [])].map((li) => [li.dataset.item, li.dataset.way]));
  for (const [item, way] of ways) {
    if (!were.has(item) || were.get(item) === way) continue;
    const device = deviceOf(item);
    device?.classList.add("now-there");
    setTimeout(() => device?.classList.remove("now-there"), 2000);
  }
  were = ways;
}

document.addEventListener("refreshed", () => {
  dress();
  seeChanges();
});
dress();
seeChanges();
// An address may hold moves already.
if (query().has("move")) band(asked);
