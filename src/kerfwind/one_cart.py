"""The one cart of a plan: what of the shop it reads, and how it is begun before all else.

It is begun as soon as a shop was read, so nothing large is imported here before it is used.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from . import stage_reads as reads
from .quantity import Draw
from .second_process import run_beside, worker_ready
from .shop import Shop
from .shop.sections import cut_down, only_fields

if TYPE_CHECKING:
    from .hookup import Hookups
    from .search.sheet_choice import Build, NoBuild


def begin_build(shop: Shop, draw: Draw) -> Callable[[], Build | NoBuild] | None:
    """Begin the cart in the second process, where it hangs on no choice of fittings.

    It is had by calling what is returned; None where it is left to the plan.
    """
    separator = shop.separator
    if (
        not worker_ready()
        or "fitting rack" in shop.wishes.options
        or any(t.made for t in shop.tools)
        or separator.rings
        or separator.backed_lid
    ):
        return None
    return run_beside(_build, shop, draw)


def _build(shop: Shop, draw: Draw) -> Build | NoBuild:
    from .search.sheet_choice import cheapest_build, second_group, sheet_groups
    from .stages import Stages

    return cheapest_build(
        one_cart(shop), sheet_groups(shop), shop.saw, draw, Stages(keep=0), (), second_group(shop)
    )


def cart_view(shop: Shop, hookups: Hookups | None = None) -> Shop:
    """What a search over carts depends on, and nothing else."""
    return _with_kept(only_fields(shop, reads.SEARCHED), shop, hookups)


def one_cart(shop: Shop, hookups: Hookups | None = None) -> Shop:
    """What a single cart depends on."""
    return _with_kept(reads.cart_sections(shop), shop, hookups)


def _with_kept(view: Shop, shop: Shop, hookups: Hookups | None) -> Shop:
    """With what is built in and kept on the cart; fittings are those that live on it."""
    also: dict[str, Any] = {}
    if "cord wrap" in shop.wishes.options:
        also["circuit"] = shop.circuit
    if "fitting rack" in shop.wishes.options:
        from .hookup import on_the_cart

        owned = shop.fittings
        also["fittings"] = on_the_cart(hookups, owned) if hookups is not None else owned
    view = view.model_copy(update=also) if also else view
    return with_second_sheet(view, shop)


def with_second_sheet(view: Shop, shop: Shop) -> Shop:
    """With the second sheet, where one is wished for."""
    from .search.sheet_choice import SHEET

    second = [s for s in shop.sheets if s.name == shop.wishes.second_sheet]
    if not second:
        return view
    return view.model_copy(update={"sheets": tuple(cut_down(s, SHEET) for s in second)})
