// Units to choose from where a number was typed without one.
export function unitButtons(input) {
  const units = (input.dataset.units ?? "").split("|").filter(Boolean);
  return units.map((unit) => {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "unit";
    button.textContent = unit;
    button.dataset.puts = input.id;
    button.dataset.unit = unit;
    return button;
  });
}
