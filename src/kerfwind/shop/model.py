"""What a person owns, measures and wants: the shop file as types.

Every field that a person may leave out is filled from the catalogue before these
types are built (`filling.py`), as a stated assumption; so the rooms never meet a
missing value, and can always tell which values were assumed.
"""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from ..facts import Ref, Statement, Term
from ..quantity import Quantity
from .kinds import (
    Airflow,
    Altitude,
    Angle,
    AnyAirflow,
    BendRadius,
    Bore,
    BranchAngle,
    Breaker,
    BucketSize,
    BucketWall,
    CartSize,
    CasterLoad,
    Current,
    CycloneSize,
    Distance,
    EndLength,
    HoseLength,
    Kerf,
    Mass,
    MotorCurrent,
    OpeningHeight,
    Pressure,
    SheetSize,
    SheetThickness,
    Size,
    SmallPressure,
    SmallSize,
    Temperature,
    Thickness,
    Turn,
    VacuumMass,
    VacuumSize,
    Voltage,
    Volume,
    WheelSize,
)

# Stands where the catalogue will fill in; typed Any so that the field keeps its own type.
ASSUME: Any = None

Side = Literal["top", "front", "rear", "left", "right"]
Material = Literal["rigid", "rubber"]
Joint = Literal["plain", "thread", "twist"]
Option = Literal["handle", "hose holder", "fitting rack", "drawer", "shelf", "switch", "cord wrap"]


class Part(BaseModel):
    """Common manner of all parts of the file: frozen, no unknown keys."""

    model_config = ConfigDict(
        extra="forbid", frozen=True, arbitrary_types_allowed=True, defer_build=True
    )


def _f(description: str, default: Any = ASSUME) -> Any:
    return Field(default, description=description)


class End(Part):
    """One side of a hose, port or fitting, measured."""

    nominal: str | None = _f(
        "The size in its name, such as 2-1/2 in: a hint, no measurement.", None
    )
    inside: Bore = _f("Inside diameter at the mouth.")
    outside: Bore = _f("Outside diameter at the mouth.")
    length: EndLength = _f("How far another part can go in or over.")
    taper: Angle = _f("Full angle between its sides; zero when straight.")
    material: Material = _f("Rigid, or rubber that stretches.", "rigid")
    joint: Joint = _f("Plain push fit, thread or twist lock.", "plain")
    goes: Literal["in", "over", "either"] = _f(
        "Whether it goes into the other part or over it.", "either"
    )


class SuctionPoint(Part):
    """One measured point of the suction curve."""

    airflow: AnyAirflow = Field(description="Airflow at the point; 0 for the sealed hose.")
    suction: SmallPressure = Field(description="Suction below the room's pressure.")


class HoleReading(Part):
    """One reading of the home test."""

    hole: SmallSize = Field(description="Diameter of the hole; 0 for the plate without one.")
    suction: SmallPressure = Field(description="Gauge reading behind the plate.")


class HomeTest(Part):
    """Suction read behind a thin plate with holes of known size; see `kerfwind test-sheet`."""

    at: Literal["hose", "inlet"] = _f("Where the plate was held: hose end or inlet.", "hose")
    hose: str | None = _f("Name of the hose; otherwise the first tool hose.", None)
    plate: Thickness = _f("Thickness of the plate.")
    readings: tuple[HoleReading, ...] = Field(description="One for each hole.")


class Suction(Part):
    """What the vacuum can pull: label figures, measured points or a home test."""

    sealed: Pressure = _f("Sealed suction, from the label.")
    open_airflow: Airflow = _f("Airflow with nothing attached, from the label.")
    points: tuple[SuctionPoint, ...] = _f(
        "Points measured on your own machine, in your room, instead of label figures. A maker's table is "
        "of a new machine in standard air: take its ends as label figures.",
        (),
    )
    tap: Literal["pipe", "chamber"] = _f(
        "Where the points' suction was read: `pipe`, at a hole in the wall of the pipe or hose end at "
        "the inlet, where the air's own speed adds to the reading; `chamber`, in a wide box in "
        "which the air is nearly still."
    )
    home_test: HomeTest | None = _f("Readings of the home test, instead of label figures.", None)


