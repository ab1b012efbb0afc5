"""How materials shine: what a URDF colour does not say."""

Colour = tuple[float, float, float]

FINISH = 6
RED, GREEN, BLUE, GLOSS, SHARPNESS, GRASSY = range(FINISH)  # columns of a finish

GRASS = "grass"  # the material that is drawn from the grass picture

# gloss from 0 to 1, sharpness of the glint
SHINE = {
    "plum": (0.45, 70.0),
    "dark plum": (0.35, 50.0),
    "rim": (0.35, 30.0),
    "pale grey": (0.40, 40.0),
    "grey": (0.15, 20.0),
    "dark grey": (0.15, 20.0),
    "spacer": (0.30, 40.0),
    "weight": (0.15, 20.0),
    "black": (0.25, 30.0),
    "lamp": (0.60, 90.0),
    "helmet": (0.30, 60.0),
    "liquid": (0.35, 60.0),
    "tyre": (0.06, 8.0),
    "lug": (0.06, 8.0),
    "boot": (0.08, 10.0),
}
MATT = (0.0, 1.0)
DARKEST = 0.010  # light: nothing outdoors is blacker, and blacker shows no form


def linear(value: float) -> float:
    """Light of a screen colour (sRGB, IEC 61966-2-1)."""
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


def finish(material: str, colour: Colour) -> list[float]:
    """A row of FINISH numbers: linear red, green, blue, gloss, sharpness, grass or not."""
    row = [max(linear(c), DARKEST) for c in colour]
    row += [*SHINE.get(material, MATT), float(material == GRASS)]
    assert len(row) == FINISH
    return row
