"""The page, part by part: what is shown for a question and what has been found so far."""

from collections.abc import Callable, Mapping
from math import degrees
from typing import Any

from sidehill.desk import bank, fields
from sidehill.desk.bank import slope_words
from sidehill.desk.card import Card, free_card, option_card
from sidehill.desk.commands import MOST_SHOWN, film_line, limit_line, replay_line, sheet_line
from sidehill.desk.question import Question
from sidehill.desk.render import as_id, part, units_of
from sidehill.desk.save import machine_name
from sidehill.desk.search import Found
from sidehill.desk.state import FILE, MOST_OPTIONS, OWN, SHIPPED, State
from sidehill.desk.ways import case_of, free_of
from sidehill.files.errors import InputError
from sidehill.files.library import shipped
from sidehill.files.units import show, to_si
from sidehill.machine.build import fit
from sidehill.machine.file import Machine, load_machine
from sidehill.machine.outfit import Outfit
from sidehill.scenario.shapes import SHAPES
from sidehill.sheet.bank import bank_words

_SHAPE_WORDS = {"none": "nothing"} | {
    name: f"a {shape.words}" if "width" in shape.needs else f"a {shape.words}, right across"
    for name, shape in SHAPES.items()
}
Look = Callable[[Any], Found | None]  # of a case


def tractor_form(state: State, question: Question) -> str:
    """The first place: which tractor, and its fields."""
    kind = state["tractor"]["kind"]
    machines = [(name, load_machine(name)) for name in shipped("machine")]
    return part(
        "tractor",
        state=state,
        kind=kind,
        kinds=(SHIPPED, OWN, FILE),
        machines=[(name, _class_words(m, question.us)) for name, m in machines],
        hints=hints(state, question),
        units={p: units_of(fields.dimension(p), question.us) for p in fields.OF_A_TRACTOR},
        told=tractor_told(state, question),
    )


def _class_words(machine: Machine, us: bool) -> str:
    """A shipped machine in a list: what it is, and how heavy."""
    return f"{machine.name}, {show(machine.weighed.mass, 'mass', us=us)}: {machine.summary}"


def hints(state: State, question: Question) -> dict[str, str]:
    """What stands in each field of the tractor while nothing is typed there."""
    data, found = question.tractor.data, {}
    is_own = state["tractor"]["kind"] == OWN
    needed = {item.path for item in fields.WANTED} if is_own else set()  # never seem filled in
    for path in fields.OF_A_TRACTOR - needed:
        table, _, name = path.rpartition(".")
        inside = data.get(table, {}) if table else data
        value = inside.get(name) if isinstance(inside, Mapping) else None
        if path in (fields.LOADER, fields.ROPS):
            found[path] = "no" if value is None else "yes"
        elif value is not None and not isinstance(value, list):
            found[path] = fields.in_units(fields.as_text(value), path, question.us)
    return found


def tractor_told(state: State, question: Question) -> str:
    """What is known of it, what is wanted still, what was copied."""
    tractor = question.tractor
    placed = {item.path for group in fields.GROUPS.values() for item in group}
    other = [
        f"{path}: {words}" if path else words
        for path, words in tractor.problems.items()
        if path not in placed or state["tractor"]["kind"] == SHIPPED
    ]
    return part(
        "tractor_told",
        facts=[] if tractor.machine is None else machine_facts(tractor.machine, question.us),
        missing=[item.words for item in tractor.missing],
        other=other,
        copied=len(tractor.origins.keys() - {item.path for item in fields.WANTED}),
        is_own=state["tractor"]["kind"] == OWN,
        base=state["tractor"]["base"],
        file="" if state["tractor"]["kind"] == SHIPPED else machine_name(question, state),
    )


def machine_facts(machine: Machine, us: bool) -> list[tuple[str, str]]:
    """A few figures by which a person knows it again."""
    weighed, fitted = machine.weighed, fit(machine, Outfit())
    return [
        ("machine", f"{machine.name}: {machine.summary}"),
        ("numbers from", machine.source),
        ("axles, bare", f"{show(weighed.front_axle, 'mass', us=us)} front, "
         f"{show(weighed.rear_axle, 'mass', us=us)} rear"),
        ("centre of gravity, bare", f"{show(weighed.cg_height, 'length', us=us)} up, "
         f"{weighed.cg_height_from}"),
        ("with operator" + (" and empty loader" if machine.loader else ""),
         show(fitted.mass, "mass", us=us, rounding="up")),
        ("tracks", f"{show(machine.front_tyre.track, 'length', us=us)} front, "
         f"{show(machine.rear_tyre.track, 'length', us=us)} rear"),
    ]  # fmt: skip


def bank_form(state: State, question: Question) -> str:
    """The second place."""
    data = question.bank.data
    given = {
        path: fields.as_text(data.get(path.partition(".")[0], {}).get(path.partition(".")[2], ""))
        for path in fields.OF_A_BANK
        if not path.startswith("feature.")
    }
    feature = (data.get("feature") or [{}])[0]
    given |= {f"feature.{name}": fields.as_text(value) for name, value in feature.items()}
    given = {path: fields.in_units(text, path, question.us) for path, text in given.items()}
    return part(
        "bank",
        state=state,
        banks=bank.choices(),
        shapes=tuple(SHAPES),
        shape=feature.get("shape", bank.NOTHING),
        own_shape=bank.own_shape(state),
        shape_words=_SHAPE_WORDS,
        lifts=bank.lifts(state),
        units={p: units_of(fields.dimension(p), question.us) for p in fields.OF_A_BANK},
        hints=given,
        told=bank_told(question),
    )


