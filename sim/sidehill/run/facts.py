"""The two facts of a run: the worst that its wheels did, and whether it got there.

One table each, from best to worst for `STABILITY`, in order of precedence for `PROGRESS`; the
words beside a name are what a person is told. Whatever speaks of a run reads them here.
"""

from collections.abc import Iterable

LONG_SPELL = 0.5  # [s] a wheel up for longer is lifted; under a driver's reaction time
HIGH_SPELL = 0.05  # [m] of daylight; higher is lifted. Both judgement, no source

STABILITY = {
    "planted": "all wheels stay on the ground",
    "hopped": "a wheel hops",
    "lifted": "a wheel lifts",
    "on_stop": "the front axle is at the end of its swing: nothing is left to catch it",
    "overturned": "it goes over",
}
PROGRESS = {
    "not_started": "it cannot stand there on four wheels",
    "over": "it goes over on the way",
    "slid": "it slides off its path",
    "stuck": "it does not get on",
    "halted": "it stands where it was to stand",
    "leaning": "it is left leaning with a wheel up",
    "across": "it comes across",
    "cut": "time ran out before it came to an end",
}
CALM = ("planted", "hopped")  # the only stability that is ever shown as good
ARRIVED = ("across", "halted")  # the only progress that is
SHORT_OF = (*ARRIVED, "leaning")  # a run that ended so proves what its wheels did not do
EVENTS = ("hopped", "lifted", "on_stop", "overturned")  # a stability reached, or worse
NOT_STARTED = "not_started"  # the progress of what cannot stand there
NOT_ACROSS = "not_across"  # the event of progress: neither across nor halted
# how a result is marked beside its stability, from best to worst
ARRIVAL = {
    "arrived": "it comes across and has met everything",
    "not_across": "it does not get across, or has not met everything",
    "not_started": "it cannot stand there on four wheels",
}

Facts = tuple[str | None, str | None, bool | None]  # stability, progress, met; None: not known

_RANK = {name: rank for rank, name in enumerate(STABILITY)}
_ORDER = {name: rank for rank, name in enumerate(ARRIVAL)}


def is_good(stability: str | None, progress: str | None, met: bool | None) -> bool:
    """Whether a run may be shown as a good result: nothing missing, nothing bad."""
    return stability in CALM and progress in ARRIVED and bool(met)


def proves(progress: str | None, met: bool | None) -> bool:
    """Whether a run met everything and got to an end, so that it can prove anything."""
    return bool(met) and progress in SHORT_OF


def is_short_of(event: str, stability: str | None, progress: str | None, met: bool | None) -> bool:
    """Whether a run proves that an event did not come: it met everything and got to an end."""
    if not proves(progress, met):
        return False
    return (
        progress in ARRIVED if event == NOT_ACROSS else not has_reached(event, stability, progress)
    )


def has_reached(event: str, stability: str | None, progress: str | None) -> bool:
    """Whether a run reached an event; a run of which nothing is known did not."""
    if event == NOT_ACROSS:
        return progress is not None and progress not in ARRIVED
    return stability is not None and _RANK[stability] >= _RANK[event]


def worse(a: str | None, b: str | None) -> str | None:
    """The worse of two stabilities; an unknown one is worst."""
    if a is None or b is None:
        return None
    return a if _RANK[a] >= _RANK[b] else b


def worst(names: Iterable[str]) -> str | None:
    """The worst stability of several; None of none."""
    return max(names, key=lambda name: _RANK[name], default=None)


def arrival(progress: str | None, met: bool | None) -> str | None:
    """Which of `ARRIVAL` a run is; None if nothing is known of it."""
    if progress is None:
        return None
    if progress == "not_started":
        return "not_started"
    return "arrived" if progress in ARRIVED and met else "not_across"


def worst_seen(runs: Iterable[Facts]) -> tuple[str | None, str | None]:
    """The worst stability and the worst arrival of several runs, None where one is not known."""
    seen = [(stability, arrival(progress, met)) for stability, progress, met in runs]
    if not seen or any(stability is None or came is None for stability, came in seen):
        return None, None
    ends = [came for _, came in seen if came is not None]
    return worst(name for name, _ in seen if name is not None), max(ends, key=_ORDER.__getitem__)
