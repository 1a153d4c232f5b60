// The spread drawn from above and from the side, to scale: standing still with its doubts, or at one moment of the run.
import { Names, layout, ticks } from "./scale.js";
import { add, boatAbove, boatBeside, element, lureSign, path, weightSign } from "./signs.js";

const SIGN = 7.2; // about what a letter is wide [px]

export class Picture {
  /** host: the element it lies in; choices: the trip's; onMark(rod, mark) is called when a weight was dragged. */
  constructor(host, choices, { onMark = null, onPick = null, labelled = "The spread", paper = 680 } = {}) {
    Object.assign(this, { host, choices, onMark, onPick, labelled, spread: null, run: null, reach: null, frame: null, pair: null, picked: null, paper: 0 });
    this.svg = element("svg", { role: "group", "aria-label": labelled });
    host.append(this.svg);
    new ResizeObserver(() => this.draw()).observe(host);
    // On paper it is drawn as wide as paper is, so that its words stay large enough to read.
    addEventListener("beforeprint", () => this.drawFor(paper));
    addEventListener("afterprint", () => this.drawFor(0));
  }

  /** Another spread, straight ahead. */
  show(spread) {
    this.spread = spread;
    this.frame = null;
    this.draw();
  }

  /** Another spread whose run is not known yet, while a moment of the last one is looked at. */
  wait(spread) {
    this.spread = spread;
    this.svg.classList.add("waiting");
  }

  /** One moment of the run, or null for straight ahead; pair: the one to ring. */
  moment(frame, reach, pair = null) {
    this.svg.classList.remove("waiting");
    Object.assign(this, { frame, reach, pair });
    this.draw();
  }

  /** The pair that comes closest, drawn thick. */
  near(pair) {
    this.closest = pair ? [pair.first, pair.second] : [];
    this.draw();
  }

  /** Drawn so wide [px] whatever the screen is; 0: as wide as the screen has room for. */
  drawFor(paper) {
    this.paper = paper;
    this.draw();
  }

  draw() {
    if (!this.spread || !this.host.clientWidth || this.held) return;
    const focused = this.svg.contains(document.activeElement) ? document.activeElement.dataset.rod : null;
    const rods = this.spread.rods.filter((rod) => rod.line.length);
    const deepest = Math.max(2, ...rods.flatMap((rod) => [rod.weight_depth[2], rod.lure_depth[2]]));
    this.deepest = this.frame ? Math.max(deepest, this.depthInRun ?? 0) : deepest;
    this.plan = layout(this.paper || this.host.clientWidth, rods.map((rod) => rod.line), Math.max(deepest, this.depthInRun ?? 0), this.frame ? this.reach : null, innerHeight);
    this.svg.setAttribute("viewBox", `0 0 ${this.plan.width} ${this.plan.height}`);
    this.svg.setAttribute("height", this.plan.height);
    this.svg.replaceChildren();
    this.drawAbove(rods);
    this.drawBeside(rods);
    if (focused) this.svg.querySelector(`[data-rod="${CSS.escape(focused)}"][tabindex]`)?.focus();
  }

  patternOf(name) {
    return this.choices.rods.find((rod) => rod.name === name)?.pattern ?? "";
  }

  group(rod) {
    return add(this.svg, "g", { class: rod === this.picked ? "picked" : "" });
  }

  line(group, points, rod) {
    const near = this.closest?.includes(rod) ? " near" : "";
    add(group, "path", { class: `line${near}`, d: path(points), "stroke-dasharray": this.patternOf(rod) || "none" });
  }

  head(said, y) {
    add(this.svg, "text", { class: "head", x: 12, y }, said);
  }

  /** The lines as they are now: each with its rod's name, places, joints, and how far its depths may be off. */
  now(rods) {
    const off = ([low, usual, high]) => [usual - low, high - usual];
    return this.frame ? this.frame.lines : rods.map((rod) => ({ rod: rod.rod, places: rod.line, joints: rod.joints, off: { weight: off(rod.weight_depth), lure: off(rod.lure_depth) } }));
  }

