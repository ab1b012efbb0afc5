"""A convergence in words: the same cells on the page and on the screen."""

from typing import Any

from sidehill.crosscheck.convergence import NEAR, Convergence

HEADINGS = (
    "what is made finer", "coarseness", "median", f"within {NEAR:g} deg", "95 of 100 within",
    "worst", "facts differ", "order to the next",
)  # fmt: skip


def convergence_words(found: Convergence) -> dict[str, Any]:
    """The same cells on the page and on the screen."""
    return {
        "about": f"{found.cases} random cases (seed {found.seed}) of the shipped machines over a "
        "stone or a rut, each coarseness against the finest of its kind: differences of peak "
        f"roll. {100 * found.without_peak:.0f} % of the runs came to no peak and are left out. "
        "Columns of an enveloping tyre are its spokes. (usual) is what a run has.",
        "headings": HEADINGS,
        "rows": [
            [
                level.knob,
                level.size + " (usual)" * level.is_usual,
                f"{level.median:.2g} deg",
                f"{100 * level.near:.0f} of 100",
                f"{level.most:.2g} deg",
                f"{level.worst:.2g} deg",
                f"{level.facts}",
                "" if level.order is None else f"{level.order:.1f}",
            ]
            for level in found.levels
        ],
    }
