"""Any tree: solved, balanced, monotone; what is no tree is refused."""

import numpy as np
import pytest
from bench.air_cases import curve, random_ducts, shop_tree
from bench.air_network import balance, library_net, library_solve, scipy_solve
from hypothesis import given
from hypothesis import strategies as st

from kerfwind.air import Duct, NetworkError, RoomAir, compile_tree, solve
from kerfwind.air.properties import GAS_CONSTANT_J_KG_K
from kerfwind.air.series import Element
from kerfwind.facts import Ref
from tests.say import refused

ROOM = RoomAir(np.array([101_325.0]), np.array([293.15]))


def run(name, to="", bore=0.05, factor=2.0, **more):
    return Duct(name, to, (Element(Ref("branch", name), "all", np.array([bore]), factor),), **more)


def test_random_trees_to_a_hundred_runs_are_all_solved():
    rng = np.random.default_rng(11)
    solved = 0
    while solved < 250:
        ducts = random_ducts(rng, int(rng.integers(1, 101)))
        try:
            tree = compile_tree(ducts, ROOM)
        except NetworkError as error:
            assert error.refusal.kind == "air.network.all_shut"
            continue
        machine = curve(rng.uniform(8e3, 3e4), rng.uniform(0.02, 0.1), rng.uniform(-0.5, 0.8))
        flow = solve(tree, machine, ROOM)
        assert flow.residual < 1e-9
        assert balance(flow, tree.up) < 1e-9
        # Behind a wide opening there is no suction to speak of, and rounding is all there is.
        assert np.all(flow.mass_kg_s > -1e-12 * flow.mass_kg_s.max())
        solved += 1


def test_flows_answer_to_pressures_by_themselves():
    """From the solved u alone, each run's flow by its own law; what enters a joint leaves it."""
    ducts, bores, factors = shop_tree()
    flow = solve(compile_tree(ducts, ROOM), curve(), ROOM)
    u = dict(zip(flow.names, flow.u_pa2[:, 0], strict=True))
    mass = {}
    for i, d in enumerate(ducts):
        ups = [e.name for e in ducts if e.to == d.name]
        law = factors[i, 0] * GAS_CONSTANT_J_KG_K * 293.15 / (np.pi / 4 * bores[i, 0] ** 2) ** 2
        mass[d.name] = np.sqrt((u[d.name] - (u[ups[0]] if ups else 0.0)) / law)
    for d in ducts:
        ups = [e.name for e in ducts if e.to == d.name]
        if ups:
            assert mass[d.name] == pytest.approx(sum(mass[n] for n in ups), rel=1e-9)


def test_agrees_with_a_plain_root_solve():
    ducts, bores, factors = shop_tree()
    flow = solve(compile_tree(ducts, ROOM), curve(), ROOM)
    theirs = scipy_solve(ducts, bores[:, 0], factors[:, 0], curve())
    assert [flow.of(d.name)[0] for d in ducts] == pytest.approx(theirs, rel=1e-7)


def test_agrees_with_a_network_library():
    """pandapipes, compressible, the same fixed coefficients, fifteen runs."""
    ducts, bores, factors = shop_tree()
    flow = solve(compile_tree(ducts, ROOM), curve(), ROOM)
    u = float(flow.u_pa2[flow.names.index("unit")][0])
    suction = 101_325.0 - np.sqrt(101_325.0**2 - u)
    theirs = library_solve(library_net(ducts, bores[:, 0], factors[:, 0], suction), quick=False)
    assert [flow.of(d.name)[0] for d in ducts] == pytest.approx(theirs, rel=0.005)


def test_many_cases_at_once_are_each_solved_as_one():
    ducts, bores, factors = shop_tree(5)
    flow = solve(compile_tree(ducts, ROOM), curve(), ROOM)
    for s in range(5):
        alone = [run(d.name, d.to, bores[i, s], factors[i, s]) for i, d in enumerate(ducts)]
        one = solve(compile_tree(alone, ROOM), curve(), ROOM)
        for d in ducts:
            assert flow.of(d.name)[s] == pytest.approx(one.of(d.name)[0], rel=1e-8)


@given(st.integers(0, 10_000), st.integers(2, 25))
def test_opening_a_gate_never_helps_another(seed, runs):
    """Each open end loses air when one more opens, and the vacuum gains (monotone tree)."""
    rng = np.random.default_rng(seed)
    ducts = [Duct(d.name, d.to, d.elements) for d in random_ducts(rng, runs)]
    ends = [i for i, d in enumerate(ducts) if d.name not in {e.to for e in ducts}]
    if len(ends) < 2:
        return
    shut = ends[int(rng.integers(len(ends)))]
    fewer = [Duct(d.name, d.to, d.elements, open=i != shut) for i, d in enumerate(ducts)]
    many = solve(compile_tree(ducts, ROOM), curve(), ROOM)
    few = solve(compile_tree(fewer, ROOM), curve(), ROOM)
    for i in ends:
        if i != shut:
            name = ducts[i].name
            assert many.of(name)[0] <= few.of(name)[0] * (1 + 1e-9) + 1e-13
    assert many.of("r0")[0] >= few.of("r0")[0] * (1 - 1e-9)


def test_a_closed_gate_leaks_what_it_leaves_open():
    ducts = [run("main"), run("open", "main"), run("shut", "main", open=False, gate_leak_m2=1e-5)]
    flow = solve(compile_tree(ducts, ROOM), curve(), ROOM)
    assert 0 < flow.of("shut")[0] < 0.05 * flow.of("open")[0]
    tight = solve(compile_tree([*ducts[:2], run("shut", "main", open=False)], ROOM), curve(), ROOM)
    assert tight.of("shut")[0] == 0.0
    assert tight.of("open")[0] > flow.of("open")[0]


@pytest.mark.parametrize(
    ("ducts", "kind", "says"),
    [
        ([], "no_run", "no run"),
        ([run("a", "b"), run("b", "a")], "loop", "loop: a → b → a"),
        ([run("a", "a")], "loop", "loop: a → a"),
        ([run("a"), run("a")], "same_name", "two runs called a"),
        ([run("a", "nowhere")], "joins_none", "joins nowhere, which is no run here"),
        ([run("")], "no_name", "without a name"),
        ([run("a", open=False)], "all_shut", "no gate is open"),
        ([run("main", open=False), run("b", "main")], "all_shut", "no gate is open"),
        ([run("a", bore=-0.05)], "impossible", "run a, all: a bore of -0.05"),
        ([run("a", bore=0.0)], "impossible", "a bore of 0"),
        ([run("a", bore=float("nan"))], "impossible", "a bore of nan"),
        ([run("a", factor=-1.0)], "impossible", "a loss factor of -1"),
        ([run("a", factor=float("inf"))], "impossible", "a loss factor of inf"),
        ([run("a", factor=0.0)], "free_end", "without any loss"),
        ([run("a", enters=True), run("b", "a")], "joined_end", "an open end too"),
    ],
)
def test_impossible_trees_are_refused(ducts, kind, says):
    with pytest.raises(NetworkError) as error:
        compile_tree(ducts, ROOM)
    refusal = error.value.refusal
    assert refusal.kind == f"air.network.{kind}"
    assert says in refused(refusal).found
    above = "above zero and finite" if "bore" in says else "zero or more, and finite"
    assert kind != "impossible" or refused(refusal).allowed == above


def test_a_loop_beside_a_good_tree_is_refused_too():
    with pytest.raises(NetworkError) as error:
        compile_tree([run("a"), run("b", "c"), run("c", "b")], ROOM)
    assert "loop: b → c → b" in refused(error.value.refusal).found
