"""Warnings of a study's options, and of all that a sweep looked at."""

from collections.abc import Iterable, Mapping
from contextlib import suppress
from typing import Any

from sidehill.advice.told import kind, said_once, worst
from sidehill.advice.warnings import case_warnings
from sidehill.files.errors import InputError
from sidehill.study.study import Study
from sidehill.sweep.results import Results

MOST = 64  # fittings that are looked at one by one; of more, those at the ends of each field


def study_warnings(
    study: Study, draws: Iterable[Mapping[str, Any]] = ()
) -> dict[str, tuple[str, ...]]:
    """Those of a study's options, by name.

    Args:
        draws: values of the varied fields by column, to be looked at too; what no machine can
            be fitted with gives none.
    """
    kept, told = list(draws), {}
    for option in study.options:
        cases = study.cases(option)
        for values in kept:
            with suppress(InputError):
                cases.append(study.case_at(option, values))
        told[option.name] = tuple(dict.fromkeys(w for c in cases for w in case_warnings(c)))
    return told


def results_warnings(results: Results) -> list[str]:
    """Those of all that a sweep looked at, and what else its table tells."""
    study, columns = results.study, [field.column for field in results.fields]
    told = said_once(study_warnings(study, _draws(results, columns)))
    known = {kind(warning) for warning in told}
    texts = results.table(["warnings"])["warnings"].dropna().unique()
    parts = dict.fromkeys(part for text in texts for part in text.split(" | "))
    rest: dict[str, list[str]] = {}
    for part in parts:
        rest.setdefault(kind(part), []).append(part)
    return told + [worst(of) for name, of in rest.items() if name not in known]


def _draws(results: Results, columns: list[str]) -> list[dict[str, Any]]:
    """Every draw of the varied fields once; of very many, those at the ends of each field."""
    if not columns:
        return []
    table = results.table(columns).drop_duplicates().reset_index(drop=True)
    if len(table) * len(results.study.options) > MOST:
        ends = [table[name].dropna().sort_values().index[[0, -1]] for name in columns]
        table = table.loc[sorted({row for two in ends for row in two})]
    return [{str(name): value for name, value in row.items()} for row in table.to_dict("records")]
