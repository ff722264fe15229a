"""What a person reads of ends, chains and hoses."""

from __future__ import annotations

import pytest

from kerfwind.facts import Ref
from kerfwind.finding import Finding
from kerfwind.hookup import choose
from kerfwind.hookup.findings import reach_findings, size_of
from kerfwind.hookup.model import HosesByReach
from kerfwind.hookup.reducer import design
from kerfwind.hookup.rings import test_rings as rings_of
from kerfwind.quantity import Draw
from kerfwind.shop import End, Fitting, Shop
from kerfwind.shop.catalogue.fittings import Offer
from kerfwind.words import Voice
from tests.say import answer, text, to_do

from .shops import base, end, fitting, hose, size, with_parts

NOMINAL = Draw(1)
MM = Voice(units="mm")


@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("tools[Planer].port.inside", "the inside diameter of the Planer's port"),
        ("hoses[grey hose].tool_end.outside", "the outside diameter of the grey hose's tool end"),
        ("hoses[grey hose].unit_end.inside", "the inside diameter of the grey hose's unit end"),
        ("fittings[cone].end_a.outside", "the outside diameter of the cone's end a"),
        ("vacuum.inlet.inside", "the inside diameter of the vacuum's inlet"),
        ("separator.cyclone.inlet.outside", "the outside diameter of the separator's inlet"),
        ("separator.cyclone.outlet.inside", "the inside diameter of the separator's outlet"),
        (
            "catalogue[coupling 2-1/2 in, over both].end_b.inside",
            "the inside diameter of the coupling 2-1/2 in, over both's end b",
        ),
    ],
)
def test_a_diameter_to_measure_is_named_by_its_end(path: str, said: str) -> None:
    assert text(size_of(size(50, path))) == said


def of_the_tool(shop: Shop, draw: Draw = NOMINAL, on_sale: tuple[Offer, ...] = ()) -> Finding:
    """What is found of the one tool's chain."""
    [tool] = shop.tools
    found = choose(shop, draw, on_sale=on_sale).findings
    return next(f for f in found if f.key == "hookup.chain" and f.about == Ref("tool", tool.name))


def shop_of(port: End, hose_end: End, fittings: tuple[Fitting, ...] = ()) -> Shop:
    """One tool and one hose."""
    return with_parts({"saw": port}, (base().hoses[2], hose("grey hose", hose_end)), fittings)


def test_a_miss_is_told_as_a_caliper_reads_it() -> None:
    finding = of_the_tool(shop_of(end(194, 200, goes="in"), end(185, 192, goes="over")))
    assert finding.outcome == "apart"
    assert answer(finding) == (
        "Nothing owned, on sale or printed joins them: the nearest miss is 13.8 mm (0.54 in) too tight."
    )
    assert "the nearest miss is 13.8 mm too tight" in MM.finding(finding).answer


def test_ends_that_no_size_would_mend_say_why() -> None:
    lock = end(50, 60, joint="thread", nominal="coarse")
    finding = of_the_tool(shop_of(lock, end(62.1, 68)))
    assert "no size would mend it (a thread or lock holds in its own mate alone)" in answer(finding)
    for goes, word in (("over", "over"), ("in", "into")):
        wide = end(194, 200, goes=goes)
        finding = of_the_tool(shop_of(wide, wide))
        assert f"(both are made to go {word} the other part)" in answer(finding)


def test_a_chain_tells_its_pieces_and_where_it_hangs_on_the_store() -> None:
    straight = of_the_tool(shop_of(end(50, 56, goes="in"), end(56.2, 62, goes="over")))
    assert (straight.outcome, answer(straight)) == ("good", "It goes straight on (press).")
    cone = fitting("cone", end(101.8, 108, goes="over"), end(50, 56.6, goes="in"))
    ends = end(97, 101.6), end(57.0, 62.6, length=50)
    joined = of_the_tool(shop_of(*ends, (cone,)))
    assert answer(joined) == "Joined by cone."
    assert Voice().finding(joined).check == "saw port joins grey hose, tool end"
    sold = fitting(
        "cone",
        end("100..104 mm", "108..110 mm", "catalogue[cone].end_a", assumed=True, goes="over"),
        end(50, 56.6, "catalogue[cone].end_b", goes="in"),
    )
    doubtful = of_the_tool(shop_of(*ends), Draw(400), (Offer(sold, 2.0, 1.0, 3.0),))
    assert (doubtful.outcome, doubtful.level) == ("in_store", "advice")
    assert to_do(doubtful).startswith("Take the size with you")


def test_hoses_chosen_by_reach_tell_how_many_spots_they_spare() -> None:
    changed = (("saw", "long hose", "grey hose"), ("planer", "long hose", "grey hose"))

    def told(spots: int, others: int) -> str:
        [finding] = reach_findings(HosesByReach(spots, others, 3.0, changed, ()))
        return answer(finding)

    on = "saw (grey hose), planer (grey hose)"
    assert told(1, 3) == f"Chosen by reach: 1 spot to park at, where 3 would be needed with {on}."
    assert told(2, 3).startswith("Chosen by reach: 2 spots to park at")
    more = "but that adds more in fittings, air and bother than the moves are worth."
    assert told(2, 1) == f"On other hoses, {on}, 1 spot would do in place of 2 spots; {more}"
    assert "2 spots would do in place of 3 spots" in told(3, 2)
    assert reach_findings(HosesByReach(1, None, None, (), ())) == ()


def test_what_is_made_for_two_ends_names_them() -> None:
    made = choose(shop_of(end(30, 35), end(57, 62.6)), NOMINAL, on_sale=())
    [piece] = made.tools[0].pieces
    assert piece.origin in ("print", "cut")
    both = {
        "print": "saw port to grey hose, tool end",
        "cut": "cut for saw port and grey hose, tool",
    }
    assert both[piece.origin] in text(piece.called)
    assert text(piece.in_short) in ("printed reducer", "stepped rubber cuff")


def test_rings_of_a_printed_part_tell_their_step() -> None:
    reducer = design(end(30, 35), end(57, 63), (Ref("tool", "saw"), Ref("hose", "grey hose")))
    assert reducer is not None
    said = [text(ring.called) for ring in rings_of(reducer)][:5]
    assert said[2] == "test ring for saw, as designed"
    assert said[0].endswith("narrower")
    assert said[4].endswith("wider")
