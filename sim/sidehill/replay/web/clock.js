// The time that is shown, and how it goes on.

export const STEP = 0.02; // [s] of a step by key

/** Time of the first run; the others follow by time or by place. */
export class Clock {
  constructor(end) {
    this.end = end;
    this.time = 0;
    this.speed = 1;
    this.isPlaying = false;
    this.isLooping = false;
  }

  /** Plays or stops; from the end it starts again. */
  toggle() {
    this.isPlaying = !this.isPlaying;
    if (this.isPlaying && this.time >= this.end) this.time = 0;
  }

  /** Goes to a time, no further than the runs go. */
  seek(time) {
    this.time = Math.min(Math.max(time, 0), this.end);
  }

  /** Goes to the whole step before or after. */
  step(by) {
    this.isPlaying = false;
    this.seek((Math.round(this.time / STEP) + by) * STEP);
  }

  /** Lets real seconds pass. */
  advance(seconds) {
    if (!this.isPlaying) return;
    const time = this.time + this.speed * seconds;
    if (time < this.end) this.time = time;
    else if (this.isLooping) this.time = this.end > 0 ? time % this.end : 0;
    else {
      this.time = this.end;
      this.isPlaying = false;
    }
  }
}
