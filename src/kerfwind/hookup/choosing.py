"""The hookups of a whole shop: which chain for each tool, and what to get for them all."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from ..facts import Ref, Term, state
from ..quantity import Draw
from ..shop import End, Shop
from ..shop.catalogue.fittings import Offer, offers
from ..shop.catalogue.hoods import HAND_HELD
from .building import Builder
from .candidates import Makings
from .chains import Joining, Part, Route
from .compare_in_air import AirOf, compare
from .findings import chain_findings, in_air_findings, reach_findings
from .loss import carried_m, hose_pa
from .model import ChainEnd, Hookups, HosesByReach, Weights
from .part_costs import Choice, Task
from .placing import Allowed, added_weights, reach
from .solving import Solved, solve_task

#: Samples that rank joints; the chosen chains are judged on the whole draw.
RANKING_SAMPLES = 64
#: Gives the best answer and the second of a shop, with the hoses that each tool may be on.
Solve = Callable[[Shop, Draw, Weights, Allowed], Solved]
_OUTLET, _INLET = Term("end", "separator outlet"), Term("end", "vacuum inlet")


def choose(
    shop: Shop,
    draw: Draw,
    *,
    weights: Weights | None = None,
    on_sale: Sequence[Offer] | None = None,
    runner_up: bool = True,
    air: AirOf | None = None,
    footprint_m: tuple[float, float] | None = None,
    solve: Solve | None = None,
) -> Hookups:
    """Chains for every tool and for the unit's own joints, weighed all together.

    Parameters
    ----------
    shop
        The shop.
    draw
        The draw that joints are judged on.
    weights
        What air, bother and doubt are worth in money; by default what the shop says.
    on_sale
        What can be bought; the generic catalogue by default.
    runner_up
        Whether to find the second-best answer too.
    air
        Solves chains in full, so that the two best answers can be weighed by their true air.
    footprint_m
        Length and width of the unit, for its parking; by default the largest allowed.
    solve
        `solve_shop` of what can be bought, or the same kept from plan to plan.
    """
    weights = weights or Weights.of(shop.weights)

    def afresh(shop: Shop, draw: Draw, weights: Weights, allowed: Allowed) -> Solved:
        return solve_shop(shop, draw, weights, on_sale, runner_up=runner_up, allowed=allowed)

    answers, by_reach = _weighed(shop, draw, weights, footprint_m, solve or afresh)
    # Answers of one task share their ends, and so the fits that are known of them.
    known = {id(a.solved): Builder(shop, a.solved.task, draw) for a in answers}
    builders = [known[id(a.solved)] for a in answers]
    made = [b.chains(a.choice) for b, a in zip(builders, answers, strict=True)]
    bound = answers[0].weight - max(0.0, answers[0].choice.weight - answers[0].choice.bound)
    in_air = None
    if air is not None and len(answers) > 1:
        first, second = ((a.weight, m) for a, m in zip(answers, made, strict=True))
        in_air = compare(shop, weights, air, first, second)
    if in_air is not None and in_air.turned:
        answers, builders, made = answers[::-1], builders[::-1], made[::-1]
    best, builder, chains = answers[0], builders[0], made[0]
    purchases, printed, plates = builder.to_get(best.choice, chains)
    return Hookups(
        tools=tuple(c for c in chains if c.tool),
        unit=tuple(c for c in chains if not c.tool),
        purchases=purchases,
        printed=printed,
        plates=plates,
        couplings=builder.couplings(best.choice, chains),
        cost=builder.cost(best.choice, chains),
        weight=best.weight,
        bound=bound,
        runner_up=builder.alternative(
            answers[1].weight, builders[1].cost(answers[1].choice, made[1]), chains, made[1]
        )
        if len(answers) > 1
        else None,
        findings=(
            *chain_findings(shop, chains, draw),
            *reach_findings(by_reach),
            *in_air_findings(in_air),
        ),
        in_air=in_air,
        by_reach=by_reach,
    )


@dataclass(frozen=True)
class _Answer:
    """One answer with its task and how many spots of the unit its hoses need."""

    solved: Solved
    choice: Choice
    spots: int
    move: float

    @property
    def weight(self) -> float:
        """Weight with the moves in it."""
        return self.choice.weight + self.move * max(0, self.spots - 1)


def _weighed(
    shop: Shop, draw: Draw, weights: Weights, footprint_m: tuple[float, float] | None, solve: Solve
) -> tuple[list[_Answer], HosesByReach | None]:
    """The best answer and the second, moves of the unit weighed in."""
    near = reach(shop, footprint_m)
    allowed = near.allowed() if near is not None else {}

    def answers(allowed: Allowed) -> list[_Answer]:
        solved = solve(shop, draw, weights, allowed)
        choices = [solved.best, *([solved.second] if solved.second else [])]
        return [
            _Answer(
                solved,
                choice,
                near.spots(_hoses_of(shop, solved.task, choice)) if near else 1,
                weights.move,
            )
            for choice in choices
        ]

    plain = answers(allowed)
    if near is None:
        return plain, None
    left_out = tuple(
        (name, tuple(h.name for h in near.hoses if h.name not in some))
        for name, some in allowed.items()
    )
    hoses = _hoses_of(shop, plain[0].solved.task, plain[0].choice)
    wanted: dict[str, str] = {}
    if len(near.hoses) > 1:
        # Hoses that would be lightest with the moves, by what each adds to an answer.
        wanted = near.lightest(
            added_weights(shop, plain[0].solved, plain[0].choice, near), weights.move
        )
    if all(hoses.get(tool) == hose for tool, hose in wanted.items()):
        ranked = _ranked(plain)
        return ranked, HosesByReach(ranked[0].spots, None, None, (), left_out)
    fewer_moves = answers({**allowed, **{t: frozenset((h,)) for t, h in wanted.items()}})
    ranked = _ranked([*plain, *fewer_moves])
    taken = ranked[0]
    against = fewer_moves[0] if any(taken is a for a in plain) else plain[0]
    if against.spots == taken.spots:
        return ranked, HosesByReach(taken.spots, None, None, (), left_out)
    hoses, others = (_hoses_of(shop, a.solved.task, a.choice) for a in (taken, against))
    changed = tuple((t, hoses[t], others[t]) for t in hoses if hoses[t] != others.get(t))
    return ranked, HosesByReach(
        taken.spots, against.spots, against.choice.weight - taken.choice.weight, changed, left_out
    )


def _ranked(answers: list[_Answer]) -> list[_Answer]:
    """The two lightest, least weight first."""
    kept: list[_Answer] = []
    for each in sorted(answers, key=lambda a: a.weight):
        if not any(_same(each, k) for k in kept):
            kept.append(each)
    return kept[:2]


def _same(a: _Answer, b: _Answer) -> bool:
    def made(answer: _Answer) -> Counter[tuple[object, ...]]:
        routes = answer.solved.task.routes
        return Counter(
            (routes[c.route].start, routes[c.route].finish, c.head, c.pieces, c.made is None)
            for c in answer.choice.taken
        )

    return made(a) == made(b)


def _hoses_of(shop: Shop, task: Task, choice: Choice) -> dict[str, str]:
    """The hose of each tool in an answer."""
    routes = [task.routes[c.route] for c in choice.taken]
    return {r.tool: shop.hoses[r.hose].name for r in routes if r.tool}


def solve_shop(
    shop: Shop,
    draw: Draw,
    weights: Weights,
    on_sale: Sequence[Offer] | None = None,
    *,
    runner_up: bool = True,
    allowed: Allowed | None = None,
) -> Solved:
    """The best answer of a shop and the second-best.

    ``allowed`` names, by tool, the hoses it may be on; any where it says nothing.
    """
    makings, task = pose(shop, draw, weights, on_sale, allowed)
    makings, beyond = makings.few_heads(task.hose_weight)
    solved = solve_task(makings, task, runner_up=runner_up)
    best, second = (
        c and replace(c, bound=min(c.bound, beyond)) for c in (solved.best, solved.second)
    )
    assert best is not None
    return replace(solved, best=best, second=second)


def pose(
    shop: Shop,
    draw: Draw,
    weights: Weights,
    on_sale: Sequence[Offer] | None = None,
    allowed: Allowed | None = None,
) -> tuple[Makings, Task]:
    """The shop as a task, and what its candidates are made of."""
    parts = tuple(Part(f, f.count, None) for f in shop.fittings) + tuple(
        Part(o.fitting, 0, o.price) for o in (offers() if on_sale is None else on_sale)
    )
    routes, demands, follows = _routes(shop, weights, allowed or {})
    ranking = Draw(min(draw.count, RANKING_SAMPLES), draw.seed)
    joining = Joining.of(parts, routes, weights, ranking)
    makings = Makings.of(parts, routes, joining, weights, shop.wishes.printer)
    task = Task(parts, routes, demands, follows, makings.heads, weights.change, weights.second_hose)
    return makings, task


def _routes(
    shop: Shop, weights: Weights, allowed: Allowed
) -> tuple[list[Route], list[tuple[int, ...]], dict[int, int]]:
    routes: list[Route] = []
    demands: list[tuple[int, ...]] = []
    follows: dict[int, int] = {}
    held = {t.name for t in shop.tools if t.hood in HAND_HELD}

    def add(start: ChainEnd, finish: ChainEnd, tool: str, hose: int, up: End, down: End) -> int:
        of_hose = 0.0
        if tool:
            of_hose = hose_pa(shop.hoses[hose]) / 1000 * weights.air_per_kpa
            if tool in held:
                of_hose += carried_m(shop.hoses[hose]) * weights.hang_per_m
        routes.append(Route(start, finish, tool, hose, up, down, of_hose))
        return len(routes) - 1

    tool_hoses = [(i, h) for i, h in enumerate(shop.hoses) if h.use == "tool"]
    for tool in shop.tools:
        group = [
            add(
                state("hookup.port", tool=Ref("tool", tool.name)),
                state("hookup.end.tool", hose=Ref("hose", hose.name)),
                tool.name,
                i,
                tool.port,
                hose.tool_end,
            )
            for i, hose in tool_hoses
            if tool.hose in (None, hose.name) and hose.name in allowed.get(tool.name, (hose.name,))
        ]
        if group:
            demands.append(tuple(group))
    separator, vacuum = shop.separator, shop.vacuum
    into, called = (
        (separator.cyclone.inlet, Term("end", "separator inlet"))
        if separator.in_use
        else (vacuum.inlet, _INLET)
    )
    for i, hose in tool_hoses:
        start = state("hookup.end.unit", hose=Ref("hose", hose.name))
        follows[add(start, called, "", i, hose.unit_end, into)] = i
    if separator.in_use:
        _link(shop, add, demands, follows)
    return routes, demands, follows


def _link(shop: Shop, add: object, demands: list[tuple[int, ...]], follows: dict[int, int]) -> None:
    assert callable(add)
    links = [(i, h) for i, h in enumerate(shop.hoses) if h.use == "link"]
    firsts = []
    for i, hose in links:
        outlet, inlet = shop.separator.cyclone.outlet, shop.vacuum.inlet
        at_separator = state("hookup.end.separator", hose=Ref("hose", hose.name))
        at_vacuum = state("hookup.end.vacuum", hose=Ref("hose", hose.name))
        first = add(_OUTLET, at_separator, "", i, outlet, hose.tool_end)
        last = add(at_vacuum, _INLET, "", i, hose.unit_end, inlet)
        follows[first], follows[last] = i, i
        firsts.append(first)
    if firsts:
        demands.append(tuple(firsts))
