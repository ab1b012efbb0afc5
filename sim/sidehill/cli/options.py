"""Arguments and options that commands share."""

from enum import StrEnum
from typing import Annotated

import typer

MachineName = Annotated[
    str,
    typer.Argument(
        metavar="MACHINE", help="A shipped machine, or the path of your own .toml file."
    ),
]
ScenarioName = Annotated[
    str,
    typer.Argument(
        metavar="SCENARIO", help="A shipped scenario, or the path of your own .toml file."
    ),
]
AsJson = Annotated[bool, typer.Option("--json", help="Only JSON on standard output, SI units.")]
EngineName = Annotated[
    str,
    typer.Option(
        "--engine",
        help="auto, pybullet, mujoco or compiled; auto is pybullet where it is installed.",
    ),
]
SearchEngine = Annotated[
    str,
    typer.Option(
        "--engine",
        help="auto, compiled, pybullet or mujoco; auto is compiled, and what is near a limit is "
        "run again in mujoco.",
    ),
]
ManyEngine = Annotated[
    str,
    typer.Option("--engine", help="auto, compiled, pybullet or mujoco; auto is compiled."),
]
Changes = Annotated[
    list[str] | None,
    typer.Option(
        "--set",
        metavar="FIELD=VALUE",
        help='Change a field of the scenario, as ground.slope="18 deg". May be repeated.',
    ),
]


Runs = Annotated[
    list[str],
    typer.Argument(
        metavar="STUDY | RECORD...",
        help="A study, or one to four records (or folders of drive).",
    ),
]
Titles = Annotated[list[str] | None, typer.Option("--title", help="Of each record; else its name.")]
Chosen = Annotated[
    list[str] | None,
    typer.Option("--option", help="Of a study, one to four; else all of them."),
]


class Tyre(StrEnum):
    """How a tyre meets what is shorter than it."""

    POINT = "point"
    ENVELOPING = "enveloping"


TyreLaw = Annotated[
    Tyre | None,
    typer.Option(
        "--tyre",
        help="How a tyre meets what is shorter than it: point, at the deepest place of its rim; "
        "enveloping, it swallows a part; real ones lie between. Else as the scenario says: "
        "point, mostly the harsher, if it says nothing.",
    ),
]


def with_tyre(changes: list[str] | None, tyre: Tyre | None) -> list[str]:
    """The changes of a scenario, with the law of its tyres among them if one was asked for."""
    return [*(changes or ()), *([f"run.tyre={tyre.value}"] if tyre else ())]


class System(StrEnum):
    """Which units come first in what people read."""

    METRIC = "metric"
    US = "us"


Units = Annotated[System, typer.Option("--units", help="Which units come first.")]
