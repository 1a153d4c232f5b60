// Plays and scrubs the S-turn, in one picture or in several at once; with reduced motion asked for, it steps instead.
import { at, reach } from "./motion.js";

const FASTER = 4; // times as fast as the boat
const STEP = 2.5; // [s] of the run a step, where motion is not wanted
const calm = matchMedia("(prefers-reduced-motion: reduce)");

export class Player {
  /** pictures: one, or several that go through the same turns side by side. */
  constructor(...pictures) {
    const find = (id) => document.getElementById(id);
    Object.assign(this, { pictures, runs: pictures.map(() => null), playing: false, moment: 0 });
    [this.play, this.slider, this.clock, this.closest, this.straight] = ["play", "moment", "clock", "to-closest", "straight"].map(find);
    this.play.addEventListener("click", () => (this.playing ? this.pause() : this.start()));
    this.slider.addEventListener("input", () => {
      this.pause();
      this.go(Number(this.slider.value));
    });
    this.closest.addEventListener("click", () => this.showClosest());
    this.straight.addEventListener("click", () => this.rest());
    if (calm.matches) this.play.textContent = "Next moment";
  }

  /** What is played at all: the runs that are known and have lines. */
  get known() {
    return this.runs.filter((run) => run !== null && run.lines.length > 0);
  }

  get duration() {
    return Math.max(0, ...this.known.map((run) => run.duration));
  }

  /** A run to play in one of the pictures, or null while there is none. */
  load(run, place = 0) {
    this.runs[place] = run;
    const { known } = this;
    for (const part of [this.play, this.slider, this.straight]) part.disabled = !known.length;
    this.closest.disabled = !known.some((each) => each.pairs.length);
    if (!known.length) return this.pause();
    this.extents = widest(known.map(reach));
    this.slider.max = this.duration.toFixed(1);
    if (this.moment > 0) this.go(this.moment);
  }

  start() {
    if (calm.matches) {
      const next = this.moment + STEP;
      return this.go(next > this.duration ? 0.1 : next);
    }
    this.playing = true;
    this.play.textContent = "Pause";
    if (this.moment >= this.duration - 0.1) this.moment = 0;
    let last = performance.now();
    const tick = (now) => {
      if (!this.playing) return;
      this.go(this.moment + (FASTER * (now - last)) / 1000);
      last = now;
      if (this.moment >= this.duration) return this.pause();
      requestAnimationFrame(tick);
    };
    requestAnimationFrame(tick);
  }

  pause() {
    this.playing = false;
    if (!calm.matches) this.play.textContent = "Play the S-turn";
  }

  /** Straight ahead again. */
  rest() {
    this.pause();
    this.moment = 0;
    this.slider.value = 0;
    this.clock.textContent = "straight ahead";
    this.slider.setAttribute("aria-valuetext", "straight ahead");
    for (const picture of this.pictures) picture.moment(null, null);
  }

  /** The moment at which a pair of one picture comes nearest, with the place ringed there. */
  show(pair, place = 0) {
    this.pause();
    this.go(Math.max(pair.time, 0.01), pair, place);
  }

  showClosest() {
    const firsts = this.runs.map((run, place) => ({ pair: run?.pairs[0], place })).filter(({ pair }) => pair);
    const { pair, place } = firsts.reduce((best, each) => (each.pair.gap < best.pair.gap ? each : best));
    this.show(pair, place);
  }

  go(moment, pair = null, place = 0) {
    this.moment = Math.min(Math.max(moment, 0), this.duration);
    const frames = this.runs.map((run) => (run?.lines.length ? at(run, this.moment) : null));
    const { heading } = frames.find((frame) => frame !== null);
    const turned = Math.round((heading * 180) / Math.PI);
    const said = `${this.moment.toFixed(0)} s, ${turned === 0 ? "on the first heading" : `${Math.abs(turned)}° to ${turned > 0 ? "port" : "starboard"}`}`;
    this.slider.value = this.moment;
    this.clock.textContent = said;
    this.slider.setAttribute("aria-valuetext", said);
    // One moment looked at by itself is drawn as large as it goes; a run keeps one scale throughout.
    const extents = pair ? widest(frames.filter(Boolean).map(now)) : this.extents;
    this.pictures.forEach((picture, i) => {
      if (!frames[i]) return picture.moment(null, null);
      const near = this.runs[i].pairs[0];
      const passing = near && Math.abs(near.time - this.moment) <= 0.3 * FASTER ? near : null;
      picture.moment(frames[i], extents, pair && i === place ? pair : passing);
    });
  }
}

const now = (frame) => reach({ lines: frame.lines.map(({ places }) => ({ frames: [places.flat().map((each) => 100 * each)] })) });
const widest = (reaches) => ({ astern: Math.max(...reaches.map((each) => each.astern)), aside: Math.max(...reaches.map((each) => each.aside)) });
