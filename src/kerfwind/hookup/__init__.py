"""Ends and fits, chains of fittings, what to buy and what to print."""

from .choosing import choose
from .ends import diameters
from .fits import Fit, FitKind, fit
from .model import (
    Alternative,
    Chain,
    Coupling,
    Hookups,
    Joint,
    Piece,
    Plate,
    Purchase,
    SizeCheck,
    Weights,
)
from .reducer import PrintedEnd, Reducer

__all__ = [
    "Alternative", "Chain", "Coupling", "Fit", "FitKind", "Hookups", "Joint", "Piece", "Plate",
    "PrintedEnd", "Purchase", "Reducer", "SizeCheck", "Weights", "choose", "diameters", "fit",
]  # fmt: skip