  // ---- from above -------------------------------------------------------------------------------------------------
  drawAbove(rods) {
    const { above, transom, width } = this.plan;
    const unit = this.spread.unit;
    const to = ([x, y]) => [transom + x * above.along, above.middle - y * above.along * above.across];
    const stretched = above.across === 1 ? "to scale" : `width drawn ${above.across} times as wide`;
    this.head(`From above, ${stretched}`, 20);
    add(this.svg, "rect", { class: "sea", x: 0, y: above.top, width, height: above.height });
    const clip = `clip-${Math.random().toString(36).slice(2)}`;
    const hole = add(this.svg, "clipPath", { id: clip });
    add(hole, "rect", { x: 0, y: above.top, width, height: above.height });
    for (const each of ticks(unit, above.along, 62, transom / above.along)) {
      const x = transom - each.at * above.along;
      add(this.svg, "path", { class: "grid", d: path([[x, above.top], [x, above.top + above.height]]) });
      add(this.svg, "text", { class: "small", x, y: above.top + above.height + 16, "text-anchor": "middle" }, each.at === 0 ? `0 ${unit.name}` : each.said);
    }
    if (this.frame) add(this.svg, "path", { class: "wake", d: path(this.frame.wake.map(to)), "clip-path": `url(#${clip})` });
    const size = Math.min(this.frame ? 9 * above.along : 84, width - transom - 12);
    boatAbove(this.svg, transom, above.middle, size, this.frame ? 0.18 * size : Math.min(24, 0.3 * size));
    const names = new Names(6, width - 6, above.top + 2, above.top + above.height - 2);
    names.take({ left: transom, right: transom + size, top: above.middle - 16, bottom: above.middle + 16 });
    const ring = this.pair ? this.ringPlace(to) : null;
    const rung = ring && names.place(ring.x + 12, ring.y - ring.r - 8, this.pair.gap_said.length * 8.4);
    const lines = this.now(rods);
    for (const { places, joints } of lines) {
      for (const joint of [joints[0], joints[2]]) {
        const [x, y] = to(places[joint]);
        names.take({ left: x - 8, right: x + 8, top: y - 6, bottom: y + 6 });
      }
    }
    for (const { rod, places, joints } of lines) {
      const group = this.group(rod);
      this.line(group, places.map(to), rod);
      weightSign(group, to(places[joints[0]]), Boolean(this.frame));
      lureSign(group, to(places[joints[2]]), Boolean(this.frame));
      add(group, "circle", { class: "lure", cx: to(places[0])[0], cy: to(places[0])[1], r: 2.4 });
      this.name(group, names, rod, to(places[joints[2]]));
    }
    if (this.pair) this.ring(ring, rung);
    if (!this.frame && this.onMark) for (const rod of rods) this.grip(rod, to);
  }

  /** A rod's name, cut where there is no room for all of it; its end is kept where the beginnings are alike. */
  shortName(name) {
    const most = Math.min(24, Math.max(10, Math.floor(this.plan.width / (4 * SIGN))));
    const begun = (each) => each.slice(0, most - 1).trimEnd();
    if (name.length <= most) return name;
    const alike = this.choices.rods.filter((rod) => begun(rod.name) === begun(name)).length > 1;
    const half = Math.floor(most / 2);
    return alike ? `${name.slice(0, half - 1).trimEnd()}…${name.slice(1 - half).trimStart()}` : `${begun(name)}…`;
  }

  name(group, names, rod, [x, y]) {
    const said = this.shortName(rod);
    const place = names.place(x, y, said.length * SIGN);
    if (place.stem) add(group, "path", { class: "stem", d: path([[x, y], [place.x + (said.length * SIGN) / 2, place.y - 4]]) });
    const text = add(group, "text", { class: "name halo", x: place.x, y: place.y }, said);
    if (said !== rod) add(text, "title", {}, rod);
  }

  ringPlace(to) {
    const [a, b] = [to(this.pair.on_first), to(this.pair.on_second)];
    const r = Math.max(14, Math.hypot(a[0] - b[0], a[1] - b[1]) / 2 + 8);
    return { a, b, r, x: (a[0] + b[0]) / 2, y: (a[1] + b[1]) / 2 };
  }

  ring({ a, b, r, x, y }, said) {
    add(this.svg, "circle", { class: "ring", cx: x, cy: y, r });
    add(this.svg, "path", { class: "line near", d: path([a, b]) });
    add(this.svg, "text", { class: "head halo", x: said.x, y: said.y }, this.pair.gap_said);
  }

  // ---- from the side ----------------------------------------------------------------------------------------------
  drawBeside(rods) {
    const { beside, transom, width } = this.plan;
    const unit = this.spread.unit;
    const scale = beside.down * beside.along;
    const to = ([x, , z]) => [transom + x * beside.along, beside.water - z * scale];
    const along = this.frame && width >= 700 ? "each line unrolled along its own way, " : "";
    this.head(`From the side, ${along}depth drawn ${beside.down} times as deep`, beside.top - 10);
    const bottom = beside.top + beside.height;
    add(this.svg, "rect", { class: "sea", x: 0, y: beside.water, width, height: bottom - beside.water });
    for (const each of ticks(unit, scale, 30, (bottom - beside.water - 22) / scale).slice(1)) {
      const y = beside.water + each.at * scale;
      add(this.svg, "path", { class: "grid", d: path([[0, y], [width, y]]) });
      add(this.svg, "text", { class: "small", x: width - 6, y: y - 3, "text-anchor": "end" }, each.said);
    }
    add(this.svg, "text", { class: "small", x: width - 6, y: bottom - 4, "text-anchor": "end" }, `${unit.name} deep`);
    for (const each of ticks(unit, beside.along, 62, transom / beside.along)) {
      const x = transom - each.at * beside.along;
      add(this.svg, "path", { class: "grid", d: path([[x, beside.water], [x, bottom]]) });
      add(this.svg, "text", { class: "small", x, y: bottom + 16, "text-anchor": "middle" }, each.at === 0 ? `0 ${unit.name}` : each.said);
    }
    boatBeside(this.svg, transom, beside.water, Math.min(84, width - transom - 12), scale);
    const names = new Names(6, width - 6, beside.water + 2, bottom - 2);
    const lines = this.now(rods).map((line) => ({ ...line, places: unrolled(line.places) }));
    for (const line of lines) if (line.off) this.bands(line, to);
    const drawn = lines.map(({ rod, places, joints }) => ({ rod, joints, points: places.map(to) }));
    for (const { points, joints } of drawn) {
      for (const joint of [joints[0], joints[2]]) {
        const [x, y] = points[joint];
        names.take({ left: x - 7, right: x + 7, top: y - 6, bottom: y + 6 });
      }
    }
    for (const { rod, points, joints } of drawn) {
      const group = this.group(rod);
      this.line(group, points, rod);
      weightSign(group, points[joints[0]], false);
      lureSign(group, points[joints[2]], false);
      this.name(group, names, rod, points[joints[2]]);
    }
  }

