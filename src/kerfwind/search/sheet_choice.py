"""Which sheets to build from: every thickness on sale is built, nested, and priced."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from ..cart import CannotBuild
from ..cart.cutsize import usable
from ..checks import CheckedCart
from ..cutting import (
    CutStep,
    CuttingError,
    Mark,
    Nest,
    Panel,
    Saw,
    SheetKind,
    cut_order,
    least_cost,
    nest,
)
from ..facts import Amount, Ref, Term, facts, state
from ..faults import Refusal
from ..finding import Finding, finding
from ..joinery import Board, BoardWanted, CutPanel, HardwareItem, boards
from ..quantity import Draw, Quantity
from ..shop import Saw as ShopSaw
from ..shop import Sheet, Shop
from ..shop.sections import cut_down, names
from ..sources import fact
from ..stages import Stages
from .cart_stages import Steady, cart_in_stages, steady_in_stages
from .cut_already import OneOfSeveral, Standing, sorted_out, ways_on

if TYPE_CHECKING:
    from ..hookup import Plate

#: What of a sheet decides the cart: how many there are does not.
SHEET = {**names("name material"), **names("thickness length"), **names("width price")}

#: Effort spent on a cart's panels: what the plain search takes, which needs no compiling.
NEST_BUDGET = 60


@dataclass(frozen=True)
class Laid:
    """What was given to the cutting room: with it, and the nest's budget and seed, it nests alike."""

    panels: tuple[Panel, ...]
    sheets: tuple[SheetKind, ...]
    saw: Saw


@dataclass(frozen=True)
class Build:
    """A cart with the nest of its panels and the order of cuts.

    ``laid`` is what was nested; ``boards`` are the plates and boxes cut with it; ``too_large``
    those that no sheet holds; ``cut_already`` single panels that came out otherwise.
    """

    cart: CheckedCart
    nest: Nest
    cuts: tuple[CutStep, ...]
    laid: Laid
    boards: tuple[Board, ...] = ()
    too_large: tuple[BoardWanted, ...] = ()
    cut_already: tuple[OneOfSeveral, ...] = ()

    @property
    def panels(self) -> tuple[CutPanel, ...]:
        """All panels that are cut, the cart's first and then those of its boards."""
        return _panels(self.cart, self.boards)

    @property
    def hardware(self) -> tuple[HardwareItem, ...]:
        """Hardware of cart and boards together; rows of the same kind are one row."""
        return _hardware(self.cart, self.boards)

    @property
    def whole(self) -> CheckedCart:
        """The cart with the boards' panels, joints and hardware counted in, for the work of it."""
        return with_boards(self.cart, self.boards)


def with_boards(cart: CheckedCart, boards: Sequence[Board]) -> CheckedCart:
    """A cart with the panels, joints and hardware of plates and boxes counted in."""
    return replace(
        cart,
        panels=_panels(cart, boards),
        hardware=_hardware(cart, boards),
        placed=(*cart.placed, *(p for b in boards for p in b.placed)),
        joints=(*cart.joints, *(j for b in boards for j in b.joints)),
        steps=(*cart.steps, *(s for b in boards for s in b.steps)),
    )


def _panels(cart: CheckedCart, boards: Sequence[Board]) -> tuple[CutPanel, ...]:
    return (*cart.panels, *(p for b in boards for p in b.panels))


def _hardware(cart: CheckedCart, boards: Sequence[Board]) -> tuple[HardwareItem, ...]:
    rows: dict[object, HardwareItem] = {h.key: h for h in cart.hardware}
    for item in (h for b in boards for h in b.hardware):
        # A roll of foam or a fastener is told apart by what it is for.
        key = item.key if item.key in rows else (item.key, item.what)
        had = rows.get(key)
        rows[key] = item if had is None else had.with_more(item.quantity, item.uses)
    return tuple(rows.values())


