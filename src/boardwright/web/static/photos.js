// Photos hang on a way, an item or a step; they wait like any entry where there is no signal.

import { device, enqueue, newId } from "./queue.js";

const { job } = document.body.dataset;
const MOST_BYTES = 20e6;

for (const place of document.querySelectorAll(".photos")) {
  const label = place.querySelector(".shoot");
  const note = place.querySelector(".note");
  label.hidden = false;
  label.querySelector("input").addEventListener("change", async ({ target }) => {
    const [file] = target.files;
    target.value = "";
    if (!file) return;
    if (file.size > MOST_BYTES) {
      note.textContent = `The photo has ${Math.round(file.size / 1e6)} MB. Take one of at most ${MOST_BYTES / 1e6} MB.`;
      return;
    }
    const told = new URLSearchParams({ id: newId(), subject: place.dataset.photos, at: new Date().toISOString(), device: device() });
    const body = new Blob([file], { type: "application/octet-stream" });
    await enqueue({ url: `/api/jobs/${job}/photos?${told}`, body });
    hang(place, file);
    note.textContent = "Kept on this device, and sent when the server answers.";
  });
}

function hang(place, file) {
  const image = document.createElement("img");
  image.alt = "Photo just taken";
  image.width = image.height = 96;
  image.src = URL.createObjectURL(file);
  place.prepend(image);
}
