// The rods beside the picture: what each fishes, to be changed, and what comes of it in words.
import { add, element } from "./signs.js";

const PIECES = [["weight", "Weight", "weights"], ["lure", "Lure", "lures"], ["shock_leader", "Shock leader", "shock_leaders"], ["bite_leader", "Bite leader", "bite_leaders"], ["station", "Station", "stations"]];

export function make(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

/** A text whose numbers stay with their units when a line ends. */
export const tied = (said) => said.replace(/(\d) (?=(ft|m|s|lb|kg|oz|g|in|kn)\b)/g, "$1\u00a0");

function chooser(words, options, chosen, onChange) {
  const select = make("select", {}, ...options.map((said, i) => make("option", { value: i }, said)));
  select.value = String(chosen);
  select.addEventListener("change", () => onChange(Number(select.value)));
  return { label: make("label", {}, words, select), select };
}

export class Rods {
  /** onChange(rod, what, value) for a piece, onAshore(rod, fishes) for a rod left out or taken up again. */
  constructor(host, choices, { onChange, onAshore, onPick }) {
    this.cards = choices.rods.map((rod, number) => this.card(rod, number, choices, { onChange, onAshore, onPick }));
    host.replaceChildren(...this.cards.map((card) => card.field));
  }

  card(rod, number, choices, { onChange, onAshore, onPick }) {
    const swatch = element("svg", { viewBox: "0 0 48 10", "aria-hidden": "true" });
    add(swatch, "path", { d: "M0,5H48", stroke: "currentColor", "stroke-width": 2.4, "stroke-dasharray": rod.pattern || "none" });
    const field = make("fieldset", { class: "rod" }, make("legend", {}, swatch, rod.name));
    const selects = { mark: chooser("Mark", rod.marks, 0, (value) => onChange(number, "mark", value)) };
    for (const [what, words, list] of PIECES) {
      selects[what] = chooser(words, choices[list].map((each) => each.said), 0, (value) => onChange(number, what, value));
    }
    const fishes = make("input", { type: "checkbox" });
    fishes.addEventListener("change", () => onAshore(number, fishes.checked));
    const [numbers, against] = [make("dl"), make("div")];
    const more = make("details", {}, make("summary", {}, "Leaders, station"), make("div", { class: "more" },
      selects.shock_leader.label, selects.bite_leader.label, selects.station.label,
      make("label", { class: "ashore" }, fishes, "This rod fishes")));
    const wide = make("div", {}, selects.lure.label);
    field.append(make("div", { class: "chosen" }, selects.mark.label, selects.weight.label), wide, numbers, against, more);
    field.addEventListener("focusin", () => onPick(rod.name));
    return { field, selects, fishes, numbers, against, name: rod.name };
  }

  /** What is chosen, as the page stands. */
  choose(spread) {
    this.cards.forEach((card, number) => {
      const hand = spread.rods.find((each) => each.rod === number);
      card.fishes.checked = Boolean(hand);
      for (const [what, { select }] of Object.entries(card.selects)) {
        select.disabled = !hand;
        if (hand) select.value = String(hand[what]);
      }
    });
  }

  /** What came of it: depths and pull straight ahead, and through the turns once they are known. */
  tell(straight, lines) {
    for (const card of this.cards) {
      const rod = straight.rods.find((each) => each.rod === card.name);
      const line = lines?.find((each) => each.rod === card.name);
      const rows = rod ? [["Weight", `${rod.weight_said} deep`], ["Lure", `${rod.lure_said} deep`], ["Pull", rod.pull_said], ["Line", `${rod.angle_said} below level`]] : [["", "stays ashore"]];
      if (line) rows.push(["Turns", `${line.swing_said}; ${line.pull_said}`]);
      card.numbers.replaceChildren(...rows.flatMap(([word, said]) => [make("dt", {}, word), make("dd", {}, said)]));
      const notes = [...(rod?.notes ?? []), ...(line?.notes ?? [])];
      card.against.replaceChildren(...notes.map((said) => make("p", { class: "against" }, said)));
    }
  }

  pick(name) {
    for (const card of this.cards) card.field.classList.toggle("picked", card.name === name);
  }
}

/** Every pair, nearest first. */
export function pairsTable(pairs, onShow = null, named = "Gaps of all pairs") {
  const heads = ["Pair", "Nearest, gear to line", "When", "So"];
  const rows = pairs.map((pair) => {
    const time = `${Math.round(pair.time)} s`;
    const when = onShow ? make("button", { type: "button" }, time) : document.createTextNode(time);
    if (onShow) {
      when.setAttribute("aria-label", `Show ${pair.first} and ${pair.second} at ${time}`);
      when.addEventListener("click", () => onShow(pair));
    }
    const verdict = pair.verdict === "clear" ? document.createTextNode("clear") : make("span", { class: "mark" }, { tangle: "can tangle", "may tangle": "may tangle", near: "nearer than asked" }[pair.verdict]);
    const printed = onShow ? [make("span", { class: "print-only", "aria-hidden": "true" }, time)] : [];
    return make("tr", {}, make("th", { scope: "row" }, `${pair.first} and ${pair.second}`), make("td", {}, pair.gap_said), make("td", {}, when, ...printed), make("td", {}, verdict));
  });
  return make("div", { class: "scroll", "data-scrolls": "", tabindex: 0, role: "region", "aria-label": named },
    make("table", {}, make("thead", {}, make("tr", {}, ...heads.map((head) => make("th", { scope: "col" }, head)))), make("tbody", {}, ...rows)));
}
