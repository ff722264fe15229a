"""Sizing the cart by search: forms, holds and sizes are built, nested and compared.

Every candidate is laid out and weighed; those that could still be best by what they must
cost at least are nested; the few shown are whole carts whose checks were made.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

import numpy as np

from ..cart import CannotBuild, CartLayout, with_entries
from ..cart.whole_cart import carried_bodies_of
from ..checks import CheckedCart, check_cart, make_steady, stands_of
from ..checks.steadiness import CHECKS, Check, Steadiness
from ..checks.steadying import FALLS, SAMPLES, STEADYING, Tried, tried, with_size
from ..checks.strength import shelf_findings
from ..checks.under_bench import heights_m
from ..cutting import CuttingError, Nest, nest
from ..facts import Amount
from ..faults import Refusal, refusal
from ..joinery import MarkingRule
from ..options import FORMS, lay_out_without_remedy
from ..quantity import Draw
from ..shop import Saw as ShopSaw
from ..shop import Sheet, Shop
from ..shop.catalogue.generic import LOW_WIDTH
from ..sources import fact
from .cut_already import by_panel
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
    """One cart worth choosing: what it is best at, and the wishes that make it.

    ``failed`` are the checks of what could tip it that it does not pass.
    """

    aims: tuple[Aim, ...]
    wishes: dict[str, str]
    cart: CheckedCart
    nest: Nest
    score: Score
    failed: tuple[Check, ...]


@dataclass(frozen=True)
class Sizing:
    """The distinct choices, and how far the search went.

    ``unmet`` are the wishes that no cart of some form meets.
    """

    choices: tuple[CartChoice, ...]
    laid_out: int
    refused: int
    nested: int
    stopped: bool
    unmet: tuple[Refusal, ...]


@dataclass(frozen=True)
class _Candidate:
    wishes: tuple[tuple[str, str], ...]
    shop: Shop
    sheets: tuple[Sheet, ...]
    second: tuple[Sheet, ...]
    layout: CartLayout
    bound: Score
    failed: tuple[Check, ...]
    stands: bool
    heights_m: tuple[float, float]


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
    shop = by_panel(shop, [g[0] for g in groups])
    rows = _rows(shop, groups, seconds, steps)
    found = _candidates(shop, rows, budget, go_on)
    pool = _Pool(found.candidates, saw, draw)
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
    return Sizing(
        tuple(choices),
        len(found.candidates),
        found.refused,
        pool.nested,
        found.stopped,
        tuple(found.unmet.values()),
    )


def ways_of(shop: Shop) -> Iterator[tuple[tuple[str, str], ...]]:
    """Wishes that decide what kind of cart it is: every form, and every way to hold the bucket."""
    holds = ["rim", "standing"]
    if shop.separator.bucket.shape in ("tapered", "box"):
        holds.append("taper")
    if not shop.separator.in_use:
        holds = ["rim"]
    unasked = shop.wishes.largest_width.assumed
    low_width = LOW_WIDTH[int(shop.wishes.measures == "metric")]
    for form, held in itertools.product(FORMS, holds):
        yield (
            ("wishes.form", form),
            ("wishes.hold_bucket", held),
            # A width that nobody wished for keeps no form out.
            *([("wishes.largest_width", low_width)] if form == "low" and unasked else ()),
        )


def sizes_of(form: str, shop: Shop, sheet: Sheet, steps: int = STEPS) -> list[Tried]:
    """Carts of one kind that stand: with more and more ballast, and wider and deeper by steps.

    The nearest to standing, where none stands.

    Raises
    ------
    CannotBuild
        A wish, or the sheet, does not let the best values fit.
    """
    if shop.wishes.options:
        steady, layout = make_steady(form, shop, sheet, Draw(SAMPLES))
        found = [Tried(steady, sheet, Steadiness(steady, layout, Draw(SAMPLES)))]
    else:
        FORMS[form](shop, sheet, Draw(1))
        found = tried(form, shop, sheet)
    least = min(t.rank[0] for t in found)
    found = sorted((t for t in found if t.rank[0] == least), key=lambda t: t.rank)
    if least == FALLS:
        return found[:1]
    step = 0.025 if shop.wishes.measures == "metric" else STEP_IN * 0.0254
    for wide, deep in itertools.product(range(steps), range(steps)):
        if not wide and not deep:
            continue
        larger = found[0].shop
        for key, more in (("extra_width", wide * step), ("extra_depth", deep * step)):
            larger = with_size(larger, key, getattr(larger.wishes, key).best_si + more)
        try:
            layout = lay_out_without_remedy(form, larger, sheet, Draw(SAMPLES))
        except CannotBuild:
            continue
        each = Tried(larger, sheet, Steadiness(larger, layout, Draw(SAMPLES)))
        if each.rank[0] == least:
            found.append(each)
    return found


_Row = tuple[tuple[tuple[str, str], ...], Sequence[Sheet], Sequence[Sheet], int]

#: What a thinner sheet is tried for.
_SECOND_PANELS = tuple(", ".join(p) for p in (("lipping", "cleat"), ("lipping", "cleat", "shelf")))


def _rows(
    shop: Shop, groups: Sequence[Sequence[Sheet]], seconds: Sequence[Sequence[Sheet]], steps: int
) -> list[_Row]:
    """What to lay out: wishes, sheets and second sheets, and in how many steps of size."""
    wished = shop.wishes.second_sheet is not None and bool(seconds)
    plain: list[_Row] = [
        (w, g, seconds[0] if wished else (), steps) for w in ways_of(shop) for g in groups
    ]
    if wished:
        return plain
    mixed: list[_Row] = [
        ((*w, ("wishes.second_sheet", h[0].name), ("wishes.second_panels", roles)), g, h, 1)
        for w in ways_of(shop)
        for g in groups
        for h in seconds
        if h[0].thickness.best_si < g[0].thickness.best_si - 1e-4
        for roles in _SECOND_PANELS
    ]
    return plain + mixed


@dataclass
class _Found:
    """Candidates so far, what stood against others, and whether it was stopped."""

    candidates: list[_Candidate] = field(default_factory=list)
    unmet: dict[tuple[str, str], Refusal] = field(default_factory=dict)
    refused: int = 0
    stopped: bool = False


def _candidates(
    shop: Shop, rows: Sequence[_Row], budget: int, go_on: Callable[[int, int], bool]
) -> _Found:
    found = _Found()
    several = len({sheets[0].name for _, sheets, _, _ in rows}) > 1
    seen: set[tuple[object, ...]] = set()
    for done, (wishes, sheets, second, steps) in enumerate(rows):
        if len(found.candidates) >= budget:
            break
        if not go_on(done, len(rows)):
            found.stopped = True
            break
        having = shop.model_copy(update={"sheets": tuple(second[:1])}) if second else shop
        changed, sheet = with_entries(having, sheets[0], dict(wishes))
        try:
            carts = sizes_of(changed.wishes.form, changed, sheet, steps)
        except CannotBuild as error:
            found.refused += 1
            found.unmet |= {(error.form, u.place): u for u in error.unmet}
            continue
        for each in carts[: budget - len(found.candidates)]:
            layout = FORMS[changed.wishes.form](each.shop, sheet, Draw(1))
            # What was added to make two of them stand can make them one and the same.
            same = (
                layout.form,
                each.shop.wishes.hold_bucket,
                each.shop.wishes.ballast.best_si,
                sheet.name,
                layout.bench.second,
                layout.sizes,
            )
            if same in seen:
                continue
            seen.add(same)
            named = (("wishes.sheet", sheet.name),) if several else ()
            written = (*wishes, *_added(each.shop), *named)
            least = bound(each.shop, layout, sheets, second)
            found.candidates.append(
                _Candidate(
                    written,
                    each.shop,
                    tuple(sheets),
                    tuple(second),
                    layout,
                    least,
                    tuple(each.failed(CHECKS)),
                    each.rank[0] < FALLS,
                    _heights_m(each.shop, layout),
                )
            )
    if any(c.stands for c in found.candidates):
        found.candidates = [c for c in found.candidates if c.stands]
    _under_the_bench(shop, found)
    return found


def _heights_m(shop: Shop, layout: CartLayout) -> tuple[float, float]:
    """Height without its separator and as it stands [m], where a bench is wished for."""
    if shop.wishes.under_bench is None:
        return 0.0, 0.0
    return heights_m([*layout.bench.bodies(), *carried_bodies_of(shop, layout)[0]])


def _under_the_bench(shop: Shop, found: _Found) -> None:
    """Keep the carts that go under the bench that is wished for, best with everything on."""
    bench = shop.wishes.under_bench
    if bench is None or not found.candidates:
        return
    limit = bench.low_si - fact("cart.bench.play").value
    for which in (1, 0):
        under = [c for c in found.candidates if c.heights_m[which] <= limit]
        if under:
            found.candidates = under
            return
    least = min(c.heights_m[0] for c in found.candidates) + fact("cart.bench.play").value
    raised = MarkingRule.of(shop).up(least)
    found.candidates = []
    found.unmet["", "wishes.under_bench"] = refusal(
        "cart.refused.under_bench",
        "wishes.under_bench",
        needed=Amount(raised, "length"),
        limit=Amount(bench.best_si, "length"),
    )


def _added(shop: Shop) -> tuple[tuple[str, str], ...]:
    """What makes it stand, as it is written in a shop file."""
    metric = shop.wishes.measures == "metric"
    unit, size = ("mm", 0.001) if metric else ("in", 0.0254)
    heavy, kilos = ("kg", 1.0) if metric else ("lb", 0.45359237)
    sizes = tuple(
        (f"wishes.{key}", f"{getattr(shop.wishes, key).best_si / size:.6g} {unit}")
        for key in STEADYING
        if key != "ballast"
    )
    return (*sizes, ("wishes.ballast", f"{shop.wishes.ballast.best_si / kilos:.6g} {heavy}"))


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
        each = self.candidates[k]
        return CartChoice(aims, dict(each.wishes), cart, nested, self.score(k), each.failed)

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
