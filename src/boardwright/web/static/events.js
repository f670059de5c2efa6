// What is done at the board, as events: made on this device, sent when they can be.

import { device, enqueue, newId, waiting } from "./queue.js";

const { job } = document.body.dataset;

// Enter one thing; `seen` is the last event that this page knew of.
export function enter({ kind, subject, value, seen }) {
  const event = { id: newId(), kind, subject, value, at: new Date().toISOString(), device: device(), seen };
  return enqueue({ url: `/api/jobs/${job}/events`, body: { events: [event] } });
}

// Return what was entered here and has not been sent, oldest first.
export async function unsent(kind) {
  const rows = await waiting(job);
  return rows.flatMap((row) => row.body.events ?? []).filter((event) => event.kind === kind);
}
