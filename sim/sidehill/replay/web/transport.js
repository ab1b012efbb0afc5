// The controls under the pictures: play, speed, scrub, moments, views, layout.
import { STEP } from "./clock.js";

const at = (id) => document.getElementById(id);

/** Wires the controls to the player; `show` puts them to what it shows. */
export class Transport {
  constructor(player, runs, views) {
    this.player = player;
    this.scrub = at("scrub");
    this.now = at("now");
    this.play = at("play");
    this.scrub.max = (Math.ceil(player.clock.end / STEP - 1e-6) * STEP).toFixed(2);
    const { clock } = player;
    this.scrub.addEventListener("keydown", () => (this.scrub.value = player.clock.time));
    this.scrub.addEventListener("input", () => player.seek(Number(this.scrub.value)));
    const press = (id, act) => at(id).addEventListener("click", () => {
      act();
      player.changed = true;
    });
    press("play", () => clock.toggle());
    press("back", () => clock.step(-1));
    press("on", () => clock.step(1));
    press("loop", () => (clock.isLooping = !clock.isLooping));
    press("contrast", () => player.contrast());
    if (runs.length > 1) {
      press("side", () => player.layOver(false));
      press("ghosts", () => player.layOver(true));
      press("together", () => player.match(false));
      press("place", () => player.match(true));
      at("ghosts").disabled = !player.canLayOver;
      at("place").disabled = !player.canMatch;
    }
    at("speed").addEventListener("change", (event) => (clock.speed = Number(event.target.value)));
    this.views = buttons(at("views"), views.map(({ name }, k) => [name, () => player.look(k)]));
    buttons(at("views"), [["Reset", () => player.look(player.orbit.number)]]);
    for (const run of runs) this.moments(run, runs.length > 1);
  }

  moments(run, isNamed) {
    if (!run.drawn) return;
    const group = document.createElement("div");
    if (isNamed) {
      const name = document.createElement("span");
      name.className = `key run${run.number}`;
      name.title = run.title;
      group.append(name);
    }
    at("moments").append(group);
    buttons(group, run.moments.map((moment) => [
      `${moment.name} ${moment.time.toFixed(2)} s`, () => this.player.jump(run, moment.time),
      `${run.title}: ${moment.name}, ${moment.time.toFixed(2)} s`,
    ]));
  }

  show() {
    const { clock, orbit, isOver, isByPlace, isContrast } = this.player;
    const time = `${clock.time.toFixed(2)} s`;
    if (this.now.textContent !== time) {
      this.now.textContent = time;
      this.scrub.value = clock.time;
      this.scrub.setAttribute("aria-valuetext", time);
    }
    const word = clock.isPlaying ? "Stop" : "Play";
    if (this.play.textContent !== word) this.play.textContent = word;
    pressed(at("loop"), clock.isLooping);
    pressed(at("contrast"), isContrast);
    this.views.forEach((button, k) => pressed(button, k === orbit.number));
    for (const [id, is] of [["side", !isOver], ["ghosts", isOver], ["together", !isByPlace], ["place", isByPlace]]) {
      if (at(id)) pressed(at(id), is);
    }
  }

  /** Presses a control, as its key does. */
  press(id) {
    const button = at(id);
    if (button && !button.disabled) button.click();
  }
}

function pressed(button, is) {
  if (button.getAttribute("aria-pressed") !== String(is)) button.setAttribute("aria-pressed", is);
}

/** Buttons of [text, act, full name] in a group. */
function buttons(group, wanted) {
  return wanted.map(([text, act, name]) => {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = text;
    if (name) button.setAttribute("aria-label", name);
    button.addEventListener("click", act);
    group.append(button);
    return button;
  });
}
