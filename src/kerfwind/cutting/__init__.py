"""Sheets, kerf, grain, nests, bounds, and the order of cuts."""

from .checking import check_nest, replay
from .model import (
    Axis,
    CuttingError,
    Edge,
    Grain,
    Mark,
    Nest,
    Node,
    Panel,
    Placed,
    Progress,
    Rect,
    Saw,
    SheetKind,
    SheetNest,
    Watch,
)
from .nesting import nest
from .order import CutStep, SawCut, cut_order, say

__all__ = [
    "Axis",
    "CutStep",
    "CuttingError",
    "Edge",
    "Grain",
    "Mark",
    "Nest",
    "Node",
    "Panel",
    "Placed",
    "Progress",
    "Rect",
    "Saw",
    "SawCut",
    "SheetKind",
    "SheetNest",
    "Watch",
    "check_nest",
    "cut_order",
    "nest",
    "replay",
    "say",
]
