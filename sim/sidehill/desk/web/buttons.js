// Buttons: options added and removed, files saved, sheets and films made.
import { ask } from "./talk.js";
import { notice, show } from "./parts.js";
import { closeViewer, replayChosen } from "./strips.js";
import { typed } from "./fields.js";

const DO = {
  add: (button) => option("add", button),
  remove: (button) => option("remove", button),
  save,
  replay: replayChosen,
  "close-viewer": closeViewer,
};

export function watchButtons() {
  document.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    if (button.dataset.do) DO[button.dataset.do](button);
    else if (button.dataset.make) make(button);
    else if (button.dataset.stop) ask("/stop", { kind: button.dataset.stop });
    else if (button.dataset.puts) put(button);
  });
}

async function option(what, button) {
  const number = Number(button.dataset.number);
  const answer = await ask("/option", { do: what, number });
  if (!answer) return;
  show(answer);
  const names = document.querySelectorAll(".card input.name");
  (what === "add" ? names[names.length - 1] : names[Math.max(number - 2, 0)])?.focus();
}

async function save() {
  const answer = await ask("/save", {});
  if (answer) notice(`Saved in the desk's folder: ${answer.files.join(", ")}`);
}

async function make(button) {
  notice("");
  await ask("/make", { kind: button.dataset.make, quick: button.dataset.quick === "yes" });
}

function put(button) {
  const field = document.getElementById(button.dataset.puts);
  field.value = button.dataset.text ?? `${field.value.trim()} ${button.dataset.unit}`;
  field.focus();
  field.dispatchEvent(new Event("input", { bubbles: true })); // its slider follows
  typed(field.dataset.field, field.value, false, true);
}
