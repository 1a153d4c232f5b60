// The signs of the drawing: boat, weight, lure. Told apart by shape; colour only helps.

const SVG = "http://www.w3.org/2000/svg";

export function element(name, attributes = {}, said = "") {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (said) made.textContent = said;
  return made;
}

export function add(parent, name, attributes = {}, said = "") {
  const made = element(name, attributes, said);
  parent.append(made);
  return made;
}

const short = (value) => Math.round(value * 10) / 10;
export const path = (points) => `M${points.map(([x, y]) => `${short(x)},${short(y)}`).join("L")}`;

/** A trolling weight: a full spindle, or a dot where lines run every way. */
export function weightSign(parent, [x, y], turned) {
  if (turned) return add(parent, "circle", { class: "weight", cx: x, cy: y, r: 4 });
  return add(parent, "path", { class: "weight", d: `M${x - 8},${y}Q${x - 3},${y - 7} ${x + 8},${y}Q${x - 3},${y + 7} ${x - 8},${y}Z` });
}

/** A lure: an open head towards the boat and a skirt behind it, or a ring. */
export function lureSign(parent, [x, y], turned) {
  if (turned) return add(parent, "circle", { class: "lure", cx: x, cy: y, r: 4 });
  const skirt = [[6, -2.5], [8, 0], [6, 2.5], [0, 3.2], [-8, 5.2], [-5, 1.8], [-10, 0], [-5, -1.8], [-8, -5.2], [0, -3.2]];
  return add(parent, "path", { class: "lure", d: `${path(skirt.map(([dx, dy]) => [x + dx, y + dy]))}Z` });
}

/** The boat from above, bow to the right. A sketch, whatever boat it is. */
export function boatAbove(parent, x, y, long, half) {
  const d = `M${x},${y - 0.9 * half}L${x + 0.45 * long},${y - half}Q${x + 0.82 * long},${y - 0.95 * half} ${x + long},${y}` +
    `Q${x + 0.82 * long},${y + 0.95 * half} ${x + 0.45 * long},${y + half}L${x},${y + 0.9 * half}Z`;
  add(parent, "path", { class: "hull", d });
}

/** The boat from the side; scale: what a metre is upward. */
export function boatBeside(parent, x, water, long, scale) {
  const [deck, roof] = [Math.min(1.1 * scale, 26), Math.min(2.6 * scale, 58)];
  const hull = `M${x},${water - deck}Q${x + 0.6 * long},${water - deck} ${x + long},${water - 1.4 * deck}` +
    `Q${x + 0.93 * long},${water - 0.3 * deck} ${x + 0.84 * long},${water}L${x},${water}Z`;
  const house = `M${x + 0.34 * long},${water - deck}L${x + 0.37 * long},${water - roof}L${x + 0.58 * long},${water - roof}L${x + 0.7 * long},${water - deck}Z`;
  add(parent, "path", { class: "hull", d: house });
  add(parent, "path", { class: "hull", d: hull });
}
