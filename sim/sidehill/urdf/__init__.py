"""Parts to URDF text, without an engine."""

from sidehill.urdf.generate import generate

__all__ = ["generate"]
