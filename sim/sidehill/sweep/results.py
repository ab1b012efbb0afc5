"""What a sweep leaves: one table, and what it says of itself."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pandas as pd
import pyarrow.parquet as pq

from sidehill.case import Case
from sidehill.files.errors import InputError
from sidehill.files.spec import build
from sidehill.files.toml import Document
from sidehill.machine.file import Machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.file import Scenario
from sidehill.study.field import VariedField
from sidehill.study.plan import Find
from sidehill.study.sample import Sample
from sidehill.study.study import Option, Study
from sidehill.study.vary import Vary
from sidehill.sweep.folder import read_about
from sidehill.sweep.measure import independent
from sidehill.sweep.table import PLAN, TABLE


@dataclass(frozen=True, repr=False)
class Results:
    """A finished sweep; `pandas.read_parquet(results.file)` is its table."""

    folder: Path
    meta: dict[str, Any]  # machine, scenario, options, vary, fields, sample, find, asked, title
    notes: tuple[str, ...] = ()  # what this call found and did about it

    @property
    def file(self) -> Path:
        """The table, one row a case in the order of the design."""
        return self.folder / TABLE

    def table(self, columns: Sequence[str] | None = None) -> pd.DataFrame:
        """The table, read; of a long one rather the columns that are asked of it.

        Counts are whole numbers and truths are truths, also where one is missing.
        """
        return self.to_pandas(columns=columns)

    @property
    def machine_words(self) -> str:
        """The machine, or those that vary, by name."""
        several = [machine["name"] for machine in self.meta["machines"].values()]
        return ", ".join(several) or str(self.meta["machine"]["name"])

    def __repr__(self) -> str:
        return f"Results({self.meta['title']}, {self.meta['count']:,} cases, {self.folder})"

    def to_pandas(
        self,
        option: str | None = None,
        columns: Sequence[str] | None = None,
        categories: Sequence[str] = (),
    ) -> pd.DataFrame:
        """The table, or its rows of one option, or some of its columns, read one after the other.

        Args:
            categories: columns of text that come as categories, which a long table of few words
                is smaller with.
        """
        with pq.ParquetFile(self.file, read_dictionary=list(categories)) as file:

            def read(name: str) -> pd.Series:
                return file.read([name], use_threads=False).to_pandas()[name]

            kept = slice(None) if option is None else (read("option") == option).to_numpy()
            names = self.columns if columns is None else columns
            found = {name: read(name)[kept].reset_index(drop=True) for name in names}
        return pd.DataFrame(found, copy=False)

    @property
    def sample(self) -> Sample:
        """How it was drawn."""
        return build(Sample, self._document("sample"))

    def drawn(self, option: str | None = None) -> pd.DataFrame:
        """The rows that are drawn independently: of a design for indices only the two samples
        that the others are mixed from."""
        return independent(self.to_pandas(option), self.meta["sample"], len(self.fields))

    @property
    def columns(self) -> tuple[str, ...]:
        """Names of the table's columns."""
        return tuple(pq.read_schema(self.file).names)

    @property
    def fields(self) -> tuple[VariedField, ...]:
        """What varies."""
        names = ("name", "root", "path", "dimension", "kind")
        return tuple(VariedField(*(item[name] for name in names)) for item in self.meta["fields"])

    @property
    def find(self) -> Find | None:
        """The strips that were taken."""
        return build(Find, self._document("find"), si=True) if self.meta["find"] else None

    @property
    def study(self) -> Study:
        """The study as it was run."""
        options = self.meta["options"].items()
        return Study(
            title=self.meta["title"],
            machine=build(Machine, self._document("machine"), si=True),
            scenario=build(Scenario, self._document("scenario"), si=True),
            options=tuple(
                Option(name, build(Outfit, Document(name, outfit), si=True))
                for name, outfit in options
            ),
            vary={name: Vary.model_construct(**vary) for name, vary in self.meta["vary"].items()},
            sample=None,
            find=self.find,
            file=self.meta["file"],
            fields=self.fields,
            machines={
                name: build(Machine, Document(name, machine), si=True)
                for name, machine in self.meta["machines"].items()
            },
        )

    def case(self, row: Mapping[str, Any]) -> Case:
        """The whole case of a row of the table.

        Raises:
            InputError: a row that is not of these results.
        """
        study = self.study
        case = study.case_at(study.option(row["option"]), row)
        if row["physics"] == self.meta["physics"] and case.key() != row["case"]:
            raise InputError(f"{self.file}: row of case {row['case']} is not of these results")
        return case

    def _document(self, name: str) -> Document:
        return Document(f"{self.file}: {name}", self.meta[name])


def load_results(folder: str | Path) -> Results:
    """The results of a finished sweep, by their folder.

    Raises:
        InputError: none there, not finished, or unreadable.
    """
    path = Path(folder)
    if (path / TABLE).is_file():
        return Results(path, read_about(path / TABLE))
    if (path / PLAN).is_file():
        about = read_about(path / PLAN)
        raise InputError(
            f"{path}: the sweep is not finished; `sidehill sweep {about['file']} --out {path}` "
            "goes on with it"
        )
    raise InputError(f"{path}: no results of a sweep; give the folder that `sweep` wrote")
