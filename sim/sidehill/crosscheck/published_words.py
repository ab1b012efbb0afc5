"""The published values in words: the same cells on the page, the screen and in the README."""

from collections.abc import Sequence
from math import isfinite, isnan, radians
from typing import Any, get_args

from sidehill.crosscheck.check import Result, Status
from sidehill.crosscheck.fallen import Fallen
from sidehill.crosscheck.measured import MODELLED, SOURCE, SPACER, Effects
from sidehill.crosscheck.unread import (
    CORNER_SOURCE,
    HEAVY,
    OBSTACLE_SOURCE,
    OVER,
    PUBLISHED,
    RADIUS,
    Cornering,
)
from sidehill.files.units import round_to, show_slope

STATUSES: tuple[Status, ...] = get_args(Status)
SUMMARY_HEADINGS = ("check", *STATUSES, "not counted", "largest difference", "")
WORTH = (
    "published: read in a published text; memory: published, recalled and not read again; derived: "
    "textbook mechanics worked out here twice, a guard against slips without outside authority; "
    "common practice: a fact of the trade, no source; not counted: a constant of the code was "
    "fitted to the value or copied from it. No value of this table is a tip angle measured on a "
    "tractor."
)


def published_words(
    results: Sequence[Result],
    fall: Fallen,
    effects: Sequence[Effects],
    corners: Sequence[Cornering],
    over: float | None,
) -> dict[str, Any]:
    """Everything the page needs."""
    return {
        "about": about(results),
        "worth": WORTH,
        "rows": [row(result) for result in results],
        "fall": fall_words(fall),
        "measured": measured_words(effects),
        "unread": unread_words(corners, over),
    }


def about(results: Sequence[Result]) -> str:
    """How many pass, and what they are worth, in one line."""
    failed = sum(not result.passed for result in results)
    result = "all pass" if failed == 0 else f"{failed} FAIL"
    worth = [f"{count} {status}" for status, count in zip(STATUSES, _counts(results), strict=True)]
    fitted = sum(result.is_fitted for result in results)
    return f"{len(results)} values: {result}; {', '.join(worth)}, {fitted} not counted"


def _counts(results: Sequence[Result]) -> list[int]:
    """Values of every status, those to which a constant was fitted left out."""
    counted = [result.status for result in results if not result.is_fitted]
    return [counted.count(status) for status in STATUSES]


def row(result: Result) -> dict[str, Any]:
    """One check, as text."""
    unit = "" if result.unit == "1" else f" {result.unit}"
    known = not isnan(result.computed)
    return {
        "name": result.name,
        "quantity": result.quantity,
        "expected": f"{result.expected:.6g}{unit}",
        "computed": f"{result.computed:.6g}{unit}" if known else "could not compute",
        "difference": f"{result.difference:+.2g}" if known else "",
        "tolerance": result.tolerance,
        "source": result.source,
        "status": result.status + (", not counted" if result.is_fitted else ""),
        "passed": result.passed,
        "result": "pass" if result.passed else "FAIL",
        "note": result.note,
    }


def summary(results: Sequence[Result]) -> list[list[str]]:
    """One line for all checks whose names begin alike, before a comma; their values counted."""
    groups: dict[str, list[Result]] = {}
    for result in results:
        groups.setdefault(result.name.partition(",")[0], []).append(result)
    rows = []
    for name, members in groups.items():
        share = max(
            (abs(r.difference) / r.limit for r in members if not isnan(r.difference)), default=0.0
        )
        failed = sum(not result.passed for result in members)
        rows.append(
            [
                name,
                *(str(count or "") for count in _counts(members)),
                str(sum(result.is_fitted for result in members) or ""),
                f"{100 * round_to(share, 2, 'up'):.0f} % of its tolerance",
                "pass" if failed == 0 else f"{failed} FAIL",
            ]
        )
    return rows


