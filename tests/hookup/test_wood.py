"""Sizes of what is made of plywood for a tool without a port."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kerfwind.facts import Ref
from kerfwind.hookup import choose, fit
from kerfwind.hookup.model import Plate
from kerfwind.hookup.wood import bored_m, designed, mouth
from kerfwind.quantity import Draw
from kerfwind.shop import Rectangle, Shop
from kerfwind.sources import fact
from tests.say import answer, text

from .shops import base, end, hose, size, with_parts

MARGIN = fact("hookup.bore_margin").value
NOMINAL = Draw(1)


def wanting(made: str, opening: tuple[float, float] | None, bored: str = "back") -> Shop:
    """A shop with one tool for which something is made; opening in millimetres."""
    tool_hose = hose("big hose", end(57.0, 62.6, length=50))
    shop = with_parts({"lathe": end(40, 45, nominal="none")}, (base().hoses[2], tool_hose))
    face = Rectangle(length=size(opening[0]), width=size(opening[1])) if opening else None
    tool = shop.tools[0].model_copy(update={"made": made, "opening": face, "bored": bored})
    return shop.model_copy(update={"tools": (tool,)})


@given(st.floats(20, 120), st.booleans())
def test_the_end_goes_into_its_bore_and_stays(outside: float, metric: bool) -> None:
    into = end(outside - 5, outside)
    hole = bored_m(into, metric)
    # On a mark of the shop's own rule, and within the play of a push fit.
    marks = hole / (0.001 if metric else 0.0254 / 32)
    assert marks == pytest.approx(round(marks), abs=1e-6)
    assert hole - outside / 1000 + 1e-9 >= 0
    assert hole - outside / 1000 < fact("hookup.slip_play").value
    found = fit(mouth(Plate("lathe", hole), into), into, NOMINAL)
    assert found.inner == "b"
    assert found.kind in ("press", "slip")


@given(
    st.floats(20, 500),
    st.floats(20, 500),
    st.sampled_from(["plate", "hood box"]),
    st.sampled_from(["back", "side"]),
    st.booleans(),
)
def test_the_bore_is_never_too_near_an_edge(
    length: float, width: float, made: str, bored: str, metric: bool
) -> None:
    tool = wanting(made, (length, width), bored).tools[0]
    found = designed(Plate("lathe", 0.0), tool, end(57, 62.6), metric)
    least = found.hole_m + 2 * MARGIN - 1e-9
    if made == "plate":
        land = fact("hookup.plate_land").value
        assert min(found.face_m) >= least
        assert found.face_m[0] >= length / 1000 + 2 * land - 1e-9
    elif bored == "back":
        assert min(found.face_m) >= least
        # Walls at 45° or flatter from the face's edge to the bore's rim.
        assert found.depth_m >= (max(found.face_m) - found.hole_m) / 2 - 1e-9
    else:
        assert found.face_m[0] >= least
        assert found.depth_m >= least
    if made == "hood box":
        assert found.face_m[0] >= length / 1000 - 1e-9
        assert found.face_m[1] >= width / 1000 - 1e-9


def test_the_chain_begins_with_what_is_made() -> None:
    for made in ("plate", "hood box"):
        found = choose(wanting(made, (300, 200)), NOMINAL)
        [plate] = found.plates
        assert plate.kind == made
        [chain] = found.tools
        assert chain.reached
        assert text(chain.joints[0].upstream) == f"lathe {made}"
        assert chain.joints[0].fit.holds.all()
        assert made in answer(next(f for f in found.findings if f.about == Ref("tool", "lathe")))


def test_an_end_made_to_go_over_cannot_go_into_a_bore() -> None:
    shop = wanting("plate", None)
    over = hose("big hose", end(57.0, 62.6, length=50, goes="over"))
    found = choose(shop.model_copy(update={"hoses": (base().hoses[2], over)}), NOMINAL, on_sale=())
    assert not found.plates
    assert not found.tools[0].reached
