// Parts of the page: replaced by what the server wrote, the field being typed in left alone.
import { reapply } from "./pending.js";
import { unitButtons } from "./units.js";
import { showJob } from "./jobs.js";

let newest = 0; // the last form that was shown: older news come late and are left out

export function notice(words) {
  const place = document.getElementById("notice");
  if (place.textContent !== words) place.textContent = words;
}

// An answer of the server: parts, what is wrong by field, hints by field.
export function show(answer) {
  if ((answer.revision ?? newest) < newest) return;
  newest = answer.revision ?? newest;
  for (const [name, html] of Object.entries(answer.parts ?? {})) replace(name, html);
  if (answer.problems) mark(answer.problems);
  for (const [id, text] of Object.entries(answer.hints ?? {})) hint(id, text);
  for (const [job, words] of Object.entries(answer.jobs ?? {})) showJob({ job, words, state: "at work" });
  speak(answer);
}

function replace(name, html) {
  const place = document.querySelector(`[data-part="${name}"]`);
  if (!place || place.written === html) return;
  const kept = stateOf(place);
  place.innerHTML = html;
  place.written = html;
  reapply(place);
  restore(place, kept);
}

// What a person has set in a part that is no field: open details, chosen runs, focus and its text.
function stateOf(place) {
  const active = place.contains(document.activeElement) ? document.activeElement : null;
  return {
    id: active?.id,
    look: active?.dataset.look,
    what: active?.dataset.do && [active.dataset.do, active.dataset.way ?? active.dataset.number ?? ""],
    text: active?.tagName === "INPUT" && active.dataset.field ? active.value : null,
    caret: active?.type === "text" || active?.tagName === "INPUT" ? safeCaret(active) : null,
    open: [...place.querySelectorAll("details")].map((one) => one.open),
    chosen: [...place.querySelectorAll("select[data-look], select[data-beside]")].map((one) => [
      one.dataset.look ? `[data-look="${one.dataset.look}"]` : `[data-beside="${one.dataset.beside}"]`, one.value]),
  };
}

function safeCaret(input) {
  try {
    return [input.selectionStart, input.selectionEnd];
  } catch {
    return null;
  }
}

function restore(place, kept) {
  const details = [...place.querySelectorAll("details")];
  if (details.length === kept.open.length) details.forEach((one, k) => (one.open = kept.open[k]));
  for (const [which, value] of kept.chosen) {
    const select = place.querySelector(`select${which}`);
    if (select && [...select.options].some((one) => one.value === value)) select.value = value;
  }
  const again = kept.id ? document.getElementById(kept.id)
    : kept.look ? place.querySelector(`[data-look="${kept.look}"]`)
    : kept.what ? [...place.querySelectorAll(`[data-do="${kept.what[0]}"]`)].find((one) =>
      (one.dataset.way ?? one.dataset.number ?? "") === kept.what[1]) : null;
  if (!again) return;
  if (kept.text !== null && again.value !== kept.text) again.value = kept.text;
  again.focus({ preventScroll: true });
  if (kept.caret && kept.caret[0] !== null) again.setSelectionRange(...kept.caret);
}

function mark(problems) {
  for (const place of document.querySelectorAll(".error[id]")) {
    const words = problems[place.id.slice(2)] ?? "";
    if (place.said === words) continue;
    place.said = words;
    place.textContent = words;
    const input = document.getElementById(`f-${place.id.slice(2)}`);
    if (input) {
      if (words) input.setAttribute("aria-invalid", "true");
      else input.removeAttribute("aria-invalid");
      if (words.startsWith("a bare number")) place.append(...unitButtons(input));
    }
    if (words) place.closest("details")?.setAttribute("open", "");
  }
}

function hint(id, text) {
  const input = document.getElementById(`f-${id}`);
  if (input?.tagName === "INPUT" && input.placeholder !== text) input.placeholder = text;
}

let timer = 0;

// For those who hear the page: what the options came to, once things have come to rest.
function speak(answer) {
  if (answer.left) return;
  clearTimeout(timer);
  timer = setTimeout(() => {
    const told = [...document.querySelectorAll("[data-spoken]")].map((one) => one.dataset.spoken);
    const place = document.getElementById("status");
    const words = told.join(". ");
    if (place.textContent !== words) place.textContent = words;
  }, 600);
}

export async function lookAgain() {
  try {
    const answer = await fetch("/everything");
    const found = await answer.json();
    if (answer.ok) show(found);
    else notice(found.error);
  } catch {
    // the stream of news says so
  }
}
