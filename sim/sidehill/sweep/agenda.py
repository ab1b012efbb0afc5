"""What a sweep has before it: all its cases in order, in chunks that no worker count changes."""

import hashlib
import json
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from functools import cached_property
from typing import Any

from sidehill.caution import CAUTION
from sidehill.study.draw import Design, design, size
from sidehill.study.sample import Sample
from sidehill.study.study import Study
from sidehill.sweep import columns
from sidehill.sweep.columns import Column
from sidehill.sweep.task import Asked, Place, Task
from sidehill.sweep.version import ROW_SOURCES, ROW_VERSION

CHUNKS = 200  # of a sweep, about; what is lost when a worker dies is at most one of them
FEWEST, MOST = 4, 2000  # cases in a chunk of runs; of a chunk of strips, which are longer, by:
OF_STRIPS = 10
MOST_CHUNKS = 2000  # of a sweep of millions, whose chunks are larger for it


@dataclass(frozen=True)
class Agenda:
    """Every case of a study: all options of draw 0, all options of draw 1, and so on."""

    study: Study
    asked: Asked

    @property
    def sample(self) -> Sample:
        """How the study draws."""
        return self.study.sample or Sample()

    @property
    def count(self) -> int:
        """How many cases."""
        return size(self.study.axes, self.sample) * len(self.study.options)

    @property
    def per_chunk(self) -> int:
        """Cases in a chunk."""
        fewest, most = (1, MOST // OF_STRIPS) if self.study.find else (FEWEST, MOST)
        return max(fewest, min(most, self.count // CHUNKS), -(-self.count // MOST_CHUNKS))

    @property
    def chunks(self) -> int:
        """How many chunks."""
        return -(-self.count // self.per_chunk)

    def rows_of(self, chunk: int) -> int:
        """Cases of one chunk; the last may have fewer."""
        return min(self.per_chunk, self.count - chunk * self.per_chunk)

    @cached_property
    def design(self) -> Design:
        """The draws."""
        return design(self.study.axes, self.sample)

    def place(self, number: int) -> Place:
        """The case of that number, from 0."""
        draw, option = divmod(number, len(self.study.options))
        replicate = draw // self.sample.n if self.sample.replicates > 1 else 0
        return Place(option, draw, replicate, self.design.draw(draw))

    def task(self, chunk: int) -> Task:
        """The cases of a chunk."""
        first = chunk * self.per_chunk
        numbers = range(first, first + self.rows_of(chunk))
        return Task(self.study, self.asked, tuple(self.place(number) for number in numbers))

    def tasks(self, chunks: list[int]) -> Iterator[tuple[int, Task]]:
        """Those chunks with their tasks, each made when it is asked for."""
        return ((chunk, self.task(chunk)) for chunk in chunks)

    @property
    def columns(self) -> tuple[Column, ...]:
        """The columns of its table."""
        find = self.study.find
        limits = (*columns.STATICS, *columns.of_limits(find.until, find.varied)) if find else ()
        return (
            *columns.IDENTITY,
            *columns.of_fields(self.study.fields),
            *columns.OUTCOME,
            *limits,
            columns.WARNINGS,
            columns.PROBLEM,
        )

    @cached_property
    def meta(self) -> dict[str, Any]:
        """All that decides the table, plain values: with a row's own columns, its whole case."""
        study = self.study
        return {
            "machine": study.machine.model_dump(mode="json"),
            "machines": {n: m.model_dump(mode="json") for n, m in study.machines.items()},
            "scenario": study.scenario.model_dump(mode="json"),
            "options": {o.name: o.outfit.model_dump(mode="json") for o in study.options},
            "vary": {name: vary.model_dump(mode="json") for name, vary in study.vary.items()},
            "fields": [asdict(field) | {"column": field.column} for field in study.fields],
            "sample": self.sample.model_dump(mode="json"),
            "find": study.find.model_dump(mode="json") if study.find else None,
            "asked": asdict(self.asked),
            "count": self.count,
            "physics": ROW_VERSION,
            "sources": ROW_SOURCES,
            "title": study.title,
            "file": study.file,
            "caution": CAUTION,
        }

    @property
    def fingerprint(self) -> str:
        """Hash of all that decides the table, but for engine and physics."""
        return fingerprint(self.meta)


def fingerprint(meta: dict[str, Any]) -> str:
    """Hash of what decides a table, but for engine and physics: 16 hex digits."""
    apart = ("asked", "physics", "sources", "title", "file", "caution")
    content = {key: value for key, value in meta.items() if key not in apart}
    text = json.dumps(content, sort_keys=True, allow_nan=False)
    return hashlib.sha256(text.encode()).hexdigest()[:16]
