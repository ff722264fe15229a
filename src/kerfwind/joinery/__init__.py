"""Joinery: panels, and the screws, grooves, pockets and joints that hold one to another."""

from .boards import Board, BoardWanted, boards
from .marks import Rule
from .model import (
    CartPanel,
    Edge,
    Grain,
    HardwareItem,
    Hole,
    Joint,
    JointKind,
    PlacedPanel,
    Pocket,
    Pose,
    Screw,
    Step,
)
from .workbench import SecondSheet, UnjoinableError, Workbench

__all__ = [
    "Board",
    "BoardWanted",
    "CartPanel",
    "Edge",
    "Grain",
    "HardwareItem",
    "Hole",
    "Joint",
    "JointKind",
    "PlacedPanel",
    "Pocket",
    "Pose",
    "Rule",
    "Screw",
    "SecondSheet",
    "Step",
    "UnjoinableError",
    "Workbench",
    "boards",
]
