// What somebody else changed while this page is open: told in one line, shown when it is asked for.

const EVERY_MS = 4000;
const { job } = document.body.dataset;
let told = Number(document.body.dataset.stands);

async function look() {
  if (document.visibilityState !== "visible" || !navigator.onLine) return;
  const answer = await fetch(`/api/jobs/${encodeURIComponent(job)}/pulse`).catch(() => null);
  if (!answer?.ok) return;
  const { version } = await answer.json();
  // What this page saved itself it has noted in its own version.
  const own = Math.max(told, Number(document.body.dataset.version) || 0);
  if (version <= own) return;
  told = version;
  const asked = await fetch(`/api/jobs/${encodeURIComponent(job)}/history?after=${own}`);
  if (asked.ok) tell((await asked.json()).history.at(-1), own);
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

// The laptop's pages listen by themselves, and show at once what is new.
if (told && !document.body.dataset.listens) setInterval(look, EVERY_MS);
