"""What a person owns, measures and wants: the shop file as types.

What each field is stands in `words/en/places.ftl`, by its path.

Every field that a person may leave out is filled from the catalogue before these
types are built (`filling.py`), as a stated assumption; so the rooms never meet a
missing value, and can always tell which values were assumed.
"""

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from ..facts import Ref, Statement, Term
from ..quantity import Quantity
from .kinds import (
    AirChanges,
    Airflow,
    Altitude,
    Angle,
    AnyAirflow,
    Ballast,
    BendRadius,
    Bore,
    BranchAngle,
    Breaker,
    BucketSize,
    BucketWall,
    CartSize,
    CasterLoad,
    Current,
    CutSize,
    CycloneSize,
    Distance,
    DustMass,
    EndLength,
    Feed,
    HoseLength,
    Kerf,
    Mass,
    MotorCurrent,
    OpeningHeight,
    Pressure,
    Rating,
    Share,
    SheetSize,
    SheetThickness,
    Size,
    SmallArea,
    SmallPressure,
    SmallSize,
    Sound,
    Temperature,
    Thickness,
    TimeSpan,
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
FilterClass = Literal["unknown", "none", "L", "M", "H"]
Mask = Literal["none", "disposable", "FFP2", "FFP3", "half mask", "full face", "powered hood"]
Protector = Literal["none", "muffs", "foam plugs", "other plugs"]
Rules = Literal["us", "uk", "eu", "germany"]
Wire = Literal[
    "18 AWG",
    "16 AWG",
    "14 AWG",
    "12 AWG",
    "10 AWG",
    "0.75 mm²",
    "1.0 mm²",
    "1.5 mm²",
    "2.5 mm²",
    "4 mm²",
]
Option = Literal["handle", "hose holder", "fitting rack", "drawer", "shelf", "switch", "cord wrap"]


class Part(BaseModel):
    """Common manner of all parts of the file: frozen, no unknown keys."""

    model_config = ConfigDict(
        extra="forbid", frozen=True, arbitrary_types_allowed=True, defer_build=True
    )


class End(Part):
    """One side of a hose, port or fitting, measured."""

    nominal: str | None = None
    inside: Bore = ASSUME
    outside: Bore = ASSUME
    length: EndLength = ASSUME
    taper: Angle = ASSUME
    material: Material = "rigid"
    joint: Joint = "plain"
    goes: Literal["in", "over", "either"] = "either"


class SuctionPoint(Part):
    """One measured point of the suction curve."""

    airflow: AnyAirflow
    suction: SmallPressure


class HoleReading(Part):
    """One reading of the home test."""

    hole: SmallSize
    suction: SmallPressure


class HomeTest(Part):
    """Suction read behind a thin plate with holes of known size; see `kerfwind test-sheet`."""

    at: Literal["hose", "inlet"] = "hose"
    hose: str | None = None
    plate: Thickness = ASSUME
    readings: tuple[HoleReading, ...]


Knowledge = Literal["label", "maker's curve", "measured"]


class Suction(Part):
    """What the vacuum can pull: two figures, points of its curve or a home test."""

    known_from: Knowledge = ASSUME
    sealed: Pressure = ASSUME
    open_airflow: Airflow = ASSUME
    points: tuple[SuctionPoint, ...] = ()
    tap: Literal["pipe", "chamber"] = ASSUME
    home_test: HomeTest | None = None


class Vacuum(Part):
    """The shop vacuum."""

    name: str = "shop vacuum"
    shape: Literal["round", "oblong"] = ASSUME
    length: VacuumSize = ASSUME
    width: VacuumSize = ASSUME
    height: VacuumSize = ASSUME
    weight: VacuumMass = ASSUME
    tank: Volume = ASSUME
    headroom: Size = ASSUME
    inlet_on: Literal["side", "top"] = ASSUME
    inlet_height: OpeningHeight = ASSUME
    inlet: End = ASSUME
    air_in_on: Side = ASSUME
    air_out_on: Side = ASSUME
    exhaust_height: OpeningHeight | None = None
    amps: MotorCurrent = ASSUME
    suction: Suction = ASSUME
    filter: Literal["clean", "used", "clogged"] = ASSUME
    filter_class: FilterClass | None = None
    filter_area: SmallArea | None = None
    noise: Sound | None = None


class Bucket(Part):
    """The bucket or drum under the separator."""

    shape: Literal["tapered", "straight", "drum", "box"] = ASSUME
    made_of: Literal["plastic", "fibre", "steel"] = ASSUME
    top_diameter: BucketSize | None = ASSUME
    bottom_diameter: BucketSize | None = ASSUME
    rim_diameter: BucketSize | None = ASSUME
    top_length: BucketSize | None = ASSUME
    top_width: BucketSize | None = ASSUME
    bottom_length: BucketSize | None = ASSUME
    bottom_width: BucketSize | None = ASSUME
    rim_length: BucketSize | None = ASSUME
    rim_width: BucketSize | None = ASSUME
    corner: SmallSize | None = ASSUME
    height: BucketSize = ASSUME
    rim_drop: SmallSize = ASSUME
    wall: BucketWall = ASSUME
    volume: Volume = ASSUME
    weight: Mass = ASSUME

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

    body_diameter: CycloneSize = ASSUME
    inlet: End = ASSUME
    outlet: End = ASSUME
    height: CycloneSize = ASSUME
    inlet_height: SmallSize = ASSUME
    weight: Mass = ASSUME


class Separator(Part):
    """Cyclone and bucket together, and what keeps the bucket from being drawn in."""

    bucket: Bucket = ASSUME
    cyclone: Cyclone = ASSUME
    in_use: bool = True
    rings: int = Field(0, ge=0, le=4)
    valve: Pressure | None = None
    backed_lid: bool = False


class Hose(Part):
    """One hose."""

    name: str
    use: Literal["tool", "link"] = "tool"
    bore: Bore
    length: HoseLength
    wall: Literal["smooth", "ribbed"] = ASSUME
    tool_end: End = ASSUME
    unit_end: End = ASSUME
    smallest_bend: BendRadius = ASSUME


class Spot(Part):
    """A place on the floor map, from the room's front left corner."""

    x: Distance
    y: Distance


class Place(Spot):
    """Where a tool stands: the middle of its outline, and how it is turned."""

    turn: Turn = ASSUME


class Rectangle(Part):
    """Two sides at right angles."""

    length: Size
    width: Size


class Tool(Part):
    """One tool, with the hood that should catch its dust."""

    name: str
    hood: str
    operation: str = ASSUME
    port: End = ASSUME
    amps: Current = ASSUME
    needs_airflow: Airflow | None = None
    measured_suction: SmallPressure | None = None
    measured_sealed: SmallPressure | None = None
    noise: Sound | None = None
    rise: SmallSize = ASSUME
    bends: int = Field(2, ge=0, le=40)
    hose: str | None = None
    place: Place | None = None
    size: Rectangle | None = None
    made: Literal["plate", "hood box"] | None = None
    opening: Rectangle | None = None
    bored: Literal["back", "side"] = "back"


class Branch(Part):
    """One fixed run of a branched system, its air flowing towards `to`."""

    name: str
    to: str = "unit"
    bore: Bore
    length: HoseLength
    wall: Literal["smooth", "ribbed"] = "smooth"
    bends: int = Field(0, ge=0, le=40)
    angle: BranchAngle = ASSUME
    gate: Literal["none", "open", "closed"] = "none"
    tool: str | None = None
    sweep: bool = False


class Fitting(Part):
    """A loose fitting owned or offered."""

    name: str
    kind: Literal["reducer", "coupling", "elbow", "cuff", "gate", "wye", "hose end"] = "reducer"
    end_a: End
    end_b: End
    bore: Bore = ASSUME
    length: SmallSize = ASSUME
    turn: Angle = ASSUME
    count: int = Field(1, ge=1, le=1000)

    @property
    def called(self) -> Ref | Term | Statement:
        """What to say for it: the name that its owner gave it."""
        return Ref("fitting", self.name)


class Sheet(Part):
    """A kind of plywood sheet, on sale or on hand."""

    name: str
    material: str = "plywood"
    thickness: SheetThickness
    length: SheetSize
    width: SheetSize
    price: float = Field(0.0, ge=0, le=1e6)
    count: int | None = Field(None, ge=1, le=10_000)


class Saw(Part):
    """How the sheets are cut."""

    kind: Literal["table saw", "track saw", "circular saw"] = ASSUME
    kerf: Kerf = ASSUME
    trim: SmallSize = ASSUME
    largest_rip: Size = ASSUME
    smallest_piece: Size = ASSUME
    crosscut: Size | None = None
    sled_stop: Size | None = None
    track: Size | None = None
    order: Literal["sheets", "settings"] = "sheets"
    carry_length: Size = ASSUME
    carry_width: Size = ASSUME


class Room(Part):
    """Where it all stands."""

    length: Size = ASSUME
    width: Size = ASSUME
    height: Size = ASSUME
    altitude: Altitude = ASSUME
    temperature: Temperature = ASSUME
    outlets: tuple[Spot, ...] = ()
    air_changes: AirChanges | None = None
    door: Literal["closed", "open"] | None = None
    cleaner: AnyAirflow | None = None


class Circuit(Part):
    """The circuit that the unit plugs into."""

    volts: Voltage = ASSUME
    breaker: Breaker = ASSUME
    other_loads: Current | None = None
    tool_shares: bool = ASSUME
    cord: HoseLength | None = None
    cord_wire: Wire | None = None


class Wishes(Part):
    """What the cart should be."""

    form: Literal["tower", "backframe", "low"] = ASSUME
    measures: Literal["inch", "metric"] = ASSUME
    printer: bool = False
    sheet: str | None = None
    second_sheet: str | None = None
    second_panels: tuple[Literal["lipping", "cleat", "rail", "shelf"], ...] = ("lipping", "cleat")
    largest_length: CartSize = ASSUME
    largest_width: CartSize = ASSUME
    greatest_height: CartSize = ASSUME
    clearance: SmallSize = ASSUME
    extra_width: SmallSize = ASSUME
    extra_depth: SmallSize = ASSUME
    extra_front: SmallSize = ASSUME
    ballast: Ballast = ASSUME
    outriggers: SmallSize = ASSUME
    hose_anchor: Literal["low", "port"] = ASSUME
    narrowest_door: CartSize = ASSUME
    under_bench: CartSize | None = None
    hold_bucket: Literal["rim", "taper", "standing"] = ASSUME
    joint: Literal["screwed butt", "pocket hole", "dado", "glue"] = "screwed butt"
    caster_diameter: WheelSize = ASSUME
    caster_height: WheelSize = ASSUME
    caster_load: CasterLoad = ASSUME
    options: tuple[Option, ...] = ()


def _worth(amount: float) -> Any:
    return Field(amount, ge=0, le=10_000)


class Worth(Part):
    """What each thing is worth to you in money, when fittings and hoses are chosen."""

    air: float = _worth(4.0)
    change: float = _worth(2.0)
    hanging: float = _worth(15.0)
    doubt: float = _worth(20.0)
    hose: float = _worth(6.0)
    move: float = _worth(4.0)


class Built(Part):
    """A panel as it was cut, where it differs from the plan."""

    name: str
    length: Size | None = None
    width: Size | None = None


class Task(Part):
    """One operation of a session: what is done to which wood, and for how long."""

    tool: str | None = None
    operation: str = ASSUME
    time: TimeSpan
    material: str = ASSUME
    cutting: Share = ASSUME
    grit: int | None = Field(None, ge=16, le=3000)
    edges: bool = False
    kerf: CutSize | None = None
    depth: CutSize | None = None
    width: CutSize | None = None
    feed: Feed | None = None
    removed: DustMass | None = None


class Session(Part):
    """A day's work in the shop, for what it means to lungs, ears, bucket and filter."""

    name: str
    ready: str | None = None
    operations: tuple[Task, ...] = ()
    stay: TimeSpan = ASSUME
    emptying: Literal["indoors", "outdoors"] = ASSUME
    mask: Mask = ASSUME
    fit_tested: bool = False
    beard: bool = False
    hearing: Protector = ASSUME
    rating: Rating | None = None
    bucket: DustMass | None = None
    floor: DustMass | None = None


class About(Part):
    """The shop itself."""

    name: str = "My shop"
    author: str = ""
    language: str = Field("en", pattern=r"^[a-z]{2,3}(-[A-Za-z0-9]{1,8})*$")
    units: Literal["in", "mm", "both"] = "in"
    page: Literal["letter", "a4"] = ASSUME
    currency: str = Field("$", max_length=4)
    rules: Rules | None = None
    notes: str = ""


class Shop(Part):
    """All that is owned, measured and wanted."""

    about: About = ASSUME
    vacuum: Vacuum = ASSUME
    separator: Separator = ASSUME
    hoses: tuple[Hose, ...] = ASSUME
    tools: tuple[Tool, ...]
    branches: tuple[Branch, ...] = ()
    fittings: tuple[Fitting, ...] = ()
    sheets: tuple[Sheet, ...] = ASSUME
    saw: Saw = ASSUME
    room: Room = ASSUME
    circuit: Circuit = ASSUME
    wishes: Wishes = ASSUME
    weights: Worth = Field(default_factory=Worth)
    built: tuple[Built, ...] = ()
    sessions: tuple[Session, ...] = ()

    @property
    def link(self) -> Hose | None:
        """The hose between separator and vacuum; None when none is owned."""
        return next((h for h in self.hoses if h.use == "link"), None)

    def hose(self, name: str) -> Hose:
        """The hose called ``name``; StopIteration when there is none."""
        return next(h for h in self.hoses if h.name == name)
