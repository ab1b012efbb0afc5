// Strips: a click on a slope, or a choice below it, opens the replay of that run.
import { ask } from "./talk.js";
import { notice } from "./parts.js";

export function watchStrips() {
  document.addEventListener("click", (event) => {
    const cell = cellAt(event);
    if (cell) look(cell.dataset.way, cell.dataset.value);
  });
}

// Also where the strip was written anew between pressing and letting go.
function cellAt(event) {
  if (event.target.closest?.("button, a, input, select, label")) return null;
  const under = document.elementFromPoint(event.clientX, event.clientY);
  return event.target.closest?.(".cell") ?? under?.closest(".cell");
}

export function replayChosen(button) {
  const way = button.dataset.way;
  look(way, document.querySelector(`[data-look="${way}"]`).value);
}

async function look(way, value) {
  const viewer = document.getElementById("viewer");
  const heading = document.getElementById("h-viewer");
  const frame = document.getElementById("viewer-frame");
  viewer.hidden = false;
  heading.textContent = "Replay: being made, some seconds";
  frame.src = "about:blank";
  viewer.scrollIntoView({ block: "start" });
  heading.focus({ preventScroll: true });
  const beside = document.querySelector(`[data-beside="${way}"]`)?.value ?? "";
  const answer = await ask("/replay", { way, value, beside });
  if (!answer) {
    closeViewer();
    return;
  }
  notice("");
  frame.src = answer.page;
  document.getElementById("viewer-link").href = answer.page;
  heading.textContent = `Replay: ${answer.names.join(" beside ")}`;
}

export function closeViewer() {
  document.getElementById("viewer").hidden = true;
  document.getElementById("viewer-frame").src = "about:blank";
}