class Vacuum(Part):
    """The shop vacuum."""

    name: str = _f("What you call it.", "shop vacuum")
    shape: Literal["round", "oblong"] = _f("Seen from above.")
    length: VacuumSize = _f("Footprint, front to back, over wheels and hose port.")
    width: VacuumSize = _f("Footprint, side to side.")
    height: VacuumSize = _f("Floor to the top of the lid or handle.")
    weight: VacuumMass = _f("Empty.")
    tank: Volume = _f("Tank volume.")
    headroom: Size = _f("Height above it needed to open the lid or reach the filter.")
    inlet_on: Literal["side", "top"] = _f("Where the hose goes in.")
    inlet_height: OpeningHeight = _f("Floor to the middle of the inlet.")
    inlet: End = _f("The inlet's own end.")
    air_in_on: Side = _f("Where its motor takes cooling air.")
    air_out_on: Side = _f("Where its exhaust leaves.")
    exhaust_height: OpeningHeight | None = _f(
        "Floor to the middle of its exhaust vents; otherwise they are taken to be in the head.",
        None,
    )
    amps: MotorCurrent = _f("From the label.")
    suction: Suction = _f("Sealed suction and open airflow, or measured points.")
    filter: Literal["clean", "used", "clogged"] = _f("State of its filter.")


class Bucket(Part):
    """The bucket or drum under the separator."""

    shape: Literal["tapered", "straight", "drum", "box"] = _f(
        "Tapered nests in another; straight does not; a drum is straight and larger; a box has "
        "four flat walls."
    )
    made_of: Literal["plastic", "fibre", "steel"] = _f("What its wall is made of.")
    top_diameter: BucketSize | None = _f("Outside, just under the rim; a round one.")
    bottom_diameter: BucketSize | None = _f("Outside, at the floor; a round one.")
    rim_diameter: BucketSize | None = _f("Outside, over the rim; a round one.")
    top_length: BucketSize | None = _f(
        "A box, front to back as it goes into the cart, under the rim."
    )
    top_width: BucketSize | None = _f(
        "A box, side to side as it goes into the cart, under the rim."
    )
    bottom_length: BucketSize | None = _f("A box at the floor, front to back.")
    bottom_width: BucketSize | None = _f("A box at the floor, side to side.")
    rim_length: BucketSize | None = _f(
        "A box over its rim, front to back; without a rim as under it."
    )
    rim_width: BucketSize | None = _f(
        "A box over its rim, side to side; without a rim as under it."
    )
    corner: SmallSize | None = _f("A box: radius of its upright corners.")
    height: BucketSize = _f("Floor to the top of the rim.")
    rim_drop: SmallSize = _f("Top of the rim down to the underside of its lowest rib.")
    wall: BucketWall = _f("Wall thickness.")
    volume: Volume = _f("What it holds.")
    weight: Mass = _f("Empty, with its lid.")

    @property
    def is_round(self) -> bool:
        """Whether its wall is a cylinder or a cone."""
        return self.shape != "box"

    def _sides(self, level: str) -> tuple[Quantity, Quantity]:
        across = getattr(self, f"{level}_diameter")
        if across is not None:
            return across, across
        return getattr(self, f"{level}_width"), getattr(self, f"{level}_length")

    @property
    def top(self) -> tuple[Quantity, Quantity]:
        """Outside just under the rim, side to side and front to back; a diameter twice."""
        return self._sides("top")

    @property
    def bottom(self) -> tuple[Quantity, Quantity]:
        """Outside at the floor, in the same order."""
        return self._sides("bottom")

    @property
    def rim(self) -> tuple[Quantity, Quantity]:
        """Outside over the rim, in the same order."""
        return self._sides("rim")


