"""Whether an outfit suits a machine: what is refused, what is allowed with a warning."""

from sidehill.files.errors import InputError
from sidehill.files.units import show, show_angle
from sidehill.machine.file import Attachment, Machine, Tyre
from sidehill.machine.loader import pin_height
from sidehill.machine.outfit import Outfit
from sidehill.machine.pressure import stiffness_at

# The body between the wheels (gear case, fenders' feet) as a share of [body] width,
# for machines whose wheels stand inside the overall width. Chosen.
_WAIST_OF_BODY = 1.0 / 3.0
SOFTEST = 30e3  # [N/m] of a tyre: as soft as a machine file may say


def refuse_misfits(machine: Machine, outfit: Outfit) -> None:
    """Check that the machine's file has what the outfit's options need.

    Raises:
        InputError: names the option, its value, and what to add or change.
    """
    needs = [
        ("rear_ballast", outfit.rear_ballast, machine.ballast.rear_box, "[ballast] rear_box"),
        ("front_weight", outfit.front_weight, machine.ballast.front, "[ballast] front"),
        ("bucket_load", outfit.bucket_load, machine.loader, "a [loader] table"),
        ("hung_load", outfit.hung_load, machine.loader, "a [loader] table"),
    ]
    for option, mass, place, what in needs:
        if mass > 0.0 and place is None:
            raise InputError(f"{option} {show(mass, 'mass')}: {_lacks(machine)} {what}; add it")
    if outfit.bucket_height != "carry" and machine.loader is None:
        raise InputError(
            f"bucket_height {outfit.bucket_height}: {_lacks(machine)} a [loader] table; add it"
        )
    if outfit.rops == "folded" and (machine.rops is None or machine.rops.folded_height is None):
        raise InputError(f'rops "folded": {_lacks(machine)} [rops] folded_height; add it')
    swing = outfit.front_axle_swing
    if swing is not None and swing > machine.front_axle.swing + 1e-9:
        raise InputError(
            f"front_axle_swing {show_angle(swing)}: a stop can only be tightened; allowed: up to "
            f"the machine's own, {show_angle(machine.front_axle.swing, 'down')}"
        )
    for end in ("front", "rear"):
        _refuse_pressure(machine, outfit, end)
    chosen_attachment(machine, outfit)


def _refuse_pressure(machine: Machine, outfit: Outfit, end: str) -> None:
    tyre: Tyre = getattr(machine, f"{end}_tyre")
    pressure: float | None = getattr(outfit, f"{end}_pressure")
    if pressure is None:
        return
    option = f"{end}_pressure {show(pressure, 'pressure')}"
    if tyre.pressure is None:
        raise InputError(
            f"{option}: {_lacks(machine)} {end}_tyre.pressure, at which its stiffness was "
            "measured; add it"
        )
    if stiffness_at(tyre, pressure) < SOFTEST:
        raise InputError(
            f"{option}: leaves less than {show(SOFTEST, 'stiffness')} of the "
            f"{show(stiffness_at(tyre), 'stiffness')} at {show(tyre.pressure, 'pressure')}; "
            "allowed: a higher pressure"
        )


def _lacks(machine: Machine) -> str:
    return f"the machine file {machine.file or machine.name} lacks"


def chosen_attachment(machine: Machine, outfit: Outfit) -> Attachment | None:
    """The attachment of that name.

    Raises:
        InputError: the machine's file has none of that name.
    """
    if outfit.attachment is None:
        return None
    for item in machine.attachment:
        if item.name == outfit.attachment:
            return item
    known = ", ".join(item.name for item in machine.attachment) or "none"
    raise InputError(
        f'attachment "{outfit.attachment}": {_lacks(machine)} an [[attachment]] of that name; '
        f"it has: {known}"
    )


def track(machine: Machine, outfit: Outfit, end: str) -> float:
    """[m] centre to centre at "front" or "rear": standard or reset, plus two spacers.

    Raises:
        InputError: so narrow that a tyre would go through the body or loader frame.
    """
    tyre: Tyre = getattr(machine, f"{end}_tyre")
    reset: float | None = getattr(outfit, f"{end}_track")
    spacer: float = getattr(outfit, f"{end}_spacer")
    between = (tyre.track if reset is None else reset) + 2.0 * spacer
    least = _waist(machine, end)
    if between - tyre.width < least and between < tyre.track:
        option = f"{end}_spacer {show(spacer, 'length')}"
        if reset is not None:
            option = f"{end}_track {show(reset, 'length')} with {option}"
        raise InputError(
            f"{option}: the {end} tyres would go through the body; allowed: a track of at least "
            f"{show(least + tyre.width, 'length', rounding='up')}, which leaves "
            f"{show(least, 'length', rounding='up')} between the tyres"
        )
    return between


def _waist(machine: Machine, end: str) -> float:
    """[m] what stands between the tyres at that end."""
    tyre: Tyre = getattr(machine, f"{end}_tyre")
    body = machine.body.width
    if tyre.track - tyre.width < body:
        body *= _WAIST_OF_BODY
    has_frame = end == "front" and machine.loader is not None
    return max(body, machine.loader.frame_width) if has_frame and machine.loader else body


def warnings(machine: Machine, outfit: Outfit, mass: float) -> tuple[str, ...]:
    """What is allowed, but a person must be told; `mass` [kg] is everything fitted."""
    found = []
    loader, rops = machine.loader, machine.rops
    carried = outfit.bucket_load + outfit.hung_load
    if loader is not None and carried > loader.rated_load:
        where = "in the bucket" if outfit.hung_load == 0.0 else "in the bucket and hung from it"
        found.append(
            f"OVERLOADED: {show(carried, 'mass', rounding='up')} {where}, over "
            f"the loader's rating of {show(loader.rated_load, 'mass', rounding='down')}"
        )
    if outfit.hung_load > 0.0:
        found.append("HAZARD: a hung load swings, and pulls as if it sat as high as its hook")
        if loader is not None and outfit.rope >= pin_height(loader, outfit.bucket_height):
            found.append("the hung load lies on the ground: its rope is too long for its hook")
    if outfit.rops == "folded":
        found.append("HAZARD: roll bar folded; it protects nobody until it is up")
    if rops is None:
        found.append("no roll bar in the machine file: nothing protects the operator in a rollover")
    elif rops.reference_mass is not None and mass > rops.reference_mass:
        found.append(
            f"{show(mass, 'mass', rounding='up')} in all, over the "
            f"{show(rops.reference_mass, 'mass', rounding='down')} that the roll bar was tested for"
        )
    for end, tyre in (("front", machine.front_tyre), ("rear", machine.rear_tyre)):
        pressure = getattr(outfit, f"{end}_pressure")
        if pressure is not None and tyre.pressure is not None and pressure > tyre.pressure:
            found.append(
                f"{end} tyres above the machine file's {show(tyre.pressure, 'pressure')}: never "
                "above what tyre and rim are marked for"
            )
    if outfit.operator_lean != 0.0:
        found.append("operator leaning: a sensitivity, do not rely on it")
    return tuple(found)
