"""What was done to make a cart stand, or which wish stands in the way of that."""

from __future__ import annotations

from collections.abc import Sequence

from ..facts import Amount, Fact, Listing, Place, Term, facts, state
from ..finding import Finding, finding
from ..shop import Shop
from .nearest import DOOR, Nearest


def steadied(shop: Shop, steady: Shop) -> Finding:
    """What was added to a shop's cart so that it passes every check of what could tip it."""
    was, now = shop.wishes, steady.wishes
    done: list[Fact] = []
    wide = now.extra_width.best_si - was.extra_width.best_si
    deep = now.extra_depth.best_si - was.extra_depth.best_si
    front = now.extra_front.best_si - was.extra_front.best_si
    if wide > 0:
        done.append(state("checks.steady.wider", by=Amount(wide, "length")))
    if deep > 0:
        done.append(state("checks.steady.deeper", by=Amount(deep, "length")))
    if front > 0:
        done.append(state("checks.steady.ahead", by=Amount(front, "length")))
    if now.outriggers.best_si > 0:
        done.append(state("checks.steady.arms", by=Amount(now.outriggers.best_si, "length")))
    if now.ballast.best_si > 0:
        done.append(state("checks.steady.ballast", mass=Amount(now.ballast.best_si, "mass")))
    if now.hose_anchor == "low":
        done.append(state("checks.steady.tied"))
    return finding(
        "cart.steadied",
        "good" if done else "as_it_is",
        "good",
        facts=facts(done=Listing(tuple(done), "commas")),
    )


def in_the_way(falls: Sequence[Finding], near: Nearest) -> Finding:
    """Which wish keeps a cart from standing: the cheapest to change, and what that costs."""
    checks = Listing(tuple(Term("check", f.key) for f in falls), "and")
    changes = near.fixes[0].every if near.fixes else ()
    rows: list[Fact] = [
        state("checks.steady.change", wish=Place(fix.place), to=fix.to) for fix in changes
    ]
    costs = max((fix.costs or 0.0 for fix in changes), default=0.0)
    return finding(
        "cart.steadied",
        "none" if not changes else "one_wish" if len(changes) == 1 else "several",
        "advice",
        facts=facts(
            checks=checks,
            changes=Listing(tuple(rows), "and"),
            costs=Amount(costs, "money"),
            dear="yes" if costs >= 1 else "no",
            door="yes" if any(fix.place == DOOR for fix in changes) else "no",
        ),
        fixes=near.offered,
    )
