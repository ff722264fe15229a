"""The hookups of a whole shop: which chain for each tool, and what to get for them all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


from ..quantity import Draw
from ..shop import End, Shop
from ..shop.catalogue.fittings import Offer, offers
from .building import Builder
from .chains import Joining, Part, Route
from .columns import list_columns
from .findings import chain_findings
from .loss import hose_pa
from .model import Alternative, Hookups, Weights
from .program import Choice, Task, solve

#: Samples that rank joints; the chosen chains are judged on the whole draw.
RANKING_SAMPLES = 64


@dataclass(frozen=True)
class Problem:
    """A shop's routes and parts, ready to be chosen among."""

    shop: Shop
    parts: tuple[Part, ...]
    task: Task


def choose(
    shop: Shop,
    draw: Draw,
    *,
    weights: Weights | None = None,
    on_sale: Sequence[Offer] | None = None,
    own_printer: bool = False,
    runner_up: bool = True,
    time_s: float | None = None,
) -> Hookups:
    """Chains for every tool and for the unit's own joints, weighed all together.

    Parameters
    ----------
    shop
        The shop.
    draw
        The draw that joints are judged on.
    weights
        What air, bother and doubt are worth in money.
    on_sale
        What can be bought; the generic catalogue by default.
    own_printer
        Whether printing costs the filament and some bother, or a service's price.
    runner_up
        Whether to find the second-best answer too.
    time_s
        Longest time for each integer program; the gap is told when it was not enough.
    """
    chosen_weights = weights or Weights()
    problem = pose(shop, draw, chosen_weights, on_sale, own_printer)
    best = solve(problem.task, time_s=time_s)
    if best is None:
        raise RuntimeError("the program of hookups has no answer, though each tool may stay apart")
    builder = Builder(shop, problem.parts, problem.task, draw)
    chains = builder.chains(best)
    purchases, printed, plates = builder.to_get(best, chains)
    cost = builder.cost(best)
    second = _runner_up(problem, best, builder, time_s) if runner_up else None
    return Hookups(
        tools=tuple(c for c in chains if c.tool),
        unit=tuple(c for c in chains if not c.tool),
        purchases=purchases,
        printed=printed,
        plates=plates,
        couplings=builder.couplings(best, chains),
        cost=cost,
        weight=best.weight,
        bound=min(best.bound, best.weight),
        runner_up=second,
        findings=chain_findings(shop, chains, draw),
    )


def pose(
    shop: Shop,
    draw: Draw,
    weights: Weights,
    on_sale: Sequence[Offer] | None = None,
    own_printer: bool = False,
) -> Problem:
    """The shop as a task for `program.solve`."""
    parts = tuple(Part(f, f.count, None) for f in shop.fittings) + tuple(
        Part(o.fitting, 0, o.price) for o in (offers() if on_sale is None else on_sale)
    )
    routes, demands, follows = _routes(shop, weights)
    ranking = Draw(min(draw.count, RANKING_SAMPLES), draw.seed)
    joining = Joining.of(parts, routes, weights, ranking)
    ends = {i: h.tool_end for i, h in enumerate(shop.hoses) if h.use == "tool"}
    columns = list_columns(parts, routes, ends, joining, weights, own_printer=own_printer)
    return Problem(
        shop, parts,
        Task(parts, routes, columns, demands, follows, weights.change, weights.second_hose),
    )  # fmt: skip


def _routes(
    shop: Shop, weights: Weights
) -> tuple[list[Route], list[tuple[int, ...]], dict[int, int]]:
    routes: list[Route] = []
    demands: list[tuple[int, ...]] = []
    follows: dict[int, int] = {}

    def add(start: str, finish: str, tool: str, hose: int, up: End, down: End) -> int:
        air = hose_pa(shop.hoses[hose]) / 1000 * weights.air_per_kpa if tool else 0.0
        routes.append(Route(start, finish, tool, hose, up, down, air))
        return len(routes) - 1

    tool_hoses = [(i, h) for i, h in enumerate(shop.hoses) if h.use == "tool"]
    for tool in shop.tools:
        group = [
            add(f"{tool.name} port", f"{hose.name}, tool end", tool.name, i, tool.port, hose.tool_end)
            for i, hose in tool_hoses
            if tool.hose in (None, hose.name)
        ]  # fmt: skip
        if group:
            demands.append(tuple(group))
    separator, vacuum = shop.separator, shop.vacuum
    into, name = (
        (separator.cyclone.inlet, "separator inlet") if separator.in_use
        else (vacuum.inlet, "vacuum inlet")
    )  # fmt: skip
    for i, hose in tool_hoses:
        follows[add(f"{hose.name}, unit end", name, "", i, hose.unit_end, into)] = i
    if separator.in_use:
        _link(shop, add, demands, follows)
    return routes, demands, follows


def _link(shop: Shop, add: object, demands: list[tuple[int, ...]], follows: dict[int, int]) -> None:
    assert callable(add)
    links = [(i, h) for i, h in enumerate(shop.hoses) if h.use == "link"]
    firsts = []
    for i, hose in links:
        outlet, inlet = shop.separator.cyclone.outlet, shop.vacuum.inlet
        first = add("separator outlet", f"{hose.name}, separator end", "", i, outlet, hose.tool_end)
        last = add(f"{hose.name}, vacuum end", "vacuum inlet", "", i, hose.unit_end, inlet)
        follows[first], follows[last] = i, i
        firsts.append(first)
    if firsts:
        demands.append(tuple(firsts))


def _runner_up(
    problem: Problem, best: Choice, builder: Builder, time_s: float | None
) -> Alternative | None:
    second = solve(problem.task, forbid=(best.taken,), time_s=time_s)
    if second is None:
        return None
    return Alternative(second.weight, builder.cost(second), builder.difference(best, second))
