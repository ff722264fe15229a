"""Trees of cuts: what is asked of them, and what they come to."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kerfwind.cutting.tree import Block, NotReachedError, Sawing, build, leaves

WIDE, HIGH = 2400, 1200


@st.composite
def sheets(draw: st.DrawFn) -> list[Block]:
    """Parts of a sheet that cuts from edge to edge take apart, some of it left over."""
    pieces = [(0, 0, WIDE, HIGH)]
    for _ in range(draw(st.integers(2, 9))):
        x, y, w, h = pieces.pop(draw(st.integers(0, len(pieces) - 1)))
        share = draw(st.integers(2, 8))
        if draw(st.booleans()):
            cut = w * share // 10
            pieces += [(x, y, cut, h), (x + cut, y, w - cut, h)]
        else:
            cut = h * share // 10
            pieces += [(x, y, w, cut), (x, y + cut, w, h - cut)]
    kept = [p for p in pieces if min(p[2:]) > 0 and draw(st.integers(0, 3))]
    return [Block(*each, label=at) for at, each in enumerate(kept or pieces[:1])]


@given(
    blocks=sheets(),
    kerf=st.sampled_from([0, 3]),
    box=st.sampled_from([None, (2000, 1300)]),
    less=st.sampled_from([0.0, 0.001, 0.2]),
)
@settings(max_examples=150, deadline=None)
def test_asked_for_what_it_comes_to_it_is_the_same_tree_and_for_more_there_is_none(
    blocks: list[Block], kerf: int, box: tuple[int, int] | None, less: float
) -> None:
    sawing = Sawing(kerf, box, offcut=(300, 100), sliver=10)
    tree, marks = build(WIDE, HIGH, blocks, sawing)
    assert sorted(c.label for c in leaves(tree) if c.label >= 0) == [b.label for b in blocks]
    in_store = int(box is not None)
    reach = marks[3] - less
    if (marks[2], marks[0], marks[1], marks[3]) <= (in_store, 0, 0, reach):
        assert build(WIDE, HIGH, blocks, sawing, reach=reach) == (tree, marks)
    else:
        with pytest.raises(NotReachedError):
            build(WIDE, HIGH, blocks, sawing, reach=reach)


def test_asked_for_nothing_it_is_always_there() -> None:
    blocks = [Block(0, 0, 600, 400, 0), Block(600, 0, 600, 400, 1)]
    assert build(WIDE, HIGH, blocks, Sawing(3)) == build(
        WIDE, HIGH, blocks, Sawing(3), reach=math.inf
    )
