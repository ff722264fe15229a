"""The cart: forms, panels, joints, hardware, the hose's path, stability, strength."""

from .boards import Board, BoardWanted, boards
from .finishing import Laid, finish, stands_of
from .forms import FORMS, backframe, build, lay_steady, low, tower
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
from .others import carries
from .remedy import with_remedy
from .strength import strength
from .work import Work, work

__all__ = [
    "FORMS",
    "Bend",
    "Board",
    "BoardWanted",
    "CannotBuild",
    "Cart",
    "CartPanel",
    "HardwareItem",
    "HeldBucket",
    "Hole",
    "HosePath",
    "Joint",
    "Laid",
    "Load",
    "PlacedPanel",
    "Screw",
    "Sizes",
    "Stand",
    "Step",
    "Unmet",
    "Work",
    "backframe",
    "boards",
    "build",
    "carries",
    "finish",
    "lay_steady",
    "low",
    "stands_of",
    "strength",
    "tower",
    "with_remedy",
    "work",
]
