"""What a person owns and measures: the shop file and its catalogue."""

from .errors import Fault, ShopFaults
from .filling import Assumption
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
    Suction,
    SuctionPoint,
    Tool,
    Vacuum,
    Wishes,
)
from .reading import ShopFile, parse_shop, read_shop

__all__ = [
    "Assumption", "Branch", "Bucket", "Built", "Circuit", "Cyclone", "End", "Fault", "Fitting", "HoleReading", "HomeTest", "Hose", "Room", "Saw",
    "Separator", "Sheet", "Shop", "ShopFaults", "ShopFile", "Suction", "SuctionPoint", "Tool",
    "Vacuum", "Wishes", "parse_shop", "read_shop",
]  # fmt: skip
