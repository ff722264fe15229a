"""The hookups of a whole shop: which chain for each tool, and what to get for them all."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from ..quantity import Draw
from ..shop import End, Shop
from ..shop.catalogue.fittings import Offer, offers
from .branching import Search
from .building import Builder
from .chains import Joining, Part, Route
from .columns import MOST_KEPT, Head, Lister
from .findings import chain_findings
from .loss import hose_pa
from .model import Hookups, Weights
from .priced import solve as solve_priced
from .settling import Choice, Task
from .setups import list_setups

#: Samples that rank joints; the chosen chains are judged on the whole draw.
RANKING_SAMPLES = 64
FIRST_HEADS = 3
#: Above so many tools HiGHS chooses, with the likeliest head of each hose only, and
#: with chains of two pieces only where both are owned or nothing shorter will do.
MOST_SEARCHED = 16
LIKELY_HEADS = 1


def choose(
    shop: Shop,
    draw: Draw,
    *,
    weights: Weights | None = None,
    on_sale: Sequence[Offer] | None = None,
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
    runner_up
        Whether to find the second-best answer too.
    time_s
        Longest time for each integer program; the gap is told when it was not enough.
    """
    task, best, second = solve(
        shop, draw, weights or Weights(), on_sale, runner_up=runner_up, time_s=time_s
    )
    builder = Builder(shop, task, draw)
    chains = builder.chains(best)
    purchases, printed, plates = builder.to_get(best, chains)
    return Hookups(
        tools=tuple(c for c in chains if c.tool),
        unit=tuple(c for c in chains if not c.tool),
        purchases=purchases,
        printed=printed,
        plates=plates,
        couplings=builder.couplings(best, chains),
        cost=builder.cost(best),
        weight=best.weight,
        bound=min(best.bound, best.weight),
        runner_up=builder.alternative(best, second) if second else None,
        findings=chain_findings(shop, chains, draw),
    )


def solve(
    shop: Shop, draw: Draw, weights: Weights, on_sale: Sequence[Offer] | None = None,
    *, runner_up: bool = True, time_s: float | None = None,
) -> tuple[Task, Choice, Choice | None]:  # fmt: skip
    """The task of a shop, its best answer and the second-best."""
    lister, task = pose(shop, draw, weights, on_sale)
    heads = lister.heads()
    least = lister.least_with_heads(heads)
    bare = Search(task)
    price = {(h, g): w + bare.settler.head_price(g) for (h, g), w in heads.items()}

    def low(route: int, head: Head | None) -> float:
        return bare.least(route, None) if head is None else least[(route, head)]

    if len(task.demands) > MOST_SEARCHED:
        some = _likeliest(task, price, low)
        columns = lister.with_heads(task.columns, {key: heads[key] for key in some})
        task = replace(task, columns=columns)
        return task, *solve_priced(task, runner_up=runner_up, time_s=time_s)
    answers = _answers(bare, runner_up, time_s)
    # Heads are listed only where their bound says that they could beat these answers:
    # first the likeliest few, whose answer rules out most of the others.
    setups = list_setups(task, price, low)
    for most in (FIRST_HEADS, len(heads)):
        limit = (answers[1] or answers[0]).weight
        worth: set[tuple[int, Head]] = set()
        for bound, setup in setups:
            if bound >= limit or len(worth) >= most:
                break
            worth |= {(h, g) for h, g in setup.items() if g}
        new = {key: heads[key] for key in worth - set(task.columns.heads)}
        if new:
            task = replace(task, columns=lister.with_heads(task.columns, new))
            answers = _answers(Search(task), runner_up, time_s)
    return task, *answers


def _likeliest(
    task: Task, price: dict[tuple[int, Head], float], low: Callable[[int, Head | None], float]
) -> list[tuple[int, Head]]:
    """For each hose the few heads whose bound is least with every tool on that hose."""
    found: list[tuple[float, tuple[int, Head]]] = []
    for (hose, head), weight in price.items():
        mine = [r for r, route in enumerate(task.routes) if route.tool and route.hose == hose]
        total = weight + sum(min(low(r, head), low(r, None)) for r in mine)
        found.append((total, (hose, head)))
    found.sort()
    return [
        key for hose in {h for h, _ in price}
        for key in [k for _, k in found if k[0] == hose][:LIKELY_HEADS]
    ]  # fmt: skip


def _answers(search: Search, runner_up: bool, time_s: float | None) -> tuple[Choice, Choice | None]:
    best = search.best(time_s=time_s)
    if best is None:
        raise RuntimeError("the program of hookups has no answer, though each tool may stay apart")
    return best, search.best(unlike=best.taken, time_s=time_s) if runner_up else None


def pose(
    shop: Shop, draw: Draw, weights: Weights, on_sale: Sequence[Offer] | None = None
) -> tuple[Lister, Task]:
    """The shop as a task, with bare hoses, and the lister that can add heads to it."""
    parts = tuple(Part(f, f.count, None) for f in shop.fittings) + tuple(
        Part(o.fitting, 0, o.price) for o in (offers() if on_sale is None else on_sale)
    )
    routes, demands, follows = _routes(shop, weights)
    ranking = Draw(min(draw.count, RANKING_SAMPLES), draw.seed)
    joining = Joining.of(parts, routes, weights, ranking)
    large = len(demands) > MOST_SEARCHED
    lister = Lister.of(parts, routes, joining, weights, shop.shop.printer, plain=large)
    kept = 4 * MOST_KEPT if large else MOST_KEPT
    task = Task(
        parts, routes, lister.bare(kept), demands, follows, weights.change, weights.second_hose
    )  # fmt: skip
    return lister, task


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
