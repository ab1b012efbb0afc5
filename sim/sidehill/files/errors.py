"""The exceptions that Sidehill raises on purpose."""


class SidehillError(Exception):
    """Base of every error that is meant for a person to read."""


class InputError(SidehillError):
    """Something in a file or on the command line cannot be used (exit code 2)."""


class EngineError(SidehillError):
    """A physics engine is missing, or cannot run what it was asked to."""
