"""Putting the wished options on a form that is laid out."""

from __future__ import annotations

import random
from collections.abc import Iterable, Sequence
from dataclasses import replace

from ..cart.fitted import Fitted
from ..cart.whole_cart import CartLayout, carried_bodies_of
from ..facts import Amount, Fix, Listing, Place, Statement, Term, state
from ..faults import Refusal, refusal
from ..joinery.model import Step
from ..quantity import Draw
from ..shop import Shop
from ..sources import fact
from . import drawer, handle, ledge, spool, switch
from .places import Blocked, OptionPlace, Site

#: The order in which places are given away: what has the least choice first.
ORDER = ("handle", "hose holder", "switch", "drawer", "shelf", "fitting rack", "cord wrap")

#: Orders of giving places away that are tried before an option is refused.
_TRIES = 3

_Put = tuple[list[Step], Fitted]


def fit(shop: Shop, draw: Draw, layout: CartLayout) -> tuple[CartLayout, list[Refusal]]:
    """The form with every wished option that has room, and an unmet wish for those without.

    Options get their places one after the other; where one finds none, it is tried before
    the others.
    """
    wished = [name for name in ORDER if name in shop.wishes.options]
    if not wished:
        return layout, []
    fitted, missing = _best(shop, draw, layout, wished)
    if not missing:
        return fitted, []
    kept = [name for name in wished if name not in missing]
    with_room: list[str] = []
    if "handle" not in wished and layout.form == "low":
        with_handle = ["handle", *wished]
        _, still = _best(shop, draw, layout, with_handle)
        if len(still) < len(missing):
            kept = [name for name in with_handle if name not in still]
            with_room = [name for name in missing if name not in still]
    return fitted, _unmet(missing, kept, with_room)


def _best(
    shop: Shop, draw: Draw, layout: CartLayout, wished: Sequence[str]
) -> tuple[CartLayout, dict[str, Blocked]]:
    """Put in as many options as find room, over a few orders of giving places away."""
    best: tuple[CartLayout, dict[str, Blocked]] | None = None
    order = list(wished)
    dice = random.Random(len(wished))
    for _ in range(_TRIES):
        for board in (False, True):
            if board and ("handle" not in order or layout.form != "low"):
                continue
            found, missing = _fitted(shop, draw, _fresh(layout), order, board)
            if best is None or len(missing) < len(best[1]):
                best = found, missing
            if not missing:
                return best
        first = [n for n in order if n in missing]
        rest = [n for n in order if n not in missing]
        if len(rest) < 2:
            break
        dice.shuffle(rest)
        order = [*first, *rest]
    assert best is not None
    return best


def _fresh(layout: CartLayout) -> CartLayout:
    """A copy of a layout, its joints made, so that trying options on it leaves no trace."""
    layout = layout.joined
    bench = layout.bench.copied()
    # What an option is held by is read back as screws.
    bench.wish = "screwed butt"
    return replace(layout, bench=bench)


def _fitted(
    shop: Shop, draw: Draw, layout: CartLayout, order: Sequence[str], board: bool
) -> tuple[CartLayout, dict[str, Blocked]]:
    site = Site.of(shop, draw, layout, carried_bodies_of(shop, layout)[0])
    steps: list[Step] = []
    fitted = Fitted()
    missing: dict[str, Blocked] = {}
    pushed: float | None = None
    for name in order:
        if name == "handle":
            made = site.put(
                lambda wood: handle.handle_shapes(site, wood),
                lambda spot: (spot, *handle.build_handle(site, spot)),
            )
            if isinstance(made, Blocked):
                missing[name] = made
                continue
            spot, step, more, pushed = made
            steps.append(step)
            fitted = fitted + more
            if board:
                steps += _board(site, spot)
            continue
        put = _rack(site) if name == "fitting rack" else _one(site, name)
        if isinstance(put, Blocked):
            missing[name] = put
            continue
        steps += put[0]
        fitted = fitted + put[1]
    wide, deep, passing = site.sizes()
    sizes = replace(
        layout.sizes,
        width_m=wide,
        length_m=deep,
        passing_m=passing,
        handle_m=layout.sizes.handle_m if pushed is None else pushed,
        height_m=max(layout.sizes.height_m, site.top),
    )
    fitted = replace(fitted, hardware=ledge.merged(fitted.hardware), top_m=site.top)
    row = _with_steps(layout.steps, steps, fitted)
    done = replace(site.layout, sizes=sizes, made=row, fitted=fitted)
    return done, missing


def _board(site: Site, handle_spot: OptionPlace) -> list[Step]:
    """A board across the handle's posts, where there is room for one."""
    face, shapes = handle.board_shapes(site, handle_spot)
    made = site.put(lambda wood: shapes, lambda spot: handle.build_board(site, spot), [face])
    if isinstance(made, Blocked):
        return []
    site.woods.append(made[1])
    return [made[0]]


