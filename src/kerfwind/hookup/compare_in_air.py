"""The program's two best answers once their air is solved in full.

The program adds up rough losses at a reference airflow. Where its two best answers differ,
their chains are solved with the whole unit behind them (by the air room, which comes in as
a function), and the rough losses in their weights are exchanged for the full ones.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from ..shop import Hose, Shop, Tool
from .model import Chain, Compared, ComparedTool, Weights


@dataclass(frozen=True)
class SolvedChain:
    """Airflow at the tool [m³/s], and the loss of the whole way at the reference airflow [Pa]."""

    airflow_m3_s: float
    loss_pa: float


#: Solves chains, each with its tool and hose, nominally.
AirOf = Callable[[Sequence[tuple[Tool, Hose, Chain]]], Sequence[SolvedChain]]


def compare(
    shop: Shop,
    weights: Weights,
    air: AirOf,
    first: tuple[float, Sequence[Chain]],
    second: tuple[float, Sequence[Chain]],
) -> Compared:
    """Solve where two answers, each a weight and its chains, differ; the lighter is taken."""
    tools = {t.name: t for t in shop.tools}
    hoses = {h.name: h for h in shop.hoses}
    other = {c.tool: c for c in second[1] if c.tool}
    pairs = [(c, other[c.tool]) for c in first[1] if c.tool and _way(c) != _way(other[c.tool])]
    ways = [
        (tools[c.tool], hoses[c.hose], c) for pair in pairs for c in pair if c.reached and c.hose
    ]
    solved = iter(air(ways)) if ways else iter(())
    tools_compared: list[ComparedTool] = []
    full = [0.0, 0.0]
    for pair in pairs:
        ends = [next(solved) if c.reached and c.hose else None for c in pair]
        one, two = ends
        if one is None or two is None:
            # Nothing to set against an end that stays apart.
            continue
        tools_compared.append(ComparedTool(pair[0].tool, one.airflow_m3_s, two.airflow_m3_s))
        for side, (end, chain) in enumerate(zip((one, two), pair, strict=True)):
            full[side] += (end.loss_pa - chain.loss_pa) / 1000 * weights.air_per_kpa
    # What both ways have in common, the unit behind them, is in both: only the difference counts.
    sums = (first[0], second[0] + full[1] - full[0])
    if sums[1] < sums[0] - 1e-9:
        turned = tuple(ComparedTool(t.tool, t.other_m3_s, t.taken_m3_s) for t in tools_compared)
        return Compared(turned, sums[1], sums[0], True)
    return Compared(tuple(tools_compared), sums[0], sums[1], False)


def _way(chain: Chain) -> tuple[object, ...]:
    """What the air passes: the same pieces lose the same, wherever they stay."""
    return chain.hose, chain.reached, tuple((p.called, p.turned) for p in chain.pieces)
