"""Nesting a panel list: groups by material and thickness, search, bounds, the result."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace

from .. import limits
from .bounds import cost_bound, sheets_bound
from .first import RULES, first_nests, nest_by_rule, noisy_nests
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
    Watch,
)
from .names import pencil_letters
from .problem import TICK_M, Layout, Part, Problem, Spot, Stock, part_ticks, sheet_ticks
from .search import LongSearch
from .tidy import OFFCUT_LENGTH_M, OFFCUT_WIDTH_M, Quality, Seen, quality, sheet_tree, tidy
from .tree import Cut, carried, store_cuts

#: Effort that the plain search spends at most.
PLAIN_SEARCH = 300

#: Effort after which no more rules are tried for the first nest, once there is one.
FIRST_NESTS = 400

#: Budget from which the compiled search is worth its start.
COMPILED_FROM = 10_000


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

    @property
    def proven(self) -> bool:
        return self.problem.cost(self.best) <= self.bound_cost + 1e-9


def _mm(value: float) -> str:
    return f"{value * 1000:,.1f} mm"


def check_input(panels: list[Panel], sheets: list[SheetKind], saw: Saw) -> None:
    """Raise CuttingError naming every panel, sheet or saw setting that cannot be."""
    found: list[str] = []
    for panel in panels:
        for what, value in (("length", panel.length_m), ("width", panel.width_m)):
            if not math.isfinite(value) or value <= 0:
                found.append(
                    f"Panel {panel.name!r}: its {what} is {value:g} m; it must be more than zero."
                )
            elif value < 0.001:
                found.append(
                    f"Panel {panel.name!r}: its {what} is {_mm(value)}; nothing under 1 mm can be "
                    "sawn. Check the unit."
                )
            elif value > 100:
                found.append(
                    f"Panel {panel.name!r}: its {what} is {value:g} m; at most 100 m is nested. "
                    "Check the unit."
                )
        if panel.quantity < 1:
            found.append(
                f"Panel {panel.name!r}: quantity {panel.quantity}; it must be 1 or more. "
                "Leave the row out if none is wanted."
            )
    names = Counter(p.name for p in panels)
    found += [
        f"{count} panels are called {name!r}; give each row a name of its own."
        for name, count in names.items()
        if count > 1
    ]
    total = sum(max(0, p.quantity) for p in panels)
    if total > limits.PIECES:
        found.append(
            f"{total:,} panels are asked for; at most {limits.PIECES:,} are nested at once. "
            "Check the quantities, or split the list."
        )
    for kind in sheets:
        if not (0 < kind.length_m <= 100 and 0 < kind.width_m <= 100):
            found.append(
                f"Sheet {kind.key!r}: {kind.length_m:g} by {kind.width_m:g} m; both sides must be "
                "more than zero and at most 100 m."
            )
        if not (math.isfinite(kind.price) and kind.price >= 0):
            found.append(f"Sheet {kind.key!r}: price {kind.price:g}; it must be zero or more.")
        if kind.limit is not None and kind.limit < 0:
            found.append(f"Sheet {kind.key!r}: {kind.limit} on hand; it must be zero or more.")
    if not 0 <= saw.kerf_m <= 0.02:
        found.append(
            f"Saw: kerf {_mm(saw.kerf_m)}; a blade cuts between 0 and 20 mm. Check the unit."
        )
    if not 0 <= saw.trim_m <= 0.1:
        found.append(f"Saw: trim {_mm(saw.trim_m)}; between 0 and 100 mm is taken off an edge.")
    if found:
        raise CuttingError(tuple(found))


def _usable(kind: SheetKind, saw: Saw) -> tuple[float, float, float]:
    trim = saw.trim_m if kind.trim else 0.0
    return kind.length_m - 2 * trim, kind.width_m - 2 * trim, trim


def _thickness(value: float) -> int:
    return round(value * 1e5)


def _group(panels: list[Panel], sheets: list[SheetKind], saw: Saw) -> list[_Group]:
    keys = dict.fromkeys((p.material, _thickness(p.thickness_m)) for p in panels)
    problems: list[str] = []
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
                f"No sheet of {material} {_mm(thickness / 1e5)} thick is listed, and "
                f"{mine[0].name!r} needs one. Add a sheet of that material and thickness."
            )
            continue
        stocks = []
        for k in kinds:
            length, width, _ = _usable(k, saw)
            limit = limits.PIECES if k.limit is None else min(k.limit, limits.PIECES)
            stocks.append(
                Stock(
                    sheet_ticks(length) + kerf, sheet_ticks(width) + kerf, k.price, limit, k.offcut
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
                size = _usable(biggest, saw)
                why = "" if free else f" with its grain {panel.grain} the sheet's length"
                problems.append(
                    f"Panel {panel.name!r}: {_mm(panel.length_m)} by {_mm(panel.width_m)} fits on "
                    f"no sheet{why}; the largest, {biggest.key!r}, leaves {_mm(size[0])} by "
                    f"{_mm(size[1])}. Make it smaller, join it from two, or add a larger sheet."
                )
            if saw.carry_m and not _carries(panel.length_m, panel.width_m, saw.carry_m):
                problems.append(
                    f"Panel {panel.name!r}: {_mm(panel.length_m)} by {_mm(panel.width_m)} is larger "
                    f"than the biggest piece that can be carried, {_mm(saw.carry_m[0])} by "
                    f"{_mm(saw.carry_m[1])}. Have it delivered, or join it from two."
                )
        parts = tuple(
            Part(w, h, free, sum(mine[at].quantity for at, _ in rows))
            for (w, h, free), rows in merged.items()
        )
        problem = Problem(parts, tuple(stocks), _box(saw))
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
    """Improve ``group.best``; returns the effort spent and whether it was stopped."""
    problem = group.problem
    effort = 0
    best_quality: Quality | None = None
    each = max(1, sum(problem.demand) * len(problem.parts) // 1000)

    def offer(layouts: list[Layout]) -> None:
        nonlocal best_quality
        if best_quality is not None:
            more = problem.cost(layouts) - best_quality[0]
            if more > 1e-9 or (money_only and more > -1e-9):
                return
        mark = quality(problem, layouts, group.seen)
        if best_quality is None or mark < best_quality:
            best_quality = mark
            group.best = layouts

    def enough() -> bool:
        return money_only and bool(group.best) and group.proven

    def go_on(now: int) -> bool:
        cost, bought = problem.cost(group.best), problem.bought(group.best)
        return tell(Progress(spent + now, total, cost, bought, group.bound_cost))

    for layouts in first_nests(problem):
        effort += each
        offer(layouts)
        if effort > max(budget, FIRST_NESTS) or enough():
            break
    for rule in RULES if group.known else ():
        found = nest_by_rule(problem, rule, begun=group.known)
        if found is not None:
            offer(found)
    if not group.best:
        raise CuttingError(
            (
                f"The sheets of {group.panels[0].material} listed do not hold all its panels. "
                "Raise the limits or add sheets.",
            )
        )
    noisy = noisy_nests(problem, seed)
    plain = PLAIN_SEARCH if budget < COMPILED_FROM else PLAIN_SEARCH // 3
    while effort < min(budget, plain) and not enough():
        found = next(noisy)
        effort += each
        if found:
            offer(found)
        if not go_on(effort):
            return effort, True
    if budget < COMPILED_FROM or group.proven:
        return effort, False
    before = effort
    search = LongSearch(
        problem, group.best, group.bound_cost, seed, offer, lambda now: go_on(before + now)
    )
    search.run(budget - before)
    return before + search.spent, search.stopped


def nest(
    panels: list[Panel],
    sheets: list[SheetKind],
    saw: Saw,
    *,
    budget: int = 300,
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
        Effort to spend at most beyond the first nests, in places tried for a part, in
        thousands; the same budget and seed give the same nest. From 10,000 the compiled
        search is used, which tries some 50,000 thousands a second.
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
        if not money_only:
            group.best = tidy(group.problem, group.best, group.seen)
        evaluations += spent
        stopped = stopped or (ended and not group.proven)
    numbered: list[SheetNest] = []
    pencils = pencil_letters(panels)
    several = {p.name for p in panels if p.quantity > 1}
    for group in groups:
        copies = {p.name: _numbers(p, exist[p.name]) for p in panels}
        for layout in _in_order(group):
            numbered.append(_draw(group, layout, len(numbered) + 1, saw, pencils, copies, several))
    cost = math.fsum(g.problem.cost(g.best) for g in groups)
    bought = sum(g.problem.bought(g.best) for g in groups)
    bound_cost = math.fsum(g.bound_cost for g in groups)
    bound = sum(g.bound for g in groups)
    proven = all(g.proven for g in groups)
    return Nest(
        sheets=tuple(numbered),
        cost=cost,
        bound_cost=bound_cost,
        sheets_bought=bought,
        bound_sheets=bound,
        proven=proven,
        nearness=_nearness(cost, bound_cost, bought, bound, proven, len(sheets) > 1)
        + _in_store(groups),
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
    cost: float, bound_cost: float, bought: int, bound: int, proven: bool, kinds: bool
) -> str:
    sheets = f"{bought or 'No'} sheet{'' if bought == 1 else 's'}"
    if not bought:
        return "No sheet to buy: fewest possible, proven."
    if bought == bound:
        return f"{sheets}: fewest possible, proven." + (
            "" if proven or not kinds else f" Cheapest possible is at least {bound_cost:g}."
        )
    if proven:
        return f"{sheets}, priced {cost:g} together: cheapest possible, proven."
    gap = bought - bound
    words = {1: "one sheet", 2: "two sheets", 3: "three sheets"}.get(gap, f"{gap} sheets")
    return f"{sheets}: at most {words} from the fewest possible."


def _in_store(groups: Sequence[_Group]) -> str:
    """How many cuts the store makes, where any sheet is too big to carry home."""
    too_big, cuts = 0, 0
    for group in groups:
        for layout in group.best:
            stock, box = group.problem.stocks[layout.stock], group.problem.box(layout.stock)
            if not carried(stock.w, stock.h, box):
                too_big += 1
                cuts += store_cuts(sheet_tree(group.problem, layout), box)
    if not too_big:
        return ""
    text = f" To carry {'it' if too_big == 1 else 'them'} home takes {cuts} cut"
    text += f"{'' if cuts == 1 else 's'} in the store"
    if cuts == too_big:
        return f"{text}, the fewest possible."
    return f"{text}: fewer sheets come first, so this may not be the fewest cuts."


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

    def rect(cut: Cut) -> Rect | None:
        x, y = cut.x * TICK_M, cut.y * TICK_M
        right = min((cut.x + cut.w - kerf) * TICK_M, length)
        top = min((cut.y + cut.h - kerf) * TICK_M, width)
        if right - x < 1e-7 or top - y < 1e-7:
            return None
        return Rect(trim + x, trim + y, right - x, top - y)

    def owner(part: int) -> tuple[Panel, bool, int]:
        for at, swapped in group.owners[part]:
            panel = group.panels[at]
            if copies[panel.name]:
                return panel, swapped, copies[panel.name].pop(0)
        raise AssertionError("more copies placed than wanted")

    def walk(cut: Cut) -> Node | None:
        area = rect(cut)
        if area is None:
            return None
        if cut.parts:
            parts = tuple(n for n in map(walk, cut.parts) if n is not None)
            return Node(area, "cut", cut.axis, parts)
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
                )
            )
            return Node(pieces[-1].rect, "panel", piece=len(pieces) - 1)
        sides = (area.length_m, area.width_m)
        if min(sides) >= OFFCUT_WIDTH_M and max(sides) >= OFFCUT_LENGTH_M:
            offcuts.append(area)
            return Node(area, "offcut")
        waste.append(area)
        return Node(area, "waste")

    root = walk(sheet_tree(problem, layout))
    assert root is not None
    return SheetNest(
        number,
        kind,
        tuple(pieces),
        tuple(offcuts),
        tuple(waste),
        Rect(trim, trim, length, width),
        root,
    )
