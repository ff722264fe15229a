"""Field types of the shop file: a quantity as text, held to what is possible."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

from ..facts import Name, Statement, Term, state
from ..faults import Refusal, refusal, shortened
from ..quantity import Quantity, QuantityError, dimension, parse


class PlaceError(ValueError):
    """A value that the file may not hold."""

    def __init__(self, refused: Refusal) -> None:
        super().__init__(str(refused))
        self.refusal = refused


class AssumedText(str):
    """A choice that the program made for the person: equal to the plain text, but known."""

    __slots__ = ()


@cache
def _bound(text: str, dimension_name: str) -> float:
    return parse(text, dimension_name).best_si


@dataclass(frozen=True)
class Kind:
    """Marks a field as a quantity of one dimension between two written bounds."""

    dimension: str
    low: str
    high: str
    example: str

    def read(self, value: Any) -> Quantity:
        """Parse ``value`` and hold it to the bounds.

        Raises
        ------
        QuantityError, PlaceError
            Not a quantity of this kind, or outside the bounds.
        """
        if isinstance(value, Quantity):
            return value
        example = Name(self.example)
        if isinstance(value, bool) or not isinstance(value, (str, int, float)):
            given = Name(shortened(repr(value), 60))
            raise PlaceError(
                refusal("shop.value.no_text", given=given, bounds=self.bounds(), example=example)
            )
        if not isinstance(value, str):
            if dimension(self.dimension).unit("") is None:
                given = Name(str(value))
                raise PlaceError(
                    refusal("shop.value.bare", given=given, bounds=self.bounds(), example=example)
                )
            value = repr(value)
        quantity = parse(value, self.dimension)
        if (
            quantity.low_si < _bound(self.low, self.dimension) - 1e-12
            or quantity.high_si > _bound(self.high, self.dimension) + 1e-12
        ):
            given = Name(shortened(value))
            raise PlaceError(refusal("shop.value.beyond", given=given, bounds=self.bounds()))
        return quantity

    def bounds(self) -> Statement:
        """What is allowed: the dimension between its bounds, as they may be written."""
        return state(
            "shop.bounds",
            dimension=Term("dimension", self.dimension),
            low=Name(self.low),
            high=Name(self.high),
        )

    def __get_pydantic_core_schema__(
        self, source: type[Any], handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self.read,
            serialization=core_schema.plain_serializer_function_ser_schema(
                lambda q: q.text if isinstance(q, Quantity) else q
            ),
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {
            "type": ["string", "number"] if self.dimension == "ratio" else "string",
            "examples": [self.example],
        }


Size = Annotated[Quantity, Kind("length", "1 mm", "20 m", "18-1/2 in")]
SmallSize = Annotated[Quantity, Kind("length", "0 mm", "1 m", "1/2 in")]
Distance = Annotated[Quantity, Kind("length", "0 m", "50 m", "7 ft")]
WheelSize = Annotated[Quantity, Kind("length", "20 mm", "400 mm", "3 in")]
Bore = Annotated[Quantity, Kind("length", "8 mm", "400 mm", "57.2 mm ± 0.3")]
Thickness = Annotated[Quantity, Kind("length", "0.3 mm", "100 mm", "23/32 in")]
HoseLength = Annotated[Quantity, Kind("length", "5 cm", "60 m", "12 ft")]
Pressure = Annotated[Quantity, Kind("pressure", "1 kPa", "60 kPa", "80..95 inH2O")]
SmallPressure = Annotated[Quantity, Kind("pressure", "0 Pa", "60 kPa", "3 inH2O")]
Airflow = Annotated[Quantity, Kind("airflow", "1 L/s", "500 L/s", "110 cfm")]
AnyAirflow = Annotated[Quantity, Kind("airflow", "0 L/s", "500 L/s", "60 cfm")]
Volume = Annotated[Quantity, Kind("volume", "1 L", "500 L", "9 US gal")]
Mass = Annotated[Quantity, Kind("mass", "10 g", "300 kg", "21 lb")]
Current = Annotated[Quantity, Kind("current", "0.1 A", "63 A", "11.5 A")]
Voltage = Annotated[Quantity, Kind("voltage", "90 V", "260 V", "120 V")]
Temperature = Annotated[Quantity, Kind("temperature", "-30 °C", "60 °C", "50..80 °F")]
Altitude = Annotated[Quantity, Kind("length", "0 m", "5000 m", "1200 ft")]
Angle = Annotated[Quantity, Kind("angle", "0 °", "180 °", "90 °")]
Turn = Annotated[Quantity, Kind("angle", "0 °", "360 °", "90 °")]
# What a hand can lift, build or buy for a home workshop (common practice, set wide).
VacuumSize = Annotated[Quantity, Kind("length", "150 mm", "1.5 m", "20-3/4 in")]
OpeningHeight = Annotated[Quantity, Kind("length", "5 mm", "1.5 m", "13-1/2 in")]
VacuumMass = Annotated[Quantity, Kind("mass", "1 kg", "100 kg", "21 lb")]
MotorCurrent = Annotated[Quantity, Kind("current", "1 A", "32 A", "11.5 A")]
BucketSize = Annotated[Quantity, Kind("length", "80 mm", "1.2 m", "14-1/2 in")]
BucketWall = Annotated[Quantity, Kind("length", "0.3 mm", "40 mm", "2.1 mm")]
CycloneSize = Annotated[Quantity, Kind("length", "40 mm", "1.5 m", "10-1/2 in")]
EndLength = Annotated[Quantity, Kind("length", "4 mm", "500 mm", "40 mm")]
BendRadius = Annotated[Quantity, Kind("length", "5 mm", "3 m", "6 in")]
SheetSize = Annotated[Quantity, Kind("length", "60 mm", "6 m", "96 in")]
SheetThickness = Annotated[Quantity, Kind("length", "2 mm", "60 mm", "23/32 in")]
Kerf = Annotated[Quantity, Kind("length", "0.5 mm", "8 mm", "1/8 in")]
CartSize = Annotated[Quantity, Kind("length", "200 mm", "5 m", "29-1/2 in")]
Breaker = Annotated[Quantity, Kind("current", "5 A", "63 A", "20 A")]
Ballast = Annotated[Quantity, Kind("mass", "0 kg", "100 kg", "25 lb")]
CasterLoad = Annotated[Quantity, Kind("mass", "2 kg", "1000 kg", "120 lb")]
BranchAngle = Annotated[Quantity, Kind("angle", "0 °", "90 °", "45 °")]
# What a day's work may be: bounds are what can be, not what is wise.
TimeSpan = Annotated[Quantity, Kind("time", "0 s", "48 h", "20 min")]
AirChanges = Annotated[Quantity, Kind("ratio", "0", "60", "0.3..1")]
Share = Annotated[Quantity, Kind("ratio", "0", "1", "40 %")]
Sound = Annotated[Quantity, Kind("sound", "30 dB", "140 dB", "82 dB")]
Rating = Annotated[Quantity, Kind("sound", "0 dB", "60 dB", "25 dB")]
SmallArea = Annotated[Quantity, Kind("area", "10 cm²", "20 m²", "0.5 m²")]
Feed = Annotated[Quantity, Kind("speed", "0.1 mm/s", "2 m/s", "2 m/min")]
CutSize = Annotated[Quantity, Kind("length", "0 mm", "1 m", "3/4 in")]
DustMass = Annotated[Quantity, Kind("mass", "0 g", "300 kg", "2.5 lb")]

__all__ = [
    "AirChanges",
    "Airflow",
    "Altitude",
    "Angle",
    "AnyAirflow",
    "AssumedText",
    "Ballast",
    "BendRadius",
    "Bore",
    "BranchAngle",
    "Breaker",
    "BucketSize",
    "BucketWall",
    "CartSize",
    "CasterLoad",
    "Current",
    "CutSize",
    "CycloneSize",
    "Distance",
    "DustMass",
    "EndLength",
    "Feed",
    "HoseLength",
    "Kerf",
    "Kind",
    "Mass",
    "MotorCurrent",
    "OpeningHeight",
    "PlaceError",
    "Pressure",
    "QuantityError",
    "Rating",
    "Share",
    "SheetSize",
    "SheetThickness",
    "Size",
    "SmallArea",
    "SmallPressure",
    "SmallSize",
    "Sound",
    "Temperature",
    "Thickness",
    "TimeSpan",
    "Turn",
    "VacuumMass",
    "VacuumSize",
    "Voltage",
    "Volume",
    "WheelSize",
]
