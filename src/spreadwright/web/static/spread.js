// The spread's page: a spread made by hand, towed anew on the server with every change, drawn and told at once.
import { unpack } from "./motion.js";
import { Refused, get, send } from "./net.js";
import { Picture } from "./picture.js";
import { Player } from "./player.js";
import { Rods, make, pairsTable } from "./rods.js";
import { follow } from "./work.js";

const find = (id) => document.getElementById(id);
const PAUSE = 120; // [ms] without a change before the S-turn is asked for

const trip = await get("");
let spread = trip.start;
let straight = null;
let run = null;
let asked = null;

const picture = new Picture(find("picture"), trip, { onMark: moveTo, onPick: pick, labelled: "The spread from above and from the side" });
const player = new Player(picture);
const rods = new Rods(find("rods"), trip, { onChange: change, onAshore: ashore, onPick: pick });

function pick(name) {
  rods.pick(name);
  if (picture.picked === name) return;
  picture.picked = name;
  picture.draw();
}

function moveTo(name, mark) {
  const number = trip.rods.findIndex((rod) => rod.name === name);
  player.rest();
  change(number, "mark", mark);
}

function change(rod, what, value) {
  take({ rods: spread.rods.map((hand) => (hand.rod === rod ? { ...hand, [what]: value } : hand)) });
}

function ashore(rod, fishes) {
  const own = trip.start.rods.find((hand) => hand.rod === rod) ?? { ...trip.start.rods[0], rod, mark: 0 };
  const others = spread.rods.filter((hand) => hand.rod !== rod);
  const rods = fishes ? [...others, own].sort((a, b) => a.rod - b.rod) : others;
  if (rods.length) take({ rods });
  else say("One rod at least has to fish.");
}

function say(words) {
  find("closest").textContent = words;
}

/** Show another spread: straight ahead at once, then the turns, then how sure the gaps are. */
async function take(wanted) {
  spread = wanted;
  rods.choose(spread);
  asked?.abort();
  const { signal } = (asked = new AbortController());
  try {
    straight = await send("/try", spread, { signal });
    picture.show(straight);
    rods.tell(straight, null);
    notes([]);
    await new Promise((done) => setTimeout(done, PAUSE));
    if (signal.aborted) return;
    run = await send("/try/run", spread, { signal });
    picture.depthInRun = Math.max(0, ...run.lines.map((line) => -deepest(line) / 100));
    rods.tell(straight, run.lines);
    notes(run.notes);
    tellPairs(run);
    player.load(unpack(run));
    document.documentElement.dataset.ready = "yes";
    tellPairs(await send("/try/ranges", spread, { signal }));
  } catch (error) {
    if (error.name === "AbortError") return;
    if (!(error instanceof Refused)) throw error;
    say(error.message);
  }
}

/** The lowest height of any place of a line through the run [cm]. */
function deepest(line) {
  const now = [...line.first];
  let least = 0;
  for (const moves of [[], ...line.moves]) {
    moves.forEach((move, i) => (now[i] += move));
    for (let i = 2; i < now.length; i += 3) least = Math.min(least, now[i]);
  }
  return least;
}

function tellPairs(told) {
  say(told.closest);
  picture.near(told.pairs[0] ?? null);
  if (player.run) player.run.pairs = told.pairs;
  const shown = (pair) => {
    find("picture").scrollIntoView({ block: "nearest" });
    player.show(pair);
  };
  find("pairs").replaceChildren(told.pairs.length ? pairsTable(told.pairs, shown) : make("p", {}, told.closest));
}

function notes(more) {
  const all = [...straight.notes, ...more];
  find("notes").replaceChildren(...all.map((said) => make("p", {}, said)));
}

async function listKept() {
  const kept = await get("/spreads");
  const chooser = find("take");
  chooser.replaceChildren(make("option", { value: "" }, kept.length ? "a spread that was kept" : "none kept yet"), ...kept.map((each, i) => make("option", { value: i }, each.name)));
  chooser.onchange = () => chooser.value !== "" && take(kept[Number(chooser.value)].spread);
}

find("keep").addEventListener("click", async () => {
  const name = find("keep-name").value.trim();
  if (!name) return find("keep-name").focus();
  try {
    await send("/spreads", { name, spread });
    find("origin").textContent = `Kept as ${name}.`;
    await listKept();
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    find("origin").textContent = error.message;
  }
});
find("back").addEventListener("click", () => {
  player.rest();
  take(trip.start);
});
for (const block of document.querySelectorAll("[data-work]")) follow(block, () => location.reload());
await listKept();
await take(trip.start);
