"""The wall chart says what the hookups say."""

from __future__ import annotations

import pytest

from kerfwind.facts import Name
from kerfwind.hookup import choose, in_line
from kerfwind.hookup.chart import LOOSE, on_the_cart, wall_chart
from kerfwind.quantity import Draw
from tests.say import text

from .shops import base, end, fitting, hose, random_shop, with_parts


@pytest.mark.parametrize("seed", [3, 11, 42, 77, 110])
def test_rows_follow_the_chains_and_every_piece_has_a_home(seed: int) -> None:
    shop, sold = random_shop(seed, 4, 6)
    hookups = choose(shop, Draw(1), on_sale=sold)
    chart = wall_chart(hookups)
    by_tag = {label.tag: label for label in chart.labels}
    assert len(by_tag) == len(chart.labels)
    for row, chain in zip(chart.rows, hookups.tools, strict=True):
        assert row.tool == chain.tool
        assert [by_tag[t].what for t in row.tags] == [p.called for p in chain.pieces]
        assert len(row.joints) == len(row.tags) + 1
        for tag, piece in zip(row.tags, chain.pieces, strict=True):
            assert chain.tool in by_tag[tag].tools
            assert (by_tag[tag].home == LOOSE) == (piece.stays == "shared")
    kept = on_the_cart(hookups, shop.fittings)
    pegs = [Name(f"peg {i}") for i in range(len(kept))]
    placed = wall_chart(hookups, shop.fittings, pegs)
    at_home = {label.home: label.what for label in placed.labels if label.home in pegs}
    assert at_home == {peg: f.called for peg, f in zip(pegs, kept, strict=True)}
    owned = [f.called for f in shop.fittings for _ in range(f.count)]
    homes = [label.what for label in placed.labels]
    assert all(homes.count(each) >= owned.count(each) for each in owned)


def test_a_shared_fitting_has_one_tag_and_one_peg() -> None:
    cone = fitting("cone", end(101.8, 108, goes="over"), end(50, 56.6, goes="in"))
    tool_hose = hose("big hose", end(57.0, 62.6, length=50))
    ports = {"planer": end(97, 101.6), "jointer": end(97.2, 101.5)}
    shop = with_parts(ports, (base().hoses[2], tool_hose), (cone,))
    chart = wall_chart(choose(shop, Draw(1), on_sale=()))
    assert [r.tags for r in chart.rows] == [("A",), ("A",)]
    [label] = chart.labels
    assert label.home == LOOSE
    assert label.tools == ("planer", "jointer")
    [placed] = wall_chart(choose(shop, Draw(1), on_sale=()), shop.fittings, [Name("hole 1")]).labels
    assert placed.home == Name("hole 1")
    joint = chart.rows[0].joints[0]
    assert (text(joint.inner), text(joint.outer)) == ("planer port", "cone")
    assert joint.inner_outside_m == pytest.approx(0.1016)
    assert joint.outer_inside_m == pytest.approx(0.1018)


def test_a_chain_lies_in_line_from_port_to_hose() -> None:
    cone = fitting("cone", end(101.8, 108, goes="over"), end(50, 56.6, goes="in"))
    shop = with_parts(
        {"planer": end(97, 101.6)}, (base().hoses[2], hose("big hose", end(57.0, 62.6))), (cone,)
    )
    [chain] = choose(shop, Draw(1), on_sale=()).tools
    port, piece, last = in_line(chain, shop.hose("big hose"))
    assert [text(each.what) for each in (port, piece, last)] == ["planer", "cone", "big hose"]
    assert port.end_m == pytest.approx((0.1016, 0.097))
    assert piece.start_m[1] == pytest.approx(0.1018)
    assert piece.end_m[0] == pytest.approx(0.0566)
    assert [each.joint for each in (port, piece, last)] == [
        *(j.fit.kind for j in chain.joints),
        None,
    ]
    assert [each.origin for each in (port, piece, last)] == [None, "owned", None]
    assert last.flexible
