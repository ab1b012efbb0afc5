// What was typed and is not answered yet: it outlives whatever the server writes meanwhile.
export const pending = new Map(); // field -> text

export function reapply(place) {
  for (const [field, text] of pending) {
    const input = place.querySelector(`[data-field="${field}"]`);
    if (!input || input.type === "radio" || input.value === text) continue;
    input.value = text;
    const slider = place.querySelector(`[data-slides="${input.id}"]`);
    if (slider) follow(input, slider);
  }
}

// A slider moves to what was typed where that is in its own unit.
export function follow(input, slider) {
  const words = JSON.parse(slider.dataset.words);
  const [, number, unit] = input.value.match(/^\s*([0-9.]+)\s*(\S+)\s*$/) ?? [];
  if (input.value.trim() in words) slider.value = words[input.value.trim()];
  else if (number && unit === slider.dataset.unit) slider.value = number;
  else if (!input.value.trim()) slider.value = slider.min;
}
