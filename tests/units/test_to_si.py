"""Text with a unit in, SI out; everything else refused with the units that are taken."""

import math

import pytest

from sidehill.files.errors import InputError
from sidehill.files.units import DIMENSIONS, to_si

# By definition: inch 25.4 mm, pound 0.45359237 kg, US gallon 231 cubic inches,
# standard gravity 9.80665 m/s^2.
POUND, INCH, GALLON, G0 = 0.45359237, 0.0254, 231 * 0.0254**3, 9.80665


@pytest.mark.parametrize(
    ("text", "dimension", "expected"),
    [
        ("76 mm", "length", 0.076),
        ("3 in", "length", 3 * INCH),
        ("3in", "length", 3 * INCH),
        ("  +1.62 m ", "length", 1.62),
        ("-3e1 mm", "length", -0.03),
        (".5 ft", "length", 6 * INCH),
        ("1450 lb", "mass", 1450 * POUND),
        ("2 t", "mass", 2000.0),
        ("3 km/h", "speed", 3 / 3.6),
        ("2 mph", "speed", 2 * 5280 * 12 * INCH / 3600),
        ("1 kN", "force", 1000.0),
        ("180 kN/m", "stiffness", 180e3),
        ("1 lbf/in", "stiffness", POUND * G0 / INCH),
        ("2400 N m", "torque", 2400.0),
        ("2.4 kN·m", "torque", 2400.0),
        ("260 kg m^2", "inertia", 260.0),
        ("260 kg m²", "inertia", 260.0),
        ("45 L", "volume", 0.045),
        ("10 gal", "volume", 10 * GALLON),
        ("1.2 kg/L", "density", 1200.0),
        ("1 ms", "time", 1e-3),
        ("100 Hz", "frequency", 100.0),
        ("256e-6 m^3", "psd", 256e-6),
        ("100 kPa", "pressure", 1e5),
        ("10 deg", "angle", math.radians(10)),
        ("0.157 rad", "angle", 0.157),
        ("10 deg", "slope", math.radians(10)),
        ("10°", "slope", math.radians(10)),
        ("25 %", "slope", math.atan(0.25)),
        ("-25%", "slope", -math.atan(0.25)),
        ("1:4", "slope", math.atan(0.25)),
        ("-1 : 4", "slope", -math.atan(0.25)),
        (0.75, "ratio", 0.75),
        (1, "ratio", 1.0),
        ("0.75", "ratio", 0.75),
        ("75 %", "ratio", 0.75),
    ],
)
def test_value(text: object, dimension: str, expected: float) -> None:
    assert to_si(text, dimension) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "dimension", "complaint"),
    [
        ("76", "length", "without a unit"),
        (76, "length", "without a unit"),
        (0.6, "length", "without a unit"),
        ("0.6 kg", "length", '"kg" does not measure a length'),
        ("10 mm", "mass", '"mm" does not measure a mass'),
        ("10 lbf", "mass", '"lbf" does not measure a mass'),
        ("5 %", "angle", '"%" does not measure an angle'),
        ("1:4", "angle", "does not measure|not a finite number|unknown unit"),
        ("60 rpm", "frequency", '"rpm" does not measure a frequency'),
        ("3 deg", "ratio", '"deg" does not measure a ratio'),
        ("3 foo", "mass", 'unknown unit "foo"'),
        ("3 KN", "force", 'unknown unit "KN"'),
        ("3 m^999", "length", "unknown unit"),
        ("3 __import__", "length", "unknown unit"),
        ("nan m", "length", "not a finite number"),
        ("inf m", "length", "not a finite number"),
        ("1e999 m", "length", "not a finite number"),
        (math.nan, "ratio", "not a finite number"),
        (math.inf, "ratio", "not a finite number"),
        ("1,5 m", "length", "unknown unit|not a finite number"),
        ("1 2 m", "length", "not a finite number"),
        ("", "length", "not a finite number"),
        ("m", "length", "not a finite number"),
        ("1:0", "slope", "wall"),
        (True, "ratio", "not a quantity"),
        (None, "length", "not a quantity"),
        (["1 m"], "length", "not a quantity"),
    ],
)
def test_refused_with_accepted_units(text: object, dimension: str, complaint: str) -> None:
    with pytest.raises(InputError, match=complaint) as refusal:
        to_si(text, dimension)
    assert DIMENSIONS[dimension].offered.split(",")[0] in str(refusal.value)


@pytest.mark.parametrize("dimension", DIMENSIONS)
def test_every_offered_unit_is_taken(dimension: str) -> None:
    offered = DIMENSIONS[dimension].offered.replace("(US)", "").replace("or 1:4", "1:4")
    for unit in (part.strip() for part in offered.split(",")):
        text = unit if unit == "1:4" else f"1 {unit}"
        value = to_si(text, dimension)
        assert math.isfinite(value) and value > 0.0, unit