@dataclass(frozen=True)
class NoBuild:
    """Why nothing can be built: what each kind of sheet ran into.

    ``problems`` name the sheet that was tried.
    """

    unmet: tuple[Refusal, ...]
    problems: tuple[tuple[str, Refusal], ...]


def saw_of(saw: ShopSaw) -> Saw:
    """The saw as the cutting room wants it; doubtful kerf and trim at their larger end."""
    kinds = {"table saw": "table", "track saw": "track", "circular saw": "circular"}
    table = saw.kind == "table saw"
    usual = Saw()
    return Saw(
        kerf_m=saw.kerf.high_si,
        trim_m=saw.trim.high_si,
        kind=kinds[saw.kind],  # type: ignore[arg-type]
        fence_limit_m=saw.largest_rip.low_si if table else None,
        crosscut_limit_m=saw.crosscut.low_si if saw.crosscut else usual.crosscut_limit_m,
        stop_limit_m=saw.sled_stop.low_si if saw.sled_stop else fact("cutting.sled_stop").value,
        track_m=saw.track.low_si if saw.track else None,
        smallest_width_m=saw.smallest_piece.best_si,
        order=saw.order,
        carry_m=(saw.carry_length.low_si, saw.carry_width.low_si),
    )


def laid_panels(
    panels: Iterable[CutPanel], material: str, second: str | None = None
) -> list[Panel]:
    """Panels of a cart as the cutting room wants them."""
    return [_panel(p, (second or material) if p.second else material) for p in panels]


def _panel(panel: CutPanel, material: str) -> Panel:
    # Screw holes are left to the drawings of single panels: on a sheet they would hide the rest.
    marks = [
        Mark("hole", o.x_m, o.y_m, 2 * o.radius_m)
        if o.round
        else Mark("notch", o.x_m - o.length_m / 2, o.y_m - o.width_m / 2, o.length_m, o.width_m)
        for o in panel.openings
    ]
    corners = {
        "near left": (0.0, 0.0),
        "near right": (panel.length_m, 0.0),
        "far left": (0.0, panel.width_m),
        "far right": (panel.length_m, panel.width_m),
    }
    marks += [Mark("chamfer", *corners[corner], leg) for corner, leg in panel.chamfers]
    for corner, a, b in panel.notches:
        x = panel.length_m - a if "right" in corner else 0.0
        y = panel.width_m - b if "far" in corner else 0.0
        marks.append(Mark("notch", x, y, a, b))
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
        return [g for g in chosen if any(s.name == wanted for s in g)]
    second = shop.wishes.second_sheet
    others = [g for g in chosen if all(s.name != second for s in g)]
    return others or chosen


def second_group(shop: Shop) -> list[Sheet]:
    """Sheets that can stand in for the second sheet; none where it is not wished for."""
    wanted = next((s for s in shop.sheets if s.name == shop.wishes.second_sheet), None)
    if wanted is None:
        return []
    thickness = round(wanted.thickness.best_si, 5)
    alike = [
        s
        for s in shop.sheets
        if s.material == wanted.material and round(s.thickness.best_si, 5) == thickness
    ]
    # The one that was named comes first: its thickness is what the cart is built from.
    return sorted(alike, key=lambda s: s.name != wanted.name)


def second_groups(shop: Shop) -> list[list[Sheet]]:
    """Sheets to try for the second panels: those wished for, or every kind on sale."""
    wished = second_group(shop)
    if wished:
        return [wished]
    free = {"sheet": None, "second_sheet": None}
    return sheet_groups(shop.model_copy(update={"wishes": shop.wishes.model_copy(update=free)}))


def all_kinds(
    sheets: Sequence[Sheet], second: Sequence[Sheet], panels: Iterable[CutPanel]
) -> list[SheetKind]:
    """Both kinds of sheet as the cutting room wants them, each thickness that of its panels."""
    thick = {p.second: p.thickness_m for p in panels}
    kinds = kinds_of(sheets, thick[False])
    if True in thick:
        known = {k.key for k in kinds}
        kinds += [k for k in kinds_of(second, thick[True]) if k.key not in known]
    return kinds


