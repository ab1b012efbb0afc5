// Reads the page's data, and starts what it can: with WebGL the pictures, else stills and traces.
import { inflated, tablesOf } from "./block.js";
import { Orbit } from "./orbit.js";
import { Pane } from "./pane.js";
import { Player } from "./player.js";
import { Rows } from "./rows.js";
import { rendererOn, Stage } from "./stage.js";
import { Traces } from "./traces.js";
import { Transport } from "./transport.js";
import { useHands, useKeys } from "./hands.js";

const LONGEST = 0.25; // [s] that one frame lets pass: a page in the background stands still
const NO_PICTURES = "This browser cannot draw in 3D (no WebGL). Below: the curves, what happened, and a still of each moment.";

const found = (id) => document.getElementById(id);
const textOf = (id) => found(id).textContent;
const wordsOf = async (id) => new TextDecoder().decode(await inflated(textOf(id)));

start().catch(() => {
  document.body.classList.add("bare");
  found("told").textContent = "The runs cannot be read: this file is damaged, or the browser is too old. Below: what happened, and a still of each moment.";
  document.documentElement.dataset.ready = "bare";
});

async function start() {
  const data = JSON.parse(await wordsOf("data"));
  const tables = tablesOf(await inflated(textOf("tables")), data.tables);
  const runs = data.runs.map((run, number) => readable(run, number, tables));
  const panes = [...document.querySelectorAll(".pane")].map((element, k) => new Pane(element, runs[k]));
  const views = data.looks.views;
  const player = new Player(runs, panes, new Orbit(data.looks), views, { canLayOver: runs.length > 1 && !data.apart });
  player.followers.push(new Traces(found("charts"), runs, (time) => player.seek(time)));
  const transport = new Transport(player, runs, views);
  player.followers.push(transport);
  const [element, stage] = [document.querySelector(".player"), found("stage")];
  useKeys(element, stage, player, (id) => transport.press(id));
  useHands(stage, player);
  const isDrawn = await drawn(player, panes, runs, data, tables);
  player.page(player.lead.number);
  if (data.layout === "ghosts") player.layOver(true);
  window.replay = player;
  turn(player);
  player.readyAt = performance.now();
  document.documentElement.dataset.ready = isDrawn ? "drawn" : "stills";
}

/** A run with its tables in place of their numbers. */
function readable(run, number, tables) {
  if (!run.drawn) return { ...run, number };
  const traces = {};
  for (const [name, table] of Object.entries(run.traces)) {
    traces[name] = tables[table];
  }
  return { ...run, ...traces, number, rows: new Rows(traces.times.values) };
}

/** Starts the pictures; false where the browser has none. */
async function drawn(player, panes, runs, data, tables) {
  const canvas = found("canvas");
  const code = document.createElement("script");
  code.textContent = await wordsOf("library");
  document.head.append(code);
  const renderer = rendererOn(canvas);
  found("told").textContent = renderer ? "" : NO_PICTURES;
  document.body.classList.toggle("bare", !renderer);
  if (!renderer) return false;
  const tile = new Image();
  tile.src = data.grass;
  await tile.decode();
  player.drawOn(new Stage(renderer, panes, runs, data.looks, tables, tile));
  const fit = () => {
    const box = found("stage").getBoundingClientRect();
    player.stage?.resize(box.width, box.height);
    player.changed = true;
  };
  new ResizeObserver(fit).observe(found("stage"));
  canvas.addEventListener("webglcontextlost", () => {
    player.stage = null;
    found("told").textContent = NO_PICTURES;
    document.body.classList.add("bare");
  });
  fit();
  return true;
}

/** Shows frame after frame; what a frame costs [ms] before drawing is kept in `cost`. */
function turn(player) {
  let last = performance.now();
  const step = (now) => {
    const seconds = Math.min((now - last) / 1000, LONGEST);
    last = now;
    const begun = performance.now();
    const isNew = player.frame(Math.max(seconds, 0));
    player.cost = performance.now() - begun;
    if (isNew) player.draw();
    requestAnimationFrame(step);
  };
  step(last);
}
