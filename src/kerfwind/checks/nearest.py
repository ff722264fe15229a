"""The nearest cart that stands: which wish, changed, lets it pass every check that it fails."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

from ..cart import CannotBuild, with_fixes
from ..facts import Amount, Fact, Fix, Listing, Term
from ..joinery import MarkingRule
from ..options import FORMS
from ..quantity import Draw
from ..shop import Sheet, Shop
from ..sources import fact
from .steadiness import Steadiness
from .steadying import SAMPLES, Tried, make_steady, with_size

#: How far a limit is lifted to see what a cart would take [m].
_LIFTED_M = 0.6
#: Limits of a cart's size that can be lifted, and what of its sizes each limits.
_LIMITS = (
    ("largest_width", "width_m"),
    ("largest_length", "length_m"),
    ("narrowest_door", "passing_m"),
)
#: A door is as wide as it is: what asks for a wider one is told, and offered as no change.
DOOR = "wishes.narrowest_door"


@dataclass(frozen=True)
class Nearest:
    """Changes of the wishes with which a cart stands; each was tried.

    Single changes, cheapest first; where there are none, some that help only all at once, as
    one, if they do.
    """

    fixes: tuple[Fix, ...]

    @property
    def offered(self) -> tuple[Fix, ...]:
        """Those that a person can make in the shop file."""
        return tuple(fix for fix in self.fixes if not asks_for_door(fix))


def asks_for_door(fix: Fix) -> bool:
    """Whether a change is of use only where the door is another one."""
    return any(each.place == DOOR for each in fix.every)


def nearest(form: str, shop: Shop, sheet: Sheet, before: Tried) -> Nearest:
    """The changes that let a cart stand which ``before`` does not."""
    fixes = [
        tried
        for place, to in _changes(form, shop, sheet)
        if (tried := _fixed(form, shop, sheet, (Fix(place, to, passes=True),), before))
    ]
    if fixes:
        single = sorted(
            (f for row in fixes for f in row), key=lambda f: (asks_for_door(f), f.costs or 0.0)
        )
        return Nearest(tuple(single))
    for own, lifted in product((form, *(f for f in FORMS if f != form)), (_LIMITS[:2], _LIMITS)):
        rows = _freed(own, shop, sheet, tuple(key for key, _ in lifted))
        several = tuple(Fix(place, to, passes=True) for place, to in rows)
        mended = _fixed(form, shop, sheet, several, before) if several else ()
        if mended:
            return Nearest((Fix.together(mended),))
    return Nearest(())


def _freed(form: str, shop: Shop, sheet: Sheet, lifted: tuple[str, ...]) -> list[tuple[str, Fact]]:
    """All that a cart asks for which may be as heavy and wide on its wheels as it must.

    And as large as it must within the limits that are not ``lifted``. A cart of another form than
    is wished for asks for that first.
    """
    wishes = shop.wishes
    free = {
        key: replace(getattr(wishes, key), standing="assumed") for key in ("ballast", "outriggers")
    }
    freed = shop.model_copy(
        update={"wishes": wishes.model_copy(update={**free, "hose_anchor": "low"})}
    )
    for key in lifted:
        freed = with_size(freed, key, getattr(wishes, key).best_si + _LIFTED_M)
    found = steady_one(form, freed, sheet)
    if found is None or not found.stands:
        return []
    rows: list[tuple[str, Fact]] = []
    if form != wishes.form:
        rows.append(("wishes.form", Term("form", form)))
    for key in lifted:
        rows += _limits(shop, found, (key,))
    for key, dimension in (("ballast", "mass"), ("outriggers", "length")):
        was, now = getattr(wishes, key), getattr(found.shop.wishes, key)
        if not was.assumed and now.best_si != was.best_si:
            rows.append((f"wishes.{key}", Amount(now.best_si, dimension)))
    if wishes.hose_anchor == "port":
        rows.append(("wishes.hose_anchor", Term("anchor", "low")))
    return rows


def steady_one(form: str, shop: Shop, sheet: Sheet) -> Tried | None:
    """The cart that is made of a shop, with its options; None where none can be built."""
    draw = Draw(SAMPLES)
    try:
        steady, layout = make_steady(form, shop, sheet, draw)
    except CannotBuild:
        return None
    return Tried(steady, sheet, Steadiness(steady, layout, draw))


def _fixed(
    form: str, shop: Shop, sheet: Sheet, fixes: tuple[Fix, ...], before: Tried
) -> tuple[Fix, ...]:
    """The fixes with what they cost together, where a cart stands with them; else none."""
    changed, other = with_fixes(shop, sheet, fixes)
    own = changed.wishes.form if changed.wishes.form != shop.wishes.form else form
    found = steady_one(own, changed, other)
    if found is None or not found.stands:
        return ()
    return tuple(replace(f, costs=max(found.money - before.money, 0.0)) for f in fixes)


def _changes(form: str, shop: Shop, sheet: Sheet) -> Iterator[tuple[str, Fact]]:
    """Single changes that are worth trying."""
    wishes = shop.wishes
    if wishes.hose_anchor == "port":
        yield "wishes.hose_anchor", Term("anchor", "low")
    for key, dimension in (("ballast", "mass"), ("outriggers", "length")):
        was = getattr(wishes, key)
        if was.assumed:
            continue
        free = replace(was, standing="assumed")
        freed = shop.model_copy(update={"wishes": wishes.model_copy(update={key: free})})
        found = steady_one(form, freed, sheet)
        if found is not None and found.stands:
            yield f"wishes.{key}", Amount(getattr(found.shop.wishes, key).best_si, dimension)
    for key, _ in _LIMITS:
        lifted = with_size(shop, key, getattr(wishes, key).best_si + _LIFTED_M)
        yield from _limits(shop, steady_one(form, lifted, sheet), (key,))
    if shop.separator.in_use:
        for held in ("rim", "standing"):
            if held != wishes.hold_bucket:
                yield "wishes.hold_bucket", Term("hold", held)
    for other in FORMS:
        if other != form:
            yield "wishes.form", Term("form", other)
    if wishes.options:
        yield "wishes.options", Listing(())


def _limits(shop: Shop, found: Tried | None, keys: Sequence[str]) -> list[tuple[str, Fact]]:
    """Limits as a cart that stands asks for them; none where it does not, or asks for no more."""
    if found is None or not found.stands:
        return []
    rule, sizes = MarkingRule.of(shop), found.of.layout.sizes
    rows: list[tuple[str, Fact]] = []
    for key, size in _LIMITS:
        if key in keys:
            play = fact("cart.door.play").value if key == "narrowest_door" else 0.0
            needed = rule.up(getattr(sizes, size) + play)
            if needed <= getattr(shop.wishes, key).best_si:
                return []
            rows.append((f"wishes.{key}", rule.amount(needed)))
    return rows
