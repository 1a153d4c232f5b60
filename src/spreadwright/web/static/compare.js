// Two spreads side by side, drawn alike, with their gaps under them.
import { Refused, get, send } from "./net.js";
import { Picture } from "./picture.js";
import { make, pairsTable } from "./rods.js";

const find = (id) => document.getElementById(id);
const trip = await get("");
const kept = await get("/spreads");
const choices = [{ name: trip.has_plan ? "the plan's" : "the first that passes the checks", spread: trip.start }, ...kept];

function side(name, first) {
  const which = find(`${name}-which`);
  which.replaceChildren(...choices.map((each, i) => make("option", { value: i }, each.name)));
  which.value = String(first);
  const picture = new Picture(find(`${name}-picture`), trip, { labelled: `The ${name} spread` });
  async function show() {
    const { spread } = choices[Number(which.value)];
    try {
      const straight = await send("/try", spread);
      picture.show(straight);
      const told = await send("/try/ranges", spread);
      picture.near(told.pairs[0] ?? null);
      find(`${name}-closest`).textContent = told.closest;
      const rods = straight.rods.map((rod) => make("li", {}, make("strong", {}, rod.rod), `, ${rod.mark_said}: ${rod.weight}, ${rod.lure}; lure ${rod.lure_said} deep`));
      find(`${name}-table`).replaceChildren(make("ul", {}, ...rods), pairsTable(told.pairs.slice(0, 5)));
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      find("said").textContent = error.message;
    }
  }
  which.addEventListener("change", show);
  return show();
}

if (choices.length < 2) find("said").textContent = "Only one spread is there yet: keep one on the spread's page to compare it with.";
await side("left", 0);
await side("right", choices.length - 1);
document.documentElement.dataset.ready = "yes";
