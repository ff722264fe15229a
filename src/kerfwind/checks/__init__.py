"""Checks of a cart: whether it fits, stands, rolls and holds, and what else it carries."""

from .checked import CheckedCart, backframe, build, checked, low, tower
from .fit_range import carries
from .standing import lay_steady, stands_of
from .strength import strength
from .tipping import Stand

__all__ = [
    "CheckedCart",
    "Stand",
    "backframe",
    "build",
    "carries",
    "checked",
    "lay_steady",
    "low",
    "stands_of",
    "strength",
    "tower",
]
