// What somebody else changed while this page is open: told in one line, shown when it is asked for.

const EVERY_MS = 4000;
const OWN_MS = 1500;
const { job } = document.body.dataset;
let told = Number(document.body.dataset.stands);

// The newest version that this page knows of: told already, or saved by itself.
const known = () => Math.max(told, Number(document.body.dataset.version) || 0);

async function look() {
  // The laptop's pages listen by themselves, and show at once what is new.
  if (document.body.dataset.listens || document.visibilityState !== "visible" || !navigator.onLine) return;
  const answer = await fetch(`/api/jobs/${encodeURIComponent(job)}/pulse`).catch(() => null);
  if (!answer?.ok) return;
  const { version } = await answer.json();
  if (version <= known()) return;
  // The answer to a save of this page's own may still be on its way.
  await new Promise((done) => { setTimeout(done, OWN_MS); });
  const own = known();
  if (version <= own) return;
  told = version;
  const asked = await fetch(`/api/jobs/${encodeURIComponent(job)}/history?after=${own}`).catch(() => null);
  if (asked?.ok) tell((await asked.json()).history.at(-1), own);
}

function tell(change, own) {
  document.querySelector(".news")?.remove();
  const when = new Date(change.at).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
  const line = document.createElement("p");
  line.className = "news";
  line.setAttribute("role", "status");
  line.append(`Changed by ${change.who} at ${when}: `);
  const show = document.createElement("a");
  show.href = `/jobs/${encodeURIComponent(job)}/changed?one=${own}&other=${change.number}`;
  show.textContent = "show";
  const fresh = document.createElement("a");
  fresh.href = location.href;
  fresh.textContent = "load this page again";
  line.append(show, " · ", fresh);
  document.querySelector("main").prepend(line);
}

if (told) setInterval(look, EVERY_MS);
