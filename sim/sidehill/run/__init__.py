"""One run: settle, launch, drive (or tilt)."""

from sidehill.run.simulate import run
from sidehill.run.track import Track

__all__ = ["Track", "run"]
