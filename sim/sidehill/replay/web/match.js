// Which time of every run is shown with a time of the first: the same, or where it is as far on.

/** Times of all runs. */
export class Match {
  constructor(runs) {
    this.isByPlace = false;
    this.runs = runs;
    this.times = new Float64Array(runs.length);
    this.furthest = runs.map((run) => (run.drawn ? furthest(run.path) : null));
    this.first = runs.findIndex((run) => run.drawn);
  }

  /** [s] when the first run is as far along as another is at a time. */
  leadTime(run, time) {
    run.rows.find(time);
    const way = run.rows.value({ columns: 1, values: this.furthest[run.number] });
    return arrival(this.runs[this.first], this.furthest[this.first], way);
  }

  /** Fills `times`. A run that has ended, or never gets as far, stands at its end. */
  find(time) {
    const lead = this.runs[this.first];
    let way = 0;
    if (this.isByPlace) {
      lead.rows.find(time);
      way = lead.rows.value({ columns: 1, values: this.furthest[this.first] });
    }
    this.runs.forEach((run, k) => {
      if (!run.drawn) return;
      const asked = this.isByPlace && k !== this.first ? arrival(run, this.furthest[k], way) : time;
      this.times[k] = Math.min(asked, run.end);
    });
  }
}

/** How far along a run has been by each row. */
function furthest(path) {
  let most = -Infinity;
  return Float64Array.from(path.values, (way) => (most = Math.max(most, way)));
}

/** [s] when a run first was that far along; its end if it never was. */
function arrival(run, ways, way) {
  const { times } = run.rows;
  if (way <= ways[0]) return times[0];
  let low = 0;
  let high = ways.length - 1;
  if (ways[high] < way) return run.end;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (ways[middle] < way) low = middle;
    else high = middle;
  }
  const share = (way - ways[low]) / (ways[high] - ways[low]);
  return times[low] + share * (times[high] - times[low]);
}
