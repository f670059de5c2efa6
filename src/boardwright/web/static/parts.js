// What the pages that are changed in place share: saving, working out, and putting in what is new.
"use strict";

const page = document.body;
export const job = page.dataset.job;

/** The version that this page shows; every change goes against it. */
export const version = () => Number(page.dataset.version);

/** Say how things stand, at the top right; a link leads to what can be done about it. */
export function say(words, link) {
  const state = document.getElementById("state");
  // Two versions that wait for a choice outlast what is said of one entry.
  if (!state || "clash" in state.dataset) return;
  state.textContent = "";
  if (link) {
    const anchor = document.createElement("a");
    anchor.href = link;
    anchor.textContent = words;
    state.append(anchor);
  } else {
    state.textContent = words;
  }
}

/** The time of day that a moment of the server has here, as 14:02. */
export const clock = (moment) =>
  new Date(moment).toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });

/** Ask the server as JSON; status 0 says that it did not answer. */
export async function ask(method, path, body) {
  try {
    const answer = await fetch(path, {
      method,
      headers: body ? { "Content-Type": "application/json" } : {},
      body: body ? JSON.stringify(body) : undefined,
    });
    return { status: answer.status, said: await answer.json() };
  } catch {
    return { status: 0, said: {} };
  }
}

/** Take note of what was saved. */
export function saved(said) {
  page.dataset.version = said.version;
  say(`Saved ${clock(said.at)}`);
}

/** What could not be merged: both texts are kept, and someone chooses. */
export function clash() {
  say("Two versions: choose", `/jobs/${job}/versions`);
}

/** Put what the server now shows into the parts of this page that differ from it. */
export async function refresh({ at, only, wanted = () => true } = {}) {
  const answer = await fetch(at ?? location.pathname + location.search, { redirect: "error" });
  if (!answer.ok || !wanted()) return false;
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
  if (!wanted()) return false;
  page.dataset.version = fresh.body.dataset.version;
  if (fresh.body.dataset.stands) page.dataset.stands = fresh.body.dataset.stands;
  const tools = fresh.querySelector(".bar .tools");
  if (tools) document.querySelector(".bar .tools")?.replaceWith(document.importNode(tools, true));
  const opened = [...document.querySelectorAll("details[open] > [id]")].map((each) => each.id);
  const focused = document.activeElement?.closest("[data-path]")?.dataset.path;
  for (const old of document.querySelectorAll("[data-part]")) {
    if (!old.isConnected || (only && !only.includes(old.dataset.part))) continue;
    const now = fresh.querySelector(`[data-part="${CSS.escape(old.dataset.part)}"]`);
    if (now) swap(old, now);
  }
  for (const id of opened) {
    const details = document.getElementById(id)?.closest("details");
    if (details) details.open = true;
  }
  document.dispatchEvent(new CustomEvent("refreshed", { detail: focused }));
  return true;
}

/** Put a part in another's place; of one that holds parts, only those that differ. */
function swap(old, now) {
  const inner = (part) =>
    [...part.querySelectorAll("[data-part]")].map((each) => each.dataset.part).join();
  if (same(old, now)) return;
  if (old.querySelector("[data-part]") && inner(old) === inner(now)) return;
  const put = document.importNode(now, true);
  const small = put.matches("tbody") ? "td, th" : ".box";
  const were = [...old.querySelectorAll(small)].map(text);
  old.replaceWith(put);
  const pieces = [...put.querySelectorAll(small)];
  if (!pieces.length) return put.querySelector("svg") ? undefined : outline(put);
  for (const [at, piece] of pieces.entries()) {
    if (small === ".box" ? !were.includes(text(piece)) : text(piece) !== were[at]) outline(piece);
  }
}

const text = (part) => part.textContent.replace(/\s+/g, " ").trim();

/** Tell whether two parts say the same; what this page adds for its own use does not count. */
function same(old, now) {
  const plain = (part) => text(part) + drawn(part);
  return plain(old) === plain(now);
}

const drawn = (part) => [...part.querySelectorAll("svg")].map((each) => each.innerHTML.length).join();

/** Show for two seconds what has changed. */
export function outline(part) {
  part.classList.add("changed");
  setTimeout(() => part.classList.remove("changed"), 2000);
}

let working = "";

/** Work the design out, with the rule that fills; then put in what is new. True once it is there. */
export async function workOut(edits = [], then = refresh) {
  const bar = document.getElementById("work");
  let { status, said } = await ask("POST", `/api/jobs/${job}/running`, { edits });
  if (status !== 200) return false;
  const mine = (working = said.work);
  const shown = setTimeout(() => show(bar, said), 300);
  while (said.state === "waiting" || said.state === "running") {
    await new Promise((done) => setTimeout(done, 120));
    if (working !== mine) return false;
    ({ status, said } = await ask("GET", `/api/jobs/${job}/running/${mine}`));
    if (status !== 200) break;
    if (bar && !bar.hidden) show(bar, said);
  }
  clearTimeout(shown);
  if (bar) bar.hidden = true;
  if (said.state === "done") return then();
  // What stands on the page is of the version before; a load of the page works it out after all.
  if (said.state === "stopped") say("Stopped, figures as before: work them out", location.href);
  else say(said.error);
  return false;
}

function show(bar, said) {
  if (!bar) return;
  bar.hidden = false;
  const percent = Math.round(said.fraction * 100);
  bar.querySelector("progress").value = percent;
  bar.querySelector(".what").textContent = said.words;
  bar.querySelector(".count").textContent = `${percent} %`;
}

document.getElementById("work")?.querySelector("button")?.addEventListener("click", () => {
  if (working) ask("DELETE", `/api/jobs/${job}/running/${working}`);
});

/** Look now and then whether others have changed this home. */
async function listen() {
  if (!job || document.hidden || page.dataset.busy) return;
  const { status, said } = await ask("GET", `/api/jobs/${job}/pulse`);
  if (status !== 200 || page.dataset.busy || said.version <= version()) return;
  if (await workOut()) say("Changed on another device, and shown");
}

if (version()) {
  page.dataset.listens = "yes";
  setInterval(listen, 3000);
}
