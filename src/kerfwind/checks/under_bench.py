"""Passing under a bench: the third door beside the doorway and its threshold."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ..fact_samples import Samples
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
    least = rule.entry(fixed + play)
    other = "" if shop.wishes.form == "low" else 'try `wishes.form = "low"`, '
    has, out_of_it = shop.separator.in_use, " bucket and cyclone lifted out it"
    out = judge(
        key="cart.under_bench.lifted_out",
        room="cart",
        about="",
        check="passes under the bench, separator lifted out",
        value=without,
        limit=limit,
        must="at most",
        dimension="length",
        draw=draw,
        rests_on=[bench, caster, vacuum],
        unresolved=[bench.path] if bench.assumed else [],
        sources=["cart.bench.play"],
        good=f"{'With' + out_of_it if has else 'It'} is {rule.text(fixed)} high and passes.",
        bad=f"{'Even with' + out_of_it if has else 'It'} is {rule.text(fixed)} high.",
        do=f"Raise the bench to {least}, {other}or park it beside the bench.",
    )
    names = [n for n in _SEPARATOR if n in tops]
    if not names:
        return [out]
    highest = max(tops[n] for n in names)
    over = max(highest - max(tops[n] for n in names if n != "link hose"), 0.0)
    on = judge(
        key="cart.under_bench",
        room="cart",
        about="",
        check="passes under the bench with everything on",
        value=np.maximum(total_m + over, without),
        limit=limit,
        must="at most",
        dimension="length",
        draw=draw,
        rests_on=[bench, vacuum, *rests_on],
        sources=["cart.bench.play"],
        unresolved=[bench.path] if bench.assumed else [],
        good="It passes under the bench as it stands, hose and all.",
        bad=f"With separator and hose on it is {rule.text(max(highest, fixed))} high.",
        do="Pull the link hose off and lift bucket and cyclone out together first."
        if out.level in ("good", "advice")
        else f"Raise the bench to {rule.entry(max(highest, fixed) + play)}, or park it beside the bench.",
        fail="advice" if out.level in ("good", "advice") else "problem",
    )
    return [on] if on.level == "good" else [on, out]