class Cyclone(Part):
    """The cyclone on the bucket's lid."""

    body_diameter: CycloneSize = _f("Outside of the round part, at the inlet.")
    inlet: End = _f("Where the tool hose goes on.")
    outlet: End = _f("Where the hose to the vacuum goes on.")
    height: CycloneSize = _f("Lid to the top of the outlet.")
    inlet_height: SmallSize = _f("Lid to the middle of the inlet.")
    weight: Mass = _f("Alone.")


class Separator(Part):
    """Cyclone and bucket together."""

    bucket: Bucket = _f("The bucket under it.")
    cyclone: Cyclone = _f("The cyclone itself.")
    in_use: bool = _f("False when the hose goes straight to the vacuum.", True)


class Hose(Part):
    """One hose."""

    name: str = Field(description="What you call it.")
    use: Literal["tool", "link"] = _f(
        "`tool`: from the unit to the tools; `link`: from separator to vacuum.", "tool"
    )
    bore: Bore = Field(description="Inside diameter of the hose itself.")
    length: HoseLength = Field(description="As it lies, not stretched.")
    wall: Literal["smooth", "ribbed"] = _f("Inside wall.")
    tool_end: End = _f("The end away from the unit; for a link, at the separator.")
    unit_end: End = _f("The end at the unit; for a link, at the vacuum.")
    smallest_bend: BendRadius = _f("Radius to the hose's middle below which it kinks.")


class Spot(Part):
    """A place on the floor map, from the room's front left corner."""

    x: Distance = Field(description="Along the room's length.")
    y: Distance = Field(description="Along its width.")


class Place(Spot):
    """Where a tool stands: the middle of its outline, and how it is turned."""

    turn: Turn = _f("Counter-clockwise from along the room's length, seen from above.")


class Rectangle(Part):
    """Two sides at right angles."""

    length: Size = Field(description="The one side.")
    width: Size = Field(description="The other.")


class Tool(Part):
    """One tool, with the hood that should catch its dust."""

    name: str = Field(description="What you call it.")
    hood: str = Field(description="What surrounds the cut: a name from `kerfwind schema`.")
    operation: str = _f("What it does to the wood; filled from the hood.")
    port: End = _f("Where it lets dust out.")
    amps: Current = _f("From the label.")
    needs_airflow: Airflow | None = _f("Your own measured need, if you have one.", None)
    measured_suction: SmallPressure | None = _f(
        "After building: suction read through a hole of 2 mm in the wall of the tool's own port, just "
        "inside it, with the unit running and this tool connected.",
        None,
    )
    measured_sealed: SmallPressure | None = _f(
        "After building: suction read at the tool's end of the hose, held shut with a flat board for "
        "three seconds at most, on a bucket that stands it.",
        None,
    )
    rise: SmallSize = _f("Height of hose that climbs straight up on the way to the unit.")
    bends: int = Field(2, ge=0, le=40, description="Quarter turns the hose lies in.")
    hose: str | None = _f("Name of the hose it must use; otherwise the best that fits.", None)
    place: Place | None = _f("Where it stands, on the floor map.", None)
    size: Rectangle | None = _f("Its outline seen from above, drawn on the floor map.", None)
    made: Literal["plate", "hood box"] | None = _f(
        "What to make of plywood where it has no port: a bored `plate` over an opening, or an open "
        "`hood box` to be its hood.",
        None,
    )
    opening: Rectangle | None = _f(
        "What plate or box must cover: the opening in the tool, or the face of the box.", None
    )
    bored: Literal["back", "side"] = _f("Where the hose goes into a hood box.", "back")


class Branch(Part):
    """One fixed run of a branched system, its air flowing towards `to`."""

    name: str = Field(description="What you call it.")
    to: str = _f("Name of the run it joins, or `unit`.", "unit")
    bore: Bore = Field(description="Inside diameter.")
    length: HoseLength = Field(description="Length of the run.")
    wall: Literal["smooth", "ribbed"] = _f("Inside wall.", "smooth")
    bends: int = Field(0, ge=0, le=40, description="Quarter turns in it.")
    angle: BranchAngle = _f("Angle at which it enters the run it joins; 0 straight on.")
    gate: Literal["none", "open", "closed"] = _f("Its gate, if it has one.", "none")
    tool: str | None = _f("Name of the tool at its open end.", None)
    sweep: bool = _f("Whether its open end is a floor sweep.", False)


