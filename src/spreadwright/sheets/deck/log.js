// The log as a list: what stands, newest first, and what was taken back.

function entryRow(entry, ...buttons) {
  const when = make("time", { dateTime: entry.at }, clockTime(entry.at));
  const where = entry.position ? ` at ${entry.position.map((each) => each.toFixed(4)).join(", ")}` : "";
  const row = make("li", {}, make("p", {}, when, ` ${inWords(entry)}${where}`), ...buttons);
  row.dataset.id = entry.id;
  return row;
}

function rowButton(doing, said, entry) {
  return make("button", { type: "button", "data-do": doing }, said, make("span", { class: "sr" }, `: ${inWords(entry)}`));
}

function showEntries() {
  const all = entries(), stands = standing(all).reverse(), up = new Set(stands.map((entry) => entry.id));
  const rows = stands.map((entry) => entryRow(entry,
    ...(entry.kind === "strike" ? [rowButton("change", "Change", entry)] : []), rowButton("back", "Take back", entry)));
  shown("entries").replaceChildren(...rows);
  const holds = holding(all);
  const replaced = new Set(all.filter((each) => each.note?.startsWith(REPLACED) && holds(each.id)).map((each) => each.of));
  const back = all.filter((entry) => entry.kind !== "undo" && !up.has(entry.id) && !replaced.has(entry.id));
  const superseded = (entry) => all.some((each) => each.kind === "undo" && each.of === entry.id && each.note?.startsWith(REPLACED));
  const gone = back.filter((entry) => !superseded(entry)).sort((a, b) => (a.at < b.at ? 1 : -1));
  shown("back").replaceChildren(...gone.map((entry) => entryRow(entry, rowButton("put-back", "Put back", entry))));
  shown("back-box").hidden = gone.length === 0;
}

function showKept() {
  const state = held.store.state(), count = standing(entries()).length;
  const many = count === 1 ? "1 entry" : `${count} entries`;
  const where = { kept: "kept on this phone", mirror: "kept on this phone, in its simpler store", nowhere: "NOT kept" }[state];
  shown("kept").textContent = count ? `${many}, ${where}.` : `Nothing noted yet. What you note is ${where}.`;
  shown("alarm").hidden = state !== "nowhere";
  shown("alarm").textContent = "This phone does not keep entries for this page. Take the log ashore before you close it, "
    + "or open the sheet in another browser.";
}

function addNote(form) {
  const said = form.elements.note.value.trim();
  if (!said) return undefined;
  form.reset();
  const entry = newEntry("note", { note: said, position: positionNow() });
  return note([entry], `Noted: ${inWords(entry)}`);
}

function changeStrike(id) {
  keptOpen.add(id);
  showStrikes();
  location.hash = "#lines";
  held.wanted = id; // the part is shown after this tap
}
