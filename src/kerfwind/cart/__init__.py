"""The cart: forms, panels, joints, hardware, the hose's path, stability, strength."""

from .forms.tower import tower
from .model import (
    Bend,
    CannotBuild,
    Cart,
    CartPanel,
    HardwareItem,
    HeldBucket,
    Hole,
    HosePath,
    Joint,
    Load,
    PlacedPanel,
    Screw,
    Sizes,
    Stand,
    Step,
    Unmet,
)

__all__ = [
    "Bend", "CannotBuild", "Cart", "CartPanel", "HardwareItem", "HeldBucket", "Hole", "HosePath",
    "Joint", "Load", "PlacedPanel", "Screw", "Sizes", "Stand", "Step", "Unmet", "tower",
]  # fmt: skip
