"""How a machine is fitted for the job: spacers, ballast, load, attachment, operator."""

from typing import Annotated, Any, Literal, Self

from pydantic import ValidationInfo, model_validator
from pydantic.functional_validators import ModelWrapValidatorHandler

from sidehill.files.fields import Quantity, Text
from sidehill.files.problems import made_plainly
from sidehill.files.spec import Spec
from sidehill.machine.measures import Pressure

SPACER_DENSITY = 6.0 / 0.025  # [kg/m] of thickness, each: 6 kg a 25 mm
WATER = 1000.0  # [kg/m^3]

# [kg/m^3] The chlorides: 20 % and 28 % over water (published ballast chart).
# Beet juice and glycol: middle of the usual range (values from memory).
LIQUIDS = {
    "water": WATER,
    "calcium chloride 3.5 lb/gal": 1.20 * WATER,
    "calcium chloride 5 lb/gal": 1.28 * WATER,
    "beet juice": 1300.0,
    "glycol mix": 1070.0,
}

Spacer = Annotated[float, Quantity("length", "-300 mm", "400 mm")]
Track = Annotated[float, Quantity("length", "0.4 m", "4 m")]
Mass = Annotated[float, Quantity("mass", "0 kg", "3000 kg")]
Fill = Annotated[float, Quantity("ratio", "0", "1")]


class Outfit(Spec):
    """One fitting of a machine: `Outfit(rear_spacer="76 mm")`, or `Outfit(rear_spacer=0.076)`.

    Text carries its unit; a plain number is SI, as everywhere in Python: m, kg, rad.

    Raises:
        InputError: an unknown option, or a value that is not allowed.
    """

    rear_spacer: Spacer = 0.0  # a side; the track grows by twice that
    front_spacer: Spacer = 0.0
    spacer_mass: Annotated[float, Quantity("mass", "0 kg", "100 kg")] | None = None  # each
    rear_track: Track | None = None
    front_track: Track | None = None
    bucket_load: Mass = 0.0
    bucket_height: Annotated[
        float | Literal["carry", "full"],
        Quantity("length", "0.05 m", "6 m", words={"carry": "carry", "full": "full"}),
    ] = "carry"
    hung_load: Mass = 0.0  # swings on a rope from a hook where the bucket's load would be
    rope: Annotated[float, Quantity("length", "0.1 m", "6 m")] = 0.5
    operator: Annotated[float, Quantity("mass", "0 kg", "250 kg")] = 80.0
    operator_lean: Annotated[float, Quantity("length", "-0.5 m", "0.5 m")] = 0.0  # uphill
    rear_fill: Fill = 0.0  # 0.75 = level with the valve at 12 o'clock
    front_fill: Fill = 0.0
    liquid: Annotated[
        float | str,
        Quantity("density", "700 kg/m^3", "2000 kg/m^3", words={name: name for name in LIQUIDS}),
    ] = "water"
    rear_pressure: Pressure | None = None  # else the machine file's own
    front_pressure: Pressure | None = None
    rear_wheel_weight: Mass = 0.0  # each
    rear_ballast: Mass = 0.0
    front_weight: Mass = 0.0
    front_axle_swing: Annotated[float, Quantity("angle", "0 deg", "25 deg")] | None = None
    attachment: Annotated[str, Text(40)] | None = None
    attachment_at: Literal["raised", "lowered"] = "raised"
    rops: Literal["up", "folded"] = "up"

    @property
    def liquid_density(self) -> float:
        """[kg/m^3] of what the tyres are filled with."""
        return LIQUIDS[self.liquid] if isinstance(self.liquid, str) else self.liquid

    def mass_of_spacer(self, thickness: float) -> float:
        """[kg] of one spacer [m]; a reversed rim (negative) adds no part."""
        if thickness <= 0.0:
            return 0.0
        return SPACER_DENSITY * thickness if self.spacer_mass is None else self.spacer_mass

    @model_validator(mode="wrap")
    @classmethod
    def _speak_to_people(
        cls, data: Any, handler: ModelWrapValidatorHandler[Self], info: ValidationInfo
    ) -> Self:
        return made_plainly(cls, data, handler, info)