  /** How sure the depths are: a strip along the gear, and a bar at weight and lure. */
  bands({ rod, places, joints, off }, to) {
    const ends = [[places[joints[0]], off.weight], [places[joints[2]], off.lure]];
    const [w, l] = ends.map(([[x, , z], [shallower, deeper]]) => [to([x, 0, Math.min(z + shallower, 0)]), to([x, 0, z - deeper])]);
    add(this.svg, "path", { class: "band", "data-band": rod, d: `${path([w[0], l[0], l[1], w[1]])}Z` });
    for (const [[x, top], [, bottom]] of [w, l]) {
      add(this.svg, "path", { class: "bar", d: `M${x},${top}V${bottom}M${x - 4},${top}h8M${x - 4},${bottom}h8` });
    }
  }

  // ---- a weight to take hold of -----------------------------------------------------------------------------------
  grip(rod, to) {
    const choice = this.choices.rods.find((each) => each.name === rod.rod);
    const weight = rod.line[rod.joints[0]];
    const share = (rod.tip[0] - weight[0]) / rod.mark;
    const places = choice.mark_metres.map((mark) => to([rod.tip[0] - mark * share, weight[1]]));
    const own = choice.mark_metres.findIndex((mark) => Math.abs(mark - rod.mark) < 0.06);
    const [x, y] = to(weight);
    const grip = add(this.svg, "circle", {
      class: "grip", cx: x, cy: y, r: 22, tabindex: 0, role: "slider", "data-rod": rod.rod,
      "aria-label": `Mark of ${rod.rod}`, "aria-valuemin": 0, "aria-valuemax": choice.marks.length - 1,
      "aria-valuenow": own, "aria-valuetext": `${choice.marks[own]}, lure ${rod.lure_said} deep`,
    });
    const choose = (mark) => mark !== own && this.onMark(rod.rod, Math.min(Math.max(mark, 0), choice.marks.length - 1));
    grip.addEventListener("focus", () => this.onPick?.(rod.rod));
    grip.addEventListener("keydown", (event) => {
      const steps = { ArrowLeft: 1, ArrowUp: 1, ArrowRight: -1, ArrowDown: -1 }[event.key];
      if (steps === undefined) return;
      event.preventDefault();
      choose(own + steps);
    });
    grip.addEventListener("pointerdown", (event) => this.drag(event, grip, places, choice, choose));
  }

  drag(event, grip, places, choice, choose) {
    event.preventDefault();
    grip.setPointerCapture(event.pointerId);
    this.held = true; // what comes from the server meanwhile must not take the weight out of the hand
    const shown = add(this.svg, "g");
    let nearest = -1;
    const move = (moved) => {
      const x = ((moved.clientX - this.svg.getBoundingClientRect().left) * this.plan.width) / this.svg.clientWidth;
      nearest = places.reduce((best, place, i) => (Math.abs(place[0] - x) < Math.abs(places[best][0] - x) ? i : best), 0);
      shown.replaceChildren();
      places.forEach(([px, py], i) => {
        add(shown, "circle", { class: "mark-place", cx: px, cy: py, r: i === nearest ? 11 : 6 });
        add(shown, "text", { class: i === nearest ? "head halo" : "small halo", x: px, y: py - 16, "text-anchor": "middle" }, choice.marks[i]);
      });
    };
    const end = (ended) => {
      grip.removeEventListener("pointermove", move);
      shown.remove();
      this.held = false;
      this.draw();
      if (ended.type === "pointerup" && nearest >= 0) choose(nearest);
    };
    move(event);
    grip.addEventListener("pointermove", move);
    grip.addEventListener("pointerup", end, { once: true });
    grip.addEventListener("pointercancel", end, { once: true });
  }
}

/** A line's places along its own way: how far behind the tip each lies, and how deep. */
function unrolled(places) {
  let far = 0;
  return places.map(([x, y, z], i) => {
    if (i > 0) far += Math.hypot(x - places[i - 1][0], y - places[i - 1][1]);
    return [places[0][0] - far, 0, z];
  });
}