def bank_told(question: Question) -> str:
    """The bank in words, its slope as a triangle, and the drawing."""
    scenario, study = question.bank.scenario, question.study
    slope = None if scenario is None else scenario.ground.slope
    first = None if study is None else study.case(study.options[0])
    return part(
        "bank_told",
        slope=slope,
        slope_words="" if slope is None else slope_words(slope),
        words="" if study is None else bank_words(study, question.us),
        key="" if first is None else first.key(),
        other=[w for path, w in question.bank.problems.items() if path not in fields.OF_A_BANK],
    )


def option_form(state: State, question: Question, place: int, told: str) -> str:
    """The controls of one option, by its place from 0, around what is known of it."""
    us = question.us
    return part(
        "option",
        state=state,
        number=place + 1,
        path=f"options/{place + 1}",
        dials=fields.DIALS,
        choices={
            name: fields.choices_of(name, question.tractor.machine) for name in fields.CHOICES
        },
        us=int(us),
        ends=_ends(question.tractor.machine),
        stands=_stands(question.tractor.machine, question.us),
        count=len(state["options"]),
        most=MOST_OPTIONS,
        told=told,
    )


def _ends(machine: Machine | None) -> dict[str, float]:
    """Where sliders end: a stop can only be tightened."""
    return {} if machine is None else {"front_axle_swing": degrees(machine.front_axle.swing)}


def _stands(machine: Machine | None, us: bool) -> dict[str, dict[str, float]]:
    """Where sliders stand for words, and for nothing typed, in their own unit."""
    if machine is None:
        return {}
    unit = to_si("1 in" if us else "1 mm", "length")
    found = {
        "front_axle_swing": {"": degrees(machine.front_axle.swing)},
        "rope": {"": round(Outfit().rope / unit, 1)},
    }
    if machine.loader is not None:
        loader = machine.loader
        carry, full = (round(h / unit, 1) for h in (loader.carry_height, loader.full_height))
        found["bucket_height"] = {"": carry, "carry": carry, "full": full}
    return found


def options_form(state: State, question: Question, look: Look) -> str:
    """The third place: every option, what is known of it, and what costs nothing."""
    count = len(state["options"])
    return part(
        "options",
        state=state,
        forms=[
            option_form(state, question, place, option_told(question, place, look))
            for place in range(count)
        ],
        free=free_told(question, look),
    )


def option_told(question: Question, place: int, look: Look) -> str:
    """What is known of one option."""
    study, way = question.study, question.ways[place]
    problems = {path: words for path, words in way.problems.items() if not path}
    card: Card | None = None
    if study is not None and way.outfit is not None:
        try:
            card = option_card(question, study, place, look(case_of(study, way.outfit)))
        except InputError as error:
            problems[""] = str(error)
    return part(
        "card",
        card=card,
        beside=[(n, w.name) for n, w in enumerate(question.ways, start=1) if n != place + 1],
        problems=list(problems.values()) or _waits(question, place),
    )


def _waits(question: Question, place: int) -> list[str]:
    """Why nothing can be said of an option yet."""
    if question.ways[place].problems:
        return ["See the fields that are marked."]
    if question.tractor.missing:
        return ["Waits for the tractor: see what is still needed in its place."]
    if question.study is None:
        return ["Waits for what is marked in the places before, or in the first option."]
    return []


def free_told(question: Question, look: Look) -> str:
    """Half the speed, bucket low, empty: always there."""
    free = free_of(question)
    cards = [
        free_card(number, item.name, item.case, look(item.case))
        for number, item in enumerate(free, start=1)
        if item.case is not None
    ]
    return part("free", cards=cards, kept=[item.already for item in free if item.case is None])


def away_told(state: State, question: Question, files: list[str]) -> str:
    """The fourth place: what can be had, and the command lines that repeat it."""
    names = [way.name for way in question.ways if way.outfit is not None][:MOST_SHOWN]
    lines: list[str] = []
    if question.study is not None:
        lines = [
            *(limit_line(question, state, k) for k, w in enumerate(question.ways) if w.outfit),
            sheet_line(False, question.us),
            film_line(names),
            replay_line(names),
        ]
    return part("away_told", lines=lines, files=files, names=names, most=MOST_SHOWN)


def problems_of(state: State, question: Question) -> dict[str, str]:
    """What is wrong, by the id of its field."""
    kind = state["tractor"]["kind"]
    found = {f"tractor/{kind}/{path}": words for path, words in question.tractor.problems.items()}
    found |= {f"bank/typed/{path}": words for path, words in question.bank.problems.items()}
    for number, way in enumerate(question.ways, start=1):
        for path, words in way.problems.items():
            where = "name" if path == "name" else f"typed/{path}"
            found[f"options/{number}/{where}"] = words
    return {as_id(path): words for path, words in found.items()}
