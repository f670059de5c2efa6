// The words at the top right: what became of the last entry. Never a colour alone.

import { watch } from "./queue.js";

const place = document.getElementById("saved");
const job = document.body.dataset.job;
let last = place?.dataset.at ? since(new Date(place.dataset.at)) : "";
let clash = "clash" in (place?.dataset ?? {});

function clock(when) {
  return when.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
}

function since(when) {
  const today = when.toDateString() === new Date().toDateString();
  return today ? clock(when) : when.toLocaleDateString("en-GB", { day: "numeric", month: "short" });
}

function words(state) {
  if (state.waiting) return `${state.waiting} waiting to send`;
  const unsaved = Math.max(state.refused, document.querySelectorAll(".unsaved").length);
  if (unsaved) return `${unsaved} not saved`;
  return last ? `Saved ${last}` : "";
}

let now = { waiting: 0, refused: 0 };

export function show(state = now) {
  now = state;
  if (!place) return;
  if (clash) {
    const link = document.createElement("a");
    link.href = `/jobs/${job}/versions`;
    link.textContent = "Two versions: choose";
    place.replaceChildren(link);
  } else if (place.textContent !== words(state)) {
    place.textContent = words(state);
  }
  place.classList.toggle("waits", Boolean(clash) || /^\d/.test(place.textContent));
}

watch((state, news) => {
  if (news?.kind === "saved") last = clock(news.said.at ? new Date(news.said.at) : new Date());
  if (news?.kind === "conflict") clash = true;
  show(state);
  const note = document.getElementById("offline-note");
  if (note && !state.lasts) {
    note.hidden = false;
    note.textContent = "This browser keeps nothing for this page: what waits is lost if the page is closed.";
  }
});
