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
from .remedy import with_remedy
from .strength import strength

__all__ = [
    "Bend", "CannotBuild", "Cart", "CartPanel", "HardwareItem", "HeldBucket", "Hole", "HosePath",
    "Joint", "Load", "PlacedPanel", "Screw", "Sizes", "Stand", "Step", "Unmet", "strength", "tower", "with_remedy",
]  # fmt: skip