def to_nest(
    panels: Sequence[CutPanel], sheets: Sequence[Sheet], second: Sequence[Sheet] = ()
) -> tuple[list[Panel], list[SheetKind]]:
    """Panels and sheets as the cutting room wants them, those of the second sheet with it."""
    material = second[0].material if second else None
    return laid_panels(panels, sheets[0].material, material), all_kinds(sheets, second, panels)


def kinds_of(sheets: Sequence[Sheet], thickness_m: float) -> list[SheetKind]:
    """Sheets as the cutting room wants them; doubtful sizes at their smaller end."""
    return [
        SheetKind(
            key=s.name,
            length_m=s.length.low_si,
            width_m=s.width.low_si,
            material=s.material,
            thickness_m=thickness_m,
            price=s.price,
            limit=s.count,
            offcut=s.price == 0,
        )
        for s in sheets
    ]


def wanted_boards(plates: Iterable[Plate]) -> tuple[BoardWanted, ...]:
    """What the hookups want of plywood, as the cart room makes it."""
    return tuple(
        BoardWanted(p.name, p.tool, p.kind, p.hole_m, p.face_m, p.depth_m, p.bored) for p in plates
    )


def _fits(board: Board, sheets: Sequence[Sheet], saw: ShopSaw) -> bool:
    """Whether some sheet holds each of its panels, either way round."""
    rooms = [usable(s, saw) for s in sheets]
    return all(
        any(
            long <= a + 1e-7 and wide <= b + 1e-7
            for a, b in rooms
            for long, wide in ((p.length_m, p.width_m), (p.width_m, p.length_m))
        )
        for p in board.panels
    )


def with_backed_lid(shop: Shop, sheet: Sheet) -> Shop:
    """The shop whose cyclone stands as much higher, and weighs as much more, as its backing."""
    separator = shop.separator
    if not (separator.backed_lid and separator.in_use):
        return shop
    cyclone, (across, along) = separator.cyclone, separator.bucket.rim
    thick = sheet.thickness.best_si
    area = across.best_si * along.best_si * (math.pi / 4 if separator.bucket.is_round else 1.0)
    heavier = area * thick * fact("cart.plywood.density").value
    raised = cyclone.model_copy(
        update={
            "height": _more(cyclone.height, thick),
            "inlet_height": _more(cyclone.inlet_height, thick),
            "weight": _more(cyclone.weight, heavier),
        }
    )
    return shop.model_copy(update={"separator": separator.model_copy(update={"cyclone": raised})})


def _more(quantity: Quantity, si: float) -> Quantity:
    return replace(
        quantity,
        best_si=quantity.best_si + si,
        low_si=quantity.low_si + si,
        high_si=quantity.high_si + si,
    )


def _steady_of(shop: Shop, sheets: Sequence[Sheet], draw: Draw, stages: Stages) -> Steady:
    """A steady cart of the first of sheets alike, or of the largest where that is too small."""
    try:
        return steady_in_stages(shop, cut_down(sheets[0], SHEET), draw, stages)
    except CannotBuild as error:
        largest = max(sheets, key=lambda s: s.length.low_si * s.width.low_si)
        if largest is sheets[0] or any(u.place != "wishes.sheet" for u in error.unmet):
            raise
        return steady_in_stages(shop, cut_down(largest, SHEET), draw, stages)


@dataclass(frozen=True)
class _Drafted:
    """A cart of one kind of sheet that is laid out, and what is cut for it.

    ``shop`` is what it is built for, its panels as built sorted out as ``standing`` says;
    ``sized`` are all plates and boxes that are wanted, ``made`` those that some sheet holds.
    """

    sheets: Sequence[Sheet]
    shop: Shop
    standing: Standing
    steady: Steady
    sized: tuple[Board, ...]
    made: tuple[Board, ...]
    panels: list[Panel]
    kinds: list[SheetKind]

    @property
    def made_already(self) -> dict[str, frozenset[int]]:
        """Copies that are not cut any more."""
        return _left_out(self.panels, self.standing.made)

    def cart(self, draw: Draw, stages: Stages) -> CheckedCart:
        """The cart, built and checked."""
        return cart_in_stages(with_backed_lid(self.shop, self.sheets[0]), self.steady, draw, stages)


