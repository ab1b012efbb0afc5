"""Recorded runs as one page that can be turned, scrubbed and slowed down."""

from sidehill.replay.make import replay, write_replay

__all__ = ["replay", "write_replay"]
