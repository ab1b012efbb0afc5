"""Pictures of what is drawn at random: how likely, at which value, and due to what."""

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

import pandas as pd

from sidehill.files.errors import InputError
from sidehill.map.plan import OPTION, Chances, Fragility, Shares
from sidehill.map.subject import Drawn, Subject, parts
from sidehill.picture import chances, shares
from sidehill.picture.fragility import fragility_picture
from sidehill.picture.style import Kind
from sidehill.run.facts import NOT_ACROSS, NOT_STARTED
from sidehill.study.sample import Sample
from sidehill.study.scheme import shapley_orders
from sidehill.sweep.fragility import fragility, shares_of_facts
from sidehill.sweep.measure import independent, is_outcome, measure, outcomes, started
from sidehill.sweep.probability import TOLD, probability
from sidehill.sweep.quantiles import limit_quantiles
from sidehill.sweep.sensitivity import sensitivity
from sidehill.sweep.shapley import shapley


def drawn_of(subject: Subject) -> pd.DataFrame:
    """The rows that are drawn independently: of a design for indices only A and B, from which the
    others are mixed."""
    sample, fields = subject.results.meta["sample"], len(subject.results.fields)
    return independent(subject.table, sample, fields)


def draw_chances(subject: Subject, picture: Chances, kind: Kind) -> Drawn:
    """How likely each event is."""
    rows = {
        name: [
            probability(outcomes(part, event), event, part["replicate"].tolist()) for event in TOLD
        ]
        for name, part in parts(drawn_of(subject), (OPTION, *picture.at)).items()
    }
    every = [(name, found) for name, row in rows.items() for found in row]
    lines = tuple(f"{name}, {found.event}: {chances.in_words(found)}" for name, found in every)
    plain = {name: [asdict(found) for found in row] for name, row in rows.items()}
    table = pd.DataFrame(
        {"of": name} | asdict(found) | {"least": found.least, "most": found.most}
        for name, found in every
    )
    content = chances.chances_picture(rows, subject.title, kind)
    return Drawn(picture.name, content, {"probabilities": plain}, lines, {"": table})


def draw_fragility(subject: Subject, picture: Fragility, kind: Kind) -> Drawn:
    """The share of draws at every value in which each event has come."""
    find = subject.results.find
    assert find is not None  # else it would not be in the plan
    events = (*find.until, NOT_STARTED)
    panes = parts(drawn_of(subject), (OPTION, *picture.at))
    tables = {name: fragility(part, find, events) for name, part in panes.items()}
    facts = {name: shares_of_facts(part, find) for name, part in panes.items()}
    limits = {name: limit_quantiles(part, find) for name, part in panes.items()}
    content = fragility_picture(tables, events, subject.title, kind)
    data = {"": _stacked(tables), "facts": _stacked(facts), "limits": _stacked(limits)}
    unit = find.varied.suffix
    lines = tuple(
        f"{row['of']}, {row['event']}: {row['share']:.0%} of the draws are good up to at most "
        + (row["note"] or find.varied.show(find.varied.to_si(row[f"quantile_{unit}"]), "down"))
        for row in data["limits"].to_dict("records")
        if row["share"] in (0.05, 0.5)
    )
    return Drawn(picture.name, content, asdict(picture), lines, data)


def _stacked(tables: dict[str, pd.DataFrame]) -> pd.DataFrame:
    """Tables below each other, the name of each in the first column."""
    every = [table.assign(of=name) for name, table in tables.items()]
    table = pd.concat(every, ignore_index=True)
    return table[["of", *(name for name in table if name != "of")]]


def draw_shares(subject: Subject, picture: Shares, kind: Kind) -> Drawn:
    """What each result is due to: Sobol indices, or Shapley effects, as the design allows."""
    fields = [field.column for field in subject.results.fields]
    sample = Sample(**subject.results.meta["sample"])
    panes: dict[tuple[str, str], shares.Found] = {}
    for name, part in parts(subject.table, (OPTION,)).items():
        in_order = part.sort_values("draw")
        for of in picture.of:
            values = measure(in_order, of)
            # what a run that could not start leaves is of no drive
            is_known = of in (NOT_ACROSS, NOT_STARTED) or not is_outcome(of)
            stood = None if is_known else started(in_order)
            try:
                if sample.method == "shapley":
                    orders = shapley_orders(len(fields), sample)
                    panes[name, of] = shapley(values, fields, orders, stood)
                else:
                    panes[name, of] = sensitivity(values, fields, stood)
            except InputError as error:
                panes[name, of] = str(error)
    plain: list[dict[str, Any]] = [
        {"option": name, "of": of}
        | ({"problem": found} if isinstance(found, str) else asdict(found))
        for (name, of), found in panes.items()
    ]
    lines = tuple(
        f"{name}, {of}: {found if isinstance(found, str) else shares.in_words(found)}"
        for (name, of), found in panes.items()
    )
    content = shares.shares_picture(panes, subject.title, kind)
    return Drawn(
        picture.name, content, {"sensitivity": plain}, lines, {"": pd.DataFrame(_rows(plain))}
    )


def _rows(plain: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """A row a field of every result; one without indices says why."""
    found = []
    for one in plain:
        counts = {name: value for name, value in one.items() if not isinstance(value, tuple | list)}
        several: Sequence[dict[str, Any]] = one.get("indices") or one.get("effects") or ({},)
        found += [counts | each for each in several]
    return found
