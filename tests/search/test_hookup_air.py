"""The two best answers, their air solved in full."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from kerfwind.air import Connection, Link, Piece, tool_air
from kerfwind.hookup import Chain, Hookups, Weights, choose
from kerfwind.hookup.compare_in_air import SolvedChain, compare
from kerfwind.quantity import Draw
from kerfwind.search.hookup_air import air_of, as_made, hookups_in_air, pieces_of
from kerfwind.shop import Hose, Shop, Tool, parse_shop
from tests.hookup.shops import base, end, fitting, hose, with_parts
from tests.say import answer, text

NOMINAL = Draw(1)


def two_ways(first_bore: float, second_bore: float) -> Shop:
    """A port held to a hose by either of two owned fittings that differ in bore alone."""
    tool_hose = hose("big hose", end(57.0, 62.6, length=50))
    a, b = end(63.8, 70, goes="over"), end(50.5, 56.6, goes="in")
    made = [
        fitting(name, a, b).model_copy(update={"bore": end(bore, bore + 5).inside})
        for name, bore in (("one", first_bore), ("other", second_bore))
    ]
    return with_parts({"saw": end(58, 63.5)}, (base().hoses[2], tool_hose), tuple(made))


def piece(chain: Chain) -> str:
    return chain.pieces[0].fitting.name


def test_airflows_are_those_of_the_air_room() -> None:
    shop = two_ways(48.0, 40.0)
    found = hookups_in_air(shop, NOMINAL)
    assert found.in_air is not None
    assert not found.in_air.turned
    assert piece(found.tools[0]) == "one"
    [tool] = found.in_air.tools
    saw, tool_hose = shop.tools[0], shop.hoses[1]
    for name, told in (("one", tool.taken_m3_s), ("other", tool.other_m3_s)):
        part = next(f for f in shop.fittings if f.name == name)
        air = tool_air(Connection(shop, saw, tool_hose, (Piece(part),), Link(shop.link)), NOMINAL)
        assert told == pytest.approx(float(air.airflow_m3_s[0]), rel=1e-6)
    assert tool.taken_m3_s > tool.other_m3_s
    assert not found.in_air.other_better


def test_the_loss_at_the_reference_airflow_is_the_whole_ways() -> None:
    """A vacuum that moves just that airflow through the way pulls just that loss."""
    shop = two_ways(48.0, 40.0)
    chain = choose(shop, NOMINAL).tools[0]
    saw, tool_hose = shop.tools[0], shop.hoses[1]
    [solved] = air_of(shop)([(saw, tool_hose, chain)])
    connection = Connection(shop, saw, tool_hose, pieces_of(chain), Link(shop.link))
    curve = tool_air(connection, NOMINAL).system_curve
    import numpy as np

    at = float(np.interp(0.040, curve.airflow_m3_s, curve.suction_pa))
    # Beyond the chart's last airflow there is nothing to read.
    assert curve.airflow_m3_s[-1] > 0.040
    assert solved.loss_pa == pytest.approx(at, rel=0.01)


def invented(worse: str) -> object:
    """An air room to which one fitting is a wall."""

    def solved(ways: Sequence[tuple[Tool, Hose, Chain]]) -> list[SolvedChain]:
        return [
            SolvedChain(0.01, 9000.0) if piece(chain) == worse else SolvedChain(0.05, 1000.0)
            for *_, chain in ways
        ]

    return solved


def test_the_second_is_taken_when_it_wins_once_solved() -> None:
    shop = two_ways(48.0, 44.0)
    rough = choose(shop, NOMINAL)
    assert piece(rough.tools[0]) == "one"
    found: Hookups = choose(shop, NOMINAL, air=invented("one"))  # type: ignore[arg-type]
    assert found.in_air is not None
    assert found.in_air.turned
    assert piece(found.tools[0]) == "other"
    assert found.in_air.weight < found.in_air.other_weight
    [tool] = found.in_air.tools
    assert (tool.taken_m3_s, tool.other_m3_s) == (0.05, 0.01)
    assert found.runner_up is not None
    assert "one" in text(found.runner_up.differs[0])
    assert "is taken" in answer(next(f for f in found.findings if f.key == "hookup.in_air"))


def test_it_is_said_when_the_second_is_better_in_air_and_yet_not_taken() -> None:
    shop = two_ways(48.0, 44.0)

    def nearly(ways: Sequence[tuple[Tool, Hose, Chain]]) -> list[SolvedChain]:
        # More air, but by less than its rough loss weighs against it.
        return [SolvedChain(0.050 if piece(c) == "one" else 0.052, c.loss_pa) for *_, c in ways]

    found = choose(shop, NOMINAL, air=nearly)
    assert found.in_air is not None
    assert not found.in_air.turned
    assert found.in_air.other_better
    said = next(f for f in found.findings if f.key == "hookup.in_air")
    assert said.level == "advice"
    assert "better in air" in answer(said)


def test_air_enters_a_made_box_by_the_hoses_own_end() -> None:
    shop = parse_shop(
        '[[hoses]]\nname = "hose"\nbore = "50 mm"\nlength = "2 m"\n'
        'tool_end = { inside = "48 mm", outside = "54 mm" }\n'
        '[[tools]]\nname = "lathe"\nhood = "hood box"\nmade = "hood box"\n'
        'opening = { length = "60 mm", width = "50 mm" }\n'
    ).shop
    chain = choose(shop, NOMINAL).tools[0]
    tool = as_made(shop.tools[0], chain)
    assert tool.port.inside.best_si == pytest.approx(0.048)
    # A face too narrow for the bore is made larger, and the need of air with it.
    assert tool.opening is not None
    assert chain.plate is not None
    assert tool.opening.width.best_si == pytest.approx(chain.plate.face_m[1])
    assert tool.opening.width.best_si > 0.054


def test_an_end_that_stays_apart_takes_no_other_tools_air_away() -> None:
    """Whichever tool comes first, only those that both answers reach are counted."""
    shop = two_ways(48.0, 40.0)
    one = choose(shop, NOMINAL).tools[0]
    other = choose(shop.model_copy(update={"fittings": shop.fittings[1:]}), NOMINAL).tools[0]
    shop = shop.model_copy(
        update={"tools": tuple(shop.tools[0].model_copy(update={"name": n}) for n in "ab")}
    )
    first = [replace(one, tool="a"), replace(one, tool="b")]
    second = [replace(other, tool="a"), replace(other, tool="b", reached=False)]
    kpa = (1000.0 - other.loss_pa - 9000.0 + one.loss_pa) / 1000
    for rows, others in ((first, second), (first[::-1], second[::-1])):
        found = compare(shop, Weights(), invented("one"), (10.0, rows), (10.5, others))  # type: ignore[arg-type]
        assert found.turned
        assert found.weight == pytest.approx(10.5 + kpa * Weights().air_per_kpa)
