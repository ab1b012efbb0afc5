"""From an error to an exit code: 2 for what a person can mend, 1 for a fault of our own."""

import os
import sys
import traceback
from collections.abc import Callable
from functools import wraps
from typing import Any

import typer

from sidehill.files.errors import SidehillError, printable

BAD_INPUT, INTERNAL = 2, 1
DEBUG = "SIDEHILL_DEBUG"


def guarded(command: Callable[..., None]) -> Callable[..., None]:
    """The command with its errors told to people instead of raised."""

    @wraps(command)
    def run(**values: Any) -> None:
        try:
            command(**values)
        except SidehillError as error:
            typer.echo(f"sidehill: {printable(str(error))}", err=True)
            raise typer.Exit(BAD_INPUT) from None
        except (typer.Exit, typer.Abort, BrokenPipeError):
            raise
        except MemoryError:
            typer.echo(
                "sidehill: not enough memory; close other programs, or ask for fewer workers, "
                "fewer options or a smaller size. What was finished is kept.",
                err=True,
            )
            raise typer.Exit(BAD_INPUT) from None
        except Exception as error:
            if stop := _stop_behind(error):
                raise stop from None
            if os.environ.get(DEBUG):
                traceback.print_exc(file=sys.stderr)
            first_line = printable(str(error).partition("\n")[0])
            typer.echo(
                f"sidehill: internal fault: {type(error).__name__}: {first_line}\n"
                f"This is not your doing. Please report it with the command line you gave; "
                f"{DEBUG}=1 shows where it happened.",
                err=True,
            )
            raise typer.Exit(INTERNAL) from None

    return run


def _stop_behind(error: BaseException | None) -> KeyboardInterrupt | SystemExit | None:
    """Ctrl-C or SIGTERM, which a library that was being loaded calls a failed import."""
    while error is not None:
        if isinstance(error, KeyboardInterrupt | SystemExit):
            return error
        error = error.__cause__ or error.__context__
    return None
