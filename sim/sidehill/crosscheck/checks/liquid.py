"""Liquid in tyres."""

from functools import partial

from sidehill.crosscheck.check import Check, Status, Tolerance, last_digit, share
from sidehill.machine.bare import Tyre
from sidehill.machine.build import fit
from sidehill.machine.file import load_machine
from sidehill.machine.liquid import volume
from sidehill.machine.outfit import Outfit

_GALLON, _POUND = 231 * 0.0254**3, 0.45359237  # [m^3], [kg]
_FILL = 0.75
_CHART = "ballast chart, 75 % fill, plain water (published)"

# section width and rim [in], outside diameter [in] (usual; values from memory), US gallons, pounds
_SIZES = {
    "8.3-24": (8.3, 24.0, 39.3, 13.0, 108.0),
    "9.5-24": (9.5, 24.0, 41.3, 17.0, 142.0),
    "11.2-24": (11.2, 24.0, 43.6, 24.0, 200.0),
    "12.4-16": (12.4, 16.0, 37.6, 21.0, 175.0),
    "12.4-24": (12.4, 24.0, 45.7, 30.0, 250.0),
    "13.6-24": (13.6, 24.0, 47.6, 38.0, 317.0),
    "6.00-12": (6.0, 12.0, 25.0, 4.5, 37.0),
    "7.50-16": (7.5, 16.0, 31.7, 9.0, 75.0),
}
_HEAVIER: tuple[tuple[str, float, Tolerance, str, Status], ...] = (
    ("calcium chloride 3.5 lb/gal", 1.20, last_digit(0.01), _CHART, "published"),
    ("calcium chloride 5 lb/gal", 1.28, last_digit(0.01), _CHART, "published"),
    (
        "beet juice",
        1.30,
        Tolerance(0.02, False, "the range from 1.28 to 1.32"),
        "value from memory",
        "memory",
    ),
    (
        "glycol mix",
        1.07,
        Tolerance(0.01, False, "the range from 1.06 to 1.08"),
        "value from memory",
        "memory",
    ),
)


def _gallons(size: str) -> float:
    """At 75 %, from the tyre's dimensions."""
    width, rim, outside, _, _ = _SIZES[size]
    tyre = Tyre(
        diameter=f"{outside} in",
        width=f"{width} in",
        rim_diameter=f"{rim} in",
        track="1 m",
        stiffness="200 kN/m",
        mass="50 kg",
    )
    return _FILL * volume(tyre) / _GALLON


def _kilograms(liquid: str, cubic_metres: float) -> float:
    machine = load_machine("bramble").with_values({"rear_tyre.volume": cubic_metres})
    return fit(machine, Outfit(rear_fill=_FILL, liquid=liquid)).part("liquid_rear_left").mass


def _pounds(size: str) -> float:
    """Of water, the tyre's volume given."""
    return _kilograms("water", _SIZES[size][3] * _GALLON / _FILL) / _POUND


def _over_water(liquid: str) -> float:
    return _kilograms(liquid, 0.1) / _kilograms("water", 0.1)


_VOLUMES = tuple(
    Check(
        name="Liquid in a tyre",
        quantity=f"volume from dimensions, {size}",
        unit="US gal",
        expected=row[3],
        tolerance=share(0.09, "scatter of the eight sizes about the formula fitted to them"),
        source=_CHART + "; outside diameters from memory",
        status="published",
        compute=partial(_gallons, size),
        is_fitted=True,
    )
    for size, row in _SIZES.items()
)
_MASSES = tuple(
    Check(
        name="Liquid in a tyre",
        quantity=f"mass of water, volume given, {size}",
        unit="lb",
        expected=row[4],
        tolerance=share(0.02, "the chart rounds its gallons and pounds"),
        source=_CHART,
        status="published",
        compute=partial(_pounds, size),
    )
    for size, row in _SIZES.items()
)
_DENSITIES = tuple(
    Check(
        name="Liquid in a tyre",
        quantity=f"{liquid} over water",
        unit="1",
        expected=expected,
        tolerance=tolerance,
        source=source,
        status=status,
        compute=partial(_over_water, liquid),
        is_fitted=True,
    )
    for liquid, expected, tolerance, source, status in _HEAVIER
)

CHECKS = (*_VOLUMES, *_MASSES, *_DENSITIES)
