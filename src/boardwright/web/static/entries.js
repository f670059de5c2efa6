// What becomes of the table's entries: they wait, are sent, are refused with a reason, or only tried.
"use strict";

import { ask, clash, job, refresh, saved, say, version, workOut } from "/static/parts.js";

const TRIED = `tried:${job}`;
/** By path: what is to be sent, what was refused and why, what is only tried. */
export const waiting = new Map();
export const refused = new Map();
export const tried = new Map(JSON.parse(sessionStorage.getItem(TRIED) ?? "[]"));

export const keep = () => sessionStorage.setItem(TRIED, JSON.stringify([...tried]));

export const asEdits = (entries) =>
  [...entries].map(([path, value]) => ({ path, value: value === "" ? null : value }));

let sending = false;

/** Send what waits, one save after the other; what is refused stays in its cell with the reason. */
export async function send(dress, free) {
  if (sending || !waiting.size) return;
  sending = true;
  say(`Saving ${waiting.size}`);
  const sent = new Map(waiting);
  const body = { base: version(), why: "the circuits' table", edits: asEdits(sent) };
  const { status, said } = await ask("POST", `/api/jobs/${job}/changes`, body);
  sending = false;
  if (status === 0 || status >= 500) {
    say(`${waiting.size} waiting to send`);
    setTimeout(send, 3000, dress, free);
    return;
  }
  if (status === 422) refuse(sent, said.details);
  for (const [path, value] of sent) {
    if (status !== 422 && waiting.get(path) === value) waiting.delete(path);
  }
  if (status === 409) clash();
  if (status === 200) saved(said);
  dress();
  if (waiting.size) send(dress, free);
  else if (status === 200) workOut([], () => quietly(free));
  else if (status === 422) say(`Not saved: ${refused.size}`);
}

/** Put in what is new once nobody is in the middle of an entry. */
async function quietly(free) {
  while (!free()) await new Promise((done) => setTimeout(done, 200));
  return refresh();
}

/** Take what was refused out of what is sent; the rest goes again. */
function refuse(sent, details) {
  const words = new Map();
  for (const line of details) {
    const [path, ...rest] = line.split(": ");
    words.set(path, rest.join(": ").replace(/^f/, "F"));
  }
  const named = [...sent.keys()].filter((path) => words.has(path));
  for (const path of named.length ? named : sent.keys()) {
    const why = words.get(path) ?? details.join(" ");
    refused.set(path, { value: sent.get(path), words: why });
    waiting.delete(path);
  }
}

/** One step back or forward, as a new version. */
export async function stepBack(way, free) {
  const { status, said } = await ask("POST", `/api/jobs/${job}/${way}`, { base: version() });
  if (status === 409) return clash();
  if (status !== 200) return say(way === "undo" ? "Nothing to undo" : "Nothing to redo");
  refused.clear();
  saved(said);
  return workOut([], () => quietly(free));
}

/** A value as our cells have it: no comma in thousands, the choice's own spelling. */
export function tidy(cell, value) {
  const plain = value.trim();
  if (cell.dataset.kind === "number") return plain.replace(/^(\d{1,3}(?:,\d{3})+)(\.\d+)?$/, (all) => all.replaceAll(",", ""));
  const own = cell.dataset.choices?.split("|").find((each) => each.toLowerCase() === plain.toLowerCase());
  return own ?? plain;
}
