"""How to get the same sheet again."""

import platform
import shlex
from importlib.metadata import PackageNotFoundError, version

from sidehill.physics import PHYSICS_VERSION
from sidehill.sheet.findings import Findings
from sidehill.sheet.wish import Wish
from sidehill.study.study import Study

_PACKAGES = ("sidehill", "numpy", "scipy", "numba")


def command(study: Study, wish: Wish, page: str) -> str:
    """The command line."""
    words = ["sidehill", "sheet", study.file, "-o", page]
    if wish.want is not None:
        words += ["--want", f"{wish.want:.6g} rad"]
    words += ["--quick"] if wish.quick else []
    words += [] if wish.film == "embed" else ["--film", wish.film]
    words += [] if wish.replay == "embed" else ["--replay", wish.replay]
    words += [] if wish.tyre is None else ["--tyre", wish.tyre]
    words += ["--units", "us"] if wish.us else []
    words += [] if wish.engine == "compiled" else ["--engine", wish.engine]
    return shlex.join(words)


def repeat(found: Findings, page: str) -> list[tuple[str, str]]:
    """Names and values."""
    study = found.study
    own = ", ".join(f"{name} {_version(name)}" for name in _PACKAGES)
    return [
        ("command", command(study, found.wish, page)),
        ("files", f"study {study.file}, machine {study.machine.file}, "
         f"scenario {study.scenario.file}"),
        ("hash of all cases", found.key),
        ("hash of the physics", PHYSICS_VERSION),
        ("engine", found.wish.engine),
        ("versions", f"{own}, Python {platform.python_version()}"),
    ]  # fmt: skip


def _version(package: str) -> str:
    try:
        return version(package)
    except PackageNotFoundError:
        return "not installed"
