"""What of a film is worth a picture of its own: its start, every event, its end and its cards."""

from sidehill.film.clock import Moment
from sidehill.film.pane import Pane
from sidehill.film.show import Show
from sidehill.machine.linkage import WHEELS


def sights(show: Show) -> list[tuple[str, Moment]]:
    """Names and moments in the order in which the film shows them; panes count from 1."""
    end = max(pane.end for pane in show.panes)
    found = [("start", Moment(0.0, 0.0, "differ") if any(show.marks) else Moment(0.0, 1.0, "run"))]
    for number, pane in enumerate(show.panes, start=1):
        found += [(f"pane-{number}-{name}", moment) for name, moment in events_of(pane)]
    found.sort(key=lambda sight: sight[1].time)
    found.append(("end", Moment(end, 0.0, "hold")))
    return [*found, ("outcome", Moment(end, 0.0, "card")), ("caution", Moment(end, 0.0, "caution"))]


def events_of(pane: Pane) -> list[tuple[str, Moment]]:
    """What happens to one machine."""
    found = []
    if pane.daylight is not None:
        wheel = WHEELS[pane.daylight.wheel].replace("_", "-")
        found.append((f"daylight-{wheel}", Moment(pane.daylight.time, 0.0, "freeze")))
    if pane.on_stop:
        found.append(("axle-on-its-stop", Moment(pane.on_stop[0][0], 1.0, "run")))
    if pane.over is not None:
        found.append(("going-over", Moment(pane.over[0], 1.0, "run")))
        found.append(("over", Moment(pane.over[1], 1.0, "run")))
    return found
