// Have the home that is open kept on this device, with all that its pages need.

const { job, version } = document.body.dataset;
const NOTE = document.getElementById("offline-note");
const MARK = `boardwright-kept-${job}`;
// A survey that is being typed makes a version with every answer: its copies follow less often.
const AGAIN_MS = document.body.classList.contains("survey") ? 300000 : 60000;

function say(text) {
  if (!NOTE) return;
  NOTE.hidden = false;
  NOTE.textContent = text;
}

function mark() {
  try {
    return JSON.parse(localStorage.getItem(MARK) ?? "{}");
  } catch {
    return {};
  }
}

function isDue() {
  const { at = 0, number } = mark();
  return number !== version && Date.now() - at > AGAIN_MS;
}

async function keepHome() {
  const { active } = await navigator.serviceWorker.ready;
  const used = performance.getEntriesByType("resource").map(({ name }) => name);
  const here = [location.href, ...used.filter((name) => name.startsWith(`${location.origin}/static/`))];
  const answer = isDue() ? await fetch(`/jobs/${job}/kept.json`) : null;
  const all = answer?.ok ? (await answer.json()).addresses : [];
  active.postMessage({ keep: [...here, ...all] });
  if (!answer?.ok) return;
  navigator.serviceWorker.addEventListener("message", ({ data }) => {
    if (data.kept < data.of || data.of <= here.length) return;
    localStorage.setItem(MARK, JSON.stringify({ number: version, at: Date.now() }));
    document.body.dataset.kept = data.kept;
  });
}

if (job && window.isSecureContext && navigator.serviceWorker) {
  navigator.serviceWorker.register("/worker.js").then(keepHome).catch(() => null);
} else if (job) {
  say("This address is not HTTPS. Entries wait in this browser and are sent when the server answers, but without the server this page cannot be opened again: leave it open.");
}
