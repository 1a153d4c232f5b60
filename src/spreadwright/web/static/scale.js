// How large a metre is in the picture, where its two views lie, and where names find room. Stretches are plain factors.

const STRETCHES = [1, 1.5, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50];
const [PLAYER, OTHER] = [90, 132]; // [px] the player's height, and what of the picture's is neither of the two views
const clamp = (value, least, most) => Math.min(Math.max(value, least), most);
const stretch = (room, extent) => STRETCHES.findLast((factor) => factor * extent <= room) ?? 1;

/** The layout of the picture: `lines` are straight lines [x, y, z], `reach` the run's extents or null; both views and
 * the player below them go into the `screen`'s height where they can. */
export function layout(width, lines, deepest, reach, screen) {
  const room = Math.max(screen - PLAYER - OTHER, 0);
  const places = lines.flat();
  const most = (of, least) => Math.max(least, ...places.map(of));
  const [astern, aside, high] = [most((p) => -p[0], 20), most((p) => Math.abs(p[1]), 2), most((p) => p[2], 2)];
  const ahead = most((p) => p[0], 0.5);
  const bow = width < 560 ? 66 : 104;
  const transom = width - 10 - bow;
  const along = Math.min((transom - 26) / astern, (bow - 22) / ahead);
  const above = { top: 30, height: clamp(Math.min(0.56 * width, 0.62 * room), 250, 400) };
  above.middle = above.top + above.height / 2;
  const half = above.height / 2 - 20;
  above.along = along;
  above.across = stretch(half, aside * along);
  if (reach !== null) {
    above.along = Math.min((transom - Math.min(80, 0.2 * width)) / reach.astern, half / reach.aside);
    above.across = 1;
  }
  const beside = { top: above.top + above.height + 62, height: clamp(Math.min(0.42 * width, 0.38 * room), 210, 320) };
  beside.down = stretch(beside.height - 44, (high + deepest) * along);
  beside.water = beside.top + 14 + high * beside.down * along;
  beside.along = along;
  return { width, height: beside.top + beside.height + 40, transom, above, beside };
}

/** Multiples of a round step, in the shown unit, that stand at least `room` apart; the step and the places [m]. */
export function ticks(unit, scale, room, most) {
  let step = 0;
  for (let ten = 0.1; step === 0; ten *= 10) {
    step = [1, 2, 5].map((each) => each * ten).find((each) => each * unit.metres * scale >= room) ?? 0;
  }
  step = Number(step.toPrecision(3));
  const count = Math.floor(most / (step * unit.metres) + 1e-9);
  return Array.from({ length: count + 1 }, (_, i) => ({ said: `${Number((i * step).toPrecision(6))}`, at: i * step * unit.metres }));
}

/** Finds room for names: no two share a place, and each stays within the picture. */
export class Names {
  constructor(left, right, top, bottom) {
    Object.assign(this, { left, right, top, bottom, taken: [] });
  }

  take(box) {
    this.taken.push(box);
  }

  /** The baseline's start for a text near a point, and whether it is far enough from it to need a stem. */
  place(x, y, wide) {
    for (const [side, away] of [[-1, 0], [-1, -16], [-1, 16], [1, -18], [1, 18], [-1, -32], [-1, 32], [1, -34], [1, 34], [-1, 48], [-1, -48], [1, 50], [1, -50], [-1, 64], [1, 66], [-1, -64], [2, 34], [2, 50], [1, 82], [2, -34], [2, 66], [2, -50], [1, 98], [2, 82]]) {
      const start = { [-1]: x - 14 - wide, 1: x - wide / 3, 2: x + 12 }[side];
      const box = { left: start, right: start + wide, top: y + away - 8, bottom: y + away + 7 };
      if (box.left < this.left || box.right > this.right || box.top < this.top || box.bottom > this.bottom) continue;
      if (this.taken.some((other) => box.left < other.right && other.left < box.right && box.top < other.bottom && other.top < box.bottom)) continue;
      this.taken.push(box);
      return { x: start, y: y + away + 4, stem: Math.abs(away) > 20 };
    }
    return { x: clamp(x - 14 - wide, this.left, this.right - wide), y: y + 4, stem: false };
  }
}
