// The player: one clock, one way of looking, and everything that shows them.
import { Clock } from "./clock.js";
import { Daylight } from "./daylight.js";
import { Match } from "./match.js";

export class Player {
  constructor(runs, panes, orbit, views, wishes) {
    Object.assign(this, { runs, panes, orbit, views, ...wishes });
    this.drawn = runs.filter((run) => run.drawn);
    this.matcher = new Match(runs);
    this.lead = this.drawn[0];
    this.clock = new Clock(Math.max(...this.drawn.map((run) => run.end)));
    this.isOver = false;
    this.isContrast = false;
    this.changed = true;
    this.shown = 0;
    this.canMatch = this.drawn.length > 1 && this.drawn.every((run) => run.bank);
    this.stage = null;
    this.followers = []; // what shows the time: traces, controls
  }

  /** Has a stage draw the runs from now on. */
  drawOn(stage) {
    this.stage = stage;
    this.marks = this.panes.map((pane) => (pane.run.drawn ? new Daylight(pane) : null));
  }

  get isByPlace() {
    return this.matcher.isByPlace;
  }

  seek(time) {
    this.clock.isPlaying = false;
    this.clock.seek(time);
  }

  /** Goes to a moment of one run: the clock is the first run's. */
  jump(run, time) {
    this.seek(this.isByPlace && run !== this.lead ? this.matcher.leadTime(run, time) : time);
    this.page(run.number - this.shown);
  }

  /** Goes to the moment before or after. */
  hop(by) {
    const times = this.drawn.flatMap((run) => run.moments.map((moment) => moment.time));
    times.sort((a, b) => by * (a - b));
    const next = times.find((time) => by * (time - this.clock.time) > 0.005);
    if (next !== undefined) this.seek(next);
  }

  look(number) {
    this.orbit.choose(number);
    this.changed = true;
  }

  turn(bearing, elevation) {
    this.orbit.turn(this.lead.downhill * bearing, elevation);
    this.changed = true;
  }

  nearer(factor) {
    this.orbit.nearer(factor);
    this.changed = true;
  }

  /** Lays the runs over each other in the first pane, or sets them side by side. */
  layOver(is) {
    this.isOver = is && this.canLayOver;
    document.body.classList.toggle("over", this.isOver);
    this.stage?.showGhosts(this.isOver);
    this.page(0);
  }

  /** Shows the runs at the same time, or where they are as far along. */
  match(isByPlace) {
    this.matcher.isByPlace = isByPlace && this.canMatch;
    this.clock.end = this.isByPlace
      ? this.lead.end : Math.max(...this.drawn.map((run) => run.end));
    this.clock.seek(this.clock.time);
    this.changed = true;
  }

  contrast() {
    this.isContrast = !this.isContrast;
    document.body.classList.toggle("contrast", this.isContrast);
    this.stage?.contrast(this.isContrast);
    this.changed = true;
  }

  /** On a small screen: shows the run before or after. */
  page(by) {
    const count = this.panes.length;
    this.shown = this.isOver ? this.lead.number : (this.shown + by + count) % count;
    this.panes.forEach(({ element }, k) => element.classList.toggle("front", k === this.shown));
    this.changed = true;
  }

  /** Lets real seconds pass and shows what that changes; returns whether anything did. */
  frame(seconds) {
    this.clock.advance(seconds);
    if (this.clock.time === this.last && !this.changed) return false;
    this.last = this.clock.time;
    this.changed = false;
    this.matcher.find(this.clock.time);
    this.panes.forEach((pane, k) => pane.show(this.matcher.times[k]));
    for (const follower of this.followers) follower.show(this.matcher.times);
    this.stage?.put(this.matcher.times);
    return true;
  }

  /** Draws the pictures and marks the daylight in them. */
  draw() {
    this.stage?.draw(this.orbit, (k, camera, box) =>
      this.marks[k].show(this.stage.worlds[k], this.panes[k].gaps, camera, box));
  }
}
