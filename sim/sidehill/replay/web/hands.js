// Keys, drags, wheel and pinch on the player.

const TURN = 0.08; // [rad] of a key
const DRAG = 0.008; // [rad] of a pixel
const SWIPE = 40; // [pixels] that turn to the next run

/** Keys while the focus is in the player; the pictures take the arrows. */
export function useKeys(element, stage, player, press) {
  const anywhere = {
    ",": () => press("back"), ".": () => press("on"), " ": () => press("play"),
    l: () => press("loop"), c: () => press("contrast"),
    g: () => press(player.isOver ? "side" : "ghosts"),
    n: () => player.hop(-1), m: () => player.hop(1),
    "[": () => player.page(-1), "]": () => player.page(1),
    0: () => player.look(player.orbit.number),
  };
  player.views.forEach((view, k) => (anywhere[k + 1] = () => player.look(k)));
  const turning = {
    ArrowLeft: () => player.turn(-TURN, 0), ArrowRight: () => player.turn(TURN, 0),
    ArrowUp: () => player.turn(0, TURN), ArrowDown: () => player.turn(0, -TURN),
    "+": () => player.nearer(0.9), "-": () => player.nearer(1 / 0.9),
  };
  element.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const { target, key } = event;
    const isOwn = target.matches("select") || (key === " " && target.matches("button, summary"));
    const act = isOwn ? null : (target === stage && turning[key]) || anywhere[key];
    if (!act) return;
    event.preventDefault();
    act();
  });
}

/** Drags turn the view, wheel and pinch come nearer, swipes on a title show the next run. */
export function useHands(stage, player) {
  const held = new Map();
  let apart = 0;
  const spread = () => {
    const [a, b] = [...held.values()];
    return b ? Math.hypot(a.x - b.x, a.y - b.y) : 0;
  };
  stage.addEventListener("pointerdown", (event) => {
    if (!event.target.closest(".view")) return;
    held.set(event.pointerId, { x: event.clientX, y: event.clientY });
    apart = spread();
  });
  window.addEventListener("pointermove", (event) => {
    const last = held.get(event.pointerId);
    if (!last) return;
    const [x, y] = [event.clientX - last.x, event.clientY - last.y];
    held.set(event.pointerId, { x: event.clientX, y: event.clientY });
    if (held.size === 1) player.turn(-DRAG * x, DRAG * y);
    else if (apart > 0 && spread() > 0) player.nearer(apart / spread());
    apart = spread();
  });
  for (const kind of ["pointerup", "pointercancel"]) {
    window.addEventListener(kind, (event) => held.delete(event.pointerId));
  }
  stage.addEventListener("wheel", (event) => {
    if (document.activeElement !== stage && !event.ctrlKey) return; // the page scrolls
    event.preventDefault();
    player.nearer(Math.exp(0.001 * event.deltaY));
  }, { passive: false });
  for (const strip of stage.querySelectorAll(".strip")) swiped(strip, player);
}

function swiped(strip, player) {
  let start = null;
  strip.addEventListener("pointerdown", (event) => (start = event.clientX));
  strip.addEventListener("pointerup", (event) => {
    const way = start === null ? 0 : event.clientX - start;
    start = null;
    if (Math.abs(way) > SWIPE) player.page(way < 0 ? 1 : -1);
  });
  strip.addEventListener("pointercancel", () => (start = null));
  for (const button of strip.querySelectorAll(".turnpage")) {
    button.addEventListener("click", () => player.page(Number(button.dataset.by)));
  }
}
