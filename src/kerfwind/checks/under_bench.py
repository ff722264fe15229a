"""Passing under a bench: the third door beside the doorway and its threshold."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..fact_samples import Samples
from ..facts import Amount, Term, facts
from ..finding import Finding, judge
from ..joinery.marks import MarkingRule
from ..quantity import Draw, Quantity
from ..shop import Shop
from ..solids import Body
from ..sources import fact

#: The check that no cart may fail that should go under a bench.
LIFTED_OUT = "cart.under_bench.lifted_out"
#: What comes off with the separator.
_SEPARATOR = ("bucket", "cyclone", "cyclone inlet", "link hose", "front strap", "rear strap")
#: Nothing that holds a shop's dust is lower than this [m]; common practice.
_LOWEST_BUCKET_M = 0.15


def heights_m(bodies: Sequence[Body]) -> tuple[float, float]:
    """How high a cart is with its separator lifted out, and as it stands, hose and all [m]."""
    tops = {b.name: float(b.high[2]) for b in bodies}
    return max(top for name, top in tops.items() if name not in _SEPARATOR), max(tops.values())


def bench_findings(
    shop: Shop,
    draw: Draw,
    rule: MarkingRule,
    bodies: Sequence[Body],
    total_m: Samples,
    rests_on: Sequence[Quantity],
) -> list[Finding]:
    """Whether it parks under the bench that is wished for, as it stands and without separator.

    Parameters
    ----------
    total_m
        Height with the separator on, over the draw; its hose is added here.
    rests_on
        The shop's quantities behind ``total_m``.
    """
    bench = shop.wishes.under_bench
    if bench is None:
        return []
    caster = shop.wishes.caster_height
    play = fact("cart.bench.play").value
    limit = draw.of(bench) - play
    tops = {b.name: float(b.high[2]) for b in bodies}
    fixed, _ = heights_m(bodies)
    rises = draw.of(caster) - caster.best_si
    # Where the vacuum is what stands highest, its height is what was measured.
    vacuum = shop.vacuum.height
    wood = max(
        (top for name, top in tops.items() if name not in (*_SEPARATOR, "vacuum")), default=0.0
    )
    without = rises + np.maximum(wood, tops["vacuum"] + draw.of(vacuum) - vacuum.best_si)
    assumed = [bench.path] if bench.assumed else []
    over = fixed + play - bench.best_si
    # A lower vacuum helps only where the wood beside it goes under.
    least = rule.down(vacuum.best_si - over) if wood + play <= bench.best_si else 0.0
    out = judge(
        key="cart.under_bench.lifted_out",
        about=None,
        draw=draw,
        value=without,
        limit=limit,
        must="at most",
        dimension="length",
        rests_on=[bench, caster, vacuum],
        unresolved=assumed,
        sources=["cart.bench.play"],
        outcome="high",
        facts=facts(
            separator="yes" if shop.separator.in_use else "no",
            height=Amount(fixed, "length"),
            raised=Amount(rule.up(fixed + play), "length"),
            highest="vacuum" if tops["vacuum"] > wood else "wood",
            lower="yes" if least > 0 else "no",
            least=Amount(max(least, 0.0), "length"),
        ),
        fail="stop",
    )
    names = [n for n in _SEPARATOR if n in tops]
    # What is too high without its separator need not be told of as too high with it.
    if not names or out.level == "stop":
        return [out]
    highest = max(tops[n] for n in names)
    hose_over = max(highest - max(tops[n] for n in names if n != "link hose"), 0.0)
    passes_without = out.level in ("good", "advice")
    held = shop.separator.bucket
    # One that stands brings down by as much all that is on it; the rim of one that hangs stays.
    stands = shop.wishes.hold_bucket == "standing"
    lower = rule.down(held.height.best_si - (highest + play - bench.best_si)) if stands else 0.0
    on = judge(
        key="cart.under_bench",
        about=None,
        draw=draw,
        value=np.maximum(total_m + hose_over, without),
        limit=limit,
        must="at most",
        dimension="length",
        rests_on=[bench, vacuum, *rests_on],
        sources=["cart.bench.play"],
        unresolved=assumed,
        outcome="high_with_separator" if passes_without else "high",
        facts=facts(
            height=Amount(max(highest, fixed), "length"),
            raised=Amount(rule.up(max(highest, fixed) + play), "length"),
            highest=Term("body", max(names, key=lambda n: tops[n])),
            shape=held.shape if held.shape in ("drum", "box") else "bucket",
            lower="yes" if passes_without and lower >= _LOWEST_BUCKET_M else "no",
            least=Amount(max(lower, 0.0), "length"),
        ),
        fail="advice" if passes_without else "problem",
    )
    return [on] if on.level == "good" else [on, out]
