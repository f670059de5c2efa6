// A what-if: shows how far its designs are, and forgets what was tried once a variant is kept.
"use strict";

import { ask, job, say } from "/static/parts.js";

const names = [...document.querySelectorAll("#works [data-work]")].map((each) => each.dataset.work);
const bar = document.getElementById("work");

async function follow() {
  bar.hidden = false;
  for (;;) {
    const answers = await Promise.all(names.map((n) => ask("GET", `/api/jobs/${job}/running/${n}`)));
    const works = answers.map(({ said }) => said);
    const share = works.reduce((sum, work) => sum + (work.fraction ?? 0), 0) / works.length;
    const done = works.filter((work) => work.state === "done").length;
    bar.querySelector("progress").value = Math.round(share * 100);
    bar.querySelector(".what").textContent = works.find((w) => w.state === "running")?.words ?? "";
    bar.querySelector(".count").textContent = `${done} of ${works.length}`;
    if (done === works.length || works.some((work) => work.state === "failed")) return location.reload();
    if (works.some((work) => work.state === "stopped")) {
      bar.hidden = true;
      return say("Stopped; nothing was changed");
    }
    await new Promise((then) => setTimeout(then, 150));
  }
}

if (names.length) {
  bar.querySelector("button").addEventListener("click", () => {
    for (const name of names) ask("DELETE", `/api/jobs/${job}/running/${name}`);
  });
  follow();
}

for (const form of document.querySelectorAll("form.keep")) {
  form.addEventListener("submit", () => sessionStorage.removeItem(`tried:${job}`));
}
