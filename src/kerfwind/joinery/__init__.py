"""Joinery: panels, and the screws, grooves, pockets and joints that hold one to another."""

from .boards import Board, BoardWanted, boards
from .marks import MarkingRule
from .model import (
    Alignment,
    CutPanel,
    Edge,
    Grain,
    HardwareItem,
    Hole,
    JointKind,
    Lying,
    PanelJoint,
    PlacedPanel,
    Pocket,
    Pose,
    Screw,
    Step,
    Taken,
)
from .workbench import SecondSheet, UnjoinableError, Workbench

__all__ = [
    "Alignment",
    "Board",
    "BoardWanted",
    "CutPanel",
    "Edge",
    "Grain",
    "HardwareItem",
    "Hole",
    "JointKind",
    "Lying",
    "MarkingRule",
    "PanelJoint",
    "PlacedPanel",
    "Pocket",
    "Pose",
    "Screw",
    "SecondSheet",
    "Step",
    "Taken",
    "UnjoinableError",
    "Workbench",
    "boards",
]
