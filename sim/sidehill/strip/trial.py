"""One run at one value of what a limit varies, and whether it counts as good."""

from dataclasses import dataclass

from sidehill.case import Case
from sidehill.kernels.layout import Records
from sidehill.run import run
from sidehill.run.outcome import stop_reached, verdict, wheel_lifted

UNTIL = ("lift", "stop", "overturn")
COUNTED = {  # verdicts of a completed run that do not count against a limit
    "lift": ("crossed",),
    "stop": ("crossed", "wheel_lifted"),
    "overturn": ("crossed", "wheel_lifted", "on_stop"),
}


@dataclass(frozen=True)
class Trial:
    """One run at one value of the varied quantity."""

    value: float  # SI
    verdict: str
    lifted: bool
    stopped: bool
    leans: bool  # on its stop at the end

    def is_good(self, until: str) -> bool:
        """Whether the run came to its end without the event. Only this counts as good.

        With an open differential a machine that leans on its stop often stalls there, its
        uphill wheel spinning: that is an end short of overturning. Any other stall is not.
        """
        event = {"lift": self.lifted, "stop": self.stopped, "overturn": False}[until]
        hangs = until == "overturn" and self.verdict == "stalled" and self.leans
        return (self.verdict in COUNTED[until] or hangs) and not event


def run_trial(case: Case, value: float, engine: str) -> Trial:
    """The run of a case that has the varied quantity at that value."""
    track = run(case, engine)
    return read_trial(value, track.state, track.flat.case["step"][0])


def read_trial(value: float, state: Records, step: float) -> Trial:
    """What a limit needs of a finished run."""
    judged = verdict(state, step)
    leans = bool(state["on_stop"][0] > 0.0)
    return Trial(value, judged, wheel_lifted(state, step), stop_reached(state), leans)
