// What stands in a field, as typed and as the job has it. Ranges, choices and units come with the
// field, from the job's schema: this script knows none of its own.

export function typedOf(field) {
  const text = field.querySelector("input[type=text], textarea");
  return text ? text.value : field.querySelector("input[type=radio]:checked")?.value ?? "";
}

export function valueOf(field, typed) {
  const { kind, type, factor } = field.dataset;
  if (kind === "choice") {
    if (type === "bool") return typed === "yes";
    return type === "int" && /^\d+$/.test(typed) ? Number(typed) : typed;
  }
  if (kind === "groups") return groups(field, typed);
  if (kind === "ways") return /^[\d\s,]+$/.test(typed) ? typed.split(",").filter((way) => way.trim()).map(Number) : typed;
  if (kind !== "number" || Number(factor) === 1) return typed;
  return Number((Number(typed) / Number(factor)).toPrecision(12));
}

function groups(field, typed) {
  const pairs = field.querySelector("textarea").dataset.names.split("\n").map((line) => line.trim().split("="));
  const ids = new Map(pairs.map(([name, id]) => [name.toLowerCase(), id]));
  const named = (name) => ids.get(name.toLowerCase()) ?? name;
  return typed.split("\n").map((line) => line.split(",").map((name) => name.trim()).filter(Boolean).map(named)).filter((line) => line.length);
}

// Return what is wrong with a number in words, or nothing: its name, the value, what would be right.
export function problem(field) {
  const { kind, label, unit, wants } = field.dataset;
  const typed = typedOf(field).trim();
  if (kind !== "number" || !typed || fits(field, typed)) return "";
  const shown = unit ? `${typed}\u00a0${unit}` : typed;
  return `${label}: ${shown} cannot be kept. Enter ${wants}.${withPoint(typed)}`;
}

function fits(field, typed) {
  const { low, high } = field.dataset;
  const value = Number(typed);
  if (!/^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(typed) || !Number.isFinite(value)) return false;
  if ("whole" in field.dataset && !Number.isInteger(value)) return false;
  if (low && ("above" in field.dataset ? value <= Number(low) : value < Number(low))) return false;
  return !high || value <= Number(high);
}

// A decimal comma is never guessed at: 1,250 may be 1.25 or 1250.
function withPoint(typed) {
  const found = /^([-+]?\d+),(\d+)$/.exec(typed);
  if (!found) return "";
  const [, whole, part] = found;
  return part.length === 3 ? ` Write ${whole}.${part} or ${whole}${part}, whichever it is, without a comma.` : ` Write ${whole}.${part} with a point.`;
}
