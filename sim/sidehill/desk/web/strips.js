// Strips: a click on a slope, or a choice below it, opens the replay of that run.
import { ask } from "./talk.js";
import { notice } from "./parts.js";

export function watchStrips() {
  document.addEventListener("click", (event) => {
    const cell = event.target.closest?.(".cell");
    if (cell) look(cell.dataset.way, cell.dataset.value);
  });
}

export function replayChosen(button) {
  const way = button.dataset.way;
  look(way, document.querySelector(`[data-look="${way}"]`).value);
}

async function look(way, value) {
  const status = document.getElementById("status");
  status.textContent = "making the replay";
  const beside = document.querySelector(`[data-beside="${way}"]`)?.value ?? "";
  const answer = await ask("/replay", { way, value, beside });
  status.textContent = "";
  if (!answer) return;
  notice("");
  const viewer = document.getElementById("viewer");
  viewer.hidden = false;
  document.getElementById("viewer-frame").src = answer.page;
  document.getElementById("viewer-link").href = answer.page;
  const heading = document.getElementById("h-viewer");
  heading.textContent = `Replay: ${answer.names.join(" beside ")}`;
  viewer.scrollIntoView({ block: "start" });
  heading.focus({ preventScroll: true });
}

export function closeViewer() {
  document.getElementById("viewer").hidden = true;
  document.getElementById("viewer-frame").src = "about:blank";
}
