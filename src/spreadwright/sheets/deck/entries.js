// What a log is: entries that are only ever added. What was wrong is taken back by another entry, never deleted.
//
// A record is {entry, noted, sent}: the entry as it is exported, its place in the order of noting on this phone, and
// whether it has left this phone in an export. Uses nothing of the page.

const FORMAT = "spreadwright deck log";
const REPLACED = "replaced by ";

function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

// An entry of this moment; keys that say nothing are left out.
function newEntry(kind, more, at = new Date()) {
  const entry = { id: newId(), kind, at: at.toISOString() };
  for (const [key, value] of Object.entries(more)) {
    if (value !== null && value !== undefined && value !== "" && value !== "unknown") entry[key] = value;
  }
  return entry;
}

// A test that says of an entry's id whether it holds: nobody has taken it back, or that was itself taken back.
function holding(entries) {
  const undos = new Map();
  for (const entry of entries) {
    if (entry.kind === "undo" && entry.of) undos.set(entry.of, [...(undos.get(entry.of) ?? []), entry.id]);
  }
  const known = new Map();
  const holds = (id, asking) => {
    if (asking.includes(id)) return false; // a circle, which no sheet writes: neither counts
    if (!known.has(id)) known.set(id, !(undos.get(id) ?? []).some((undo) => holds(undo, [...asking, id])));
    return known.get(id);
  };
  return (id) => holds(id, []);
}

// The entries that stand, by time.
function standing(entries) {
  const holds = holding(entries);
  const kept = entries.filter((entry) => entry.kind !== "undo" && holds(entry.id));
  return kept.sort((a, b) => (a.at + a.id < b.at + b.id ? -1 : 1));
}

// What takes an entry back: an undo of it, and if it stood in another's place, an undo of what took that one away.
function takingBack(entries, id) {
  const replaced = entries.filter((each) => each.kind === "undo" && each.note === REPLACED + id);
  const holds = holding(entries);
  const returning = replaced.filter((each) => holds(each.id));
  return [newEntry("undo", { of: id }), ...returning.map((each) => newEntry("undo", { of: each.id }))];
}

// What puts back again what these undos took away.
function puttingBack(undos) {
  return undos.map((undo) => newEntry("undo", { of: undo.id }));
}

// The same entry said anew, at its own time, and the undo that takes the first away.
function sayingAnew(entry, changes) {
  const { id, kind, at, ...rest } = entry;
  const anew = newEntry(kind, { ...rest, ...changes }, new Date(at));
  return [anew, newEntry("undo", { of: id, note: REPLACED + anew.id })];
}

// The entries that an export cannot do without. What was taken back before it ever left this phone stays here, with
// the undos of it: whoever puts the export to earlier ones has the same log standing as with everything.
function leaving(records) {
  const entries = records.map((record) => record.entry);
  const holds = holding(entries);
  const stay = new Set(records.filter((each) => !each.sent && !holds(each.entry.id)).map((each) => each.entry.id));
  for (let before = -1; before !== stay.size; ) {
    before = stay.size;
    for (const entry of entries) if (entry.kind === "undo" && stay.has(entry.of)) stay.add(entry.id);
  }
  return entries.filter((entry) => !stay.has(entry.id));
}

// The export as a value; `made` now.
function deckLog(sheet, entries) {
  const ordered = [...entries].sort((a, b) => (a.at + a.id < b.at + b.id ? -1 : 1));
  const head = { format: FORMAT, version: 1, trip: sheet.trip, boat: sheet.boat, sheet: sheet.id };
  return { ...head, made: new Date().toISOString(), entries: ordered };
}

// The export as several texts of at most `most` bytes, each a whole log by itself: any order, any repetition will do.
function deckLogParts(sheet, entries, most) {
  const size = (some) => new TextEncoder().encode(JSON.stringify(deckLog(sheet, some))).length;
  const parts = [];
  for (const entry of deckLog(sheet, entries).entries) {
    const last = parts[parts.length - 1];
    if (last && size([...last, entry]) <= most) last.push(entry);
    else parts.push([entry]);
  }
  return parts.map((part) => JSON.stringify(deckLog(sheet, part)));
}
