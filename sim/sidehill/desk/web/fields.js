// Fields: what is typed goes to the server as it is typed, a moment after the last letter.
import { ask } from "./talk.js";
import { show, notice } from "./parts.js";
import { pending } from "./pending.js";

const PAUSE = 250; // [ms] after the last letter
const waiting = new Map(); // field -> text
let timer = 0;
let inFlight = false;

export function typed(field, text, live = false, soon = false) {
  waiting.set(field, text);
  pending.set(field, text);
  clearTimeout(timer);
  if (soon) send(live);
  else timer = setTimeout(() => send(live), PAUSE);
}

// One request at a time: what comes meanwhile goes with the next one, the newest of each field.
async function send(live) {
  if (inFlight) {
    again = again === null ? live : again && live;
    return;
  }
  if (!waiting.size) return;
  inFlight = true;
  const changes = [...waiting.entries()];
  waiting.clear();
  const answer = await ask("/change", { changes, live });
  inFlight = false;
  for (const [field, text] of changes) if (pending.get(field) === text) pending.delete(field);
  if (answer) show(answer);
  if (again !== null) {
    const next = again;
    again = null;
    send(next);
  }
}
let again = null;

export function watchFields() {
  document.addEventListener("input", (event) => {
    const input = event.target;
    if (input.dataset.field && input.type !== "radio" && input.tagName !== "SELECT") typed(input.dataset.field, input.value);
  });
  document.addEventListener("change", (event) => {
    const input = event.target;
    if (input.dataset.field) typed(input.dataset.field, input.value, false, true);
    if (input.dataset.open && input.files.length) open(input.files[0]);
  });
}

async function open(file) {
  if (file.size > 1_000_000) {
    notice(`${file.name}: ${file.size} bytes; allowed up to 1000000`);
    return;
  }
  const answer = await ask("/open", { name: file.name, text: await file.text() });
  if (!answer) return;
  notice("");
  show(answer);
}
