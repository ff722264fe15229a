"""Sheets, kerf, grain, nests, bounds, and the order of cuts."""

from .checking import check_nest, replay
from .half_done import CutTooEarlyError, Frozen, ShortAnswer, freeze, nest_rest, short_panel
from .model import (
    Axis,
    CuttingError,
    Edge,
    Grain,
    Mark,
    Nest,
    Node,
    Panel,
    Piece,
    Placed,
    Progress,
    Rect,
    Saw,
    SheetKind,
    SheetNest,
    SheetsRunOutError,
    Watch,
)
from .nesting import least_cost, nest
from .order import CutStep, SawCut, cut_order, open_pieces
from .reading import CutList, read_cut_list
from .strips import Banding, Strip, StripPlaced, StripPlan, banding, strips_from_offcuts

__all__ = [
    "Axis",
    "Banding",
    "CutList",
    "CutStep",
    "CutTooEarlyError",
    "CuttingError",
    "Edge",
    "Frozen",
    "Grain",
    "Mark",
    "Nest",
    "Node",
    "Panel",
    "Piece",
    "Placed",
    "Progress",
    "Rect",
    "Saw",
    "SawCut",
    "SheetKind",
    "SheetNest",
    "SheetsRunOutError",
    "ShortAnswer",
    "Strip",
    "StripPlaced",
    "StripPlan",
    "Watch",
    "banding",
    "check_nest",
    "cut_order",
    "freeze",
    "least_cost",
    "nest",
    "nest_rest",
    "open_pieces",
    "read_cut_list",
    "replay",
    "short_panel",
    "strips_from_offcuts",
]
