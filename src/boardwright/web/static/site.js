// Steps ticked on site: kept on this device at once, sent when the server answers.

import { watch } from "./queue.js";
import { enter, unsent } from "./events.js";
import "./saved.js";
import "./keep.js";
import "./photos.js";

const here = document.querySelector(".step");
const told = document.getElementById("told");
const marks = document.getElementById("marks").content;
const count = document.getElementById("done-count");
let seen = Number(document.querySelector("[name=seen]").value);

const clock = (at) => new Date(at).toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });

function show({ state, note }, at) {
  const line = document.createElement("p");
  line.className = state.replace(" ", "-");
  const text = document.createElement("span");
  const word = Object.assign(document.createElement("b"), { textContent: state === "done" ? "Done" : "Not right" });
  text.append(word, ` ${clock(at)}${note ? `: ${note}` : ""}`);
  line.append(marks.querySelector(`[data-verdict="${state === "done" ? "pass" : "fail"}"]`).firstElementChild.cloneNode(true), text);
  told.replaceChildren(...(state === "open" ? [] : [line]));
}

for (const form of document.querySelectorAll("form.tick")) {
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const state = event.submitter.value;
    const value = { state, note: form.elements.note?.value.trim() ?? "" };
    await enter({ kind: "tick", subject: `steps.${form.elements.step.value}`, value, seen });
    const { next } = form.dataset;
    if (state === "done" && next) {
      location.assign(`?step=${next}`);
      return;
    }
    show(value, Date.now());
    document.getElementById("wrong-step").open = false;
  });
}

watch((_, news) => {
  if (news?.kind === "saved" && news.said.event) seen = news.said.event;
});

let more = 0;
for (const event of await unsent("tick")) {
  const key = event.subject.replace(/^steps\./, "");
  if (event.value.state === "done") more += 1;
  if (key === here.dataset.step) show(event.value, event.at);
}
if (more) count.textContent = `${Number(count.textContent) + more}`;
document.body.dataset.ready = "yes";
