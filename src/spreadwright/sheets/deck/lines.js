// Setting out and clearing: which line is out, in which order they go; and the strikes that are still open.

const YOUNG = 12 * 3600_000; // [ms] an unfinished strike of an earlier trip is not opened again
const keptOpen = new Set(); // strikes whose panel stays although they have an outcome

// The last standing word on each rod's line: its entry, or nothing.
function lastOfLines() {
  const found = new Map();
  for (const entry of standing(entries())) {
    if (entry.kind === "line_out" || entry.kind === "line_in") found.set(entry.rod, entry);
  }
  return found;
}

function showRows() {
  const lines = lastOfLines(), clearing = document.querySelector('[name="order"]:checked').value === "in";
  const list = shown("rows"), key = clearing ? "in" : "out";
  const rows = [...list.children].sort((a, b) => a.dataset[key] - b.dataset[key]);
  if (rows.some((row, i) => row !== list.children[i])) list.append(...rows);
  for (const row of rows) {
    const line = lines.get(row.dataset.rod), out = line?.kind === "line_out";
    row.classList.toggle("is-out", out);
    shown("place", row).textContent = row.dataset[key];
    shown("state", row).textContent = line ? `${out ? "out since" : "in since"} ${clockTime(line.at).slice(0, 5)}` : "aboard";
    shown("line", row).textContent = out ? "Line in" : "Line out";
  }
}

function tapLine(name) {
  const out = lastOfLines().get(name)?.kind === "line_out", rod = rodNamed(name);
  const more = out ? { rod: name } : { rod: name, rig: rod.rig };
  const entry = newEntry(out ? "line_in" : "line_out", { ...more, position: positionNow() });
  return note([entry], `Noted: ${inWords(entry)}.`);
}

// ---- strikes ----
function tapStrike(name) {
  const entry = newEntry("strike", { rod: name, rig: rodNamed(name).rig, position: positionNow() });
  const noted = note([entry], `Noted: ${inWords(entry)}, ${clockTime(entry.at)}.`);
  panelFor(entry.id)?.scrollIntoView({ block: "nearest" });
  return noted;
}

function openStrikes() {
  const closed = new Set(held.settings.closed ?? []);
  const fresh = (entry) => !entry.outcome && !closed.has(entry.id) && Date.now() - new Date(entry.at) < YOUNG;
  return standing(entries()).filter((entry) => entry.kind === "strike" && (keptOpen.has(entry.id) || fresh(entry)));
}

const panels = () => [...document.querySelectorAll(".strike")];
const panelFor = (id) => panels().find((panel) => panel.dataset.id === id);

// Each strike's panel stands under its rod: nothing jumps away from the finger.
function showStrikes() {
  const open = openStrikes();
  for (const panel of panels()) if (!open.some((entry) => entry.id === panel.dataset.id)) panel.remove();
  for (const entry of open) {
    const row = [...shown("rows").children].find((each) => each.dataset.rod === entry.rod);
    if (row && !panelFor(entry.id)) shown("open", row).prepend(strikePanel(entry));
  }
}

function strikePanel(entry) {
  const panel = document.getElementById("strike").content.cloneNode(true).firstElementChild;
  panel.dataset.id = entry.id;
  shown("rod", panel).textContent = entry.rod;
  shown("at", panel).textContent = clockTime(entry.at);
  for (const choice of panel.querySelectorAll("[data-key]")) {
    choice.name = `${choice.dataset.key} ${entry.id}`;
    choice.checked = (entry[choice.dataset.key] ?? "unknown") === choice.value;
  }
  const form = panel.querySelector("form");
  form.species.value = entry.species ?? "";
  form.note.value = entry.note ?? "";
  for (const key of ["length", "mass"]) if (entry[key]) form[key].value = measureShown(entry[key], key).split(" ")[0];
  return panel;
}

// A strike said anew; its panel stays where it is.
function amend(panel, changes) {
  const entry = held.records.get(panel.dataset.id).entry;
  const [anew, undo] = sayingAnew(entry, changes);
  keptOpen.delete(entry.id);
  keptOpen.add(anew.id);
  panel.dataset.id = anew.id;
  return note([anew, undo], `Noted: ${inWords(anew)}.`);
}

function keepFish(panel, form) {
  const [length, lengthFault] = measureRead(form.length.value, "length");
  const [mass, massFault] = measureRead(form.mass.value, "mass");
  form.length.setAttribute("aria-invalid", String(Boolean(lengthFault)));
  form.mass.setAttribute("aria-invalid", String(Boolean(massFault)));
  shown("fault", panel).textContent = [lengthFault, massFault].filter(Boolean).join(" ");
  if (lengthFault || massFault) return undefined;
  return amend(panel, { species: form.species.value.trim(), note: form.note.value.trim(), length, mass });
}

function closeStrike(panel) {
  const id = panel.dataset.id;
  keptOpen.delete(id);
  const row = panel.closest("[data-rod]");
  showAfter(set({ closed: [...(held.settings.closed ?? []), id].slice(-200) }));
  row.querySelector('[data-do="strike"]').focus({ preventScroll: true });
  row.scrollIntoView({ block: "nearest" });
}

async function showAfter(work) {
  await work;
  showAll();
}
