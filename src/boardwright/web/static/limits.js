// What is so of a reading, judged on this device. The bounds are the library's own, sent with the
// page; this script compares and knows no figure.

// A reading as typed: a number, {over: n} for what the meter could not show, yes or no, or null.
export function readingOf(limit, typed) {
  const text = typed.trim();
  if (limit.seen) return text === "yes" || text === "no" ? text : null;
  const over = /^>\s*(\d+(?:\.\d+)?)$/.exec(text);
  if (over) return { over: Number(over[1]) };
  return /^(\d+(\.\d+)?|\.\d+)$/.test(text) ? Number(text) : null;
}

// What a reading counts as: over the range it is the least it can be, or has no end.
export function counted(limit, value) {
  if (value === null || typeof value !== "object") return value;
  const more = limit.bounds.some((bound) => bound.kind === "side" && bound.sense === "least");
  return more ? value.over : Infinity;
}

function holds(bound, value, others) {
  if (bound.kind === "side") {
    if (bound.sense === "least") return value >= bound.limit;
    return bound.strict ? value < bound.limit : value <= bound.limit;
  }
  const other = others[bound.of];
  if (bound.kind === "apart") {
    if (other === undefined) return null;
    const apart = Math.abs(value - other);
    return (Number.isFinite(apart) ? Number(apart.toFixed(4)) : apart) <= bound.limit;
  }
  if (bound.due === null && other === undefined) return null;
  const due = bound.due ?? other * bound.line / bound.cpc;
  return Math.abs(value - due) <= Math.max(due * bound.fraction, bound.least);
}

// Return {verdict, bound}: the first bound that does not hold decides.
export function verdictOf(limit, value, others) {
  if (typeof value === "string") return { verdict: value === "yes" ? "pass" : "fail", bound: null };
  const held = limit.bounds.map((bound) => holds(bound, value, others));
  const broken = held.indexOf(false);
  if (broken >= 0) return { verdict: limit.bounds[broken].verdict, bound: limit.bounds[broken] };
  return { verdict: held.includes(true) ? "pass" : "not applicable", bound: null };
}
