// What a page does beyond its links: rows and wires show each other, arrows play the steps.
// Everything here also works without it: rows link to wires, wires to rows, steps to steps.
"use strict";

document.documentElement.classList.add("js");

const board = document.querySelector(".pan #board");
const picture = document.querySelector(".picture.close");

/** Every row, wire, ring and tag of one conductor. */
function partsOf(wire) {
  return document.querySelectorAll(`[data-wire="${CSS.escape(wire)}"]`);
}

/** The conductor that an event speaks of, if any. */
function wireOf(target) {
  const part = target instanceof Element ? target.closest("[data-wire]") : null;
  return part ? part.dataset.wire : "";
}

if (board) {
  const page = document.body;
  let kept = "";

  const show = (wire) => {
    for (const part of document.querySelectorAll("[data-wire].now")) part.classList.remove("now");
    for (const part of wire ? partsOf(wire) : []) part.classList.add("now");
    page.classList.toggle("picking", Boolean(wire));
  };

  const keep = (wire) => {
    kept = wire === kept ? "" : wire;
    show(kept);
  };

  /** Bring the other side of a pair into sight: the wire for a row, the row for a wire. */
  const reveal = (wire, fromDrawing) => {
    const other = [...partsOf(wire)].find((part) => board.contains(part) !== fromDrawing);
    other?.scrollIntoView({ block: "nearest", inline: "center" });
  };

  document.addEventListener("pointerover", (event) => {
    if (event.pointerType === "mouse") show(wireOf(event.target) || kept);
  });
  document.addEventListener("focusin", (event) => show(wireOf(event.target) || kept));
  document.addEventListener("focusout", () => show(kept));
  document.addEventListener("click", (event) => {
    const wire = wireOf(event.target);
    if (!wire) return;
    event.preventDefault();
    keep(wire);
    if (kept) reveal(wire, board.contains(event.target));
  });
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape") keep(kept);
    if (event.key === " " && wireOf(event.target)) {
      event.preventDefault();
      keep(wireOf(event.target));
    }
  });

  const asked = decodeURIComponent(location.hash).match(/^#(?:wire|row)-(.+)$/);
  if (asked) keep(asked[1]);
}

const steps = { ArrowRight: "next", ArrowLeft: "prev" };
document.addEventListener("keydown", (event) => {
  const plain = !(event.altKey || event.ctrlKey || event.metaKey || event.shiftKey);
  // In the drawing's own scroller the arrows pan.
  const free = !event.target.closest?.(".drawing, input, textarea, select");
  if (plain && free && steps[event.key]) {
    document.querySelector(`.count a[rel="${steps[event.key]}"]`)?.click();
  }
});

/** Close the view in from the whole board to the step: motion says where on the board it is. */
function closeIn(svg, whole) {
  const move = parseFloat(getComputedStyle(svg).getPropertyValue("--move"));
  const end = svg.getAttribute("viewBox").split(" ").map(Number);
  const start = whole.split(" ").map(Number);
  if (!(move > 0)) return;
  let began = 0;
  const frame = (now) => {
    began = began || now;
    const part = Math.min((now - began) / move, 1);
    const eased = 1 - (1 - part) ** 3;
    svg.setAttribute("viewBox", end.map((to, i) => start[i] + (to - start[i]) * eased).join(" "));
    if (part < 1) requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
}

if (picture?.dataset.whole) closeIn(picture.querySelector(".board"), picture.dataset.whole);

/** What was in the middle of the drawing stays there when it is drawn larger or smaller. */
function keepMiddle(pane) {
  const share = (start, shown, all) => (start + shown / 2) / all;
  for (const link of document.querySelectorAll(".zoom a")) {
    link.addEventListener("click", () => {
      const x = share(pane.scrollLeft, pane.clientWidth, pane.scrollWidth);
      const y = share(pane.scrollTop, pane.clientHeight, pane.scrollHeight);
      sessionStorage.setItem("middle", JSON.stringify([x, y]));
    });
  }
  const kept = sessionStorage.getItem("middle");
  sessionStorage.removeItem("middle");
  if (!kept) return;
  const [x, y] = JSON.parse(kept);
  pane.scrollLeft = x * pane.scrollWidth - pane.clientWidth / 2;
  pane.scrollTop = y * pane.scrollHeight - pane.clientHeight / 2;
}

const pane = document.querySelector(".drawing");
if (pane) keepMiddle(pane);

// What opens over the page closes where anything else is meant, and by Escape.
const over = () => document.querySelectorAll(":is(.looks, .key-help)[open]");
document.addEventListener("pointerdown", ({ target }) => {
  for (const each of over()) if (!each.contains(target)) each.open = false;
});
document.addEventListener("keydown", ({ key }) => {
  if (key !== "Escape") return;
  for (const each of over()) {
    each.open = false;
    each.querySelector("summary").focus();
  }
});
