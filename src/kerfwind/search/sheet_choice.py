"""Which sheets to build from: every thickness on sale is built, nested, and priced."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ..cart import CannotBuild, Cart, CartPanel, Unmet, build
from ..cutting import CutStep, CuttingError, Mark, Nest, Panel, Saw, SheetKind, cut_order, nest
from ..finding import Finding
from ..quantity import Draw
from ..shop import Saw as ShopSaw
from ..shop import Sheet, Shop
from ..stages import Stages

#: Effort spent on a cart's panels: what the plain search takes, which needs no compiling.
NEST_BUDGET = 300


@dataclass(frozen=True)
class Build:
    """A cart with the nest of its panels and the order of cuts."""

    cart: Cart
    nest: Nest
    cuts: tuple[CutStep, ...]


@dataclass(frozen=True)
class NoBuild:
    """Why nothing can be built: what each kind of sheet ran into."""

    unmet: tuple[Unmet, ...]
    problems: tuple[str, ...]


def saw_of(saw: ShopSaw) -> Saw:
    """The saw as the cutting room wants it; doubtful kerf and trim at their larger end."""
    kinds = {"table saw": "table", "track saw": "track", "circular saw": "circular"}
    table = saw.kind == "table saw"
    return Saw(
        kerf_m=saw.kerf.high_si,
        trim_m=saw.trim.high_si,
        kind=kinds[saw.kind],  # type: ignore[arg-type]
        fence_limit_m=saw.largest_rip.low_si if table else None,
        smallest_width_m=saw.smallest_piece.best_si,
        carry_m=(saw.carry_length.low_si, saw.carry_width.low_si),
    )


def panels_of(cart: Cart, material: str) -> list[Panel]:
    """The cart's panels as the cutting room wants them."""
    return laid_panels(cart.panels, material)


def laid_panels(panels: Iterable[CartPanel], material: str) -> list[Panel]:
    """Panels of a cart as the cutting room wants them."""
    return [_panel(each, material) for each in panels]


def _panel(panel: CartPanel, material: str) -> Panel:
    # Screw holes are left to the drawings of single panels: on a sheet they would hide the rest.
    marks = [
        Mark("hole", o.x_m, o.y_m, 2 * o.radius_m)
        if o.round
        else Mark("notch", o.x_m - o.length_m / 2, o.y_m - o.width_m / 2, o.length_m, o.width_m)
        for o in panel.openings
    ]
    corners = {"near left": (0.0, 0.0), "near right": (panel.length_m, 0.0),
               "far left": (0.0, panel.width_m), "far right": (panel.length_m, panel.width_m)}  # fmt: skip
    marks += [Mark("chamfer", *corners[corner], leg) for corner, leg in panel.chamfers]
    return Panel(
        name=panel.name,
        length_m=panel.length_m,
        width_m=panel.width_m,
        quantity=panel.quantity,
        material=material,
        thickness_m=panel.thickness_m,
        grain=panel.grain,
        banded=panel.edges,
        marks=tuple(marks),
    )


def sheet_groups(shop: Shop) -> list[list[Sheet]]:
    """Sheets that can stand in for one another: one material, one measured thickness."""
    wanted = shop.wishes.sheet
    groups: dict[tuple[str, float], list[Sheet]] = {}
    for sheet in shop.sheets:
        groups.setdefault((sheet.material, round(sheet.thickness.best_si, 5)), []).append(sheet)
    chosen = list(groups.values())
    if wanted is not None:
        chosen = [g for g in chosen if any(s.name == wanted for s in g)]
    return chosen


def kinds_of(sheets: Sequence[Sheet], thickness_m: float) -> list[SheetKind]:
    """Sheets as the cutting room wants them; doubtful sizes at their smaller end."""
    return [
        SheetKind(
            key=s.name, length_m=s.length.low_si, width_m=s.width.low_si, material=s.material,
            thickness_m=thickness_m, price=s.price, limit=s.count, offcut=s.price == 0,
        )
        for s in sheets
    ]  # fmt: skip


def cheapest_build(
    cart_shop: Shop, groups: list[list[Sheet]], saw: ShopSaw, draw: Draw, stages: Stages
) -> Build | NoBuild:
    """The cheapest cart among the kinds of sheet; why not, where there is none.

    ``cart_shop`` holds just what the cart depends on, so that the stages of nesting and
    building are untouched by anything else.
    """
    best: Build | None = None
    unmet: list[Unmet] = []
    problems: list[str] = []
    for sheets in groups:
        try:
            cart = stages.run("cart", build, cart_shop, sheets[0], draw)
            found, cuts = stages.run(
                "cutting", _nested, panels_of(cart, sheets[0].material),
                kinds_of(sheets, cart.thickness_m), saw_of(saw),
            )  # fmt: skip
        except CannotBuild as error:
            unmet += error.unmet
            continue
        except CuttingError as error:
            problems += [f"{sheets[0].name}: {text}" for text in error.problems]
            continue
        if best is None or (found.cost, found.sheets_bought) < (
            best.nest.cost,
            best.nest.sheets_bought,
        ):
            best = Build(cart, found, cuts)
    if best is not None:
        return best
    return NoBuild(tuple(dict.fromkeys(unmet)), tuple(problems))


def _nested(
    panels: list[Panel], kinds: list[SheetKind], saw: Saw
) -> tuple[Nest, tuple[CutStep, ...]]:
    found = nest(panels, kinds, saw, budget=NEST_BUDGET, seed=1)
    return found, tuple(cut_order(found, saw))


def nest_finding(build: Build) -> Finding:
    """How near the nest is to the fewest sheets."""
    found = build.nest
    return Finding(
        key="cutting.nearness",
        room="cutting",
        about="sheets",
        check="sheets used against the fewest possible",
        level="good" if found.proven else "advice",
        answer=found.nearness[0].upper() + found.nearness[1:].rstrip(".") + ".",
    )
