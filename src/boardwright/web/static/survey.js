// The survey as it is typed: each answer is checked against its range, kept on this device at
// once, and sent. Without this script the page is a plain form that does the same on Next.

import { enqueue, flush, waiting, watch } from "./queue.js";
import { problem, typedOf, valueOf } from "./answers.js";
import { show as showSaved } from "./saved.js";
import "./keep.js";
import "./photos.js";

const { body } = document;
const { job } = body.dataset;
const form = document.getElementById("answers");
const DRAFTS = `boardwright-drafts-${job}`;
const PAUSE_MS = 500;
const dirty = new Map();

const fields = () => [...form.querySelectorAll(".field:not(.new)")];
const fieldAt = (path) => fields().find((field) => field.dataset.path === path);

// -- drafts: the letters themselves, before anything else can happen to them ------------------

function drafts() {
  try {
    return JSON.parse(localStorage.getItem(DRAFTS) ?? "{}");
  } catch {
    return {};
  }
}

function draft(path, typed) {
  const kept = drafts();
  if (typed === null) delete kept[path];
  else kept[path] = typed;
  try {
    localStorage.setItem(DRAFTS, JSON.stringify(kept));
  } catch {
    // Full or forbidden: the queue still has what was right.
  }
}

// -- what a field shows -------------------------------------------------------------------------

function says(field, text) {
  const place = field.querySelector(".says");
  const wrong = document.createElement("p");
  wrong.className = "is-wrong";
  wrong.append(document.getElementById("fail-mark").content.cloneNode(true));
  wrong.append(Object.assign(document.createElement("span"), { textContent: text }));
  place.replaceChildren(...(text ? [wrong] : []));
  field.classList.toggle("wrong", Boolean(text));
  field.classList.toggle("unsaved", Boolean(text));
  showSaved();
  const input = field.querySelector("input[type=text], textarea");
  if (!input) return;
  input.setAttribute("aria-describedby", place.id);
  if (text) input.setAttribute("aria-invalid", "true");
  else input.removeAttribute("aria-invalid");
}

function put(field, typed) {
  const text = field.querySelector("input[type=text], textarea");
  if (text) text.value = typed;
  for (const radio of field.querySelectorAll("input[type=radio]")) radio.checked = radio.value === typed;
  chosen(field);
}

function chosen(field) {
  const summary = field.querySelector(".chosen");
  const now = field.querySelector("input[type=radio]:checked");
  if (summary) summary.textContent = now ? now.parentElement.textContent.trim() : "Choose";
}

function tick(field, name, on) {
  const mark = field.querySelector(`input[name=${name}]`);
  if (mark) mark.checked = on;
}

const ticked = (field, name) => field.querySelector(`input[name=${name}]`)?.checked ?? false;

// -- from field to queue -------------------------------------------------------------------------

function edit(field) {
  const { path, blank } = field.dataset;
  const typed = typedOf(field).trim();
  const unknown = ticked(field, "unknown");
  if ("must" in field.dataset) {
    return { path, value: valueOf(field, typed || field.dataset.kept), assumed: unknown || !typed };
  }
  if (unknown || !typed) return { path, value: blank || null, assumed: false };
  return { path, value: valueOf(field, typed), assumed: ticked(field, "assumed") };
}

async function keep(field) {
  clearTimeout(dirty.get(field));
  dirty.delete(field);
  const wrong = ticked(field, "unknown") ? "" : problem(field);
  says(field, wrong);
  if (wrong) return;
  const base = Number(body.dataset.version);
  const made = edit(field);
  await enqueue({ url: `/api/jobs/${job}/changes`, body: { base, why: field.dataset.label, edits: [made] } });
  draft(field.dataset.path, null);
}

const keepAll = () => Promise.all([...dirty.keys()].map(keep));

function soon(field, pause) {
  clearTimeout(dirty.get(field));
  dirty.set(field, setTimeout(() => keep(field), pause));
}

form.addEventListener("input", ({ target }) => {
  const field = target.closest(".field:not(.new)");
  if (!field) return;
  if (target.name === "unknown") {
    if (target.checked) tick(field, "assumed", false);
  } else if (target.name === "assumed") {
    if (target.checked) tick(field, "unknown", false);
  } else {
    tick(field, "unknown", false);
    tick(field, "assumed", false);
    draft(field.dataset.path, typedOf(field));
  }
  if (target.type === "radio") {
    chosen(field);
    const list = target.closest("details");
    if (list && !("keyed" in list.dataset)) list.open = false;
  }
  soon(field, target.type === "text" || target.tagName === "TEXTAREA" ? PAUSE_MS : 0);
});

// Arrow keys walk through a list: only a press of the finger or Enter closes it.
form.addEventListener("keydown", ({ target, key }) => {
  const list = target.closest("details.pick");
  if (!list || target.type !== "radio") return;
  if (key.startsWith("Arrow")) list.dataset.keyed = "";
  if (key === "Enter" || key === "Escape") {
    list.open = false;
    list.querySelector("summary").focus();
  }
});
form.addEventListener("pointerdown", ({ target }) => delete target.closest("details.pick")?.dataset.keyed);

