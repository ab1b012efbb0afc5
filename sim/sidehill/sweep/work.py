"""The chunks of a sweep that are missing: what is known is taken, what is not is run."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from itertools import chain
from time import monotonic

from sidehill.files.errors import SidehillError
from sidehill.sweep.dispatch import OpenPool, Spread
from sidehill.sweep.folder import Folder
from sidehill.sweep.known import Known
from sidehill.sweep.progress import Progress
from sidehill.sweep.row import Row
from sidehill.sweep.task import Task
from sidehill.sweep.version import ROW_VERSION
from sidehill.sweep.warm import warm


@dataclass
class Work:
    """What is left to do in a folder."""

    place: Folder
    known: Known
    watch: Callable[[Progress], None]
    taken: dict[int, dict[int, Row]] = field(default_factory=dict)  # chunk -> known rows of it

    def go_on(self, hands: tuple[OpenPool, int]) -> None:
        """Run the chunks that are missing, but for what is known, and keep each when finished.

        Args:
            hands: how to open an executor, and how many workers it has.
        """
        place, agenda = self.place, self.place.agenda
        self.progress = progress = Progress(agenda.count)
        done = place.done(lambda rows: progress.count(rows.to_pylist(), kept=True))
        self.watch(progress)
        tasks = self._tasks(sorted(set(range(agenda.chunks)).difference(done)))
        first = next(tasks, None)
        if first is not None:
            warm(agenda.study, agenda.asked)
            progress.began = monotonic()
            for chunk, rows in Spread(*hands).rows(chain([first], tasks)):
                _same_physics(rows)
                progress.count(rows)
                place.keep(chunk, _in_order(rows, self.taken.pop(chunk)))
                self.watch(progress)
        if progress.known:
            of = f"{progress.known:,} of {agenda.count:,} cases"
            place.notes.append(f"{of} were known from before and were not run again")

    def _tasks(self, missing: list[int]) -> Iterator[tuple[int, Task]]:
        """What is to be run of each chunk; one that is known as a whole is kept at once."""
        for chunk, task in self.place.agenda.tasks(missing):
            found = self.known.rows(self.place.agenda, task.places)
            self.progress.count(found.values(), kept=True)
            self.progress.known += len(found)
            left = tuple(item for k, item in enumerate(task.places) if k not in found)
            if left:
                self.taken[chunk] = found
                yield chunk, replace(task, places=left)
            else:
                self.place.keep(chunk, _in_order([], found))
                self.watch(self.progress)


def _in_order(rows: list[Row], known: dict[int, Row]) -> list[Row]:
    """Rows that were run and those that were known, in the order of the chunk."""
    fresh = iter(rows)
    count = len(rows) + len(known)
    return [known[k] if k in known else next(fresh) for k in range(count)]


def _same_physics(rows: list[Row]) -> None:
    """Workers elsewhere must have what is here."""
    for row in rows:
        if row["physics"] != ROW_VERSION:
            raise SidehillError(
                f"a worker has version {row['physics']} of the physics, this is {ROW_VERSION}: "
                "install the same sidehill and numba on all machines; what was finished is kept"
            )
