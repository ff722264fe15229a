"""Sizing the cart by search: forms, holds and sizes are built, nested and compared.

Every candidate is laid out and weighed; those that could still be best by what they must
cost at least are nested; the few shown are whole carts whose checks were made.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from ..cart import FORMS, CannotBuild, CartLayout, with_entries
from ..checks import CheckedCart, check_cart, stands_of, widen_until_it_stands
from ..checks.strength import shelf_findings
from ..cutting import CuttingError, Nest, nest
from ..quantity import Draw
from ..shop import Saw as ShopSaw
from ..shop import Sheet, Shop
from ..shop.catalogue.generic import LOW_WIDTH
from .sheet_choice import saw_of, to_nest

Aim = Literal["cheapest", "steadiest", "smallest", "lowest", "all round"]
AIMS: tuple[Aim, ...] = ("cheapest", "steadiest", "smallest", "lowest", "all round")

#: Trial packings for one candidate: nearly every cart is proven in fewer.
NEST_BUDGET = 60

#: Steps by which width and depth are added [in], and their count.
STEP_IN, STEPS = 1.0, 4


@dataclass(frozen=True)
class Score:
    """What a candidate is judged by.

    ``steadiness_rad`` is the least slope, over states and sides, that overturns it;
    ``footprint_m2`` the floor it covers. Slopes are compared in whole degrees, as they are
    told: less than that is not known.
    """

    cost: float
    steadiness_rad: float
    footprint_m2: float
    height_m: float

    def beats(self, other: Score) -> bool:
        """At least as good in cost, steadiness, footprint and height, and better in one."""
        pairs = zip(self.compared, other.compared, strict=True)
        return all(a <= b for a, b in pairs) and self.compared != other.compared

    @property
    def degrees(self) -> int:
        """``steadiness_rad`` in whole degrees."""
        return round(math.degrees(self.steadiness_rad))

    @property
    def compared(self) -> tuple[float, float, float, float]:
        """What carts are compared by; in each of the four, lower is better."""
        return self.cost, -self.degrees, self.footprint_m2, self.height_m


@dataclass(frozen=True)
class CartChoice:
    """One cart worth choosing: what it is best at, and the wishes that make it."""

    aims: tuple[Aim, ...]
    wishes: dict[str, str]
    cart: CheckedCart
    nest: Nest
    score: Score


@dataclass(frozen=True)
class Sizing:
    """The distinct choices, and how far the search went."""

    choices: tuple[CartChoice, ...]
    laid_out: int
    refused: int
    nested: int
    stopped: bool


@dataclass(frozen=True)
class _Candidate:
    wishes: tuple[tuple[str, str], ...]
    shop: Shop
    sheets: tuple[Sheet, ...]
    second: tuple[Sheet, ...]
    layout: CartLayout
    bound: Score


def size_cart(
    shop: Shop,
    groups: Sequence[Sequence[Sheet]],
    saw: ShopSaw,
    draw: Draw,
    *,
    seconds: Sequence[Sequence[Sheet]] = (),
    budget: int = 400,
    steps: int = STEPS,
    go_on: Callable[[int, int], bool] = lambda done, all_: True,
) -> Sizing:
    """A few distinct carts, each best at something.

    Parameters
    ----------
    groups
        Sheets that can stand in for one another, as from `sheet_groups`.
    draw
        For the whole carts that are shown; candidates are compared at best values.
    seconds
        Sheets for the second panels, as from `second_groups`: those that are wished for, or
        groups of which the thinner ones are tried for lipping and cleats, and for the shelf too.
    budget
        Candidates to lay out at most.
    steps
        How many widths and depths to try.
    go_on
        Called now and then with the candidates laid out and all there are; False stops.
    """
    rows = _rows(shop, groups, seconds, steps)[:budget]
    candidates, refused, stopped = _candidates(shop, rows, go_on)
    pool = _Pool(candidates, saw, draw)
    picked: dict[int, list[Aim]] = {}
    for aim in AIMS:
        best = pool.best(aim)
        if best is not None:
            picked.setdefault(best, []).append(aim)
    choices = [pool.choice(k, tuple(aims)) for k, aims in picked.items()]
    # A form that is best at nothing can still be worth its place between the others.
    for form in FORMS:
        if form not in {c.cart.form for c in choices}:
            choices += pool.further(choices, 1, form)
    choices += pool.further(choices, 3 - len(choices))
    return Sizing(tuple(choices), len(candidates), refused, pool.nested, stopped)


def variants(shop: Shop, steps: int = STEPS) -> Iterator[tuple[tuple[str, str], ...]]:
    """Wishes to try: every form and hold, with width and depth added in steps."""
    metric = shop.wishes.measures == "metric"
    sizes = [f"{25 * k} mm" if metric else f"{k * STEP_IN:g} in" for k in range(steps)]
    holds = ["rim", "standing"]
    if shop.separator.bucket.shape in ("tapered", "box"):
        holds.append("taper")
    if not shop.separator.in_use:
        holds = ["rim"]
    unasked, low_width = shop.wishes.largest_width.assumed, LOW_WIDTH[int(metric)]
    # Plain sizes of every form come first, so that a small budget sees each of them.
    rows = itertools.product(range(steps), range(steps), FORMS, holds)
    for wide, deep, form, held in sorted(rows, key=lambda r: r[0] + r[1]):
        yield (
            ("wishes.form", form),
            ("wishes.hold_bucket", held),
            # A width that nobody wished for keeps no form out.
            *([("wishes.largest_width", low_width)] if form == "low" and unasked else ()),
            ("wishes.extra_width", sizes[wide]),
            ("wishes.extra_depth", sizes[deep]),
        )


_Row = tuple[tuple[tuple[str, str], ...], Sequence[Sheet], Sequence[Sheet]]

#: What a thinner sheet is tried for.
_SECOND_PANELS = tuple(", ".join(p) for p in (("lipping", "cleat"), ("lipping", "cleat", "shelf")))


def _rows(
    shop: Shop, groups: Sequence[Sequence[Sheet]], seconds: Sequence[Sequence[Sheet]], steps: int
) -> list[_Row]:
    """What to lay out: wishes, sheets and second sheets."""
    wished = shop.wishes.second_sheet is not None and bool(seconds)
    plain: list[_Row] = [
        (w, g, seconds[0] if wished else ()) for w in variants(shop, steps) for g in groups
    ]
    if wished:
        return plain
    mixed: list[_Row] = [
        ((*w, ("wishes.second_sheet", h[0].name), ("wishes.second_panels", roles)), g, h)
        for w in variants(shop, 1)
        for g in groups
        for h in seconds
        if h[0].thickness.best_si < g[0].thickness.best_si - 1e-4
        for roles in _SECOND_PANELS
    ]
    first = len(list(variants(shop, 1))) * len(groups)
    return plain[:first] + mixed + plain[first:]


def _candidates(
    shop: Shop, rows: Sequence[_Row], go_on: Callable[[int, int], bool]
) -> tuple[list[_Candidate], int, bool]:
    candidates: list[_Candidate] = []
    several = len({sheets[0].name for _, sheets, _ in rows}) > 1
    seen: set[tuple[object, ...]] = set()
    refused = 0
    nominal = Draw(1)
    for done, (wishes, sheets, second) in enumerate(rows):
        if done % 8 == 0 and not go_on(done, len(rows)):
            return candidates, refused, True
        having = shop.model_copy(update={"sheets": tuple(second[:1])}) if second else shop
        changed, sheet = with_entries(having, sheets[0], dict(wishes))
        try:
            changed, layout = widen_until_it_stands(changed.wishes.form, changed, sheet, nominal)
        except CannotBuild:
            refused += 1
            continue
        # What was added to make two of them stand can make them one and the same.
        same = (
            layout.form,
            changed.wishes.hold_bucket,
            sheet.name,
            layout.bench.second,
            layout.sizes,
        )
        if same in seen:
            continue
        seen.add(same)
        named = (("wishes.sheet", sheet.name),) if several else ()
        kept = (w for w in wishes if "extra" not in w[0])
        wishes = (*kept, *_added(changed), *named)
        least = bound(changed, layout, sheets, second)
        candidates.append(_Candidate(wishes, changed, tuple(sheets), tuple(second), layout, least))
    return candidates, refused, False


def _added(shop: Shop) -> tuple[tuple[str, str], ...]:
    """What the bottom is wider and deeper by, as it is written in a shop file."""
    unit, size = ("mm", 0.001) if shop.wishes.measures == "metric" else ("in", 0.0254)
    return tuple(
        (f"wishes.{key}", f"{getattr(shop.wishes, key).best_si / size:.6g} {unit}")
        for key in ("extra_width", "extra_depth", "extra_front")
    )


def bound(
    shop: Shop, layout: CartLayout, sheets: Sequence[Sheet], second: Sequence[Sheet] = ()
) -> Score:
    """Score with the least that the sheets can cost, by area."""
    tilts = [t for s in stands_of(shop, layout, Draw(1)) for t in s.tilt_rad.values()]
    area = {False: 0.0, True: 0.0}
    for p in layout.bench.panels.values():
        area[p.second] += p.length_m * p.width_m * p.quantity
    named = {s.name: s for s in (*sheets, *second)}
    if len({(s.material, round(s.thickness.best_si, 5)) for s in named.values()}) == 1:
        # One stock of sheets serves both.
        cost = _least_cost(area[False] + area[True], list(named.values()))
    else:
        cost = _least_cost(area[False], sheets) + _least_cost(area[True], second)
    return Score(
        cost,
        float(np.min(tilts)),
        layout.sizes.length_m * layout.sizes.width_m,
        layout.sizes.height_m,
    )


def _least_cost(area_m2: float, sheets: Sequence[Sheet]) -> float:
    """Cheapest whole sheets that together have the area."""
    rows = [(s.length.low_si * s.width.low_si, s.price, s.count) for s in sheets]
    best = math.inf
    most = [min(c or 99, math.ceil(area_m2 / a)) for a, _, c in rows]
    for counts in itertools.product(*(range(min(m, 12) + 1) for m in most)):
        if sum(n * a for n, (a, _, _) in zip(counts, rows, strict=True)) >= area_m2:
            best = min(best, sum(n * p for n, (_, p, _) in zip(counts, rows, strict=True)))
    return best


class _Pool:
    """Candidates with the nests made so far."""

    def __init__(self, candidates: Sequence[_Candidate], saw: ShopSaw, draw: Draw) -> None:
        self.candidates = candidates
        self.saw = saw
        self.draw = draw
        self.nests: dict[int, Nest | None] = {}
        self.carts: dict[int, CheckedCart | None] = {}

    @property
    def nested(self) -> int:
        """How many candidates were nested so far."""
        return len(self.nests)

    def nest(self, k: int) -> Nest | None:
        """The nest of a candidate; None when it does not go on the sheets."""
        if k not in self.nests:
            each = self.candidates[k]
            cut_panels = list(each.layout.bench.panels.values())
            panels, kinds = to_nest(cut_panels, each.sheets, each.second)
            try:
                self.nests[k] = nest(
                    panels, kinds, saw_of(self.saw), budget=NEST_BUDGET, seed=1, money_only=True
                )
            except CuttingError:
                self.nests[k] = None
        return self.nests[k]

    def cart(self, k: int) -> CheckedCart | None:
        """The whole cart; None when a check says not to build it."""
        if k not in self.carts:
            each = self.candidates[k]
            layout = FORMS[each.shop.wishes.form](each.shop, each.sheets[0], self.draw)
            cart = check_cart(each.shop, each.sheets[0], self.draw, layout)
            stops = any(f.level == "stop" for f in cart.findings)
            self.carts[k] = None if stops or not self._shelf_holds(each, cart) else cart
        return self.carts[k]

    def _shelf_holds(self, each: _Candidate, cart: CheckedCart) -> bool:
        """A shelf of another thickness must hold; one of the sheet that was chosen is checked
        with the plan."""
        second = each.layout.bench.second
        if second is None or "shelf" not in second.roles or cart.shelf is None:
            return True
        levels = {f.level for f in shelf_findings(each.shop, cart, self.draw)}
        return not levels & {"stop", "problem"}

    def score(self, k: int) -> Score:
        """The candidate's score with what its sheets cost, where it has been nested."""
        nested = self.nests.get(k)
        return (
            replace(self.candidates[k].bound, cost=nested.cost)
            if nested
            else self.candidates[k].bound
        )

    def best(self, aim: Aim) -> int | None:
        """The best candidate at something, nested and checked.

        Candidates wait in order of their bounds; one that is nested moves back to where its
        real cost belongs, and the first that stays in front has won.
        """
        waiting = list(range(len(self.candidates)))
        while waiting:
            k = min(waiting, key=lambda c: self.rank(c, aim))
            before = self.rank(k, aim)
            if self.nest(k) is None or self.cart(k) is None:
                waiting.remove(k)
            elif self.rank(k, aim) <= before:
                return k
        return None

    def rank(self, k: int, aim: Aim) -> tuple[float, ...]:
        """Lower is better; of carts that are told alike the steadier one is first."""
        s = self.score(k)
        return *self._ranked(s, aim), -s.steadiness_rad

    def _ranked(self, s: Score, aim: Aim) -> tuple[float, ...]:
        steady = -s.degrees
        if aim == "cheapest":
            return s.cost, steady, s.footprint_m2, s.height_m
        if aim == "steadiest":
            return steady, s.cost, s.footprint_m2, s.height_m
        if aim == "smallest":
            return s.footprint_m2, s.cost, steady, s.height_m
        if aim == "lowest":
            return s.height_m, s.cost, steady, s.footprint_m2
        return self._worth(s), s.height_m

    def _worth(self, s: Score) -> float:
        """Cost, steadiness and size in shares of their best among the candidates."""
        bounds = [c.bound for c in self.candidates]
        steady = max(b.degrees for b in bounds)
        cheap = max(min(b.cost for b in bounds), 1e-9)
        small = min(b.footprint_m2 for b in bounds)
        return (s.cost / cheap if math.isfinite(cheap) else 1.0) + (
            steady / max(s.degrees, 1) + s.footprint_m2 / small
        )

    def choice(self, k: int, aims: tuple[Aim, ...]) -> CartChoice:
        """What is told of a candidate that was nested and checked."""
        cart, nested = self.cart(k), self.nest(k)
        assert cart is not None
        assert nested is not None
        return CartChoice(aims, dict(self.candidates[k].wishes), cart, nested, self.score(k))

    def further(self, shown: Sequence[CartChoice], wanted: int, form: str = "") -> list[CartChoice]:
        """Further choices that no other beats, the best all round first; of one form, or of any."""
        choices: list[CartChoice] = []
        taken = [c.wishes for c in shown]
        order = sorted(range(len(self.candidates)), key=lambda k: self.rank(k, "all round"))
        for k in order:
            if len(choices) >= wanted:
                break
            wishes = dict(self.candidates[k].wishes)
            if wishes in taken or form not in ("", wishes["wishes.form"]):
                continue
            if self.nest(k) is None or self.cart(k) is None or self._beaten(k):
                continue
            if self.score(k).compared in [c.score.compared for c in (*shown, *choices)]:
                continue
            choices.append(self.choice(k, ()))
        return choices

    def _beaten(self, k: int) -> bool:
        """Whether any candidate beats one: each that could is nested and checked."""
        own = self.score(k)
        return any(
            self.score(rival).beats(own)
            and self.nest(rival) is not None
            and self.score(rival).beats(own)
            and self.cart(rival) is not None
            for rival in range(len(self.candidates))
            if rival != k
        )
