"""What a person owns and measures: the shop file and its catalogue."""

from ..faults import Fault, Faults
from .filling import Assumption
from .kinds import AssumedText
from .model import (
    Branch,
    Bucket,
    Built,
    Circuit,
    Cyclone,
    End,
    Fitting,
    HoleReading,
    HomeTest,
    Hose,
    Room,
    Saw,
    Separator,
    Sheet,
    Shop,
    Spot,
    Suction,
    SuctionPoint,
    Tool,
    Vacuum,
    Wishes,
)
from .reading import ShopFile, parse_shop, read_shop

__all__ = [
    "AssumedText", "Assumption",
    "Branch",
    "Bucket",
    "Built",
    "Circuit",
    "Cyclone",
    "End",
    "Fault",
    "Faults",
    "Fitting",
    "HoleReading",
    "HomeTest",
    "Hose",
    "Room",
    "Saw",
    "Separator",
    "Sheet",
    "Shop",
    "ShopFile", "Spot",
    "Suction",
    "SuctionPoint",
    "Tool",
    "Vacuum",
    "Wishes",
    "parse_shop",
    "read_shop",
]  # fmt: skip