def _one(site: Site, name: str) -> _Put | Blocked:
    """Put in one option that is a single piece, in the best place that it finds."""
    if name == "hose holder":
        hose = spool.bulkiest(site.shop)
        if hose is None:
            return Blocked(reasons=(state("options.no_room.no_hose"),))
        return _single(
            site.put(
                lambda wood: spool.hose_shapes(site, hose, wood),
                lambda spot: spool.hang_hose(site, hose, spot),
            )
        )
    if name == "drawer":
        made = site.put(
            lambda wood: drawer.drawer_shapes(site, wood),
            lambda spot: drawer.build_drawer(site, spot),
        )
        if not isinstance(made, Blocked):
            return made
        hand = Amount(fact("cart.drawer.hand").value, "length")
        return Blocked(made.wishes, (state("options.no_room.no_hand", hand=hand),))
    shapes, build = {
        "cord wrap": (spool.cord_shapes, spool.wrap_cord),
        "shelf": (ledge.shelf_shapes, ledge.build_shelf),
        "switch": (switch.switch_shapes, switch.build_switch),
    }[name]
    return _single(site.put(lambda wood: shapes(site, wood), lambda spot: build(site, spot)))


def _single(made: tuple[Step, Fitted] | Blocked) -> _Put | Blocked:
    return made if isinstance(made, Blocked) else ([made[0]], made[1])


def _rack(site: Site) -> _Put | Blocked:
    """Put in as many rack boards as it takes to hold all the shop's loose fittings."""
    pieces = [f for f in site.shop.fittings for _ in range(f.count)]
    waiting = [ledge.seat(f, i, site.rule.metric) for i, f in enumerate(pieces, 1)]
    if not waiting:
        return Blocked(reasons=(state("options.no_room.no_fitting"),))
    boards: list[tuple[str, OptionPlace]] = []
    fitted = Fitted()
    while waiting:
        made = _rack_board(site, waiting, f"rack {len(boards) + 1}")
        if isinstance(made, Blocked):
            return made
        name, spot, more = made
        boards.append((name, spot))
        fitted = fitted + more
        waiting = waiting[len(spot.shape.data.seats) :]
    return ledge.rack_steps(site, boards), fitted


def _rack_board(
    site: Site, waiting: Sequence[ledge.Seat], name: str
) -> tuple[str, OptionPlace, Fitted] | Blocked:
    return site.put(
        lambda wood: ledge.rack_shapes(site, waiting, wood),
        lambda spot: (name, spot, ledge.build_rack(site, spot, name)),
    )


def _with_steps(steps: Sequence[Step], more: Sequence[Step], fitted: Fitted) -> tuple[Step, ...]:
    """The options' steps before the wood is painted, and one at the end for what hangs on them."""
    at = next(
        i
        for i, s in enumerate(steps)
        if isinstance(s.title, Statement) and s.title.kind == "cart.title.finish"
    )
    shown = {name for step in more for name in step.new}
    hanging = [b for b in fitted.bodies if b.name not in shown]
    hung = tuple(b.name for b in hanging)
    row = [*steps[:at], *more, *steps[at:]]
    if hung:
        coiled = [b for b in hanging if b.coiled]
        says = [state("options.hang.hose")] if coiled else []
        if len(coiled) < len(hung):
            says.append(state("options.hang.fittings"))
        row.append(
            Step(
                0,
                state(
                    "options.hang.title.hose"
                    if len(coiled) == len(hung)
                    else "options.hang.title.both"
                    if coiled
                    else "options.hang.title.fittings"
                ),
                tuple(says),
                (state("options.hang.mind"),),
                hung,
                (),
            )
        )
    return tuple(replace(step, number=i) for i, step in enumerate(row, 1))


def _unmet(
    missing: dict[str, Blocked], kept: Sequence[str], with_handle: Sequence[str]
) -> list[Refusal]:
    """The refusal for options that find no room, with the list of options to write instead.

    ``with_handle`` are those among them that have room where there is a handle.
    """
    limits = dict.fromkeys(wish for each in missing.values() for wish in each.wishes)
    reasons = dict.fromkeys(reason for each in missing.values() for reason in each.reasons)
    fields = tuple(Place(limit) for limit in limits)
    return [
        refusal(
            "cart.refused.options",
            "wishes.options",
            fixes=(Fix("wishes.options", _options(kept), False),),
            count=len(missing),
            options=_options(missing),
            told="reasons" if reasons else "nothing",
            reasons=Listing(tuple(reasons), "semicolons"),
            way="limits" if limits else "handle" if with_handle else "form",
            limits=Listing(fields, "or"),
            whole="all" if len(with_handle) == len(missing) else "some",
            with_handle=_options(with_handle),
        )
    ]


def _options(names: Iterable[str]) -> Listing:
    return Listing(tuple(Term("option", name) for name in names), "commas")
