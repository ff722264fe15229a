"""Drawings as data, laid out on paper, written as SVG or DXF."""

from .layout import Paper, layout, layout_together
from .model import (
    Arc,
    Balloon,
    Circle,
    Dimension,
    Drawing,
    GrainArrow,
    Label,
    Ordinates,
    Polygon,
    Polyline,
    RoundDimension,
    rectangle,
)
from .placed import Placed, overlaps
from .svg import svg

__all__ = [
    "Arc",
    "Balloon",
    "Circle",
    "Dimension",
    "Drawing",
    "GrainArrow",
    "Label",
    "Ordinates",
    "Paper",
    "Placed",
    "Polygon",
    "Polyline",
    "RoundDimension",
    "layout",
    "layout_together",
    "overlaps",
    "rectangle",
    "svg",
]
