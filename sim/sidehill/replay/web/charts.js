// Curves over time as drawings that stay sharp on paper, with a cursor at each run's time.
import { shape } from "./gauges.js";

const WIDE = 1000;
const HIGH = 100; // of a drawing, whatever its size on the page
const STEPS = 700; // steps of a curve: in each the least and the most are drawn

/** One drawing: `lines` are {rows, table, column, kind}, `times` go from 0 to `end` [s]. */
export class Chart {
  constructor(host, { title, unit, end, low, high, lines, bands, marks }) {
    this.end = end;
    this.lines = lines;
    const figure = document.createElement("figure");
    const caption = document.createElement("figcaption");
    caption.textContent = `${title} [${unit}]`;
    const plot = document.createElement("div");
    plot.className = "plot";
    this.svg = shape(plot, "svg", {
      viewBox: `0 0 ${WIDE} ${HIGH}`, preserveAspectRatio: "none", role: "img",
      "aria-label": `${title} over time, from ${low} to ${high} ${unit}`,
    });
    this.scaleY = (value) => HIGH - (HIGH * (value - low)) / (high - low);
    for (const band of bands) this.band(band);
    for (const mark of [0, ...marks]) {
      if (mark > low && mark < high) this.level(mark, mark === 0 ? "zero" : "limit");
    }
    for (const line of lines) shape(this.svg, "path", { d: this.curve(line), class: line.kind });
    this.values = lines.map((line) => legend(caption, line));
    this.cursors = [...new Set(lines.map((line) => line.run))].map((run) => ({
      run, line: shape(this.svg, "line", { y1: 0, y2: HIGH, class: `cursor at${run}` }),
    }));
    plot.append(axis("ends", [`${high}`, `${low}`]));
    figure.append(caption, plot, axis("times", ["0 s", `${end.toFixed(1)} s`]));
    host.append(figure);
  }

  x(time) {
    return (WIDE * time) / this.end;
  }

  band({ from, to, kind, text }) {
    const [x, width] = [this.x(from), Math.max(this.x(to) - this.x(from), 1)];
    const made = shape(this.svg, "rect", { x, width, y: 0, height: HIGH, class: kind });
    shape(made, "title", {}, text);
  }

  level(value, kind) {
    const y = this.scaleY(value);
    shape(this.svg, "line", { x1: 0, x2: WIDE, y1: y, y2: y, class: kind });
  }

  /** The way of a curve, its peaks kept however many rows it has. */
  curve({ times, table, column, until }) {
    const { rows, columns, values } = table;
    const stride = Math.max(1, Math.ceil(rows / STEPS));
    const parts = [];
    const add = (row) => parts.push(
      `${this.x(times[row]).toFixed(1)} ${this.scaleY(values[row * columns + column]).toFixed(1)}`);
    for (let start = 0; start < rows && times[start] <= until; start += stride) {
      let [low, high] = [start, start];
      for (let row = start; row < Math.min(start + stride, rows) && times[row] <= until; row++) {
        if (values[row * columns + column] < values[low * columns + column]) low = row;
        if (values[row * columns + column] > values[high * columns + column]) high = row;
      }
      for (const row of new Set([Math.min(low, high), Math.max(low, high)])) add(row);
    }
    return `M${parts.join("L")}`;
  }

  /** Puts the cursors at the runs' times, and says the values there. */
  show(times) {
    for (const { run, line } of this.cursors) {
      line.setAttribute("transform", `translate(${this.x(times[run]).toFixed(1)} 0)`);
    }
    this.lines.forEach((line, k) => {
      const isKnown = times[line.run] <= line.until + 1e-9;
      const text = isKnown ? line.said(line.rows.value(line.table, line.column)) : "not followed";
      if (this.values[k].textContent !== text) this.values[k].textContent = text;
    });
  }
}

/** Words at the two ends of an axis. */
function axis(kind, texts) {
  const made = document.createElement("p");
  made.className = kind;
  made.append(...texts.map(span));
  return made;
}

function legend(caption, { kind, name }) {
  const value = span(" ");
  value.className = "value";
  const key = span("");
  key.className = `key ${kind}`;
  const item = span("");
  item.className = "item";
  item.append(key, ` ${name} `, value);
  caption.append(item);
  return value;
}

function span(text) {
  const made = document.createElement("span");
  made.textContent = text;
  return made;
}
