// The spread's page: a spread made by hand, towed anew on the server with every change, drawn and told at once.
import { deepest, doubted, unpack } from "./motion.js";
import { Refused, get, send } from "./net.js";
import { Picture } from "./picture.js";
import { Player } from "./player.js";
import { Rods, make, pairsTable, tied } from "./rods.js";
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
  find("closest").textContent = tied(words);
}

/** Show another spread: straight ahead at once, then the turns, then how sure it all is. */
async function take(wanted) {
  spread = wanted;
  rods.choose(spread);
  asked?.abort();
  const { signal } = (asked = new AbortController());
  try {
    straight = await send("/try", spread, { signal });
    if (player.moment === 0) picture.show(straight);
    else picture.wait(straight); // the moment that is looked at stays until it is computed anew
    rods.tell(straight, null);
    notes([]);
    find("sure").textContent = "Ranges for the moment: each doubt by itself, in calm water. Those from samples follow.";
    await new Promise((done) => setTimeout(done, PAUSE));
    if (signal.aborted) return;
    run = await send("/try/run", spread, { signal });
    rods.tell(straight, run.lines);
    notes(run.notes);
    let motion = unpack(run);
    picture.depthInRun = deepest(motion);
    tellPairs(run);
    player.load(motion);
    document.documentElement.dataset.ready = "yes";
    const told = await send("/try/ranges", spread, { signal });
    straight = { ...straight, rods: straight.rods.map((rod) => ({ ...rod, ...told.rods.find((each) => each.rod === rod.rod) })) };
    motion = doubted(motion, told);
    picture.depthInRun = deepest(motion);
    picture.spread = straight;
    rods.tell(straight, run.lines);
    tellPairs(told);
    find("sure").textContent = told.sure;
    player.load(motion);
    document.documentElement.dataset.sure = "yes";
  } catch (error) {
    if (error.name === "AbortError") return;
    if (!(error instanceof Refused)) throw error;
    say(error.message);
  }
}

function tellPairs(told) {
  say(told.closest);
  picture.near(told.pairs[0] ?? null);
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
