"""Every picture piece of a fitted machine, by the link that carries it."""

from collections.abc import Sequence
from dataclasses import replace

from sidehill.machine.fitted import Fitted
from sidehill.machine.linkage import Link
from sidehill.urdf import arms as loader
from sidehill.urdf import axle, ballast, bucket
from sidehill.urdf.body import body
from sidehill.urdf.operator import operator
from sidehill.urdf.piece import SIDES, Piece
from sidehill.urdf.rollbar import rollbar
from sidehill.urdf.sizes import WheelLayout, wheel_layout
from sidehill.urdf.station import station
from sidehill.urdf.wheel import liquid, wheel


def visuals(fitted: Fitted, linkage: Sequence[Link]) -> dict[str, list[Piece]]:
    """Pieces by link name; sizes are the machine's own, the rest is for the eye."""
    links = {link.name: link for link in linkage}
    kingpin = float(links["knuckle_left"].origin[1])
    front, rear = wheel_layout(fitted, "front"), wheel_layout(fitted, "rear")
    drawn = {"chassis": chassis(fitted, rear), "front_axle": axle.front_axle(fitted, kingpin)}
    for name, side in SIDES.items():
        drawn[f"wheel_front_{name}"] = wheel(front, side)
        drawn[f"wheel_rear_{name}"] = wheel(rear, side)
        offset = (0.0, side * (front.centre - kingpin), 0.0)
        drawn[f"knuckle_{name}"] = axle.knuckle(front, side, kingpin) + moved(liquid(front), offset)
    if "bucket" in links:
        drawn["loader_arm"] = loader.arms(fitted, rams=links["loader_arm"].joint == "fixed")
        drawn["bucket"] = bucket.bucket(fitted) + bucket.load(fitted)
    return drawn


def chassis(fitted: Fitted, rear: WheelLayout) -> list[Piece]:
    """The chassis, all that is bolted to it, and the liquid of the rear tyres."""
    pieces = [
        *body(fitted),
        *station(fitted),
        *operator(fitted),
        *rollbar(fitted),
        *loader.frame(fitted),
        *ballast.rear_box(fitted),
        *ballast.front_weights(fitted),
        *ballast.attachment(fitted),
    ]
    for name, side in SIDES.items():
        arcs = moved(liquid(rear), (0.0, side * rear.centre, rear.radius))
        pieces += [replace(piece, name=f"rear {name} {piece.name}") for piece in arcs]
    return pieces


def moved(pieces: list[Piece], offset: tuple[float, float, float]) -> list[Piece]:
    """The same pieces, `offset` [m] away."""
    return [replace(piece, place=piece.place + offset) for piece in pieces]
