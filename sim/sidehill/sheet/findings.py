"""Everything that a sheet says, before it is put into words."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from hashlib import sha256

import pandas as pd

from sidehill.advice.fit import Fit, check_fit
from sidehill.advice.headline import best_alone, headline
from sidehill.advice.left_out import LeftOut, left_out
from sidehill.advice.rank import Ranking, rank
from sidehill.advice.ranked import Ranked
from sidehill.advice.site import Site
from sidehill.advice.warnings import site_of
from sidehill.sheet.driven import driven
from sidehill.sheet.enough import Pair, enough
from sidehill.sheet.runs import Loads, Shown, drive_loads, drive_shown, runnable
from sidehill.sheet.standing import Standing, standing
from sidehill.sheet.wish import Wish
from sidehill.spread.interval import Interval
from sidehill.study.study import Study
from sidehill.sweep.compare import compare

BY = "least_lift_off_slope_deg"  # the figure that ranks
DRIVEN_BY = "overturn_limit_deg"  # the figure of the second headline


@dataclass(frozen=True)
class Findings:
    """What was found."""

    study: Study
    wish: Wish
    table: pd.DataFrame  # of `compare`
    site: Site
    standing: Mapping[str, Standing]  # by option
    ranking: Ranking
    driven_headline: tuple[str, ...]
    left_out: tuple[tuple[LeftOut, Standing], ...]
    wanted: float  # [rad]
    enough: tuple[Pair, ...]
    loads: Loads
    shown: Shown
    driven: Mapping[str, Mapping[str, Interval | str]]  # by option, by quantity
    fits: Mapping[str, Fit]  # by option

    @property
    def delivered(self) -> str:
        """Name of the option that the others are compared with: the study's first."""
        return self.study.options[0].name

    @property
    def best(self) -> str:
        """Name of the first in the ranking."""
        return best_of(self.ranking, self.delivered)

    @property
    def key(self) -> str:
        """Hash of every case that is compared, 16 hex digits."""
        keys = "".join(self.study.case(option).key() for option in self.study.options)
        return sha256(keys.encode()).hexdigest()[:16]


def best_of(ranking: Ranking, delivered: str) -> str:
    """The first placed; as delivered where nothing is known."""
    first = ranking.options[0]
    return delivered if first.place is None else first.option


def told(ranking: Ranking, delivered: str) -> tuple[str, ...]:
    """Options worth a picture: as delivered, what buys most alone, the first in the ranking."""
    alone = best_alone(ranking.options, BY).values()
    most: list[Ranked] = sorted(alone, key=lambda option: -option.gains[BY])[:1]
    names = (delivered, *(option.option for option in most), best_of(ranking, delivered))
    return tuple(dict.fromkeys(names))


def find(
    study: Study,
    wish: Wish,
    say: Callable[[str], None] = lambda text: None,
    table: pd.DataFrame | None = None,
) -> Findings:
    """Compute, simulate and judge everything.

    Args:
        table: of `compare` with all events, where there is one already.

    Raises:
        InputError: the scenario is a tilt table, a wanted slope is out of range, or no option can
            be simulated.
        SidehillError: a record cannot be kept.
    """
    ground, first = study.scenario.ground, study.options[0]
    site = site_of(ground)
    wanted = ground.slope if wish.want is None else wish.want
    if table is None:
        table = compare(
            study,
            wish.engine,
            watch=lambda done, of: say(f"limits in {wish.engine}: {done} of {of} options done"),
            **wish.limits,
        )
    can_run = runnable(study, table)
    say("how much is enough")
    enough_ = enough(study, wanted, wish.engine, wish.quick)
    say("spread of the inputs")
    stand = {o.name: standing(study.machine, o.outfit, ground.downhill) for o in study.options}
    loads = drive_loads(study, can_run, wish.engine, wish.records, say)
    least = {name: found.least for name, found in stand.items()}
    ranking = rank(study, table, loads.peaks, BY, site.steepest_grade, least)
    shown = [name for name in told(ranking, first.name) if name in can_run] or can_run[:1]
    ends = tuple(dict.fromkeys((first.name, best_of(ranking, first.name))))
    return Findings(
        study=study,
        wish=wish,
        table=table,
        site=site,
        standing=stand,
        ranking=ranking,
        driven_headline=headline(ranking.options, DRIVEN_BY),
        left_out=tuple(
            (item, standing(study.machine, item.outfit, ground.downhill))
            for item in left_out(study)
        ),
        wanted=wanted,
        enough=enough_,
        loads=loads,
        shown=drive_shown(study, shown, table, wish.engine, wish.records, say),
        driven=driven(study, ends, table, wish.engine, wish.quick, say),
        fits={o.name: check_fit(study.machine, o.outfit, site) for o in study.options},
    )
