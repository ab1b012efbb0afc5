"""Every way that a sheet looks at: as delivered, what costs nothing, the study's options."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from sidehill.advice.changes import bought, changes
from sidehill.advice.free import Free, free_changes, up_and_down
from sidehill.advice.look import Look, Means, checked_spot, look_at
from sidehill.advice.offer import Offer
from sidehill.case import Case
from sidehill.files.errors import InputError, SidehillError
from sidehill.sheet.wish import Wish
from sidehill.strip.spot import Spot
from sidehill.study.study import Study

Say = Callable[[str], None]


@dataclass(frozen=True)
class Looks:
    """All of them."""

    options: Mapping[str, Look]  # by option, in the study's order; the first is as delivered
    free: Mapping[str, Look]  # what costs nothing, each alone beside as delivered
    kept: tuple[Free, ...]  # what of it there is nothing to change about
    up_and_down: Mapping[str, Spot | str]  # driven straight up and straight down; or why not

    @property
    def delivered(self) -> Look:
        """The first option."""
        return next(iter(self.options.values()))

    def same_as_free(self) -> dict[str, str]:
        """Options of the study that are nothing but a change that is free: name -> its name."""
        keys = {look.case.key(): name for name, look in self.free.items()}
        return {
            name: keys[look.case.key()]
            for name, look in self.options.items()
            if look.case.key() in keys
        }

    def offers(self, study: Study) -> tuple[Offer, ...]:
        """The options beside as delivered, with what is bought for each."""
        first = study.options[0].outfit
        return tuple(
            Offer(
                self.options[o.name],
                changes(study.machine, o.outfit, first),
                bought(o.outfit, first),
            )
            for o in study.options[1:]
        )


def look_at_all(study: Study, wish: Wish, say: Say = lambda text: None) -> Looks:
    """Run all of it.

    Raises:
        InputError: the scenario is a tilt table.
    """
    if study.scenario.course.is_tilt_table:
        raise InputError(f"{study.file}: nothing is driven on a tilt table; use `tip` or `drive`")
    means = Means(wish.engine, wish.quick)
    free = free_changes(study, wish.us)
    ways = {o.name: study.case(o) for o in study.options}
    by_key: dict[str, Look] = {}

    def look(name: str, case: Case) -> Look:
        """Each case once, whatever it is called."""
        key = case.key()
        if key not in by_key:
            say(f"strip of slopes: {name}")
            by_key[key] = look_at(name, case, means)
        known = by_key[key]
        return Look(name, case, known.spot, known.strip, known.problem)

    return Looks(
        options={name: look(name, case) for name, case in ways.items()},
        free={item.name: look(item.name, item.case) for item in free if item.case is not None},
        kept=tuple(item for item in free if item.case is None),
        up_and_down=_up_and_down(study, means, say),
    )


def _up_and_down(study: Study, means: Means, say: Say) -> dict[str, Spot | str]:
    cases = up_and_down(study)
    if cases is None:
        return {}
    found: dict[str, Spot | str] = {}
    for name, case in zip(("straight up", "straight down"), cases, strict=True):
        say(name)
        try:
            found[name] = checked_spot(case, means)
        except SidehillError as error:
            found[name] = str(error)
    return found
