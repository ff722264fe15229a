"""The choice of chains for a whole shop."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from kerfwind.facts import Ref, Term
from kerfwind.hookup import Hookups, Weights, choose
from kerfwind.hookup.candidates import MOST_SETUPS, Makings, find_candidates
from kerfwind.hookup.choosing import pose, solve_shop
from kerfwind.hookup.part_costs import PartCosts, Task
from kerfwind.hookup.solving import solve_task
from kerfwind.quantity import Draw
from kerfwind.shop import Shop
from kerfwind.shop.catalogue.fittings import Offer
from tests.say import answer, text

from .brute import least_weight
from .shops import base, end, fitting, hose, random_shop, with_parts
from .whole_shop import every_candidate, least_weight_by_highs

NOMINAL = Draw(1)


def chance_weights(seed: int) -> Weights:
    rng = np.random.default_rng(seed + 1_000_000)
    return Weights(
        change=float(rng.choice([0.3, 1.0, 3.0])),
        hang_per_m=3.0,
        second_hose=float(rng.choice([0.5, 6.0])),
    )


def _brute(makings: Makings, task: Task, weights: Weights) -> float:
    return least_weight(
        list(task.parts),
        list(task.routes),
        list(task.demands),
        task.follows,
        makings.joining,
        weights,
    )


@pytest.mark.parametrize("hundred", range(10))
def test_a_thousand_small_shops_agree_with_brute_force(hundred: int) -> None:
    seen: Counter[str] = Counter()
    for seed in range(100 * hundred, 100 * hundred + 100):
        heavy = seed % 20 == 0
        shop, sold = random_shop(seed, 3 if heavy else 2, 3)
        weights = chance_weights(seed)
        best = solve_shop(shop, NOMINAL, weights, sold, runner_up=False).best
        makings, task = pose(shop, NOMINAL, weights, sold)
        assert best.weight == pytest.approx(_brute(makings, task, weights), abs=1e-6), seed
        assert best.bound == pytest.approx(best.weight, abs=1e-6), seed
        for what in ("heads", "borrowed", "bought"):
            seen[what] += bool(getattr(best, what))
    # The cases are worth nothing unless they call on what the program can do.
    assert seen["bought"] >= 5
    assert seen["heads"] + seen["borrowed"] >= 12


@pytest.mark.parametrize("seed", range(40))
def test_setup_by_setup_agrees_with_one_program_over_all(seed: int) -> None:
    shop, sold = random_shop(seed, 5, 8)
    weights = chance_weights(seed)
    solved = solve_shop(shop, NOMINAL, weights, sold)
    makings, task = pose(shop, NOMINAL, weights, sold)
    candidates = every_candidate(makings)
    assert solved.best.weight == pytest.approx(least_weight_by_highs(task, candidates), abs=1e-6)
    assert solved.second is not None
    other = least_weight_by_highs(task, candidates, forbid=solved.best.taken)
    assert solved.second.weight == pytest.approx(other, abs=1e-6)


@pytest.mark.parametrize("seed", range(30))
def test_heads_left_out_for_number_are_told_by_the_bound(seed: int) -> None:
    shop, sold = random_shop(seed, 4, 8)
    weights = chance_weights(seed)
    best = solve_shop(shop, NOMINAL, weights, sold, runner_up=False).best
    makings, task = pose(shop, NOMINAL, weights, sold)
    few, beyond = makings.few_heads(task.hose_weight, most=4)
    assert set(few.heads) < set(makings.heads) or beyond == np.inf
    some = solve_task(few, task, runner_up=False).best
    assert some.weight >= best.weight - 1e-6
    # What the others could have done is in the bound, whether they would have or not.
    assert min(some.weight, beyond) <= best.weight + 1e-6


@pytest.mark.parametrize("seed", range(30))
def test_candidates_left_out_for_number_are_told_by_the_bound(seed: int) -> None:
    shop, sold = random_shop(seed, 4, 8)
    weights = chance_weights(seed)
    best = solve_shop(shop, NOMINAL, weights, sold, runner_up=False).best
    makings, task = pose(shop, NOMINAL, weights, sold)
    found = find_candidates(makings, most=1)
    assert np.isfinite(found.dropped).any() or len(found.table) == len(
        find_candidates(makings).table
    )
    some = solve_task(makings, task, runner_up=False, candidates=found).best
    assert some.weight >= best.weight - 1e-6
    assert some.bound <= best.weight + 1e-6


def test_many_hoses_are_weighed_in_a_bounded_number_of_ways() -> None:
    shop = base()
    big, _, link = shop.hoses
    hoses = [big.model_copy(update={"name": f"hose {i}"}) for i in range(9)]
    shop = shop.model_copy(update={"hoses": (*hoses, link)})
    makings, task = pose(shop, NOMINAL, Weights())
    assert len(makings.heads) > 40
    few, _ = makings.few_heads(task.hose_weight)
    ways = Counter(h for h, _ in few.heads)
    assert np.prod([2 + ways[i] for i in range(9)]) <= MOST_SETUPS
    found = choose(shop, Draw(20))
    assert 0 < found.bound <= found.weight


def _shops() -> list[tuple[Shop, tuple[Offer, ...] | None]]:
    made: list[tuple[Shop, tuple[Offer, ...] | None]] = [(base(), None)]
    made += [random_shop(seed, 4, 6) for seed in (3, 11, 19, 42, 77)]
    return made


@pytest.mark.parametrize("case", range(6))
def test_chains_are_whole_and_nothing_is_used_twice(case: int) -> None:
    shop, sold = _shops()[case]
    found = choose(shop, Draw(60), on_sale=sold)
    assert [c.tool for c in found.tools] == [t.name for t in shop.tools]
    for chain in (*found.tools, *found.unit):
        assert len(chain.joints) == len(chain.pieces) + 1
        ends = [p.upstream for p in chain.pieces]
        assert [j.downstream_end for j in chain.joints[:-1]] == ends
        assert [j.upstream_end for j in chain.joints[1:]] == [p.downstream for p in chain.pieces]
        assert chain.holds.shape == (60,)
        assert chain.likelihood == pytest.approx(float(np.mean(chain.holds)))
    _count_pieces(shop, found)


def _count_pieces(shop: Shop, found: Hookups) -> None:
    """Pieces that stay somewhere, and one of each that is shared, are owned or bought."""
    needed: Counter[str] = Counter()
    shared: dict[str, int] = {}
    for chain in (*found.tools, *found.unit):
        by_chain = Counter(p.called for p in chain.pieces if p.stays == "shared")
        for name, n in by_chain.items():
            shared[name] = max(n, shared.get(name, 0))
        needed.update(
            p.called
            for p in chain.pieces
            if p.stays in ("tool", "unit") and p.origin in ("owned", "buy")
        )
    needed.update(shared)
    needed.update(c.piece.called for c in found.couplings)
    owned = Counter({f.called: f.count for f in shop.fittings})
    bought = Counter({p.what: p.count for p in found.purchases})
    for name, count in needed.items():
        assert count == min(count, owned[name]) + bought[name], name


def test_the_clamp_of_a_head_is_bought_once() -> None:
    shop, sold = random_shop(0, 4, 6)
    found = choose(shop, Draw(30), on_sale=sold, runner_up=False, weights=Weights(change=3.0))
    [head] = found.couplings
    assert len(head.tools) > 1
    clamped = [j for c in found.tools for j in c.joints if j.fit.kind == "needs clamp"]
    assert len(clamped) == len(head.tools)
    assert {j.upstream for j in clamped} == {head.piece.called}
    assert [p.count for p in found.purchases if text(p.what) == "band clamp"] == [1]


def test_a_shop_whose_ends_all_meet_buys_nothing() -> None:
    tool_hose = hose("big hose", end(57.0, 62.6, length=50))
    shop = with_parts({"router": end(63, 68), "saw": end(50, 56.8)}, (base().hoses[2], tool_hose))
    found = choose(shop, NOMINAL)
    assert found.purchases == ()
    assert found.cost == 0.0
    assert found.proven
    assert all(not c.pieces for c in (*found.tools, *found.unit))
    assert {f.level for f in found.findings} == {"good"}


def test_one_owned_fitting_is_shared_by_two_tools() -> None:
    cone = fitting("cone", end(101.8, 108, goes="over"), end(50, 56.6, goes="in"))
    tool_hose = hose("big hose", end(57.0, 62.6, length=50))
    link = base().hoses[2]
    ports = {"planer": end(97, 101.6), "jointer": end(97.2, 101.5)}
    found = choose(with_parts(ports, (link, tool_hose), (cone,)), NOMINAL, on_sale=())
    pieces = [c.pieces for c in found.tools]
    assert [[p.fitting.name for p in each] for each in pieces] == [["cone"], ["cone"]]
    assert found.purchases == ()
    kept = {p.stays for each in pieces for p in each}
    assert kept == {"shared"}


def test_a_piece_that_serves_all_stays_on_the_hose() -> None:
    wide = end(64, 70, goes="over", material="rubber")
    sleeve = fitting("sleeve", wide, end(50, 56.6, goes="in"), kind="cuff")
    tool_hose = hose("big hose", end(57.0, 62.6, length=50))
    ports = {f"tool {i}": end(58 + i / 10, 63.5 + i / 10) for i in range(5)}
    ports = {n: e.model_copy(update={"goes": "in"}) for n, e in ports.items()}
    found = choose(with_parts(ports, (base().hoses[2], tool_hose), (sleeve,)), NOMINAL, on_sale=())
    [coupling] = found.couplings
    assert coupling.piece.fitting.name == "sleeve"
    assert coupling.tools == tuple(ports)
    assert all(c.changes == 1 for c in found.tools)


def test_a_quick_coupling_wins_when_a_change_costs_dear() -> None:
    # Ports that only a taped joint would take: half a coupling on each tool ends that.
    tool_hose = hose("big hose", end(57.0, 62.6, length=50, goes="over"))
    ports = {f"tool {i}": end(47.5, 52.5, goes="in") for i in range(4)}
    lock = end(50, 66, joint="twist", nominal="quick", length=20)
    hose_half = fitting("hose half", end(50, 56.6, goes="in"), lock, length=40, kind="coupling")
    tool_half = fitting("tool half", end(52.7, 58, goes="over"), lock, length=40, kind="coupling")
    sold = (Offer(hose_half, 5.0, 5.0, 5.0), Offer(tool_half, 1.0, 1.0, 1.0))
    shop = with_parts(ports, (base().hoses[2], tool_hose))
    weights = Weights(change=8.0, hang_per_m=1.0)
    found = choose(shop, NOMINAL, on_sale=sold, weights=weights)
    [coupling] = found.couplings
    assert coupling.piece.fitting.name == "hose half"
    assert {text(p.what): p.count for p in found.purchases} == {"hose half": 1, "tool half": 4}
    remade = [j.fit.kind for c in found.tools for j in c.joints if j.remade]
    assert remade == ["locks"] * 4


def test_an_end_that_nothing_can_reach_says_by_how_much_it_misses() -> None:
    port = end(194, 200, "tools[Wide].port", goes="in")
    tool_hose = hose("big hose", end(185.0, 192.0, "hoses[big hose].tool_end", goes="over"))
    found = choose(with_parts({"Wide": port}, (base().hoses[2], tool_hose)), NOMINAL)
    [chain] = found.tools
    assert not chain.reached
    assert chain.pieces == ()
    [finding] = [f for f in found.findings if f.about == Ref("tool", "Wide")]
    assert finding.level == "problem"
    # 200 mm into 185 mm: 15 mm too tight, less the 0.6 % that plastic gives.
    assert f"{15 - 0.006 * 200:.1f} mm" in answer(finding)
    assert "too tight" in answer(finding)


def test_a_tool_without_a_port_gets_a_plate_bored_for_the_hose() -> None:
    port = end(40, 50, nominal="none")
    tool_hose = hose("big hose", end(57.0, 62.6, length=50))
    found = choose(with_parts({"drill": port}, (base().hoses[2], tool_hose)), NOMINAL)
    [plate] = found.plates
    # The shop is written in millimetres: the next one over 62.6 mm.
    assert plate.hole_m == pytest.approx(0.063)
    assert min(plate.face_m) > plate.hole_m
    assert found.tools[0].reached


def test_an_unmeasured_port_is_unknown_and_named() -> None:
    port = end("52..64 mm", "56..70 mm", "tools[Saw].port", assumed=True)
    tool_hose = hose("big hose", end(57.0, 62.6, "hoses[big hose].tool_end", length=50))
    found = choose(with_parts({"Saw": port}, (base().hoses[2], tool_hose)), Draw(400))
    [finding] = [f for f in found.findings if f.about == Ref("tool", "Saw")]
    assert finding.level == "unknown"
    assert finding.measure[0].startswith("tools[Saw].port.")


def test_a_bought_fitting_says_what_to_look_for_in_the_store() -> None:
    tool_hose = hose("big hose", end(50.0, 56.6, length=50, goes="in"))
    sold_end = end("75.5..78 mm", "82..84 mm", "catalogue[cone].end_a", assumed=True, goes="over")
    other = end("56..58 mm", "62..64 mm", "catalogue[cone].end_b", assumed=True, goes="over")
    cone = fitting("cone", sold_end, other)
    ports = {"saw": end(71, 76.3, goes="in")}
    shop = with_parts(ports, (base().hoses[2], tool_hose))
    found = choose(shop, Draw(200), on_sale=(Offer(cone, 2.0, 1.0, 3.0),))
    [purchase] = [p for p in found.purchases if p.what == Ref("fitting", "cone")]
    checks = {(c.end, c.side): (c.low_m * 1e3, c.high_m * 1e3) for c in purchase.checks}
    low, high = checks[("end_a", "inside")]
    assert low < 76.3 < high
    assert high - low < 3
    low, high = checks[("end_b", "inside")]
    assert low < 56.6 < high


def test_the_same_shop_gives_the_same_answer() -> None:
    shop, sold = random_shop(5, 4, 6)
    one, two = (choose(shop, Draw(50), on_sale=sold) for _ in range(2))
    assert one.weight == two.weight
    assert [c.pieces for c in one.tools] == [c.pieces for c in two.tools]


def test_missing_link_hose_is_told() -> None:
    shop = base().model_copy(update={"hoses": base().hoses[:2]})
    found = choose(shop, NOMINAL)
    [finding] = [f for f in found.findings if f.about == Term("part", "separator")]
    assert finding.level == "problem"
    assert "link" in answer(finding)


@pytest.mark.parametrize("seed", range(5))
def test_many_tools_agree_with_one_program_over_all(seed: int) -> None:
    shop, sold = random_shop(seed, 17 + seed % 4, 10)
    weights = chance_weights(seed)
    solved = solve_shop(shop, NOMINAL, weights, sold)
    best, second = solved.best, solved.second
    assert best.bound == pytest.approx(best.weight, rel=1e-5)
    makings, task = pose(shop, NOMINAL, weights, sold)
    least = least_weight_by_highs(task, every_candidate(makings))
    assert best.weight == pytest.approx(least, rel=1e-5)
    weighed = PartCosts(task).weigh(best.taken, best.heads)
    assert best.weight == pytest.approx(weighed, abs=1e-9)
    assert second is not None
    assert second.bound == pytest.approx(second.weight, rel=1e-5)
    assert second.weight >= best.weight * (1 - 1e-5)
    assert set(best.taken) != set(second.taken)


@pytest.mark.parametrize("hundred", range(4))
def test_highs_agrees_with_brute_force(hundred: int) -> None:
    # What is meant for large shops, on those small enough to look at every answer.
    for seed in range(100 * hundred, 100 * hundred + 40):
        shop, sold = random_shop(seed, 2, 3)
        weights = chance_weights(seed)
        makings, task = pose(shop, NOMINAL, weights, sold)
        best = solve_task(makings, task, runner_up=False, looks=0).best
        least = _brute(makings, task, weights)
        assert best.weight == pytest.approx(least, rel=1e-5), seed
        assert best.weight >= least - 1e-6, seed
        assert least * (1 - 1e-5) - 1e-6 <= best.bound <= least + 1e-6, seed


def test_a_budget_too_small_tells_the_gap() -> None:
    shop, sold = random_shop(3, 24, 12)
    makings, task = pose(shop, NOMINAL, Weights(), sold)
    best = solve_task(makings, task, runner_up=False, programs=0).best
    proven = solve_task(makings, task, runner_up=False).best
    assert best.bound <= proven.weight + 1e-6
    assert proven.weight <= best.weight + 1e-6
    assert proven.bound == pytest.approx(proven.weight, rel=1e-5)


def test_many_ports_are_joined_the_same_again() -> None:
    """More of them than what is known is kept of, and one that was not there before."""
    ports = {f"tool {i}": end(34 + i * 0.4, 40 + i * 0.4) for i in range(120)}
    hoses = (base().hoses[2], base().hoses[0])
    some, draw = with_parts(ports, hoses), Draw(16)
    more = some.model_copy(
        update={"tools": (some.tools[0].model_copy(update={"port": end(35, 41)}), *some.tools[1:])}
    )
    first, other, again = (pose(shop, draw, Weights())[0].joining for shop in (some, more, some))
    np.testing.assert_array_equal(first.joint, again.joint)
    np.testing.assert_array_equal(first.remade, again.remade)
    assert not np.array_equal(first.joint, other.joint)