class Fitting(Part):
    """A loose fitting owned or offered."""

    name: str = Field(description="What you call it.")
    kind: Literal["reducer", "coupling", "elbow", "cuff", "gate", "wye", "hose end"] = _f(
        "What it is.", "reducer"
    )
    end_a: End = Field(description="One end.")
    end_b: End = Field(description="The other end.")
    bore: Bore = _f("Narrowest inside diameter.")
    length: SmallSize = _f("Over all.")
    turn: Angle = _f("How far it turns the air.")
    count: int = Field(1, ge=1, le=1000, description="How many you own.")

    @property
    def called(self) -> Ref | Term | Statement:
        """What to say for it: the name that its owner gave it."""
        return Ref("fitting", self.name)


class Sheet(Part):
    """A kind of plywood sheet, on sale or on hand."""

    name: str = Field(description="What you call it.")
    material: str = _f("Sheets of one material can stand in for one another.", "plywood")
    thickness: SheetThickness = Field(description="As measured, not as named.")
    length: SheetSize = Field(description="Along the grain of the face.")
    width: SheetSize = Field(description="Across it.")
    price: float = Field(0.0, ge=0, le=1e6, description="Each; 0 for an offcut on hand.")
    count: int | None = Field(None, ge=1, le=10_000, description="How many there are at most.")


class Saw(Part):
    """How the sheets are cut."""

    kind: Literal["table saw", "track saw", "circular saw"] = _f("The saw for long cuts.")
    kerf: Kerf = _f("Width of the cut.")
    trim: SmallSize = _f("Taken off each factory edge before it is trusted.")
    largest_rip: Size = _f("Largest distance from fence to blade.")
    smallest_piece: Size = _f("Shortest side that you hold against fence or track.")
    carry_length: Size = _f("Longest piece that your car takes.")
    carry_width: Size = _f("Widest piece that your car takes.")


class Room(Part):
    """Where it all stands."""

    length: Size = _f("Inside.")
    width: Size = _f("Inside.")
    height: Size = _f("Floor to ceiling.")
    altitude: Altitude = _f("Above sea level.")
    temperature: Temperature = _f("While you work.")
    outlets: tuple[Spot, ...] = _f("Power outlets, on the floor map.", ())


class Circuit(Part):
    """The circuit that the unit plugs into."""

    volts: Voltage = _f("Nominal voltage.")
    breaker: Breaker = _f("Rating of the breaker or fuse.")
    other_loads: Current | None = _f("What else runs on it meanwhile.", None)
    tool_shares: bool = _f("Whether the tool runs from the same circuit.")
    cord: HoseLength | None = _f("Length of the unit's cord, with its extension.", None)


