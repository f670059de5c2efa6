// The circuits' table: entries by mouse, keyboard and paste. Without script each row leads to a form.
"use strict";

import { asEdits, keep, refused, send, stepBack, tidy, tried, waiting } from "/static/entries.js";
import { job, refresh, say, version } from "/static/parts.js";

const section = document.getElementById("circuits-table");
let trying = false;
let anchor = [0, 0];
let head = [0, 0];
let editing = null;

const table = () => section.querySelector("table");
const grid = () =>
  [...table().tBodies].map((body) => [...body.querySelectorAll("[data-path]")]).filter((r) => r.length);
const at = ([row, column]) => grid()[row]?.[column];
const entryOf = (cell) => cell.querySelector(".typed");
const valueOf = (cell) => cell.dataset.value;

/** The cells between the two ends of the selection, row by row. */
function chosen() {
  const [top, bottom] = [anchor[0], head[0]].sort((a, b) => a - b);
  const [left, right] = [anchor[1], head[1]].sort((a, b) => a - b);
  return grid().slice(top, bottom + 1).map((row) => row.slice(left, right + 1));
}

function placeOf(cell) {
  const row = grid().findIndex((each) => each.includes(cell));
  return [row, grid()[row].indexOf(cell)];
}

/** Make the table a grid: one cell at a time is in the order of the tab key. */
function dress() {
  table().setAttribute("role", "grid");
  table().setAttribute("aria-multiselectable", "true");
  for (const cell of grid().flat()) {
    cell.tabIndex = -1;
    const path = cell.dataset.path;
    const value = refused.get(path)?.value ?? waiting.get(path) ?? tried.get(path);
    if (value !== undefined) put(cell, value);
    cell.classList.toggle("waiting", waiting.has(path));
    cell.classList.toggle("tried", tried.has(path));
    complain(cell, refused.get(path));
  }
  mark();
}

function put(cell, value) {
  cell.dataset.value = value;
  entryOf(cell).textContent = value === "" ? cell.dataset.silent : value;
}

/** Show why a value was refused, in the row of its cell; the value stays. */
function complain(cell, fault) {
  const id = `fault-${cell.dataset.path.replaceAll(".", "-")}`;
  document.getElementById(id)?.remove();
  cell.classList.toggle("wrong", Boolean(fault));
  cell.removeAttribute("aria-describedby");
  if (!fault) return cell.removeAttribute("aria-invalid");
  cell.setAttribute("aria-invalid", "true");
  cell.setAttribute("aria-describedby", id);
  const said = document.createElement("p");
  said.id = id;
  said.className = "refused";
  said.textContent = `${cell.dataset.title}: ${fault.words}`;
  cell.closest("tbody").querySelector(".under td:last-child").prepend(said);
}

/** Show the selection, and where the keyboard is. */
function mark(focus = false) {
  const inside = new Set(chosen().flat());
  const now = at(head);
  for (const cell of grid().flat()) {
    cell.setAttribute("aria-selected", String(inside.has(cell)));
    cell.tabIndex = cell === now ? 0 : -1;
  }
  section.querySelector(".handle")?.remove();
  if (inside.size && document.activeElement?.closest("#circuits-table")) {
    const handle = document.createElement("span");
    handle.className = "handle";
    handle.title = "Drag down to fill";
    chosen().at(-1).at(-1).append(handle);
  }
  if (focus && now) {
    now.focus({ preventScroll: true });
    now.scrollIntoView({ block: "nearest", inline: "nearest" });
  }
}

function move(rows, columns, extend = false) {
  const cells = grid();
  const row = Math.min(Math.max(head[0] + rows, 0), cells.length - 1);
  head = [row, Math.min(Math.max(head[1] + columns, 0), cells[row].length - 1)];
  if (!extend) anchor = head;
  mark(true);
}

/** To the next or the last cell, from row to row; false at the end of the table. */
function step(by) {
  const wide = grid()[0].length;
  const next = head[0] * wide + head[1] + by;
  if (next < 0 || next >= grid().length * wide) return false;
  anchor = head = [Math.floor(next / wide), next % wide];
  mark(true);
  return true;
}

