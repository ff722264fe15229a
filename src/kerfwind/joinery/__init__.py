"""Joinery: panels, and the screws, grooves, pockets and joints that hold one to another."""

from .boards import Board, BoardWanted, boards
from .marks import MarkingRule
from .model import (
    CutPanel,
    Edge,
    Grain,
    HardwareItem,
    Hole,
    JointKind,
    PanelJoint,
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
    "CutPanel",
    "Edge",
    "Grain",
    "HardwareItem",
    "Hole",
    "JointKind",
    "MarkingRule",
    "PanelJoint",
    "PlacedPanel",
    "Pocket",
    "Pose",
    "Screw",
    "SecondSheet",
    "Step",
    "UnjoinableError",
    "Workbench",
    "boards",
]
