// Two spreads side by side, drawn alike and played together, with their gaps under them.
import { deepest, doubted, unpack } from "./motion.js";
import { Refused, get, send } from "./net.js";
import { Picture } from "./picture.js";
import { Player } from "./player.js";
import { make, pairsTable, tied } from "./rods.js";

const find = (id) => document.getElementById(id);
const trip = await get("");
const kept = await get("/spreads");
const choices = [{ name: trip.has_plan ? "the plan's" : "the first that passes the checks", spread: trip.start }, ...kept];
const NAMES = ["left", "right"];
const words = { left: "first", right: "second" };
const pictures = NAMES.map((name) => new Picture(find(`${name}-picture`), trip, { labelled: `The ${words[name]} spread`, paper: 340 }));
const player = new Player(...pictures);
const asked = [null, null];
const depths = [0, 0];

/** Both pictures have one scale for depth as well, so that they can be compared by eye. */
function sameDepth(place, motion) {
  depths[place] = deepest(motion);
  for (const picture of pictures) picture.depthInRun = Math.max(...depths);
}

function show(pair, place) {
  find(`${NAMES[place]}-picture`).scrollIntoView({ block: "nearest" });
  player.show(pair, place);
}

function tell(place, straight, told) {
  const name = NAMES[place];
  pictures[place].near(told.pairs[0] ?? null);
  find(`${name}-closest`).textContent = tied(told.closest);
  const rods = straight.rods.map((rod) => make("li", {}, make("strong", {}, rod.rod), `, ${rod.mark_said}: ${rod.weight}, ${rod.lure}; lure ${rod.lure_said} deep`));
  const table = pairsTable(told.pairs.slice(0, 5), (pair) => show(pair, place), `Nearest pairs of the ${words[name]} spread`);
  find(`${name}-table`).replaceChildren(make("ul", {}, ...rods), table);
}

/** One of the two chosen: straight ahead, then the turns, then how sure it is. */
async function take(place) {
  const name = NAMES[place];
  const { spread } = choices[Number(find(`${name}-which`).value)];
  asked[place]?.abort();
  const { signal } = (asked[place] = new AbortController());
  try {
    let straight = await send("/try", spread, { signal });
    if (player.moment === 0) pictures[place].show(straight);
    else pictures[place].wait(straight);
    const run = await send("/try/run", spread, { signal });
    let motion = unpack(run);
    sameDepth(place, motion);
    tell(place, straight, run);
    player.load(motion, place);
    const told = await send("/try/ranges", spread, { signal });
    straight = { ...straight, rods: straight.rods.map((rod) => ({ ...rod, ...told.rods.find((each) => each.rod === rod.rod) })) };
    pictures[place].spread = straight;
    motion = doubted(motion, told);
    sameDepth(place, motion);
    tell(place, straight, told);
    find(`${name}-sure`).textContent = told.sure;
    player.load(motion, place);
    for (const picture of pictures) picture.draw();
  } catch (error) {
    if (error.name === "AbortError") return;
    if (!(error instanceof Refused)) throw error;
    find("said").textContent = error.message;
  }
}

const wide = matchMedia("(min-width: 60rem)");
const unfold = (open) => NAMES.forEach((name) => (find(`${name}-more`).open = open));
unfold(wide.matches);
addEventListener("beforeprint", () => unfold(true));
NAMES.forEach((name, place) => {
  const which = find(`${name}-which`);
  which.replaceChildren(...choices.map((each, i) => make("option", { value: i }, each.name)));
  which.value = String(place === 0 ? 0 : choices.length - 1);
  which.addEventListener("change", () => take(place));
});
if (choices.length < 2) find("said").textContent = "Only one spread is there yet: keep one on the spread's page to compare it with.";
await take(0);
await take(1);
document.documentElement.dataset.ready = "yes";