function edit(cell, typed) {
  if (editing) close(true);
  const choices = cell.dataset.choices;
  const field = document.createElement(choices ? "select" : "input");
  if (choices) {
    const empty = cell.dataset.optional ? [""] : [];
    for (const each of [...empty, ...choices.split("|")]) {
      field.add(new Option(each || "not known yet", each, false, each === valueOf(cell)));
    }
    const first = typed && [...field.options].find((o) => o.value.toLowerCase().startsWith(typed));
    if (first) field.value = first.value;
  } else {
    field.value = typed ?? valueOf(cell);
    if (cell.dataset.kind === "number") field.inputMode = "decimal";
  }
  field.className = "editor";
  field.setAttribute("aria-label", `${cell.dataset.title}, ${cell.dataset.row}`);
  editing = { cell, field };
  page(true);
  entryOf(cell).hidden = true;
  cell.prepend(field);
  field.focus();
  if (!choices && typed === undefined) field.select();
  field.addEventListener("blur", () => editing?.field === field && close(true, false));
}

function close(keep, focus = true) {
  if (!editing) return;
  const { cell, field } = editing;
  editing = null;
  const value = field.value.trim();
  field.remove();
  entryOf(cell).hidden = false;
  page(false);
  if (focus) mark(true);
  if (keep && value !== valueOf(cell)) enter([[cell, value]]);
}

/** While a cell is open nothing is put in its place. */
function page(busy) {
  if (busy) document.body.dataset.busy = "yes";
  else delete document.body.dataset.busy;
}

/** Take values for cells: to be tried, or to be sent. */
function enter(pairs) {
  for (const [cell, value] of pairs) {
    put(cell, value);
    const path = cell.dataset.path;
    refused.delete(path);
    complain(cell);
    (trying ? tried : waiting).set(path, value);
    cell.classList.add(trying ? "tried" : "waiting");
  }
  if (trying) return keepTried();
  send(dress, free);
}

/** Fill the cells below with what stands in the first row of the selection. */
function fillDown() {
  if (anchor[0] === head[0]) {
    if (!head[0]) return;
    anchor = [anchor[0] - 1, anchor[1]];
  }
  const [first, ...rest] = chosen();
  enter(rest.flatMap((row) => row.map((cell, k) => [cell, valueOf(first[k])])).filter(differs));
  mark(true);
}

const free = () => !editing;

const differs = ([cell, value]) => value !== valueOf(cell);

/** A block as a spreadsheet copies it: rows by lines, cells by tabs. */
function paste(block) {
  const lines = block.replace(/\r/g, "").replace(/\n$/, "").split("\n").map((l) => l.split("\t"));
  const [top, left] = [Math.min(anchor[0], head[0]), Math.min(anchor[1], head[1])];
  const single = lines.length === 1 && lines[0].length === 1;
  const pairs = single
    ? chosen().flat().map((cell) => [cell, tidy(cell, lines[0][0])])
    : lines.flatMap((line, r) =>
        line.map((value, c) => [at([top + r, left + c]), value]).filter(([cell]) => cell)
          .map(([cell, value]) => [cell, tidy(cell, value)]));
  if (!single) {
    anchor = [top, left];
    const rows = grid();
    head = [Math.min(top + lines.length, rows.length) - 1,
            Math.min(left + lines[0].length, rows[0].length) - 1];
  }
  enter(pairs.filter(differs));
  mark(true);
}

function keepTried() {
  keep();
  section.classList.toggle("trying", trying || tried.size > 0);
  const bar = section.querySelector(".trial");
  bar.hidden = !tried.size && !trying;
  bar.querySelector(".count").textContent = tried.size === 1 ? "1 entry tried" : `${tried.size} entries tried`;
  const query = asEdits(tried).map((e) => `a=${encodeURIComponent(`${e.path}=${e.value ?? ""}`)}`);
  bar.querySelector("a").href = `/jobs/${job}/weigh?${query.join("&")}`;
}

const KEYS = {
  ArrowUp: (e) => (e.altKey ? moveRow(-1) : move(-1, 0, e.shiftKey)),
  ArrowDown: (e) => (e.altKey ? moveRow(1) : move(1, 0, e.shiftKey)),
  ArrowLeft: (e) => move(0, -1, e.shiftKey),
  ArrowRight: (e) => move(0, 1, e.shiftKey),
  Home: (e) => move(e.ctrlKey ? -999 : 0, -999, e.shiftKey),
  End: (e) => move(e.ctrlKey ? 999 : 0, 999, e.shiftKey),
  PageUp: (e) => move(-999, 0, e.shiftKey),
  PageDown: (e) => move(999, 0, e.shiftKey),
  Enter: () => edit(at(head)),
  F2: () => edit(at(head)),
  Delete: () => enter(chosen().flat().map((cell) => [cell, ""]).filter(differs)),
  Escape: () => move(0, 0),
};
KEYS.Backspace = KEYS.Delete;