form.addEventListener("submit", async (event) => {
  const button = event.submitter;
  if (form.dataset.ready) return;
  event.preventDefault();
  await keepAll();
  if ((button?.value ?? "go") === "go") {
    const { value } = form.elements.ahead;
    location.assign(value === "design" ? `/jobs/${job}/design` : `/jobs/${job}/survey/${value}`);
    return;
  }
  await flush();
  if ((await waiting(job)).some((row) => !row.refused)) {
    const note = document.getElementById("offline-note");
    note.hidden = false;
    note.textContent = "The server does not answer. Parts are added and removed when it does; your answers are kept.";
    return;
  }
  form.elements.base.value = body.dataset.version;
  form.dataset.ready = "yes";
  form.requestSubmit(button);
});

addEventListener("pagehide", () => { keepAll(); });

// -- from the server back ---------------------------------------------------------------------------

watch(async (_, news) => {
  if (!news?.row.url.startsWith(`/api/jobs/${job}/changes`)) return;
  if (news.kind === "saved") {
    body.dataset.version = form.elements.base.value = news.said.version;
    await refresh();
  } else if (news.kind === "refused") {
    for (const { path } of news.row.body.edits) refused(path, news.said.details);
  }
});

function refused(path, details) {
  const field = fieldAt(path);
  if (!field) return;
  const own = details.find((said) => said.includes(`${path}: `)) ?? details[0];
  const { label, unit } = field.dataset;
  const rest = own.includes("expected ") ? own.slice(own.indexOf("expected ") + "expected ".length) : own;
  says(field, `${label}: ${`${typedOf(field)} ${unit}`.trim()} cannot be kept. Enter ${rest}`);
}

// Put in place what the server now says of each answer, and what others changed meanwhile.
async function refresh() {
  const answer = await fetch(location.href).catch(() => null);
  if (!answer?.ok) return;
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
  const pending = new Set((await waiting(job)).flatMap((row) => (row.body.edits ?? []).map((one) => one.path)));
  for (const field of fields()) {
    const { path } = field.dataset;
    const other = fresh.querySelector(`.field[data-path="${CSS.escape(path)}"]`);
    if (!other || dirty.has(field) || pending.has(path) || drafts()[path] !== undefined) continue;
    field.querySelector(".says").replaceChildren(...other.querySelector(".says").childNodes);
    field.className = other.className;
    if (other.dataset.kept !== field.dataset.kept) {
      field.dataset.kept = other.dataset.kept;
      if (!field.contains(document.activeElement) || other.dataset.kept) shown(field, other);
    }
  }
  for (const id of ["decides"]) document.getElementById(id).replaceChildren(...fresh.getElementById(id).childNodes);
  // Undo goes against the version that now stands.
  const tools = fresh.querySelector(".bar .tools");
  if (tools && !document.querySelector(".bar .tools :focus")) document.querySelector(".bar .tools")?.replaceWith(tools);
  for (const one of ["nav.contents", ".tally"]) document.querySelector(one).replaceChildren(...fresh.querySelector(one).childNodes);
  showSaved(); // a field that was told as not saved may be one no longer
}

function shown(field, other) {
  const here = field.querySelector("input[type=text], textarea");
  if (here === document.activeElement) return;
  if (typedOf(field).trim() !== other.dataset.kept && other.dataset.kept) put(field, other.dataset.kept);
  for (const name of ["unknown", "assumed"]) tick(field, name, ticked(other, name));
}

// -- what waits from before a reload ------------------------------------------------------------------

const told = new Set();
for (const row of await waiting(job)) {
  for (const one of row.body.edits ?? []) {
    told.add(one.path);
    const field = fieldAt(one.path);
    if (!field) continue;
    const typed = one.value === null || one.value === field.dataset.blank ? "" : String(backOf(field, one.value));
    if (typed) put(field, typed);
    tick(field, "unknown", !typed || ("must" in field.dataset && one.assumed));
    tick(field, "assumed", one.assumed);
    if (row.refused) refused(one.path, row.refused);
  }
}

function backOf(field, value) {
  if (typeof value === "boolean") return value ? "yes" : "no";
  const factor = Number(field.dataset.factor);
  return typeof value === "number" && factor !== 1 ? Number((value * factor).toPrecision(9)) : value;
}

for (const [path, typed] of Object.entries(drafts())) {
  const field = fieldAt(path);
  if (!field) continue;
  put(field, typed);
  soon(field, 0);
}

// What was typed while this script was still on its way.
for (const field of fields()) {
  const { path, kept } = field.dataset;
  if (!told.has(path) && !dirty.has(field) && !ticked(field, "unknown") && typedOf(field).trim() !== kept) soon(field, 0);
}
body.dataset.ready = "yes";
