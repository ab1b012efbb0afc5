"""Films and stills of recorded runs: a pure function of URDF, record, ground and camera."""

from sidehill.film.movie import film, still, stills

__all__ = ["film", "still", "stills"]
