"""Ends and fits, chains of fittings, what to buy and what to print."""

from .chart import WallChart, on_the_cart, wall_chart
from .choosing import choose
from .ends import diameters
from .fits import Fit, FitKind, fit
from .in_line import InLine, in_line, on_the_unit
from .measuring import MeasureSheet, measure_sheet
from .model import (
    Alternative,
    Chain,
    Compared,
    Coupling,
    Hookups,
    Joint,
    Piece,
    Plate,
    Purchase,
    SizeCheck,
    Weights,
)
from .reach import FloorMap, floor_map
from .reducer import PRINT_CAUTIONS, PrintedEnd, Reducer

__all__ = [
    "PRINT_CAUTIONS",
    "Alternative",
    "Chain",
    "Compared",
    "Coupling",
    "Fit",
    "FitKind",
    "FloorMap",
    "Hookups",
    "InLine",
    "Joint",
    "MeasureSheet",
    "Piece",
    "Plate",
    "PrintedEnd",
    "Purchase",
    "Reducer",
    "SizeCheck",
    "WallChart",
    "Weights",
    "choose",
    "diameters",
    "fit",
    "floor_map",
    "in_line",
    "measure_sheet",
    "on_the_cart",
    "on_the_unit",
    "wall_chart",
]
