// Readings, judged as they are typed and kept on this device at once.

import { watch } from "./queue.js";
import { enter, unsent } from "./events.js";
import { counted, readingOf, verdictOf } from "./limits.js";
import "./saved.js";
import "./keep.js";

const form = document.getElementById("answers");
const marks = document.getElementById("marks").content;
const all = [...form.querySelectorAll(".reading")];
let seen = Number(form.dataset.seen);

const limitOf = (place) => JSON.parse(place.dataset.limit);
const typedIn = (place) => place.querySelector("input[type=text]")?.value ?? place.querySelector(":checked")?.value ?? "";
const entered = new Map(all.map((place) => [place, typedIn(place)]));

function others() {
  const found = {};
  for (const place of all) {
    const limit = limitOf(place);
    const value = counted(limit, readingOf(limit, typedIn(place)));
    if (typeof value === "number") found[limit.reading] = value;
  }
  return found;
}

function sign(verdict, limit) {
  const known = marks.querySelector(`[data-verdict="${verdict}"]`);
  const seenWord = verdict === "pass" ? "Right" : "Not right";
  const word = limit.seen ? seenWord : verdict === "not applicable" ? "Noted" : known.dataset.word;
  return { mark: () => known.firstElementChild.cloneNode(true), word };
}

function unseen(text) {
  return Object.assign(document.createElement("span"), { className: "unseen", textContent: text });
}

// Show what is so of one reading; `others` are those it is held against.
function judge(place, against) {
  const limit = limitOf(place);
  const typed = typedIn(place);
  const value = readingOf(limit, typed);
  const line = place.querySelector(".verdict");
  const now = place.querySelector(".now");
  const shown = limit.seen ? { yes: "right", no: "not right" }[value] ?? "" : `${typed}\u00a0${limit.unit}`;
  now.textContent = value === null ? "" : shown;
  place.querySelector(".gauged").replaceChildren();
  place.querySelector("summary .sign").replaceChildren();
  place.classList.remove("wrong", "pass", "fail", "advise", "not-applicable", "none");
  if (value === null) {
    place.classList.toggle("wrong", Boolean(typed.trim()));
    line.replaceChildren(...(typed.trim() ? [sign("fail", limit).mark(), Object.assign(document.createElement("span"), { textContent: `${typed} is no reading. Enter a number, or > and the end of the meter's range.${typed.includes(",") ? ` Write ${typed.replace(",", ".")} with a point.` : ""}` })] : []));
    place.classList.add("none");
    return;
  }
  const { verdict, bound } = verdictOf(limit, counted(limit, value), against);
  const { mark, word } = sign(verdict, limit);
  const text = document.createElement("span");
  text.append(Object.assign(document.createElement("b"), { textContent: word }), ` ${bound?.words ?? ""}`);
  line.replaceChildren(mark(), text);
  place.querySelector("summary .sign").replaceChildren(mark(), unseen(word));
  place.classList.add(verdict.replace(" ", "-"));
  gauge(place, limit, counted(limit, value), { verdict, bound });
}

// A line from 0, a bracket at the limit that decided, a dot at the reading.
function gauge(place, limit, value, { verdict, bound }) {
  const side = limit.bounds.find((each) => each.kind === "side" && !each.strict && (!bound || bound === each));
  if (!side || typeof value !== "number" || !Number.isFinite(value) || side.limit <= 0) return;
  const svg = (name, set, ...inside) => {
    const made = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const [key, each] of Object.entries(set)) made.setAttribute(key, each);
    made.append(...inside);
    return made;
  };
  const at = (figure) => 8 + 204 * figure / (1.25 * Math.max(value, side.limit));
  const arm = side.sense === "least" ? 4 : -4;
  const x = at(side.limit);
  const letters = svg("text", { x: Math.min(Math.max(x, 28), 192), y: 36, "text-anchor": "middle", class: "letters" }, side.says.replace(/^\D+ (?=[\d.])/, ""));
  place.querySelector(".gauged").append(svg("svg", { viewBox: "0 0 220 40", class: "gauge own", role: "img", "aria-label": `${value} ${limit.unit}, ${side.says}` },
    svg("path", { d: "M8 14H212", class: "scale" }),
    svg("path", { d: `M${x + arm} 6H${x}V22H${x + arm}`, class: "bracket" }),
    svg("circle", { cx: at(value), cy: 14, r: 5, class: verdict === "fail" ? "dot beyond" : "dot" }), letters));
}

function judgeAll() {
  const against = others();
  for (const place of all) judge(place, against);
}

async function keep(place) {
  const limit = limitOf(place);
  const typed = typedIn(place).trim();
  if (typed === entered.get(place)) return;
  const value = readingOf(limit, typed);
  if (value === null && typed) return;
  entered.set(place, typed);
  place.querySelector(".two")?.remove();
  await enter({ kind: "reading", subject: place.dataset.subject, value, seen });
}

form.addEventListener("input", ({ target }) => {
  const place = target.closest(".reading");
  judge(place, others());
  if (target.type === "radio") keep(place);
});
form.addEventListener("change", async ({ target }) => {
  judgeAll();
  await keep(target.closest(".reading"));
});

for (const place of all) {
  const over = place.querySelector(".over");
  if (!over) continue;
  over.hidden = !limitOf(place).bounds.some((bound) => bound.kind === "side" && bound.sense === "least");
  over.addEventListener("click", () => {
    const input = place.querySelector("input");
    input.value = `>${input.value.replace(/^>/, "") || "999"}`;
    input.dispatchEvent(new Event("change", { bubbles: true }));
  });
}

// Enter and Next go to the next reading still to be taken, then to the next circuit.
form.addEventListener("submit", async (event) => {
  event.preventDefault();
  for (const place of all) await keep(place);
  const next = following();
  if (next) {
    open(next);
    return;
  }
  const { value } = form.elements.ahead;
  const { job } = document.body.dataset;
  location.assign(value ? `/jobs/${job}/test/${value}` : `/jobs/${job}/handover`);
});

const following = () => all.slice(all.findIndex((place) => place.open) + 1).find((place) => !typedIn(place));
const button = document.getElementById("next");
const onward = button.textContent;

// The button says what happens next.
function name() {
  const next = following();
  const limit = next && limitOf(next);
  // A sign of one letter says too little from where one stands.
  const name = limit?.symbol.length > 1 ? limit.symbol : limit?.label;
  button.textContent = next ? `Next: ${name}` : onward;
}
form.addEventListener("toggle", name, true);

function open(place) {
  for (const each of all) each.open = each === place;
  const input = place.querySelector("input");
  input.focus({ preventScroll: true });
  place.scrollIntoView({ block: "nearest" });
}

watch((_, news) => {
  if (news?.kind === "saved" && news.said.event) seen = news.said.event;
});

for (const event of await unsent("reading")) {
  const place = all.find((each) => each.dataset.subject === event.subject);
  if (!place) continue;
  const text = event.value === null ? "" : typeof event.value === "object" ? `>${event.value.over}` : String(event.value);
  const input = place.querySelector("input[type=text]");
  if (input) input.value = text;
  for (const radio of place.querySelectorAll("input[type=radio]")) radio.checked = radio.value === text;
  entered.set(place, text);
}
judgeAll();
name();
document.body.dataset.ready = "yes";
