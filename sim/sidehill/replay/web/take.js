// Where every link of a run is at a time.
import { Rows } from "./rows.js";

export const PARTS = 7; // of a pose: x y z [m], quaternion x y z w

/** A run's poses; `pose` holds those of the time last asked for, link after link. */
export class Take {
  constructor(motion, tables) {
    this.places = tables[motion.places].values;
    this.turns = tables[motion.turns].values;
    this.rows = new Rows(tables[motion.times].values);
    this.links = motion.links;
    this.pose = new Float64Array(PARTS * motion.links.length);
  }

  /** Fills `pose`. */
  at(time) {
    this.rows.find(time);
    const { row, share } = this.rows;
    const count = this.links.length;
    for (let link = 0; link < count; link++) {
      this.move(3 * (row * count + link), 3 * count, share, PARTS * link);
      this.turn(4 * (row * count + link), 4 * count, share, PARTS * link + 3);
    }
  }

  move(from, next, share, to) {
    const { places, pose } = this;
    for (let k = 0; k < 3; k++) {
      const start = places[from + k];
      pose[to + k] = start + share * (places[from + next + k] - start);
    }
  }

  /** The shorter way round, at even rate. */
  turn(from, next, share, to) {
    const { turns, pose } = this;
    let cosine = 0;
    for (let k = 0; k < 4; k++) cosine += turns[from + k] * turns[from + next + k];
    const angle = Math.acos(Math.min(Math.abs(cosine), 1));
    const isSmall = angle < 1e-6;
    const first = isSmall ? 1 - share : Math.sin((1 - share) * angle) / Math.sin(angle);
    const second = isSmall ? share : Math.sin(share * angle) / Math.sin(angle);
    const sign = cosine < 0 ? -second : second;
    let length = 0;
    for (let k = 0; k < 4; k++) {
      pose[to + k] = first * turns[from + k] + sign * turns[from + next + k];
      length += pose[to + k] ** 2;
    }
    length = Math.sqrt(length);
    for (let k = 0; k < 4; k++) pose[to + k] /= length;
  }
}
