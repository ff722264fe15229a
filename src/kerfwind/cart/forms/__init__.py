"""Forms of a cart, one module each."""

from __future__ import annotations

from collections.abc import Callable

from ...quantity import Draw
from ...shop import Sheet, Shop
from ..whole_cart import CartLayout
from . import backframe, low, tower

LayOut = Callable[[Shop, Sheet, Draw], CartLayout]

#: What lays out each form, without options.
BARE: dict[str, LayOut] = {
    "tower": tower.lay_out,
    "backframe": backframe.lay_out,
    "low": low.lay_out,
}
