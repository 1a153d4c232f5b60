// What all parts of the sheet share: the sheet's own data, what is held on the phone, small helpers for the page.

const sheet = JSON.parse(document.getElementById("sheet").textContent);
const held = { store: null, records: new Map(), settings: {}, last: 0, fix: null, audio: null };
const AGE_OF_FIX = 60_000; // [ms] an older position is not this moment's
const SAME_TAP = 600; // [ms] a second tap on the same button within it is a wet finger

const shown = (name, within = document) => within.querySelector(`[data-show="${name}"]`);
const entries = () => Array.from(held.records.values(), (record) => record.entry);
const rodNamed = (name) => sheet.rods.find((rod) => rod.name === name);

// An element with its properties, attributes (a key with a dash, or "for", "class") and what is inside.
function make(tag, how, ...inside) {
  const made = document.createElement(tag);
  for (const [key, value] of Object.entries(how ?? {})) {
    if (key.includes("-") || key === "class") made.setAttribute(key, value);
    else made[key] = value;
  }
  made.append(...inside);
  return made;
}

// ---- time, in the phone's own zone ----
const two = (number) => String(number).padStart(2, "0");
function clockTime(at) {
  const when = new Date(at);
  return `${two(when.getHours())}:${two(when.getMinutes())}:${two(when.getSeconds())}`;
}
function lasting(milliseconds) {
  const seconds = Math.max(0, Math.floor(milliseconds / 1000));
  return `${Math.floor(seconds / 3600)}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`;
}

// ---- units: SI inside, the captain's on the page ----
const SHOWN_UNITS = { us: { length: [0.0254, "in"], mass: [0.45359237, "lb"] }, metric: { length: [0.01, "cm"], mass: [1, "kg"] } };
const MOST = { length: 10, mass: 2000 }; // [m], [kg]: the log takes no more
const unitsNow = () => document.documentElement.dataset.units;

function measureShown(value, dimension) {
  const [scale, unit] = SHOWN_UNITS[unitsNow()][dimension];
  return `${Number((value / scale).toPrecision(3))} ${unit}`;
}

// A measure typed by hand as [SI value or null, fault or ""].
function measureRead(text, dimension) {
  const [scale, unit] = SHOWN_UNITS[unitsNow()][dimension];
  const typed = text.trim().replace(",", ".");
  if (!typed) return [null, ""];
  const value = Number(typed) * scale;
  if (value > 0 && value <= MOST[dimension]) return [value, ""];
  return [null, `“${text.trim()}” is no ${dimension}: write a number over 0 and up to ${Math.floor(MOST[dimension] / scale)} ${unit}.`];
}

// ---- what an entry says, in words ----
const TURNS = { straight: "straight on", port: "turning to port", starboard: "turning to starboard" };
function inWords(entry) {
  if (entry.kind === "line_out") return `${entry.rod}: line out`;
  if (entry.kind === "line_in") return `${entry.rod}: line in`;
  if (entry.kind === "note") return `note: ${entry.note}`;
  const fish = [entry.species, entry.length && measureShown(entry.length, "length"), entry.mass && measureShown(entry.mass, "mass")];
  const took = entry.took ? `took ${entry.took === "both" ? "lure and weight" : `the ${entry.took}`}` : "";
  const more = [took, entry.outcome, ...fish, TURNS[entry.turn], entry.note].filter(Boolean);
  return `strike on ${entry.rod}${more.length ? `: ${more.join(", ")}` : ""}`;
}

// ---- noting ----
function positionNow() {
  const fresh = held.settings.position && held.fix && Date.now() - held.fix.at <= AGE_OF_FIX;
  return fresh ? held.fix.place : null;
}

// Adds entries for good. The page shows them at once; it says so once they are kept.
async function note(added, said) {
  const pairs = added.map((entry) => {
    held.last = Math.max(held.last + 1, Date.now());
    const record = { entry, noted: held.last, sent: false };
    held.records.set(entry.id, record);
    return [entry.id, record];
  });
  showAll();
  sayLast("Noting …");
  const kept = await held.store.keep(pairs);
  showKept();
  sayLast(kept ? said : `NOT KEPT: ${said}`);
}

async function set(changes) {
  held.settings = { ...held.settings, ...changes };
  await held.store.keep([["settings", held.settings]]);
}

// The standing entry that was noted last, or undefined.
function lastNoted() {
  const stands = standing(entries()).map((entry) => held.records.get(entry.id));
  return stands.sort((a, b) => b.noted - a.noted)[0]?.entry;
}

function sayLast(said) {
  shown("said").textContent = said;
  shown("last").hidden = false;
  document.querySelector('[data-do="undo"]').disabled = !lastNoted();
}

function takeBack(id) {
  const entry = held.records.get(id).entry;
  return note(takingBack(entries(), id), `Taken back: ${inWords(entry)}. The log can put it back.`);
}

// Puts back what was taken back, however that was done.
function putBack(id) {
  const all = entries(), holds = holding(all);
  const away = all.filter((each) => each.kind === "undo" && each.note === REPLACED + id);
  const undos = all.filter((each) => each.kind === "undo" && holds(each.id)
    && (each.of === id || away.some((undo) => undo.id === each.of)));
  return note(puttingBack(undos), `Put back: ${inWords(held.records.get(id).entry)}.`);
}
