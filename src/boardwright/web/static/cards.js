// The list's cards: facts and small drawings that were not there yet, asked for one after another,
// those in view first. The page is whole and usable without them.

const PAUSE_MS = 800;
const MOST_TRIES = 60;
const waiting = new Set();
let busy = false;

const seen = new IntersectionObserver((entries) => {
  for (const entry of entries) {
    if (entry.isIntersecting) waiting.add(entry.target);
    else waiting.delete(entry.target);
  }
  work();
});
for (const card of document.querySelectorAll("[data-card]")) seen.observe(card);

async function work() {
  if (busy) return;
  busy = true;
  try {
    while (waiting.size) {
      const [card] = waiting;
      await fill(card);
      waiting.delete(card);
      seen.unobserve(card);
    }
  } finally {
    busy = false;
  }
}

async function fill(card) {
  for (let tries = 0; tries < MOST_TRIES && waiting.has(card); tries += 1) {
    const answer = await fetch(card.dataset.card).catch(() => null);
    if (!answer?.ok) return;
    const { facts, drawn } = await answer.json();
    const line = card.querySelector(".facts");
    if (line) line.textContent = facts;
    if (drawn) {
      const picture = card.querySelector("img");
      picture.src = `${picture.getAttribute("src")}&drawn=1`;
      return;
    }
    await new Promise((done) => setTimeout(done, PAUSE_MS));
  }
}
