"""The cart: forms, panels, joints, hardware, the hose's path, stability, strength."""

from .forms import FORMS, build
from .forms.backframe import backframe
from .forms.low import low
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
    "FORMS", "Bend", "CannotBuild", "Cart", "CartPanel", "HardwareItem", "HeldBucket", "Hole",
    "HosePath", "Joint", "Load", "PlacedPanel", "Screw", "Sizes", "Stand", "Step", "Unmet",
    "backframe", "build", "low", "strength", "tower", "with_remedy",
]  # fmt: skip
