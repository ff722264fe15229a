"""kerfwind: from a home workshop's measurements to a dust unit that works.

As a library, `import kerfwind as kw`: `kw.read_shop` and `kw.make_plan` give the whole plan,
`kw.nest` and `kw.cut_order` lay panels on sheets, `kw.fit` says whether two ends join, and
`kw.relations` holds the published relations by themselves.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from . import relations as relations
    from .cutting import Panel, Saw, SheetKind, cut_order, nest
    from .library import fit
    from .plan import make_plan
    from .shop import read_shop

__version__ = "0.1.0"

__all__ = [
    "Panel",
    "Saw",
    "SheetKind",
    "cut_order",
    "fit",
    "make_plan",
    "nest",
    "read_shop",
    "relations",
]

# Imported when first used: the command's start must not wait for what it does not need.
_ROOMS = {
    "cutting": ("Panel", "Saw", "SheetKind", "cut_order", "nest"),
    "library": ("fit",),
    "plan": ("make_plan",),
    "shop": ("read_shop",),
}


def __getattr__(name: str) -> Any:
    if name == "relations":
        return import_module(".relations", __name__)
    for room, names in _ROOMS.items():
        if name in names:
            return getattr(import_module(f".{room}", __name__), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")


def __dir__() -> list[str]:
    return [*globals(), *__all__]
