// The small drawing: what the field asks for is drawn bold.
export function watchMeasures() {
  document.addEventListener("focusin", (event) => {
    const figure = event.target.closest?.("[data-figure]")?.dataset.figure;
    for (const part of document.querySelectorAll("[data-for]")) {
      part.classList.toggle("asked", figure !== undefined && part.dataset.for.split(" ").includes(figure));
    }
  });
}
