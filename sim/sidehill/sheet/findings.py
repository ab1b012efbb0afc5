"""Everything that a sheet says, before it is put into words."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from hashlib import sha256

from sidehill.advice.apart import Apart, apart, new_names
from sidehill.advice.driven_enough import DrivenEnough
from sidehill.advice.fit import Fit, check_fit
from sidehill.advice.headline import Answer, answer
from sidehill.advice.rank import Ranking, rank
from sidehill.advice.ranked import Ranked
from sidehill.advice.site import Site
from sidehill.advice.warnings import beside_ratings, site_of
from sidehill.sheet.driven import driven
from sidehill.sheet.enough import Pair, driven_answers, standing_answers
from sidehill.sheet.looks import Looks, look_at_all
from sidehill.sheet.runs import Loads, Shown, drive_loads, drive_shown, runnable
from sidehill.sheet.standing import Standing, standing
from sidehill.sheet.wish import Wish
from sidehill.spread.interval import Interval
from sidehill.study.study import Study

BY = "good_up_to_deg"  # the figure that ranks


@dataclass(frozen=True)
class Findings:
    """What was found."""

    study: Study
    wish: Wish
    site: Site
    looks: Looks
    answer: Answer
    standing: Mapping[str, Standing]  # by option
    ranking: Ranking
    wanted: float  # [rad]
    enough: tuple[tuple[DrivenEnough, ...], ...]  # by setting, by goal
    standing_enough: tuple[Pair, ...]
    loads: Loads
    shown: Shown
    driven: Mapping[str, Mapping[str, Interval | str]]  # by option, by quantity
    fits: Mapping[str, Fit]  # by option
    apart: Apart

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

    def ranked(self, name: str) -> Ranked:
        """The option of that name in its place."""
        return next(option for option in self.ranking.options if option.option == name)


def best_of(ranking: Ranking, delivered: str) -> str:
    """The first placed; as delivered where nothing is known."""
    first = ranking.options[0]
    return delivered if first.place is None else first.option


def find(
    study: Study,
    wish: Wish,
    say: Callable[[str], None] = lambda text: None,
    looks: Looks | None = None,
) -> Findings:
    """Compute, simulate and judge everything.

    Args:
        looks: where they have been taken already.

    Raises:
        InputError: the scenario is a tilt table, the study has several machines, a wanted slope is
            out of range, or no option can be simulated.
        SidehillError: a record cannot be kept.
    """
    _ = study.only_machine
    ground, first = study.scenario.ground, study.options[0]
    site = site_of(ground)
    wanted = ground.slope if wish.want is None else wish.want
    looks = look_at_all(study, wish, say) if looks is None else looks
    can_run = runnable(study, looks)
    say("spread of the inputs")
    stand = {o.name: standing(study.machine, o.outfit, ground.downhill) for o in study.options}
    loads = drive_loads(study, can_run, wish.engine, wish.records, say)
    least = {name: found.least for name, found in stand.items()}
    ranking = rank(study, looks.options, loads.peaks, BY, site.steepest_grade, least)
    fits = {o.name: check_fit(study.machine, o.outfit, site) for o in study.options}
    ranked = {option.option: option for option in ranking.options}
    told_apart = _apart(study, ranked, fits)
    answered = _answer(study, looks, ranked, told_apart)
    ends = tuple(dict.fromkeys((first.name, best_of(ranking, first.name))))
    return Findings(
        study=study,
        wish=wish,
        site=site,
        looks=looks,
        answer=answered,
        standing=stand,
        ranking=ranking,
        wanted=wanted,
        enough=driven_answers(study, looks.delivered, wanted, wish, say),
        standing_enough=standing_answers(study, wanted),
        loads=loads,
        shown=drive_shown(study, looks, answered, wish.engine, wish.records, say),
        driven=driven(study, ends, looks, wish.engine, wish.quick, say),
        fits=fits,
        apart=told_apart,
    )


def _answer(study: Study, looks: Looks, ranked: Mapping[str, Ranked], told_apart: Apart) -> Answer:
    shares = ranked[study.options[0].name].price.shares
    rear = next(finding for finding in shares if finding.what == "share with the bucket full")
    offers = looks.offers(study)
    past = {offer.look.name: new_names(told_apart, offer.look.name) for offer in offers}
    return answer(looks.delivered, looks.free, looks.kept, offers, rear, past)


def _apart(study: Study, ranked: Mapping[str, Ranked], fits: Mapping[str, Fit]) -> Apart:
    machine, downhill = study.machine, study.scenario.ground.downhill
    return apart(
        {o.name: (*ranked[o.name].price.findings, *fits[o.name].findings) for o in study.options},
        {o.name: beside_ratings(machine, o.outfit, downhill) for o in study.options},
        study.options[0].name,
    )
