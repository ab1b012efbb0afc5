"""What a limit says in words; shared by tables, reports and charts."""

from sidehill.strip.trial import COUNTED

EVENTS = {
    "lift": "lifts a wheel",
    "stop": "comes onto its axle stop",
    "overturn": "overturns",
}
# verdicts of a bad run that leave the event itself as the only reason
_ONLY_BY_EVENT = {
    "lift": ("wheel_lifted",),
    "stop": (*COUNTED["stop"], "on_stop"),
    "overturn": ("overturned",),
}


def reason(until: str, verdict: str) -> str:
    """Why the run at a limit is bad: the event if nothing else can be meant, else its verdict."""
    return EVENTS[until] if verdict in _ONLY_BY_EVENT[until] else verdict
