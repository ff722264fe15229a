"""Nesting a panel list: groups by material and thickness, search, bounds, the result."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace

from .. import limits
from ..facts import Amount, Fact, Listing, Name, Statement, state
from ..faults import Refusal, refusal
from .bounds import cost_bound, sheets_bound
from .hunt import Hunt
from .model import (
    CuttingError,
    Nest,
    Node,
    Panel,
    Placed,
    Progress,
    Rect,
    Saw,
    SheetKind,
    SheetNest,
    SheetsRunOutError,
    Watch,
)
from .names import pencil_letters
from .problem import TICK_M, Layout, Part, Problem, Spot, Stock, part_ticks, sheet_ticks
from .tidy import OFFCUT_LENGTH_M, OFFCUT_WIDTH_M, Seen, sheet_tree, tidy
from .tree import Cut, carried


@dataclass
class _Group:
    """One material and thickness: the problem in ticks and the way back."""

    panels: list[Panel]
    kinds: list[SheetKind]
    problem: Problem
    owners: list[list[tuple[int, bool]]] = field(default_factory=list)
    best: list[Layout] = field(default_factory=list)
    bound: int = 0
    bound_cost: float = 0.0
    known: list[Layout] = field(default_factory=list)
    seen: Seen = field(default_factory=dict)
    left: list[int] = field(default_factory=list)

    @property
    def proven(self) -> bool:
        return not self.left and self.problem.cost(self.best) <= self.bound_cost + 1e-9


def _length(value_m: float) -> Fact:
    """A length that may be no number at all."""
    return Amount(value_m, "length", "cut") if math.isfinite(value_m) else Name(str(value_m))


def _money(amount: float) -> Fact:
    return Amount(amount, "money") if math.isfinite(amount) else Name(str(amount))


#: What is narrower has gone into the kerf beside it [m].
_NOTHING_M = 1e-7

#: Panels without a place that are named; the others are counted.
_NAMED = 8

#: Sizes that a saw cuts and that are nested [m].
_SMALLEST_M, _LARGEST_M = 0.001, 100.0
_LARGEST_KERF_M, _LARGEST_TRIM_M = 0.02, 0.1


def check_input(panels: list[Panel], sheets: list[SheetKind], saw: Saw) -> None:
    """Raise CuttingError naming every panel, sheet or saw setting that cannot be."""
    found: list[Refusal] = []
    largest = Amount(_LARGEST_M, "length")
    for panel in panels:
        for side, value in (("length", panel.length_m), ("width", panel.width_m)):
            if math.isfinite(value) and _SMALLEST_M <= value <= _LARGEST_M:
                continue
            found.append(
                refusal(
                    "cutting.panel.size",
                    panel.name,
                    panel=Name(panel.name),
                    side=side,
                    size=_length(value),
                    least=Amount(_SMALLEST_M, "length"),
                    most=largest,
                )
            )
        if panel.quantity < 1:
            found.append(
                refusal(
                    "cutting.panel.quantity",
                    panel.name,
                    panel=Name(panel.name),
                    count=panel.quantity,
                )
            )
    names = Counter(p.name for p in panels)
    found += [
        refusal("cutting.panel.same_name", name, panel=Name(name), count=count)
        for name, count in names.items()
        if count > 1
    ]
    total = sum(max(0, p.quantity) for p in panels)
    if total > limits.PIECES:
        found.append(refusal("cutting.panel.too_many", count=total, most=limits.PIECES))
    for kind in sheets:
        if not (0 < kind.length_m <= _LARGEST_M and 0 < kind.width_m <= _LARGEST_M):
            found.append(
                refusal(
                    "cutting.stock.size",
                    kind.key,
                    sheet=kind.name,
                    length=_length(kind.length_m),
                    width=_length(kind.width_m),
                    most=largest,
                )
            )
        if not (math.isfinite(kind.price) and kind.price >= 0):
            found.append(
                refusal("cutting.stock.price", kind.key, sheet=kind.name, price=_money(kind.price))
            )
        if kind.limit is not None and kind.limit < 0:
            found.append(
                refusal("cutting.stock.limit", kind.key, sheet=kind.name, count=kind.limit)
            )
    if not 0 <= saw.kerf_m <= _LARGEST_KERF_M:
        most = Amount(_LARGEST_KERF_M, "length")
        found.append(refusal("cutting.saw.kerf", "kerf", kerf=_length(saw.kerf_m), most=most))
    if not 0 <= saw.trim_m <= _LARGEST_TRIM_M:
        most = Amount(_LARGEST_TRIM_M, "length")
        found.append(refusal("cutting.saw.trim", "trim", trim=_length(saw.trim_m), most=most))
    if found:
        raise CuttingError(tuple(found))


def _usable(kind: SheetKind, saw: Saw) -> tuple[float, float, float]:
    trim = saw.trim_m if kind.trim else 0.0
    return kind.length_m - 2 * trim, kind.width_m - 2 * trim, trim


def _thickness(value: float) -> int:
    return round(value * 1e5)


def _group(panels: list[Panel], sheets: list[SheetKind], saw: Saw) -> list[_Group]:
    keys = dict.fromkeys((p.material, _thickness(p.thickness_m)) for p in panels)
    problems: list[Refusal] = []
    groups: list[_Group] = []
    kerf = part_ticks(saw.kerf_m)
    for material, thickness in keys:
        mine = [
            p for p in panels if (p.material, _thickness(p.thickness_m)) == (material, thickness)
        ]
        kinds = [
            k
            for k in sheets
            if (k.material, _thickness(k.thickness_m)) == (material, thickness)
            and k.limit != 0
            and min(_usable(k, saw)[:2]) > 0
        ]
        if not kinds:
            problems.append(
                refusal(
                    "cutting.stock.none",
                    mine[0].name,
                    panel=Name(mine[0].name),
                    material=Name(material),
                    thickness=Amount(thickness / 1e5, "length", "cut"),
                )
            )
            continue
        stocks = []
        for k in kinds:
            length, width, trim = _usable(k, saw)
            limit = limits.PIECES if k.limit is None else min(k.limit, limits.PIECES)
            stocks.append(
                Stock(
                    sheet_ticks(length) + kerf,
                    sheet_ticks(width) + kerf,
                    k.price,
                    limit,
                    k.offcut,
                    max(min(part_ticks(trim), kerf), 1) if trim > 0 else 0,
                )
            )
        directed = any(k.grain == "length" for k in kinds)
        merged: dict[tuple[int, int, bool], list[tuple[int, bool]]] = {}
        for at, panel in enumerate(mine):
            length = part_ticks(panel.length_m) + kerf
            width = part_ticks(panel.width_m) + kerf
            free = (panel.grain == "free" or not directed) and length != width
            swapped = panel.grain == "across" and directed
            if panel.grain == "free" or not directed:
                swapped = length < width
            w, h = (width, length) if swapped else (length, width)
            merged.setdefault((w, h, free), []).append((at, swapped))
            probe = Part(w, h, free, 1)
            if not any(probe.fits(s.w, s.h) for s in stocks):
                biggest = max(kinds, key=lambda k: k.length_m * k.width_m)
                room = _usable(biggest, saw)
                problems.append(
                    refusal(
                        "cutting.panel.too_large",
                        panel.name,
                        panel=Name(panel.name),
                        length=_length(panel.length_m),
                        width=_length(panel.width_m),
                        grain="free" if free else panel.grain,
                        sheet=biggest.name,
                        sheet_length=_length(room[0]),
                        sheet_width=_length(room[1]),
                    )
                )
            if saw.carry_m and not _carries(panel.length_m, panel.width_m, saw.carry_m):
                problems.append(
                    refusal(
                        "cutting.panel.not_carried",
                        panel.name,
                        panel=Name(panel.name),
                        length=_length(panel.length_m),
                        width=_length(panel.width_m),
                        carry_length=_length(saw.carry_m[0]),
                        carry_width=_length(saw.carry_m[1]),
                    )
                )
        parts = tuple(
            Part(w, h, free, sum(mine[at].quantity for at, _ in rows))
            for (w, h, free), rows in merged.items()
        )
        problem = Problem(parts, tuple(stocks), _box(saw), kerf, kerf)
        groups.append(_Group(mine, kinds, problem, list(merged.values())))
    if problems:
        raise CuttingError(tuple(problems))
    return groups


def _box(saw: Saw) -> tuple[int, int] | None:
    """What can be carried, in ticks: room for the edges still to be trimmed is left."""
    if saw.carry_m is None:
        return None
    less = 2 * saw.trim_m - saw.kerf_m
    return sheet_ticks(saw.carry_m[0] - less), sheet_ticks(saw.carry_m[1] - less)


def _carries(length_m: float, width_m: float, box: tuple[float, float]) -> bool:
    return max(length_m, width_m) <= max(box) + 1e-9 and min(length_m, width_m) <= min(box) + 1e-9


def _search(
    group: _Group, budget: int, seed: int, tell: Watch, spent: int, total: int, money_only: bool
) -> tuple[int, bool]:
    """Find ``group.best``; returns the effort spent and whether it was stopped."""
    problem = group.problem
    hunt = Hunt(problem, group.bound, group.bound_cost, seed, group.known, money_only=money_only)

    def go_on(now: int) -> bool:
        best = hunt.best
        cost, bought = problem.cost(best), problem.bought(best)
        return tell(Progress(spent + now, total, cost, bought, hunt.bound_cost))

    if not hunt.possible:
        raise CuttingError((_too_few(group),))
    hunt.run(budget, go_on)
    if not hunt.best and not hunt.stopped and any(s.limit < limits.PIECES for s in problem.stocks):
        _freely(group, hunt, budget, seed, go_on)
    group.bound_cost = hunt.bound_cost
    group.best = hunt.best
    group.seen = hunt.seen
    if not hunt.best:
        group.best, group.left = hunt.partial, hunt.left
    return int(hunt.effort), hunt.stopped


def _freely(
    group: _Group, hunt: Hunt, budget: int, seed: int, go_on: Callable[[int], bool]
) -> None:
    """Search as if there were sheets without end; a nest may still keep within the limits."""
    free = replace(
        group.problem,
        stocks=tuple(
            s if s.offcut else replace(s, limit=limits.PIECES) for s in group.problem.stocks
        ),
    )
    other = Hunt(free, group.bound, group.bound_cost, seed, group.known)
    keep = other.offer

    def offer(layouts: list[Layout]) -> None:
        hunt.offer(layouts)
        keep(layouts)

    other.offer = offer  # type: ignore[method-assign]
    begun = hunt.effort
    other.run(budget, lambda now: go_on(int(begun + now)))
    hunt.effort += other.effort
    hunt.stopped = other.stopped


def _too_few(group: _Group) -> Refusal:
    """No set of the sheets there are has room for the panels."""
    problem = group.problem
    there = sum(s.limit for s in problem.stocks if not s.offcut)
    if group.bound > there:
        return refusal(
            "cutting.stock.too_few_sheets",
            material=Name(group.panels[0].material),
            least=group.bound,
            there=there,
        )
    side = TICK_M * TICK_M
    return refusal(
        "cutting.stock.too_few",
        material=Name(group.panels[0].material),
        needed=Amount(sum(p.area * p.demand for p in problem.parts) * side, "area"),
        there=Amount(sum(s.area * s.limit for s in problem.stocks) * side, "area"),
    )


def least_cost(panels: Sequence[Panel], sheets: Sequence[SheetKind], saw: Saw) -> float:
    """The money that any nest of a panel list takes at least; nothing is nested for it.

    Raises
    ------
    CuttingError
        As `nest` does.
    """
    check_input(list(panels), list(sheets), saw)
    groups = _group(list(panels), list(sheets), saw)
    return math.fsum(cost_bound(g.problem, sheets_bound(g.problem)) for g in groups)


def nest(
    panels: list[Panel],
    sheets: list[SheetKind],
    saw: Saw,
    *,
    budget: int = 100,
    seed: int = 0,
    watch: Watch | None = None,
    made: Mapping[str, Collection[int]] | None = None,
    known: Sequence[tuple[str, Sequence[Placed]]] = (),
    money_only: bool = False,
) -> Nest:
    """The best nest found for a panel list.

    Parameters
    ----------
    budget
        Effort to spend at most beyond the first nests; a thousand is about a second of an
        ordinary machine. The same budget and seed give the same nest, and a greater budget
        never a dearer one. Beyond 100 the compiled search is used.
    watch
        Called now and then with the progress; returning False ends the search with the
        best so far.
    made
        Copies that exist already, by panel name; they are left out, and the others keep
        their pencil names.
    known
        Sheets laid out before, by the key of their kind: one way to go on among others.
    money_only
        End once no nest can cost less, and leave offcuts and settings as they fall.

    Raises
    ------
    CuttingError
        With every reason why the list cannot be nested.
    SheetsRunOutError
        Where sheets are limited and some panels found no place, with the best there is.

    Examples
    --------
    Sizes are in metres [m]:

    >>> import kerfwind as kw
    >>> side = kw.Panel("side", 0.6, 0.4, quantity=4)
    >>> layout = kw.nest([side], [kw.SheetKind("full", 2.44, 1.22)], kw.Saw())
    >>> len(layout.sheets), layout.proven
    (1, True)
    """
    panels, sheets = list(panels), list(sheets)
    check_input(panels, sheets, saw)
    exist = {p.name: set((made or {}).get(p.name, ())) for p in panels}
    wanted = [replace(p, quantity=p.quantity - len(exist[p.name])) for p in panels]
    groups = _group([p for p in wanted if p.quantity > 0], sheets, saw)
    total = sum(p.quantity for p in wanted)
    tell = watch or (lambda _: True)
    evaluations = 0
    stopped = False
    for group in groups:
        group.bound = sheets_bound(group.problem)
        group.bound_cost = cost_bound(group.problem, group.bound)
        group.known = _known(group, known, saw)
        share = sum(p.demand for p in group.problem.parts) / total
        spent, ended = _search(
            group, round(budget * share), seed, tell, evaluations, budget, money_only
        )
        if not money_only and not group.left:
            group.best = tidy(group.problem, group.best, group.seen)
        evaluations += spent
        stopped = stopped or (ended and not group.proven)
    numbered: list[SheetNest] = []
    pencils = pencil_letters(panels)
    several = {p.name for p in panels if p.quantity > 1}
    left: list[tuple[str, int]] = []
    for group in groups:
        copies = {p.name: _numbers(p, exist[p.name]) for p in panels}
        for layout in _in_order(group):
            numbered.append(_draw(group, layout, len(numbered) + 1, saw, pencils, copies, several))
        left += [(p.name, len(copies[p.name])) for p in group.panels if copies[p.name]]
    found = _whole_nest(groups, tuple(numbered), (evaluations, budget, seed, stopped), pencils)
    if left:
        names = Listing(
            tuple(
                state("cutting.left.panel", count=n, panel=Name(name)) for name, n in left[:_NAMED]
            )
            + (
                (state("cutting.left.more", count=sum(n for _, n in left[_NAMED:])),)
                if len(left) > _NAMED
                else ()
            ),
            "commas",
        )
        problem = refusal("cutting.stock.not_found", left=names)
        raise SheetsRunOutError((problem,), found, tuple(left))
    return found


def _whole_nest(
    groups: Sequence[_Group],
    sheets: tuple[SheetNest, ...],
    run: tuple[int, int, int, bool],
    pencils: dict[str, str],
) -> Nest:
    evaluations, budget, seed, stopped = run
    cost = math.fsum(g.problem.cost(g.best) for g in groups)
    bought = sum(g.problem.bought(g.best) for g in groups)
    bound_cost = math.fsum(g.bound_cost for g in groups)
    bound = sum(g.bound for g in groups)
    proven = all(g.proven for g in groups)
    priced = any(len({s.price for s in g.problem.stocks if not s.offcut}) > 1 for g in groups)
    return Nest(
        sheets=sheets,
        cost=cost,
        bound_cost=bound_cost,
        sheets_bought=bought,
        bound_sheets=bound,
        proven=proven,
        nearness=Listing(
            (_nearness(cost, bound_cost, bought, bound, proven, priced), *_in_store(groups)),
            "sentences",
        ),
        evaluations=evaluations,
        budget=budget,
        seed=seed,
        stopped=stopped,
        pencils=pencils,
    )


def _numbers(panel: Panel, exist: set[int]) -> list[int]:
    """Copy numbers still to be made."""
    return [n for n in range(1, panel.quantity + 1) if n not in exist]


def _nearness(
    cost: float, bound_cost: float, bought: int, bound: int, proven: bool, priced: bool
) -> Statement:
    """How near to the least; of money where sheets differ in price, else of sheets."""
    if not bought:
        return state("cutting.nearness.none_bought")
    price = Amount(cost, "money")
    if priced and proven:
        return state("cutting.nearness.cheapest", sheets=bought, price=price)
    if priced and bought == bound:
        least = Amount(bound_cost, "money")
        return state(
            "cutting.nearness.fewest_not_cheapest", sheets=bought, price=price, least=least
        )
    if priced:
        more = Amount(cost / bound_cost - 1 if bound_cost else 1.0, "share")
        counted = state("cutting.sheets.counted", count=bought)
        return state("cutting.nearness.not_cheapest", sheets=counted, price=price, more=more)
    if proven:
        return state("cutting.nearness.fewest", sheets=bought)
    return state(
        "cutting.nearness.not_proven",
        sheets=state("cutting.sheets.counted", count=bought),
        more=state("cutting.sheets.few", count=bought - bound),
    )


def _in_store(groups: Sequence[_Group]) -> tuple[Statement, ...]:
    """How many cuts the store makes, where any sheet is too big to carry home."""
    too_big, cuts = 0, 0
    for group in groups:
        for layout in group.best:
            stock, box = group.problem.stocks[layout.stock], group.problem.box(layout.stock)
            if not carried(stock.w, stock.h, box):
                too_big += 1
                cuts += sheet_tree(group.problem, layout)[1][2]
    if not too_big:
        return ()
    if cuts == too_big:
        return (state("cutting.store.fewest", sheets=too_big, cuts=cuts),)
    return (state("cutting.store.perhaps_more", sheets=too_big, cuts=cuts),)


def _known(group: _Group, known: Sequence[tuple[str, Sequence[Placed]]], saw: Saw) -> list[Layout]:
    """Layouts made before, as far as this group has the panels and the sheets."""
    left = group.problem.demand
    stocks = [s.limit for s in group.problem.stocks]
    keys = [kind.key for kind in group.kinds]
    part_of = {
        group.panels[at].name: (part, swapped)
        for part, rows in enumerate(group.owners)
        for at, swapped in rows
    }
    made: list[Layout] = []
    for key, pieces in known:
        if key not in keys or not stocks[keys.index(key)]:
            continue
        stock = keys.index(key)
        trim = _usable(group.kinds[stock], saw)[2]
        spots: list[Spot] = []
        for piece in pieces:
            part, swapped = part_of.get(piece.panel, (-1, False))
            if part < 0 or not left[part]:
                continue
            left[part] -= 1
            x, y = round((piece.x_m - trim) / TICK_M), round((piece.y_m - trim) / TICK_M)
            spots.append(Spot(part, x, y, swapped != piece.turned))
        if spots:
            stocks[stock] -= 1
            made.append(Layout(stock, tuple(spots)))
    return made


def _in_order(group: _Group) -> list[Layout]:
    """Offcuts on hand first, then the fullest sheets, the one with most left last."""
    problem = group.problem

    def key(layout: Layout) -> tuple[bool, int, float]:
        stock = problem.stocks[layout.stock]
        area = sum(problem.parts[s.part].area for s in layout.spots)
        return (not stock.offcut, layout.stock, -area / stock.area)

    return sorted(group.best, key=key)


def _draw(
    group: _Group,
    layout: Layout,
    number: int,
    saw: Saw,
    pencils: dict[str, str],
    copies: dict[str, list[int]],
    several: set[str],
) -> SheetNest:
    """One sheet in metres, with names on its pieces."""
    problem = group.problem
    kind = group.kinds[layout.stock]
    length, width, trim = _usable(kind, saw)
    kerf = part_ticks(saw.kerf_m)
    pieces: list[Placed] = []
    offcuts: list[Rect] = []
    waste: list[Rect] = []

    root, _ = sheet_tree(problem, layout)

    def rect(cut: Cut) -> Rect:
        x, y = trim + cut.x * TICK_M, trim + cut.y * TICK_M
        # What lies at the far edges of the sheet goes on to the edges themselves.
        right = kind.length_m if cut.x + cut.w == root.w else x + (cut.w - kerf) * TICK_M
        top = kind.width_m if cut.y + cut.h == root.h else y + (cut.h - kerf) * TICK_M
        right, top = min(right, kind.length_m), min(top, kind.width_m)
        return Rect(x, y, max(right - x, 0.0), max(top - y, 0.0))

    def owner(part: int) -> tuple[Panel, bool, int]:
        for at, swapped in group.owners[part]:
            panel = group.panels[at]
            if copies[panel.name]:
                return panel, swapped, copies[panel.name].pop(0)
        raise AssertionError("more copies placed than wanted")

    def walk(cut: Cut) -> Node:
        area = rect(cut)
        if cut.parts:
            return Node(area, "cut", cut.axis, tuple(map(walk, cut.parts)))
        if cut.label >= 0:
            spot = layout.spots[cut.label]
            panel, swapped, copy = owner(spot.part)
            turned = swapped != spot.turned
            sides = (panel.width_m, panel.length_m) if turned else (panel.length_m, panel.width_m)
            pencil = pencils[panel.name] + (str(copy) if panel.name in several else "")
            pieces.append(
                Placed(
                    pencil,
                    panel.name,
                    copy,
                    area.x_m,
                    area.y_m,
                    *sides,
                    turned,
                    panel.grain,
                    panel.marks,
                    panel.banded,
                )
            )
            return Node(pieces[-1].rect, "panel", piece=len(pieces) - 1)
        sides = (area.length_m, area.width_m)
        if min(sides) >= OFFCUT_WIDTH_M and max(sides) >= OFFCUT_LENGTH_M:
            offcuts.append(area)
            return Node(area, "offcut")
        if min(sides) > _NOTHING_M:
            waste.append(area)
        return Node(area, "waste")

    tree = walk(root)
    return SheetNest(
        number,
        kind,
        tuple(pieces),
        tuple(offcuts),
        tuple(waste),
        Rect(trim, trim, length, width),
        tree,
    )
