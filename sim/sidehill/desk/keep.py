"""The desk's folder: held by one desk at a time, the form kept in it as it is typed."""

import json
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

from sidehill.desk.latest import Latest
from sidehill.desk.state import State, first_state, restored
from sidehill.files.errors import InputError, SidehillError
from sidehill.files.whole import MARK, ready_folder, write_file
from sidehill.sweep.lock import locked

FORM, ASIDE = "desk.json", "desk-unread.json"
_MOST_BYTES = 200_000


@contextmanager
def held(folder: Path) -> Iterator[Path]:
    """The folder, made if need be, for this desk alone; what a killed one left half written goes.

    Raises:
        InputError: it cannot be written to, or another desk has it.
    """
    with ExitStack() as stack:
        try:
            stack.enter_context(locked(ready_folder(folder)))
        except InputError as error:
            if "another" not in str(error):
                raise
            raise InputError(
                f"{folder}: another desk is open on this folder; use that one, or give another "
                "--folder"
            ) from None
        for part in folder.glob(f".*{MARK}*"):
            part.unlink(missing_ok=True)
        yield folder


def read_form(folder: Path) -> tuple[State, str]:
    """The form as it was left, and what to say of it; a file that is none is put aside."""
    path = folder / FORM
    if not path.exists():
        return first_state(), ""
    try:
        if path.stat().st_size > _MOST_BYTES:
            raise InputError(f"over {_MOST_BYTES} bytes")
        return restored(json.loads(path.read_text(encoding="utf-8"))), ""
    except (ValueError, OSError, RecursionError, SidehillError) as error:
        path.replace(folder / ASIDE)
        return first_state(), (
            f"What {FORM} held could not be read ({error}); it was put aside as {ASIDE}, and the "
            "desk begins anew."
        )


class Keeper:
    """Writes the newest form, in a thread of its own: typing waits for no disk."""

    def __init__(self, folder: Path, trouble: Callable[[str], None]) -> None:
        self._path, self._trouble = folder / FORM, trouble
        self._was_well = True
        self._newest: Latest[str] = Latest("keeper", self._write)

    def keep(self, state: State) -> None:
        """Have it written; an older one that waits is left out."""
        self._newest.give(json.dumps(state, indent=1))

    def end(self) -> None:
        """Write what waits, and stop."""
        self._newest.end()

    def _write(self, text: str) -> None:
        try:
            write_file(self._path, text.encode("utf-8"))
        except SidehillError as error:
            self._was_well = False
            self._trouble(
                f"What you typed is not saved: {error}. It stays on this page; make room, then "
                "change anything."
            )
            return
        if not self._was_well:
            self._trouble("")
        self._was_well = True