function withControl(event) {
  const act = { d: fillDown, z: () => stepBack(event.shiftKey ? "redo" : "undo", free), y: () => stepBack("redo", free) };
  const found = act[event.key.toLowerCase()];
  if (!found) return;
  event.preventDefault();
  found();
}

section.addEventListener("keydown", (event) => {
  const cell = event.target.closest("[data-path]");
  if (!cell) return;
  if (editing) {
    if (event.key === "Enter") { event.preventDefault(); close(true); move(event.shiftKey ? -1 : 1, 0); }
    if (event.key === "Escape") { event.preventDefault(); close(false); }
    if (event.key === "Tab") { close(true); if (step(event.shiftKey ? -1 : 1)) event.preventDefault(); }
    return;
  }
  if (event.ctrlKey || event.metaKey) return KEYS[event.key] ? (event.preventDefault(), KEYS[event.key](event)) : withControl(event);
  if (KEYS[event.key]) { event.preventDefault(); KEYS[event.key](event); }
  else if (event.key.length === 1 && !event.altKey) { event.preventDefault(); edit(cell, event.key); }
});

section.addEventListener("focusin", (event) => {
  const cell = event.target.closest("[data-path]");
  if (!cell || editing) return;
  const place = placeOf(cell);
  if (place.join() !== head.join()) { anchor = head = place; }
  mark();
});

let drag = "";
section.addEventListener("pointerdown", (event) => {
  const cell = event.target.closest("[data-path]");
  if (!cell || event.target.closest(".editor") || event.button) return;
  if (event.target.closest(".handle")) { drag = "fill"; event.preventDefault(); return; }
  event.preventDefault();
  const again = cell === document.activeElement && !event.shiftKey;
  if (editing) close(true);
  head = placeOf(cell);
  if (!event.shiftKey) anchor = head;
  mark(true);
  drag = "select";
  if (again) edit(cell);
});
document.addEventListener("pointermove", (event) => {
  const cell = drag && !editing && document.elementFromPoint(event.clientX, event.clientY)?.closest?.("#circuits-table [data-path]");
  if (!cell) return;
  const [row, column] = placeOf(cell);
  head = drag === "fill" ? [row, head[1]] : [row, column];
  mark(drag === "select");
});
document.addEventListener("pointerup", () => {
  if (drag === "fill" && anchor[0] !== head[0]) fillDown();
  drag = "";
});
section.addEventListener("dblclick", (event) => {
  const cell = event.target.closest("[data-path]");
  if (cell && !editing) edit(cell);
});
document.addEventListener("copy", (event) => {
  if (editing || !document.activeElement?.matches("#circuits-table [data-path]")) return;
  event.preventDefault();
  event.clipboardData.setData("text/plain", chosen().map((row) => row.map(valueOf).join("\t")).join("\n"));
});
document.addEventListener("paste", (event) => {
  if (editing || !document.activeElement?.matches("#circuits-table [data-path]")) return;
  event.preventDefault();
  paste(event.clipboardData.getData("text/plain"));
});

/** Move the row up or down the list of circuits. */
async function moveRow(by) {
  const circuit = at(head).dataset.path.split(".")[1];
  const answer = await fetch(`/jobs/${job}/design/circuits/${circuit}/move`, {
    method: "POST",
    body: new URLSearchParams({ by, base: version() }),
  });
  if (!answer.ok || !(await refresh())) return;
  anchor = head = [Math.min(Math.max(head[0] + by, 0), grid().length - 1), head[1]];
  mark(true);
  say("Moved in the list");
}

const ACTS = {
  fill: fillDown,
  try: (button) => { trying = !trying; button.setAttribute("aria-pressed", String(trying)); keepTried(); },
  keep: () => { for (const [path, value] of tried) waiting.set(path, value); forget(); send(dress, free); },
  back: () => { forget(); location.reload(); },
};

function forget() {
  tried.clear();
  trying = false;
  section.querySelector("[data-act=try]").setAttribute("aria-pressed", "false");
  keepTried();
}

for (const button of section.querySelectorAll("[data-act]")) {
  button.addEventListener("click", () => ACTS[button.dataset.act](button));
}
addEventListener("online", () => send(dress, free));
addEventListener("beforeunload", (event) => waiting.size && event.preventDefault());
document.addEventListener("refreshed", ({ detail: focused }) => {
  dress();
  if (focused) mark(true);
});

if (matchMedia("(min-width: 800px)").matches) {
  dress();
  section.querySelector(".table-tools").hidden = false;
  keepTried();
}
