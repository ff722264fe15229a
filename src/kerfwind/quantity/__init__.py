"""Quantities as people write them, SI as the computing rooms want them.

A person writes ``2-1/4 in``, ``57.2 mm ± 0.3`` or ``80..95 inH2O``. Inside, every
value is a float or array in SI. What is uncertain is drawn along one *sample
axis*: the last axis of every array, the same length in every room, so that two
rooms that use the same measurement see the same draw of it.
"""

from .dimension import Dimension, Unit, UnitChoice, dimension
from .parse import UNSEEN, QuantityError, parse
from .quantity import MANY_TOOLS, SAMPLES, Draw, Quantity, Standing, exact, samples_for
from .spread import band, middle

__all__ = [
    "MANY_TOOLS",
    "SAMPLES",
    "UNSEEN",
    "Dimension",
    "Draw",
    "Quantity",
    "QuantityError",
    "Standing",
    "Unit",
    "UnitChoice",
    "band",
    "dimension",
    "exact",
    "middle",
    "parse",
    "samples_for",
]