def _drafted(
    shop: Shop,
    sheets: Sequence[Sheet],
    saw: ShopSaw,
    draw: Draw,
    stages: Stages,
    wanted: Sequence[BoardWanted],
    second: Sequence[Sheet],
) -> _Drafted:
    own, standing = shop, Standing((), (), {})
    if shop.built:
        bare = with_backed_lid(shop.model_copy(update={"built": ()}), sheets[0])
        planned = cart_in_stages(bare, _steady_of(bare, sheets, draw, stages), draw, stages)
        standing = sorted_out(shop.built, planned)
        own = shop.model_copy(update={"built": standing.whole})
    steady = _steady_of(with_backed_lid(own, sheets[0]), sheets, draw, stages)
    bench = steady.layout.bench
    cut_panels = tuple(bench.panels.values())
    sized = boards(shop, wanted, bench.thickness_m, cut_panels)
    fitting = [b.wanted for b in sized if _fits(b, sheets, saw)]
    made = sized
    if len(fitting) < len(sized):
        made = boards(shop, fitting, bench.thickness_m, cut_panels)
    every = (*cut_panels, *(p for b in made for p in b.panels))
    panels, kinds = to_nest(every, sheets, second)
    return _Drafted(sheets, own, standing, steady, sized, made, panels, kinds)


def cheapest_build(
    cart_shop: Shop,
    groups: list[list[Sheet]],
    saw: ShopSaw,
    draw: Draw,
    stages: Stages,
    wanted: Sequence[BoardWanted] = (),
    second: Sequence[Sheet] = (),
) -> Build | NoBuild:
    """The cheapest cart among the kinds of sheet; why not, where there is none.

    ``cart_shop`` holds just what the cart depends on, so that the stages of nesting and
    building are untouched by anything else. What is ``wanted`` beside it is cut from the
    same sheets.
    """
    unmet: list[Refusal] = []
    problems: list[tuple[str, Refusal]] = []
    drafted: list[_Drafted] = []
    for sheets in groups:
        try:
            drafted.append(_drafted(cart_shop, sheets, saw, draw, stages, wanted, second))
        except CannotBuild as error:
            unmet += error.unmet
    own_saw = saw_of(saw)
    best: tuple[_Drafted, Nest, tuple[CutStep, ...]] | None = None
    for each in _cheapest(drafted, own_saw, stages):
        try:
            layout, cuts = stages.run(
                "cutting", _nested, each.panels, each.kinds, own_saw, each.made_already
            )
        except CuttingError as error:
            problems += [(each.sheets[0].name, why) for why in error.problems]
            continue
        if best is None or (layout.cost, layout.sheets_bought) < (
            best[1].cost,
            best[1].sheets_bought,
        ):
            best = each, layout, cuts
    if best is None:
        return NoBuild(tuple(dict.fromkeys(unmet)), tuple(problems))
    chosen, layout, cuts = best
    cart = chosen.cart(draw, stages)
    ways = tuple(
        _again(one, layout, chosen.panels, chosen.kinds, own_saw, chosen.made_already)
        for one in ways_on(chosen.shop, chosen.sheets[0], draw, cart, chosen.standing)
    )
    cut_too = [b.wanted for b in chosen.made]
    too_large = tuple(b.wanted for b in chosen.sized if b.wanted not in cut_too)
    laid = Laid(tuple(chosen.panels), tuple(chosen.kinds), own_saw)
    return Build(cart, layout, cuts, laid, chosen.made, too_large, ways)


