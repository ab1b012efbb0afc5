"""The cheap helps that a study does not compare: they are looked at all the same."""

from dataclasses import dataclass

from sidehill.advice.changes import LIGHTER_LOAD, LOWER_BUCKET, changes
from sidehill.machine.loader import pin_height
from sidehill.machine.outfit import Outfit
from sidehill.study.study import Study


@dataclass(frozen=True)
class LeftOut:
    """One change from as delivered that no option makes alone."""

    words: str
    outfit: Outfit


def left_out(study: Study) -> tuple[LeftOut, ...]:
    """A lower bucket and an empty one, where they are possible and no option shows them."""
    machine, first = study.machine, study.options[0].outfit
    loader = machine.loader
    if loader is None:
        return ()
    shown = [changes(machine, option.outfit, first) for option in study.options]
    is_high = pin_height(loader, first.bucket_height) > loader.carry_height
    is_loaded = first.bucket_load > 0.0
    wanted = (
        (LOWER_BUCKET, is_high, "the bucket carried low", {"bucket_height": "carry"}),
        (LIGHTER_LOAD, is_loaded, "the bucket empty, as high as it is", {"bucket_load": 0.0}),
    )
    return tuple(
        LeftOut(words, first.with_values(values))
        for kind, is_possible, words, values in wanted
        if is_possible and frozenset({kind}) not in shown
    )
