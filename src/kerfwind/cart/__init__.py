"""The cart: its forms laid out, the hose's path, the whole cart."""

from .model import Bend, CannotBuild, Cart, HeldBucket, Home, HosePath, Load, Sizes
from .remedy import with_entries, with_fixes
from .whole_cart import CartLayout, assemble
from .work import Work, work

__all__ = [
    "Bend",
    "CannotBuild",
    "Cart",
    "CartLayout",
    "HeldBucket",
    "Home",
    "HosePath",
    "Load",
    "Sizes",
    "Work",
    "assemble",
    "with_entries",
    "with_fixes",
    "work",
]
