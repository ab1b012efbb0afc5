"""Liquid ballast against a published chart and against closed forms."""

import math

import numpy as np
import pytest
from scipy.integrate import dblquad

from sidehill.machine.build import fit
from sidehill.machine.file import Tyre, load_machine
from sidehill.machine.inertia import ring
from sidehill.machine.liquid import pool, volume
from sidehill.machine.outfit import Outfit

INCH, GALLON, POUND = 0.0254, 231 * 0.0254**3, 0.45359237

# Published ballast chart, 75 % fill, plain water: section width and rim [in], US gallons,
# pounds. Outside diameters [in] are usual ones (values from memory).
CHART = [
    (8.3, 24.0, 39.3, 13.0, 108.0),
    (9.5, 24.0, 41.3, 17.0, 142.0),
    (11.2, 24.0, 43.6, 24.0, 200.0),
    (12.4, 16.0, 37.6, 21.0, 175.0),
    (12.4, 24.0, 45.7, 30.0, 250.0),
    (13.6, 24.0, 47.6, 38.0, 317.0),
    (6.0, 12.0, 25.0, 4.5, 37.0),
    (7.5, 16.0, 31.7, 9.0, 75.0),
]
SCATTER = 0.09  # the sizes differ from one formula in width and diameter by this
MEAN = 0.01  # and their mean does not


def tyre(width: float, rim: float, outside: float) -> Tyre:
    return Tyre(
        diameter=f"{outside} in",
        width=f"{width} in",
        rim_diameter=f"{rim} in",
        track="1 m",
        stiffness="200 kN/m",
        mass="50 kg",
    )


def test_estimated_volume_against_the_published_chart() -> None:
    ratios = [
        0.75 * volume(tyre(width, rim, outside)) / (gallons * GALLON)
        for width, rim, outside, gallons, _ in CHART
    ]
    assert np.mean(ratios) == pytest.approx(1.0, abs=MEAN)
    assert all(abs(ratio - 1.0) < SCATTER for ratio in ratios), ratios


def test_mass_of_plain_water_against_the_published_chart() -> None:
    for _, _, _, gallons, pounds in CHART:
        # the chart's two columns agree with 1 kg/L to its own rounding (half a gallon, a pound)
        assert gallons * GALLON * 1000.0 / POUND == pytest.approx(pounds, rel=0.02)


@pytest.mark.parametrize(
    ("liquid", "over_water"),
    [
        ("calcium chloride 3.5 lb/gal", 1.20),  # published
        ("calcium chloride 5 lb/gal", 1.28),  # published
        ("beet juice", 1.30),  # 1.28 to 1.32 kg/L, value from memory
        ("glycol mix", 1.07),  # 1.06 to 1.08 kg/L, value from memory
        ("1.15 kg/L", 1.15),
    ],
)
def test_heavier_liquids(liquid: str, over_water: float) -> None:
    machine = load_machine("bramble")
    water = fit(machine, Outfit(rear_fill=0.75)).part("liquid_rear_left").mass
    other = fit(machine, Outfit(rear_fill=0.75, liquid=liquid)).part("liquid_rear_left").mass
    assert water == pytest.approx(0.75 * 96.0)
    assert other == pytest.approx(over_water * water)


def below(radius: float, level: float) -> tuple[float, float]:
    """Area and first moment of the part of a disc below a level: textbook circular segment."""
    level = min(max(level, -radius), radius)
    chord = math.sqrt(radius**2 - level**2)
    area = radius**2 * (math.pi / 2 + math.asin(level / radius)) + level * chord
    return area, -2.0 / 3.0 * chord**3


@pytest.mark.parametrize("level", [-0.45, -0.3, -0.1, 0.0, 0.2, 0.3, 0.42])
def test_centroid_against_circular_segments(level: float) -> None:
    outer, inner = 0.49, 0.255
    areas, moments = zip(below(outer, level), below(inner, level), strict=True)
    wet = areas[0] - areas[1]
    fill = wet / (math.pi * (outer**2 - inner**2))
    drop = pool(fill, outer, inner, 0.28).drop
    assert drop == pytest.approx(-(moments[0] - moments[1]) / wet, abs=2e-4)


def test_inertia_against_quadrature() -> None:
    outer, inner, width, level = 0.49, 0.255, 0.28, 0.1
    areas = below(outer, level)[0], below(inner, level)[0]
    fill = (areas[0] - areas[1]) / (math.pi * (outer**2 - inner**2))

    def moment(of_x: int, of_z: int) -> float:
        def disc(radius: float) -> float:
            def edge(z: float) -> float:
                return math.sqrt(max(radius**2 - z**2, 0.0))

            value, _ = dblquad(
                lambda x, z: x**of_x * z**of_z,
                -radius,
                min(level, radius),
                lambda z: -edge(z),
                edge,
            )
            return float(value)

        return disc(outer) - disc(inner)

    area = moment(0, 0)
    centroid = moment(0, 1) / area
    x2, z2 = moment(2, 0) / area, moment(0, 2) / area - centroid**2
    expected = [width**2 / 12 + z2, x2 + z2, width**2 / 12 + x2]
    lies = pool(fill, outer, inner, width)
    assert np.diag(lies.inertia) == pytest.approx(expected, rel=2e-3)


def test_a_full_tyre_is_a_ring_about_its_axle() -> None:
    lies = pool(1.0, 0.49, 0.255, 0.28)
    assert lies.drop == pytest.approx(0.0, abs=1e-9)
    assert lies.inertia == pytest.approx(ring(1.0, 0.49, 0.255, 0.28), rel=1e-3)


def test_three_quarters_is_level_with_the_valve_at_the_top_of_the_rim() -> None:
    # common practice: "75 %" is filled to the valve at 12 o'clock, that is to the rim's top
    outer, inner = 0.49, 0.255
    wet = below(outer, inner)[0] - math.pi * inner**2
    assert wet / (math.pi * (outer**2 - inner**2)) == pytest.approx(0.75, abs=0.04)


def test_liquid_lies_below_the_axle_and_lower_the_less_there_is() -> None:
    drops = [pool(fill, 0.49, 0.255, 0.28).drop for fill in (1e-3, 0.1, 0.25, 0.5, 0.75, 0.9, 1.0)]
    assert drops == sorted(drops, reverse=True)
    assert drops[0] == pytest.approx(0.48, abs=0.01)
    fitted = fit(load_machine("bramble"), Outfit(rear_fill=0.75, front_fill=0.5))
    assert fitted.part("liquid_rear_left").cg[2] == pytest.approx(
        0.49 - pool(0.75, 0.49, 0.255, 0.28).drop
    )
    assert fitted.part("liquid_front_right").link == "knuckle_right"
