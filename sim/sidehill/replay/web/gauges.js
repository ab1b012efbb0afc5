// The film's two small pictures: wheel loads from above, and what is level, from behind.

const FULL = 0.5; // share of the machine's weight at which a wheel's bar is full
const UPSIDE_DOWN = 180; // [deg] beyond which the mark turns no further
const NS = "http://www.w3.org/2000/svg";

/** A shape with attributes, added to another. */
export function shape(parent, kind, values, text = "") {
  const made = document.createElementNS(NS, kind);
  for (const name in values) made.setAttribute(name, values[name]);
  if (text) made.textContent = text;
  parent.append(made);
  return made;
}

/** The machine from above, nose up; a bar in each wheel is filled with its load. */
export class LoadGauge {
  constructor(svg, run) {
    this.svg = svg;
    this.weight = run.weight;
    this.bars = [];
    this.said = "";
    shape(svg, "rect", { x: 40, y: 5, width: 20, height: 40, rx: 3, class: "body" });
    shape(svg, "rect", { x: 36, y: 42, width: 28, height: 34, rx: 3, class: "body" });
    for (const [y, high] of [[7, 26], [39, 38]]) {
      shape(svg, "line", { x1: 20, x2: 80, y1: y + high / 2, y2: y + high / 2, class: "axle" });
      for (const x of [11, 71]) this.bars.push(this.bar(x, y, high));
    }
    const [tip, base] = run.downhill > 0 ? [96, 85] : [4, 15];
    shape(svg, "path", { d: `M${tip} 89L${base} 83L${base} 95Z`, class: "ink" });
    const place = { x: base - 4 * run.downhill, y: 93, class: "word" };
    shape(svg, "text", { ...place, "text-anchor": run.downhill > 0 ? "end" : "start" }, "downhill");
  }

  bar(x, y, high) {
    const box = { x, width: 18, rx: 3 };
    shape(this.svg, "rect", { ...box, y, height: high, class: "well" });
    const fill = shape(this.svg, "rect", { x, width: 18, y: y + high, height: 0, class: "fill" });
    const edge = shape(this.svg, "rect", { ...box, y, height: high, class: "tyre" });
    const zero = shape(this.svg, "text", { x: x + 9, y: y + high / 2 + 5, class: "zero" }, "0");
    return { fill, edge, zero, foot: y + high, high };
  }

  /** `loads` [N] of the wheels; past 60 deg they are not followed. */
  show(loads, isFollowed) {
    this.svg.classList.toggle("gone", !isFollowed);
    this.bars.forEach((bar, k) => {
      const high = bar.high * Math.min(loads[k] / (FULL * this.weight), 1);
      bar.fill.setAttribute("y", (bar.foot - high).toFixed(1));
      bar.fill.setAttribute("height", high.toFixed(1));
      bar.edge.classList.toggle("up", loads[k] <= 0);
      bar.zero.classList.toggle("up", loads[k] <= 0);
    });
  }
}

/** The machine from behind, as far over as it is, against a level line. */
export class LevelGauge {
  constructor(svg, run) {
    this.svg = svg;
    this.side = run.downhill;
    shape(svg, "line", { x1: 5, x2: 95, y1: 52, y2: 52, class: "axle" });
    shape(svg, "text", { x: 5, y: 48, class: "word" }, "level");
    this.machine = shape(svg, "g", { class: "machine" });
    shape(this.machine, "rect", { x: -22, y: -14, width: 8, height: 28, class: "ink" });
    shape(this.machine, "rect", { x: 14, y: -14, width: 8, height: 28, class: "ink" });
    shape(this.machine, "rect", { x: -18, y: -2, width: 36, height: 4, class: "ink" });
    shape(this.machine, "path", { d: "M-12 0V-36H12V0", class: "bar" });
    shape(this.machine, "rect", { x: -8, y: -14, width: 16, height: 17, class: "ink" });
    this.text = shape(svg, "text", { x: 50, y: 93, class: "figure" }, " ");
  }

  /** `roll` [deg] to level, positive toward the side downhill at the start. */
  show(roll, isUp, isOver) {
    const turn = Math.min(Math.max(this.side * roll, -UPSIDE_DOWN), UPSIDE_DOWN);
    this.machine.setAttribute("transform", `translate(62 52) rotate(${turn.toFixed(1)})`);
    this.svg.classList.toggle("up", isUp && !isOver);
    this.svg.classList.toggle("over", isOver);
    const text = `roll ${(Math.ceil(10 * Math.abs(roll) - 1e-6) / 10).toFixed(1)} deg`;
    if (this.text.textContent !== text) this.text.textContent = text;
  }
}
