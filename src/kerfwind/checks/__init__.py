"""Checks of a cart: whether it fits, stands, rolls and holds, and what else it carries."""

from .checked import CheckedCart, backframe, build, check_cart, low, tower
from .fit_range import FitRange, fit_range_of
from .standing import stands_of
from .steadying import make_steady
from .strength import strength
from .tipping import Stand

__all__ = [
    "CheckedCart",
    "FitRange",
    "Stand",
    "backframe",
    "build",
    "check_cart",
    "fit_range_of",
    "low",
    "make_steady",
    "stands_of",
    "strength",
    "tower",
]
