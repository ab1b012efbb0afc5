// Sliders: the figure follows at once; the strip is looked for when the slider is let go.
import { typed } from "./fields.js";
import { follow } from "./pending.js";

export function watchSliders() {
  document.addEventListener("input", (event) => {
    const slider = event.target;
    if (slider.dataset.slides) put(slider, true);
    const beside = slider.closest?.(".dial")?.querySelector("[data-slides]");
    if (slider.dataset.field && beside) follow(slider, beside);
  });
  document.addEventListener("change", (event) => {
    if (event.target.dataset.slides) put(event.target, false);
  });
}

function put(slider, live) {
  const field = document.getElementById(slider.dataset.slides);
  const unit = slider.dataset.unit;
  const text = Number(slider.value) === 0 && unit !== "deg" ? "" : unit === "%" ? `${slider.value} %` : `${slider.value} ${unit}`;
  field.value = text;
  slider.setAttribute("aria-valuetext", text || "none");
  typed(field.dataset.field, text, live, true);
}
