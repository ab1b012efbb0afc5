"""A scenario on one page: from above, from the side, from behind, and in words."""

from textwrap import wrap

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from sidehill.caution import IN_SHORT
from sidehill.picture.course_words import fact_lines, feature_lines
from sidehill.picture.plan import draw_plan
from sidehill.picture.profile import draw_profile
from sidehill.picture.section import draw_section
from sidehill.picture.style import Kind, footnote, image, look
from sidehill.picture.survey import Survey
from sidehill.picture.view import view_of

WIDE, EDGE = 11.0, 0.75  # [in] the page, and beside everything
PLAN_WIDE, PLAN_HIGH = 9.2, (2.2, 4.6)  # [in] width of the plan, least and most height
SIDE_WIDE, SIDE_HIGH = 6.2, 2.4  # [in] the profile
BEHIND_WIDE = 3.2  # [in] the section
PLAN_FOOT, SIDE_FOOT = 0.95, 0.85  # [in] below a panel, for its axis and legend
LINE = 0.145  # [in] of text
LETTERS = 88  # in a column of text


def course_picture(survey: Survey, kind: Kind = "png", *, us: bool = False) -> bytes:
    """The page of a scenario, the same bytes on every run.

    Args:
        us: US units first.
    """
    with look():
        return image(_page(survey, us), kind)


def _page(survey: Survey, us: bool) -> Figure:
    """Everything in its place, counted in inches from the foot of the page."""
    view = view_of(survey)
    least, most = PLAN_HIGH
    is_table = survey.scenario.course.is_tilt_table
    plan_high = min(
        max(PLAN_WIDE * view.size[1] / view.size[0], least), least if is_table else most
    )
    columns = [_wrapped(fact_lines(survey, us)), _wrapped(feature_lines(survey, us))]
    teaches = wrap(survey.scenario.teaches, 150)
    words_top = 0.3 + LINE * max(map(len, columns))
    plan_foot = words_top + SIDE_FOOT + SIDE_HIGH + PLAN_FOOT
    tall = plan_foot + plan_high + 0.55 + LINE * len(teaches)
    figure = Figure(figsize=(WIDE, tall))

    def panel(x: float, y: float, wide: float, high: float) -> Axes:
        return figure.add_axes((x / WIDE, y / tall, wide / WIDE, high / tall))

    plan = panel(EDGE, plan_foot, PLAN_WIDE, plan_high)
    shades = draw_plan(plan, survey, view.stretched(plan_high / PLAN_WIDE))
    if shades is not None:
        key = panel(EDGE + PLAN_WIDE + 0.12, plan_foot, 0.13, plan_high)
        figure.colorbar(shades[0], cax=key)
        key.set_ylabel(f"off the plane [mm]; contours {shades[1]:.0f} mm apart", fontsize=7.0)
    behind = (WIDE - BEHIND_WIDE) / 2.0 if is_table else WIDE - 0.3 - BEHIND_WIDE
    draw_section(panel(behind, words_top + 0.1, BEHIND_WIDE, SIDE_HIGH + 0.75), survey)
    if not is_table:
        side = panel(EDGE, words_top + SIDE_FOOT, SIDE_WIDE, SIDE_HIGH)
        draw_profile(side, survey, (SIDE_WIDE, SIDE_HIGH))
        foot = (EDGE / WIDE, (plan_foot - 0.42) / tall)
        named = plan.get_legend_handles_labels()
        figure.legend(*named, loc="upper left", ncols=4, bbox_to_anchor=foot)
    for x, lines in zip((EDGE, WIDE / 2.0 + 0.1), columns, strict=True):
        _write(figure, (x / WIDE, words_top / tall), "\n".join(lines), size=7.5)
    _write(figure, (EDGE / WIDE, 1.0 - 0.1 / tall), survey.scenario.title, size=12.0, bold=True)
    _write(figure, (EDGE / WIDE, 1.0 - 0.36 / tall), "\n".join(teaches), size=8.5)
    footnote(figure, IN_SHORT)
    return figure


def _wrapped(lines: list[str]) -> list[str]:
    return [part for line in lines for part in wrap(line, LETTERS, subsequent_indent="    ")]


def _write(
    figure: Figure, at: tuple[float, float], words: str, size: float, bold: bool = False
) -> None:
    """Lines of text below a place; a file's own words are no formulas."""
    figure.text(
        *at, words, va="top", fontsize=size, fontweight="bold" if bold else "normal",
        linespacing=1.35, parse_math=False,
    )  # fmt: skip
