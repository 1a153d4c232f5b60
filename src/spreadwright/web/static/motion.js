// A run as places over time: unpacks what the server sends, and finds where everything is at any moment.

/** The run's lines as frames of [x, y, z] in metres, boat's frame. */
export function unpack(run) {
  const lines = run.lines.map((line) => {
    const frames = [Float32Array.from(line.first)];
    for (const moves of line.moves) {
      const last = frames.at(-1);
      frames.push(last.map((value, i) => value + moves[i]));
    }
    return { rod: line.rod, joints: line.joints, frames };
  });
  return { step: run.step, boat: run.boat, lines, duration: run.step * (run.boat.length - 1), pairs: run.pairs };
}

const between = (a, b, share) => a + (b - a) * share;

/** The run with what is known of its doubt: how far depths may be off at the told times, by rod. */
export function doubted(run, told) {
  return { ...run, pairs: told.pairs, times: told.times, off: Object.fromEntries(told.rods.map((rod) => [rod.rod, rod])) };
}

/** How much shallower and deeper a rod's weight and lure may run at a moment [m]; null where that is not known. */
function offAt(run, rod, moment) {
  const own = run.off?.[rod];
  if (!own?.weight_off.length) return null;
  const later = run.times.findIndex((time) => time >= moment);
  const i = later < 0 ? run.times.length - 1 : Math.max(later, 1);
  const share = Math.min((moment - run.times[i - 1]) / (run.times[i] - run.times[i - 1]), 1);
  const off = (offs) => [0, 1].map((end) => between(offs[i - 1][end], offs[i][end], share));
  return { weight: off(own.weight_off), lure: off(own.lure_off) };
}

/** The deepest that any gear may run in the turns [m]. */
export function deepest(run) {
  let most = 0;
  for (const { frames, rod } of run.lines) {
    const off = Math.max(0, ...(run.off?.[rod]?.lure_off ?? []).map(([, deeper]) => deeper));
    for (const frame of frames) for (let k = 2; k < frame.length; k += 3) most = Math.max(most, off - frame[k] / 100);
  }
  return most;
}

/** Everything at a moment [s]: each line's places, the boat, and its track so far seen from it. */
export function at(run, moment) {
  const where = Math.min(Math.max(moment / run.step, 0), run.boat.length - 1);
  const i = Math.min(Math.floor(where), run.boat.length - 2);
  const share = where - i;
  const lines = run.lines.map(({ rod, joints, frames }) => {
    const [before, after] = [frames[i], frames[i + 1]];
    const places = [];
    for (let k = 0; k < before.length; k += 3) {
      places.push([0, 1, 2].map((axis) => between(before[k + axis], after[k + axis], share) / 100));
    }
    return { rod, joints, places, off: offAt(run, rod, moment) };
  });
  const [x, y, heading] = [0, 1, 2].map((axis) => between(run.boat[i][axis], run.boat[i + 1][axis], share));
  const [cos, sin] = [Math.cos(heading), Math.sin(heading)];
  const aboard = ([ex, ey]) => [cos * (ex - x) + sin * (ey - y), cos * (ey - y) - sin * (ex - x)];
  const start = run.boat[0];
  const before = aboard([start[0] - 400 * Math.cos(start[2]), start[1] - 400 * Math.sin(start[2])]);
  return { lines, heading, wake: [before, ...run.boat.slice(0, i + 1).map(aboard), [0, 0]] };
}

/** How far astern and aside the lines ever come [m]. */
export function reach(run) {
  let [astern, aside] = [10, 5];
  for (const { frames } of run.lines) {
    for (const frame of frames) {
      for (let k = 0; k < frame.length; k += 3) {
        astern = Math.max(astern, -frame[k] / 100);
        aside = Math.max(aside, Math.abs(frame[k + 1]) / 100);
      }
    }
  }
  return { astern, aside };
}
