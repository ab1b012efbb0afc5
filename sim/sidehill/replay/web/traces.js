// Which curves are drawn: roll, axle swing, balance, and the wheel loads of each run.
import { Chart } from "./charts.js";

const WHEEL_KINDS = ["front", "front", "rear", "rear"];
const PIECE = [1, 2, 5]; // rounds the ends of an axis

/** Every drawing of a replay, in a host element. */
export class Traces {
  constructor(host, runs, seek) {
    this.runs = runs.filter((run) => run.drawn);
    this.end = Math.max(...this.runs.map((run) => run.end));
    this.charts = [
      this.angles(host, "Roll to the slope", "roll", up, []),
      this.angles(host, "Front axle to the body", "pin", near, this.stops()),
      this.angles(host, "Balance angle", "balance", down, []),
      ...this.runs.map((run) => this.loads(host, run)),
    ];
    for (const chart of this.charts) listen(chart, seek);
  }

  show(times) {
    for (const run of this.runs) run.rows.find(times[run.number]);
    for (const chart of this.charts) chart.show(times);
  }

  /** Where each run's axle is on its stop [deg]. */
  stops() {
    return [...new Set(this.runs.flatMap((run) => [run.swing, -run.swing]))];
  }

  angles(host, title, name, said, marks) {
    const lines = this.runs.map((run) => ({
      ...lineOf(run, run[name], 0), kind: `curve run${run.number}`, name: run.title, said,
      until: run.overAt ?? run.end,
    }));
    const [low, high] = ends(lines, marks);
    return new Chart(host, {
      title, unit: "deg", end: this.end, low, high, lines, marks, bands: this.bands(),
    });
  }

  loads(host, run) {
    const lines = run.wheels.map((wheel, k) => ({
      ...lineOf(run, run.loads, k), name: wheel, said: newtons, until: run.overAt ?? run.end,
      kind: `curve ${WHEEL_KINDS[k]} ${wheel.split(" ")[0]}`,
    }));
    const [, high] = ends(lines, []);
    const bands = run.bands.map((band) => ({ ...band, kind: "band" }));
    return new Chart(host, {
      title: `Wheel loads: ${run.title}`, unit: "N", end: this.end, low: 0, high, lines, marks: [],
      bands,
    });
  }

  /** Where a wheel is up, of all runs. */
  bands() {
    return this.runs.flatMap((run) => run.bands.map((band) => ({
      ...band, kind: `band of${run.number}`, text: `${run.title}: ${band.text}`,
    })));
  }
}

function lineOf(run, table, column) {
  return { run: run.number, rows: run.rows, times: run.rows.times, table, column };
}

/** Ends of an axis that holds all of some curves and marks, and zero, in round numbers. */
function ends(lines, marks) {
  let low = Math.min(0, ...marks);
  let high = Math.max(0, ...marks);
  for (const { times, table, column, until } of lines) {
    for (let row = 0; row < table.rows && times[row] <= until; row++) {
      const value = table.values[row * table.columns + column];
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
  }
  const step = stepOf(high - low || 1);
  return [Math.floor(low / step - 0.02) * step || 0, Math.ceil(high / step + 0.02) * step];
}

function stepOf(span) {
  const power = 10 ** Math.floor(Math.log10(span / 4));
  return power * (PIECE.find((piece) => 4 * piece * power >= span * 0.99) ?? 10);
}

const up = (value) => `${(Math.sign(value) * Math.ceil(10 * Math.abs(value) - 1e-6) / 10).toFixed(1)} deg`;
const near = (value) => `${value.toFixed(1)} deg`;
const down = (value) => `${(Math.floor(10 * value + 1e-6) / 10).toFixed(1)} deg`;
const newtons = (value) => `${Math.ceil(value - 1e-6)} N`;

/** A press on a drawing, and a drag, go to that time. */
function listen(chart, seek) {
  const go = (event) => {
    if (event.type === "pointermove" && !event.buttons) return;
    const box = chart.svg.getBoundingClientRect();
    seek((chart.end * (event.clientX - box.left)) / box.width);
  };
  chart.svg.addEventListener("pointerdown", go);
  chart.svg.addEventListener("pointermove", go);
}
