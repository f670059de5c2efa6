// Sliders for lead and cable lengths: the bands move with them, the designed ones stay as an outline.
"use strict";

const section = document.getElementById("sliders");
const job = document.body.dataset.job;
const ranges = section ? [...section.querySelectorAll("input[type=range]")] : [];
const full = Number(section?.dataset.full);
const figures = new Map([...document.querySelectorAll(".bands figure[data-place]")].map((f) => [f.dataset.place, f]));
let last = null;
let running = false;
let again = false;

const moved = (range) => Number(range.value) !== Number(range.dataset.was);
const percent = (volts) => `${Math.min((volts / full) * 100, 100).toFixed(2)}%`;

/** Keep the designed band as an outline behind the one that moves. */
for (const figure of figures.values()) {
  const bar = figure.querySelector("rect.fitted");
  if (!bar) continue;
  const was = bar.cloneNode();
  was.setAttribute("class", "was");
  bar.before(was);
}

function address() {
  const asked = new URLSearchParams();
  for (const range of ranges.filter(moved)) {
    // One cable at a time: the one that was moved last.
    if (range.name === "cable_m" && range !== last) continue;
    asked.set(range.name, range.value);
    if (range.dataset.place) asked.set("place", range.dataset.place);
  }
  return `/api/jobs/${job}/surge/try?${asked}`;
}

/** Ask with the lengths as they are now; what was moved meanwhile is asked once this is answered. */
async function tryIt() {
  if (running) { again = true; return; }
  running = true;
  section.setAttribute("aria-busy", "true");
  const answer = await fetch(address()).catch(() => null);
  running = false;
  if (again) { again = false; return tryIt(); }
  section.removeAttribute("aria-busy");
  if (!answer?.ok) return tell("That could not be tried.");
  const { places } = await answer.json();
  for (const place of places) show(place);
  const above = places.filter((place) => !place.passes).map((place) => place.appliance || "the board");
  const lead = ranges.some(moved) ? "" : "As designed: ";
  tell(above.length ? `${lead}This surge can pass the withstand at ${above.join(", ")}.` : `${lead}Every band stays below its withstand.`);
}

function tell(words) {
  document.getElementById("outcome").textContent = words;
}

function show(place) {
  const figure = figures.get(place.place);
  const bar = figure?.querySelector("rect.fitted");
  if (!bar) return;
  bar.setAttribute("x", percent(place.p5_v));
  bar.setAttribute("width", percent(Math.max(place.p95_v - place.p5_v, full / 200)));
  bar.classList.toggle("beyond", !place.passes);
  const words = figure.querySelector("dl .fitted");
  words.classList.toggle("beyond", !place.passes);
  words.querySelector("dd").textContent = place.range;
}

for (const range of ranges) {
  const output = section.querySelector(`output[for="${range.id}"]`);
  range.addEventListener("input", () => {
    last = range;
    for (const other of ranges) {
      if (other !== range && other.name === "cable_m" && range.name === "cable_m") put(other);
    }
    say(range, output);
    document.getElementById("as-designed").disabled = !ranges.some(moved);
    tryIt();
  });
}

function say(range, output) {
  const digits = range.name === "lead_m" ? 2 : 0;
  const was = Number(range.dataset.was).toFixed(digits);
  output.textContent = `${Number(range.value).toFixed(digits)} m${moved(range) ? `, designed ${was} m` : ""}`;
}

function put(range) {
  range.value = range.dataset.was;
  say(range, section.querySelector(`output[for="${range.id}"]`));
}

document.getElementById("as-designed")?.addEventListener("click", (event) => {
  ranges.forEach(put);
  event.target.disabled = true;
  tryIt();
});

if (section) section.hidden = false;
