"""The values that tables share, each with the limits of what makes sense.

The limits are wide: they catch a slipped unit or digit, not an unusual aeroplane. They are
common practice, no source.
"""

from __future__ import annotations

from typing import Annotated

from foamwright.design.model import Vec3
from foamwright.design.schema.base import Given
from foamwright.design.schema.fields import (
    Measured,
    Name,
    Numbers,
    OneOrTwo,
    PlaceAlong,
    Points,
    Quantity,
    Text,
    Whole,
    YesNo,
)
from foamwright.design.schema.fields import Place as AlongPlace

Coordinate = Annotated[float, Quantity("length", "-5 m", "5 m")]
At = Annotated[Vec3, Numbers(Quantity("length", "-5 m", "5 m"), 3, "x, y, z")]
Size = Annotated[Vec3, Numbers(Quantity("length", "0.1 mm", "1 m"), 3, "x, y, z")]
SheetSize = Annotated[
    tuple[float, float], Numbers(Quantity("length", "20 mm", "5 m"), 2, "length, width")
]
Outline = Annotated[
    tuple[tuple[float, float], ...],
    Points(Quantity("length", "-5 m", "5 m"), 2, "x, z", 3, 100),
]
Route = Annotated[tuple[Vec3, ...], Points(Quantity("length", "-5 m", "5 m"), 3, "x, y, z", 2, 40)]
Coordinates = Annotated[
    tuple[tuple[float, float], ...],
    Points(Quantity("fraction", "-20 %", "120 %"), 2, "x, z", 6, 300),
]

PanelLength = Annotated[float, Quantity("length", "5 mm", "3 m")]
Chord = Annotated[float, Quantity("length", "5 mm", "2 m")]
ControlChord = Annotated[tuple[float, float], OneOrTwo(Quantity("length", "2 mm", "1 m"))]
Gap = Annotated[float, Quantity("length", "0 mm", "20 mm")]
Depth = Annotated[float, Quantity("length", "1 mm", "300 mm")]
Extent = Annotated[float, Quantity("length", "1 mm", "5 m")]  # of a body or a tray
SmallSize = Annotated[float, Quantity("length", "0.1 mm", "500 mm")]  # rod, motor, wheel, tape
Bore = Annotated[float, Quantity("length", "0 mm", "500 mm")]
RodLength = Annotated[float, Quantity("length", "5 mm", "5 m")]
Reach = Annotated[float, Quantity("length", "0 mm", "500 mm")]
PropellerSize = Annotated[float, Quantity("length", "20 mm", "1 m")]

Thickness = Annotated[Given, Measured(Quantity("length", "0.1 mm", "60 mm"))]
FacingThickness = Annotated[float, Quantity("length", "0 mm", "3 mm")]
Mass = Annotated[Given, Measured(Quantity("mass", "0.01 g", "25 kg"))]
ArealWeight = Annotated[Given, Measured(Quantity("areal weight", "5 g/m2", "30 kg/m2"))]
Density = Annotated[Given, Measured(Quantity("density", "5 kg/m3", "20000 kg/m3"))]
LineMass = Annotated[Given, Measured(Quantity("line mass", "0.01 g/m", "10 kg/m"))]
Scatter = Annotated[float, Quantity("fraction", "0 %", "50 %")]

Fraction = Annotated[float, Quantity("fraction", "0 %", "100 %")]
OpenFraction = Annotated[float, Quantity("fraction", "0 %", "95 %")]
Rise = Annotated[float, Quantity("fraction", "-30 %", "30 %")]
Camber = Annotated[float, Quantity("fraction", "-20 %", "20 %")]
CamberAt = Annotated[float, Quantity("fraction", "5 %", "95 %")]
Along = Annotated[AlongPlace, PlaceAlong()]

Tilt = Annotated[float, Quantity("angle", "-30 deg", "30 deg")]
TiltPair = Annotated[
    tuple[float, float], Numbers(Quantity("angle", "-30 deg", "30 deg"), 2, "low, high")
]
TiltStep = Annotated[float, Quantity("angle", "0.01 deg", "30 deg")]
Sweep = Annotated[float, Quantity("angle", "-60 deg", "60 deg")]
Dihedral = Annotated[float, Quantity("angle", "-90 deg", "90 deg")]
Twist = Annotated[float, Quantity("angle", "-20 deg", "20 deg")]
FoldAngle = Annotated[float, Quantity("angle", "-60 deg", "60 deg")]
Bevel = Annotated[float, Quantity("angle", "0 deg", "80 deg")]
Throw = Annotated[float, Quantity("angle", "0 deg", "80 deg")]

SpeedConstant = Annotated[float, Quantity("speed constant", "50 rpm/V", "30000 rpm/V")]
Resistance = Annotated[float, Quantity("resistance", "0.1 mohm", "20 ohm")]
Current = Annotated[float, Quantity("current", "1 mA", "500 A")]
Volts = Annotated[float, Quantity("voltage", "0.5 V", "100 V")]
Rpm = Annotated[int, Whole(100, 200_000)]
Force = Annotated[float, Quantity("force", "1 gf", "30 kgf")]
Charge = Annotated[float, Quantity("charge", "10 mAh", "100 Ah")]
Rating = Annotated[float, Quantity("rating", "0.5", "500")]
Gain = Annotated[float, Quantity("fraction", "-200 %", "200 %")]

Line = Annotated[str, Text(200)]
ShortLine = Annotated[str, Text(60)]
MaybeLine = Annotated[str, Text(200, may_be_empty=True)]
Key = Annotated[str, Name()]
Flag = Annotated[bool, YesNo()]
Count = Annotated[int, Whole(0, 1000)]