class Wishes(Part):
    """What the cart should be."""

    form: Literal["tower", "backframe", "low"] = _f("Form of the cart.")
    measures: Literal["inch", "metric"] = _f(
        "What sizes are marked by and hardware is bought in; otherwise as most sizes here are written."
    )
    printer: bool = _f("Whether you print parts in plastic at home.", False)
    sheet: str | None = _f("Name of the sheet to build from; otherwise the cheapest.", None)
    second_sheet: str | None = _f(
        "Name of a sheet of another thickness for the panels in `second_panels`.", None
    )
    second_panels: tuple[Literal["lipping", "cleat", "rail", "shelf"], ...] = _f(
        "Panels from the second sheet; lipping and bucket cleats carry little.",
        ("lipping", "cleat"),
    )
    largest_length: CartSize = _f("Largest footprint, front to back.")
    largest_width: CartSize = _f("Largest footprint, side to side.")
    greatest_height: CartSize = _f("Greatest height with the separator on.")
    clearance: SmallSize = _f("Play left around the vacuum.")
    extra_width: SmallSize = _f("Width added for steadiness, beyond what is needed.")
    extra_depth: SmallSize = _f("Depth added behind for steadiness, beyond what is needed.")
    extra_front: SmallSize = _f("Depth added in front for steadiness, beyond what is needed.")
    narrowest_door: CartSize = _f("Narrowest door it must pass.")
    under_bench: CartSize | None = _f(
        "Floor to the underside of the bench it should park under.", None
    )
    hold_bucket: Literal["rim", "taper", "standing"] = _f(
        "What carries the bucket in its opening; `standing` sets it on the shelf between cleats."
    )
    joint: Literal["screwed butt", "pocket hole", "dado", "glue"] = _f(
        "How panels are joined edge to face: screws through the face into the edge; slanted "
        "screws in pockets on the inner face; a groove that takes the edge, with screws; or glue "
        "alone where that is enough.",
        "screwed butt",
    )
    caster_diameter: WheelSize = _f("Wheel diameter.")
    caster_height: WheelSize = _f("Floor to the caster's plate.")
    caster_load: CasterLoad = _f("What one caster is rated to carry.")
    options: tuple[Option, ...] = _f("What the cart should have besides, in a list.", ())


def _worth(amount: float, description: str) -> Any:
    return Field(amount, ge=0, le=10_000, description=description)


class Worth(Part):
    """What each thing is worth to you in money, when fittings and hoses are chosen."""

    air: float = _worth(4.0, "A kilopascal lost on the way to a tool, at about 40 L/s.")
    change: float = _worth(2.0, "Finding and fitting one more shared piece at a change of tool.")
    hanging: float = _worth(15.0, "A metre of fittings hanging off a tool.")
    doubt: float = _worth(20.0, "Each factor of 2.7 by which a joint is less than sure to hold.")
    hose: float = _worth(6.0, "Each hose kept in use.")
    move: float = _worth(4.0, "Rolling the unit on to one more spot in a session.")


class Built(Part):
    """A panel as it was cut, where it differs from the plan."""

    name: str = Field(description="The panel's name in the plan, such as `side`.")
    length: Size | None = _f("Measured along its length.", None)
    width: Size | None = _f("Measured across.", None)


class About(Part):
    """The shop itself."""

    name: str = _f("What you call the shop or the plan.", "My shop")
    author: str = _f("Printed on the plan.", "")
    units: Literal["in", "mm", "both"] = _f("Units to print in.", "in")
    page: Literal["letter", "a4"] = _f("Paper.")
    currency: str = Field("$", max_length=4, description="Sign of your money.")
    notes: str = _f("Anything you want printed on the plan.", "")


class Shop(Part):
    """All that is owned, measured and wanted."""

    shop: About = _f("The shop itself.")
    vacuum: Vacuum = _f("The shop vacuum.")
    separator: Separator = _f("Cyclone and bucket.")
    hoses: tuple[Hose, ...] = _f("Hoses owned.")
    tools: tuple[Tool, ...] = Field(description="Tools to connect; at least one.")
    branches: tuple[Branch, ...] = _f("Fixed runs with wyes and gates, if there are any.", ())
    fittings: tuple[Fitting, ...] = _f("Loose fittings owned.", ())
    sheets: tuple[Sheet, ...] = _f("Sheets on sale or on hand.")
    saw: Saw = _f("How sheets are cut.")
    room: Room = _f("Where it all stands.")
    circuit: Circuit = _f("The circuit it plugs into.")
    wishes: Wishes = _f("What the cart should be.")
    weights: Worth = Field(
        default_factory=Worth, description="What each thing is worth when fittings are chosen."
    )
    built: tuple[Built, ...] = _f("Panels that were cut differently from the plan.", ())

    @property
    def link(self) -> Hose | None:
        """The hose between separator and vacuum; None when none is owned."""
        return next((h for h in self.hoses if h.use == "link"), None)

    def hose(self, name: str) -> Hose:
        """The hose called ``name``; StopIteration when there is none."""
        return next(h for h in self.hoses if h.name == name)
