"""The exceptions that Sidehill raises on purpose, and text that is fit to be told."""


def printable(text: str) -> str:
    """Text with what a terminal would act on, or turn around, written out; lines stay lines."""
    return "".join(
        c if c == "\n" or c.isprintable() else c.encode("unicode_escape").decode() for c in text
    )


class SidehillError(Exception):
    """Base of every error that is meant for a person to read."""


class InputError(SidehillError):
    """Something in a file or on the command line cannot be used (exit code 2)."""


class EngineError(SidehillError):
    """A physics engine is missing, or cannot run what it was asked to."""