def _cheapest(drafted: Sequence[_Drafted], saw: Saw, stages: Stages) -> list[_Drafted]:
    """Those whose sheets cost least, nested for the money alone; those that do not go on sheets too.

    What costs more at least than another does is not nested.
    """
    if len(drafted) < 2:
        return list(drafted)
    least = [_least_cost(each, saw) for each in drafted]
    costs: dict[int, float | None] = {}
    cheapest = math.inf
    for at in sorted(range(len(drafted)), key=lambda k: least[k]):
        if least[at] > cheapest + _SAME_MONEY:
            continue
        each = drafted[at]
        cost = costs[at] = stages.run(
            "sheet money", _cost, each.panels, each.kinds, saw, each.made_already
        )
        cheapest = min(cheapest, math.inf if cost is None else cost)
    return [
        drafted[at]
        for at, cost in sorted(costs.items())
        if cost is None or cost <= cheapest + _SAME_MONEY
    ]


#: Sums of money that differ by less are the same.
_SAME_MONEY = 1e-6


def _least_cost(each: _Drafted, saw: Saw) -> float:
    """What its sheets cost at least; nothing is known where some of it is cut already."""
    if each.made_already:
        return 0.0
    try:
        return least_cost(each.panels, each.kinds, saw)
    except CuttingError:
        return 0.0


def _cost(
    panels: list[Panel], kinds: list[SheetKind], saw: Saw, made: dict[str, frozenset[int]]
) -> float | None:
    """What the sheets cost; None where the panels do not go on them."""
    try:
        return nest(
            panels, kinds, saw, budget=NEST_BUDGET, seed=1, made=made or None, money_only=True
        ).cost
    except CuttingError:
        return None


def _left_out(
    panels: Sequence[Panel], made: dict[str, frozenset[int]]
) -> dict[str, frozenset[int]]:
    """Copies that are not cut any more; none where nothing else would be left to cut."""
    left = any(len(made.get(p.name, ())) < p.quantity for p in panels)
    return made if left else {}


def _again(
    one: OneOfSeveral,
    layout: Nest,
    panels: list[Panel],
    kinds: list[SheetKind],
    saw: Saw,
    made: dict[str, frozenset[int]],
) -> OneOfSeveral:
    """The same with what it adds to cut it once more."""
    without = {
        name: copies - {one.copy} if name == one.panel else copies for name, copies in made.items()
    }
    more, _ = _nested(panels, kinds, saw, without)
    return replace(
        one,
        again_cost=more.cost - layout.cost,
        again_sheets=more.sheets_bought - layout.sheets_bought,
    )


def _nested(
    panels: list[Panel], kinds: list[SheetKind], saw: Saw, made: dict[str, frozenset[int]]
) -> tuple[Nest, tuple[CutStep, ...]]:
    layout = nest(panels, kinds, saw, budget=NEST_BUDGET, seed=1, made=made or None)
    return layout, tuple(cut_order(layout, saw))


def board_findings(build: Build) -> list[Finding]:
    """What cannot be cut from any sheet."""
    found = []
    for each in build.too_large:
        wide, long = (Amount(side, "length") for side in each.face_m)
        size = state("size.by", wide=wide, long=long)
        if each.tool:
            tool = Ref("tool", each.tool)
            found.append(
                finding(
                    "cart.board_too_large",
                    "beyond_sheets",
                    "problem",
                    tool,
                    facts=facts(kind=each.kind, tool=tool, size=size),
                )
            )
        else:
            found.append(
                finding(
                    "cart.board_too_large",
                    "bucket_part",
                    "problem",
                    Term("part", "bucket"),
                    facts=facts(kind=each.kind, size=size),
                )
            )
    return found


def nest_finding(build: Build) -> Finding:
    """How near the nest is to the fewest sheets."""
    layout = build.nest
    return finding(
        "cutting.nearness",
        "good" if layout.proven else "open",
        "good" if layout.proven else "advice",
        Term("cutting", "sheets"),
        facts=facts(nearness=layout.nearness),
    )
