"""The defaults that were used and the estimates that were made, for every report."""

from sidehill.files.units import show
from sidehill.machine.file import Machine, Tyre
from sidehill.machine.liquid import volume
from sidehill.machine.outfit import Outfit
from sidehill.machine.pressure import stiffness_at


def notes(machine: Machine, outfit: Outfit) -> tuple[str, ...]:
    """One line each."""
    return tuple(
        _inertias(machine)
        + _tyres(machine, outfit)
        + _spacers(outfit)
        + _liquids(machine, outfit)
        + _loader(machine)
        + _hung(outfit)
        + _people(outfit)
        + _tracks(machine, outfit)
    )


def _inertias(machine: Machine) -> list[str]:
    weighed = machine.weighed
    estimated = "pitch and yaw" if weighed.roll_inertia is not None else "roll, pitch and yaw"
    found = [f"{estimated} inertia estimated from [body] as a uniform box"]
    if weighed.cg_height_from == "estimated":
        found.append("CG height estimated, not weighed: taken as good to 15 %")
    return found


def _tyres(machine: Machine, outfit: Outfit) -> list[str]:
    found = []
    for end, tyre in (("front", machine.front_tyre), ("rear", machine.rear_tyre)):
        found += [
            f"{end}_tyre.{name} not given: {getattr(tyre, name)} used"
            for name in ("lateral_ratio", "damping_ratio")
            if name not in tyre.model_fields_set
        ]
        found += _inflation(end, tyre, getattr(outfit, f"{end}_pressure"))
        if tyre.rim_diameter is None:
            found.append(f"{end}_tyre.rim_diameter not given: estimated from the diameter")
    return found


def _inflation(end: str, tyre: Tyre, pressure: float | None) -> list[str]:
    """What a stiffness that was not measured comes from."""
    told = show(stiffness_at(tyre, pressure), "stiffness", rounding="down")
    source = "Lines and Murphy 1991, values from memory, good to about 20 %"
    if tyre.stiffness is None:
        aged = "" if tyre.age is not None else ", taken as new, the softest"
        used = show(pressure or tyre.pressure or 0.0, "pressure")
        return [f"{end} tyres {told} each, usual for their size at {used}{aged} ({source})"]
    if pressure is None or tyre.pressure is None:
        return []
    return [
        f"{end} tyres {told} each at {show(pressure, 'pressure')}, from the file's own "
        f"{show(tyre.stiffness, 'stiffness')} at {show(tyre.pressure, 'pressure')} ({source})"
    ]


def _spacers(outfit: Outfit) -> list[str]:
    found = []
    for end, thickness in (("front", outfit.front_spacer), ("rear", outfit.rear_spacer)):
        if thickness < 0.0:
            found.append(f"{end}_spacer is negative: a reversed rim, without a part of its own")
        elif thickness > 0.0 and outfit.spacer_mass is None:
            mass = show(outfit.mass_of_spacer(thickness), "mass")
            found.append(f"{end} spacers {mass} each: 6 kg a 25 mm, by default")
    return found


def _liquids(machine: Machine, outfit: Outfit) -> list[str]:
    found = []
    for end, tyre, fill in (
        ("front", machine.front_tyre, outfit.front_fill),
        ("rear", machine.rear_tyre, outfit.rear_fill),
    ):
        if fill == 0.0:
            continue
        mass = show(fill * outfit.liquid_density * volume(tyre), "mass")
        found.append(f"{mass} of {_liquid_name(outfit)} in each {end} tyre")
        if tyre.volume is None:
            found.append(f"{end}_tyre.volume not given: estimated from the dimensions")
    return found


def _liquid_name(outfit: Outfit) -> str:
    if isinstance(outfit.liquid, str):
        return outfit.liquid
    return f"liquid of {show(outfit.liquid, 'density')}"


def _loader(machine: Machine) -> list[str]:
    if machine.loader is None:
        return []
    return ["loader mounted; bucket CG taken where the load's is, load_reach ahead of the pin"]


def _hung(outfit: Outfit) -> list[str]:
    if outfit.hung_load == 0.0:
        return []
    return [
        f"{show(outfit.hung_load, 'mass')} on a rope of {show(outfit.rope, 'length')}: standing, "
        "its weight acts at the hook; driven, it swings, meets neither ground nor machine, is not "
        "drawn, and is let go past 60 deg"
    ]


def _people(outfit: Outfit) -> list[str]:
    is_default = outfit.operator == Outfit.model_fields["operator"].default
    return [
        f"operator of {show(outfit.operator, 'mass')} on the seat{', the default' * is_default}"
    ]


def _tracks(machine: Machine, outfit: Outfit) -> list[str]:
    return [
        f"{end} track reset to {show(reset, 'length')} before spacers (standard "
        f"{show(tyre.track, 'length')}), without an extra hub part"
        for end, reset, tyre in (
            ("front", outfit.front_track, machine.front_tyre),
            ("rear", outfit.rear_track, machine.rear_tyre),
        )
        if reset is not None
    ]
