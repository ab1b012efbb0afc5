"""Quantities that several tables of a machine file share, with what is plausible."""

from typing import Annotated

from sidehill.files.fields import Quantity

Ratio = Annotated[float, Quantity("ratio", "0", "1")]
Place = Annotated[float, Quantity("length", "-5 m", "5 m")]
Height = Annotated[float, Quantity("length", "0.05 m", "4 m")]
Size = Annotated[float, Quantity("length", "0.1 m", "6 m")]
PartMass = Annotated[float, Quantity("mass", "1 kg", "3000 kg")]
Pressure = Annotated[float, Quantity("pressure", "0.2 bar", "6 bar")]  # over the air's own
AxleMass = Annotated[float, Quantity("mass", "50 kg", "10 t")]
ForwardUp = tuple[Place, Height]  # [m] ahead of the rear axle, above the ground
