// One run's pane: its badges, what is to be said now, its gauges.
import { LevelGauge, LoadGauge } from "./gauges.js";

const GRAVEST = 3; // grade of a machine that goes over

export class Pane {
  constructor(element, run) {
    this.element = element;
    this.view = element.querySelector(".view");
    this.run = run;
    this.state = element.querySelector(".state");
    this.loads = new Float64Array(4);
    this.gaps = new Float64Array(4);
    if (!run.drawn) {
      element.classList.add("absent");
      this.state.textContent = run.said;
      return;
    }
    this.states = [...run.states].sort((a, b) => b.grade - a.grade);
    element.querySelector(".always").textContent = run.always.join("; ");
    element.querySelector(".badges").append(...run.badges.map(badge));
    this.loadGauge = new LoadGauge(element.querySelector(".loads"), run);
    this.levelGauge = new LevelGauge(element.querySelector(".level"), run);
  }

  /** Shows a time of this run [s]. */
  show(time) {
    const { run } = this;
    if (!run.drawn) return;
    run.rows.find(time);
    for (let k = 0; k < 4; k++) {
      this.loads[k] = run.rows.value(run.loads, k);
      this.gaps[k] = run.rows.value(run.daylight, k);
    }
    const isUpright = run.overAt === null || time <= run.overAt;
    this.loadGauge.show(this.loads, isUpright);
    const text = this.said(time);
    const isUp = this.loads.some((load) => load <= 0);
    this.levelGauge.show(run.rows.value(run.level), isUp, this.grade === GRAVEST);
    if (this.state.textContent !== text) this.state.textContent = text;
    this.state.classList.toggle("over", this.grade === GRAVEST);
  }

  /** What is to be said at a time: all of the gravest that hold. */
  said(time) {
    let text = "";
    this.grade = 0;
    for (const state of this.states) {
      if (time < state.from || time > state.to || state.grade < this.grade) continue;
      this.grade = state.grade;
      text += text ? `; ${state.text}` : state.text;
    }
    return text;
  }
}

function badge({ text, tone }) {
  const made = document.createElement("span");
  made.className = `badge ${tone}`;
  made.textContent = text;
  return made;
}
