// Opens the store, shows what is in it, and answers taps and keys.

function showAll() {
  showRows();
  showStrikes();
  showEntries();
  showKept();
  showClock();
  const box = document.querySelector('[data-do="text"]');
  if (box.open) shown("text").value = logText(entries());
  document.querySelector('[data-do="undo"]').disabled = !lastNoted();
}

// One part of the sheet at a time; without scripts all of them stand one below the other.
function showPart() {
  const parts = [...document.querySelectorAll("main > section")];
  const chosen = parts.find((part) => `#${part.id}` === location.hash) ?? parts[0];
  for (const part of parts) part.hidden = part !== chosen;
  for (const link of document.querySelectorAll("nav a")) {
    if (link.hash === `#${chosen.id}`) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  scrollTo(0, 0);
  return chosen;
}

// Keyboard and screen reader go where the page has gone: to a strike that was asked for, or to the part's head.
function focusOn(part) {
  const panel = panelFor(held.wanted);
  held.wanted = null;
  if (!panel) return part.querySelector("h2").focus({ preventScroll: true });
  panel.querySelector("h3").focus({ preventScroll: true });
  return panel.scrollIntoView({ block: "center" });
}

const panelOf = (button) => button.closest(".strike");
const idOf = (button) => button.closest("[data-id]").dataset.id;
const rodOf = (button) => button.closest("[data-rod]").dataset.rod;
const DOING = {
  "line": (button) => tapLine(rodOf(button)),
  "strike": (button) => tapStrike(rodOf(button)),
  "strike-done": (button) => closeStrike(panelOf(button)),
  "strike-back": (button) => takeBack(idOf(button)),
  "undo": () => lastNoted() && takeBack(lastNoted().id),
  "back": (button) => takeBack(idOf(button)),
  "put-back": (button) => putBack(idOf(button)),
  "change": (button) => changeStrike(idOf(button)),
  "timer": (button) => setTimer(Number(button.dataset.minutes)),
  "save": saveFile,
  "share": share,
  "codes": showCodes,
  "code": (button) => showCode(Number(button.dataset.step)),
  "codes-close": () => document.querySelector("dialog").close(),
};

let tapped = { button: null, at: 0 };
function onClick(event) {
  const button = event.target.closest("button[data-do]");
  if (!button || !DOING[button.dataset.do]) return;
  const again = tapped.button === button && event.timeStamp - tapped.at < SAME_TAP;
  tapped = { button, at: event.timeStamp };
  const bounces = ["line", "strike", "undo", "strike-back"].includes(button.dataset.do);
  if (!(again && bounces)) DOING[button.dataset.do](button);
}

function onChange({ target }) {
  if (target.dataset.key) amend(panelOf(target), { [target.dataset.key]: target.value });
  else if (target.name === "order") showRows();
  else if (target.name === "units") useUnits(target.value);
  else if (target.name === "position") set({ position: target.checked }).then(watchPosition);
}

function onSubmit(event) {
  event.preventDefault();
  const form = event.target;
  if (form.dataset.do === "note") addNote(form);
  if (form.dataset.do === "fish") keepFish(panelOf(form), form);
}

function useUnits(units) {
  document.documentElement.dataset.units = units;
  set({ units }).then(showAll);
}

// Also what another window of this sheet has noted in the meantime.
async function readStore() {
  for (const [key, value] of await held.store.read()) {
    if (key === "settings") held.settings = { ...value, ...held.settings };
    else if (value?.entry?.id === key && !held.records.has(key)) held.records.set(key, value);
  }
  held.last = Math.max(0, ...Array.from(held.records.values(), (record) => record.noted));
}

async function start() {
  held.store = await openStore(sheet.id);
  await readStore();
  document.documentElement.dataset.units = held.settings.units ?? unitsNow();
  document.querySelector(`[name="units"][value="${unitsNow()}"]`).checked = true;
  document.querySelector('[name="position"]').checked = Boolean(held.settings.position);
  document.querySelector('[data-do="share"]').hidden = !canShare();
  watchPosition();
  document.addEventListener("click", onClick);
  document.addEventListener("change", onChange);
  document.addEventListener("submit", onSubmit);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) readStore().then(showAll); });
  document.querySelector('[data-do="text"]').addEventListener("toggle", showAll);
  addEventListener("hashchange", () => focusOn(showPart()));
  showAll();
  if (lastNoted()) sayLast(`Last: ${inWords(lastNoted())}, ${clockTime(lastNoted().at)}.`);
  setInterval(showClock, 1000);
  document.documentElement.dataset.ready = "yes";
}

showPart();
start();
