"""Passing under a bench: the third door beside the doorway and its threshold."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..fact_samples import Samples
from ..facts import Amount, facts
from ..finding import Finding, judge
from ..joinery.marks import MarkingRule
from ..quantity import Draw, Quantity
from ..shop import Shop
from ..solids import Body
from ..sources import fact

#: What comes off with the separator.
_SEPARATOR = ("bucket", "cyclone", "cyclone inlet", "link hose", "front strap", "rear strap")


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
    fixed = max(top for name, top in tops.items() if name not in _SEPARATOR)
    rises = draw.of(caster) - caster.best_si
    # Where the vacuum is what stands highest, its height is what was measured.
    vacuum = shop.vacuum.height
    wood = max(
        (top for name, top in tops.items() if name not in (*_SEPARATOR, "vacuum")), default=0.0
    )
    without = rises + np.maximum(wood, tops["vacuum"] + draw.of(vacuum) - vacuum.best_si)
    assumed = [bench.path] if bench.assumed else []
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
            form="low" if shop.wishes.form == "low" else "other",
        ),
    )
    names = [n for n in _SEPARATOR if n in tops]
    if not names:
        return [out]
    highest = max(tops[n] for n in names)
    over = max(highest - max(tops[n] for n in names if n != "link hose"), 0.0)
    passes_without = out.level in ("good", "advice")
    on = judge(
        key="cart.under_bench",
        about=None,
        draw=draw,
        value=np.maximum(total_m + over, without),
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
        ),
        fail="advice" if passes_without else "problem",
    )
    return [on] if on.level == "good" else [on, out]
