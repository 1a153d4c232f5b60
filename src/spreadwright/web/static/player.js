// Plays and scrubs the S-turn; with reduced motion asked for, it steps from moment to moment instead.
import { at, reach } from "./motion.js";

const FASTER = 4; // times as fast as the boat
const STEP = 2.5; // [s] of the run a step, where motion is not wanted
const calm = matchMedia("(prefers-reduced-motion: reduce)");

export class Player {
  constructor(picture) {
    const find = (id) => document.getElementById(id);
    Object.assign(this, { picture, run: null, playing: false, moment: 0, ringed: null });
    [this.play, this.slider, this.clock, this.closest, this.straight] = ["play", "moment", "clock", "to-closest", "straight"].map(find);
    this.play.addEventListener("click", () => (this.playing ? this.pause() : this.start()));
    this.slider.addEventListener("input", () => {
      this.pause();
      this.go(Number(this.slider.value));
    });
    this.closest.addEventListener("click", () => this.show(this.run.pairs[0]));
    this.straight.addEventListener("click", () => this.rest());
    if (calm.matches) this.play.textContent = "Next moment";
  }

  /** A run to play, or null while there is none. */
  load(run) {
    const moment = this.run === null ? 0 : this.moment;
    this.run = run;
    const known = run !== null && run.lines.length > 0;
    for (const part of [this.play, this.slider, this.straight]) part.disabled = !known;
    this.closest.disabled = !known || !run.pairs.length;
    if (!known) return this.pause();
    this.extents = reach(run);
    this.slider.max = run.duration.toFixed(1);
    if (moment > 0 && moment <= run.duration) this.go(moment);
  }

  start() {
    if (calm.matches) {
      const next = this.moment + STEP;
      return this.go(next > this.run.duration ? 0.1 : next);
    }
    this.playing = true;
    this.play.textContent = "Pause";
    if (this.moment >= this.run.duration - 0.1) this.moment = 0;
    let last = performance.now();
    const tick = (now) => {
      if (!this.playing) return;
      this.go(this.moment + (FASTER * (now - last)) / 1000);
      last = now;
      if (this.moment >= this.run.duration) return this.pause();
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
    this.picture.moment(null, null);
  }

  /** The moment at which a pair comes nearest, with the place ringed. */
  show(pair) {
    this.pause();
    this.go(Math.max(pair.time, 0.01), pair);
  }

  go(moment, pair = null) {
    this.moment = Math.min(Math.max(moment, 0), this.run.duration);
    const frame = at(this.run, this.moment);
    const turned = Math.round((frame.heading * 180) / Math.PI);
    const heading = turned === 0 ? "on the first heading" : `${Math.abs(turned)}° to ${turned > 0 ? "port" : "starboard"}`;
    this.slider.value = this.moment;
    const said = `${this.moment.toFixed(0)} s, ${heading}`;
    this.clock.textContent = said;
    this.slider.setAttribute("aria-valuetext", said);
    const near = pair ?? this.run.pairs.find((each) => Math.abs(each.time - this.moment) <= 0.3 * FASTER && each === this.run.pairs[0]) ?? null;
    // One moment looked at by itself is drawn as large as it goes; a run keeps one scale throughout.
    const extents = pair ? reach({ lines: frame.lines.map(({ places }) => ({ frames: [places.flat().map((each) => 100 * each)] })) }) : this.extents;
    this.picture.moment(frame, extents, near);
  }
}