def fall_words(found: Fallen) -> dict[str, Any]:
    """Code 6 and the simulation, side by side."""
    c = found.calculated
    rows = (
        ("roll rate before the frame meets the ground", c.o0, "as the side meets the bank"),
        ("after the side has met the bank", c.o1, ""),
        ("as the frame meets the ground", c.o3, ""),
        ("after the frame's blow", c.o4, ""),
    )
    simulated = (
        f"{found.before:.2f} rad/s, the fastest",
        "its wheels roll round: no such blow",
        f"at {found.bar_roll:.0f} deg of roll to the bank",
        f"{found.after:.2f} rad/s, the slowest",
    )
    at = f" at {found.final_rest:.0f} deg" if isfinite(found.final_rest) else ""
    end = f"touched: {', '.join(found.touched)}; {found.end}{at}"
    return {
        "about": "Example 1 on its bank of 1 in 1.5. Code 6 calculates from blow to blow; the "
        "simulated tractor is held on four wheels and let go, falls onto its stop, over its "
        "downhill wheels and onto its roll bar. They are not the same fall: no ground gives way "
        "under the simulated one, and its tyres and corners are springs. Illustrative.",
        "headings": ("", "Code 6", "simulated"),
        "rows": [
            *(
                [what, f"{rate:.2f} rad/s {when}".strip(), beside]
                for (what, rate, when), beside in zip(rows, simulated, strict=True)
            ),
            ["then", "not recalled reliably", end],
        ],
    }


def measured_words(found: Sequence[Effects]) -> dict[str, Any]:
    """What the tyre effects do here, beside what was measured on another machine."""
    low, high = (f(e.together for e in found) for f in (min, max))
    outward = [1e3 * e.outward for e in found]
    agree = sum(e.agrees for e in found)
    return {
        "about": [
            f"NOT COMPARABLE. {SOURCE}: one sub-compact on a hard floor, 0 to 122 kg of rear "
            "ballast, lifted until it stood balanced on its two right wheels. That inclination "
            "was 2.4 to 4.0 % above its rigid angle; with vertical deflection and lateral shift "
            f"modelled, {MODELLED[0]} to {MODELLED[1]} % were left. It is the balance of the "
            "whole machine about two tyres that lean by the whole angle and stand on their "
            "shoulders. Beside it stands another event, of an invented sub-compact: the slope at "
            "which an upright tyre unloads. The floor lift was not simulated.",
            f"Here compliance lowers the lift-off slope: by {-high:.1f} to {-low:.1f} % "
            f"in all. The sign agrees in {agree} of {len(found)} rows: a disagreement that these "
            "two events do not decide. Sinking leans the body downhill, and the rim moves "
            "downhill of its patch: both take away. Section width gives back little, because "
            "the body leans by only a degree or two, not by the whole angle.",
            "To reach the measured figures the load would have to move "
            f"{min(outward):.0f} to {max(outward):.0f} mm out from the middle of the downhill "
            "tyre, onto its outer part, where a tyre that leans by 40 deg stands. Nothing is "
            "tuned. One tractor on a hard floor is no field tolerance, and never a licence to "
            "read a rigid result as cautious. The ballast is as published; the "
            f"{1e3 * SPACER:.0f} mm of spacer a side are chosen.",
        ],
        "headings": (
            "width",
            "ballast",
            "rigid lift-off",
            "vertical compliance",
            "lateral shift",
            "section width",
            "together",
            "published, measured",
            "needed outward",
        ),
        "rows": [
            [
                e.width,
                f"{e.ballast:.0f} kg",
                show_slope(radians(e.rigid), "down"),
                *(f"{value:+.2f} %" for value in (e.vertical, e.lateral, e.section, e.together)),
                f"{e.measured:+.2f} %",
                f"{1e3 * e.outward:.0f} mm",
            ]
            for e in found
        ],
    }


def unread_words(corners: Sequence[Cornering], over: float | None) -> dict[str, Any]:
    """Shipped machines beside published overturns of tractors whose measures were not read."""
    obstacle = "not up to 32 deg" if over is None else f"from {show_slope(radians(over), 'down')}"
    turns = [
        [
            f"{row.machine} in a turn, on {row.slope:.0f} deg",
            f"{PUBLISHED:g} m/s2",
            "not up to the fastest tried"
            if row.acceleration is None
            else f"{round_to(row.acceleration, 1, 'down'):.1f} m/s2",
            row.ending,
        ]
        for row in corners
    ]
    return {
        "about": "The measures of these tractors were not read: a look at the size, no check, and "
        f"not counted. {OBSTACLE_SOURCE}: a machine of 1.9 t at about 2 m/s over about 0.20 m "
        f"overturns above {OVER:g} deg. {CORNER_SOURCE}: a cornering tractor overturned on 3 to 8 "
        f"deg at about {PUBLISHED:g} m/s2 of centripetal acceleration. Beside them shipped "
        f"machines, bare and invented; turned uphill at a radius of {RADIUS:g} m, the most of "
        "speed by yaw rate in the slowest run that goes over.",
        "headings": ("what", "published", "goes over", "just below"),
        "rows": [
            [f"{HEAVY} over 0.20 m at 2 m/s", f"above {OVER:g} deg", obstacle, ""],
            *turns,
        ],
    }
