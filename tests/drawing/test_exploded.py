"""The cart pulled apart, and its pictures step by step, in all three forms."""

from __future__ import annotations

import itertools
import re

import numpy as np
import pytest

from kerfwind.cart import Cart
from kerfwind.drawing import Paper, layout, overlaps
from kerfwind.drawing.exploded import GAP_M, exploded, exploded_drawing
from kerfwind.drawing.model import Balloon, Label, Polygon, Polyline
from kerfwind.drawing.motion import motions, shown_before
from kerfwind.drawing.project import Picture, SeenFace
from kerfwind.drawing.steps import step_drawing
from kerfwind.drawing.view import FRONT, turned
from kerfwind.drawing.window import clipped, windowed
from kerfwind.solids import boxes_apart, coarser
from kerfwind.words import Voice
from tests.say import told

from .samples import FORMS, whole_cart


@pytest.fixture(scope="module", params=FORMS)
def cart(request) -> Cart:
    return whole_cart(request.param)


def test_nothing_meets_when_pulled_apart(cart):
    apart = exploded(cart)
    assert [b.name for b in apart.bodies] == [b.name for b in cart.bodies]
    for one, two in itertools.combinations(apart.bodies, 2):
        if "inlet" in one.name + two.name:
            continue
        assert boxes_apart(one, two), (one.name, two.name)


def test_no_part_hangs_behind_the_link_hose(cart):
    apart = exploded(cart)
    look = turned(-35.0, 20.0)
    seen = {b.name: look.project(b.vertices)[:, :2] for b in apart.bodies}
    hose = seen.pop("link hose")
    before = np.zeros(len(hose), dtype=bool)
    for spots in seen.values():
        before |= np.all((hose > spots.min(axis=0)) & (hose < spots.max(axis=0)), axis=1)
    assert before.mean() < 0.35


def test_parts_keep_their_shape_and_move_along_one_axis(cart):
    apart = exploded(cart)
    known = motions(cart)
    for before, after in zip(cart.bodies, apart.bodies, strict=True):
        way = after.vertices - before.vertices
        assert np.allclose(way, way[0])
        motion = known[before.name]
        if motion.onto is not None and motion.from_side.any():
            relative = apart.offsets_m[before.name] - apart.offsets_m[motion.onto]
            if before.name.endswith(" inlet"):
                assert not relative.any()
                continue
            assert relative @ motion.from_side == pytest.approx(np.linalg.norm(relative))
            assert np.linalg.norm(relative) > 0.5 * GAP_M


def test_screwed_parts_come_against_the_way_of_their_screws(cart):
    known = motions(cart)
    for joint in cart.joints:
        way = np.asarray(joint.screws[0].direction)
        if known[joint.first].onto == joint.second:
            assert np.allclose(known[joint.first].from_side, -way), joint.key
        if known[joint.second].onto == joint.first:
            assert np.allclose(known[joint.second].from_side, way), joint.key


def test_things_come_from_where_there_is_room():
    tower, low = motions(whole_cart("tower")), motions(whole_cart("low"))
    assert tower["vacuum"].from_side.tolist() == [0, -1, 0]  # the shelf stands over it
    assert low["vacuum"].from_side.tolist() == [0, 0, 1]
    assert tower["bucket"].onto == "shelf"
    assert tower["cyclone"].onto == "bucket"
    assert tower["front left caster"].onto == "front left block"


def test_every_panel_has_its_letter_in_the_exploded_view(cart):
    drawing = exploded_drawing(cart, Voice(), [coarser(b) for b in cart.bodies])
    letters = {i.text for i in drawing.items if isinstance(i, Balloon)}
    assert letters == {p.key for p in cart.panels}
    placed = layout(drawing, Paper(174, 230), Voice(), footer=False)
    assert overlaps(placed) == []


def test_each_step_shows_its_new_parts_by_letter_and_its_screws_by_number(cart):
    letters = {p.name: p.key for p in cart.placed}
    joints = {j.key: j for j in cart.joints}
    for step in cart.steps:
        drawing = step_drawing(cart, step, Voice())
        if not step.new:
            assert drawing is None
            continue
        assert drawing is not None
        shown = [i.text for i in drawing.items if isinstance(i, Balloon)]
        assert set(shown) == {letters[n] for n in step.new if n in letters}, step.title
        labels = [i.text for i in drawing.items if isinstance(i, Label)]
        counted = sum(int(m[1]) for t in labels if (m := re.match(r"(\d+) screws, ", t)))
        assert counted == sum(len(joints[k].screws) for k in step.joints), step.title
        assert overlaps(layout(drawing, Paper(66, 60), Voice(), footer=False)) == [], step.title


def test_only_what_is_there_by_then_is_drawn():
    cart = whole_cart("tower")
    frame = next(s for s in cart.steps if "shelf" in s.new)
    assert "vacuum" not in shown_before(cart, frame)
    assert "bottom" in shown_before(cart, frame)


def test_work_lies_as_the_text_says(cart):
    for step in cart.steps:
        text = told(step).lower()
        if "upside down" in text:
            assert step.pose == "upside down", step.title
        if "front edges" in text and "stand" in text:
            assert step.pose == "front edges", step.title
        if "upright" in text and "turn the cart" in text:
            assert step.pose == "upright", step.title
        if step.new and step.new[0].endswith("caster"):
            assert step.pose == "upside down"


def test_casters_point_up_while_the_work_is_upside_down():
    cart = whole_cart("tower")
    step = next(s for s in cart.steps if "front left caster" in s.new)
    drawing = step_drawing(cart, step, Voice())
    # Faces are filled without a line; what is left of one may have as many corners as an arrow.
    drawn = [i for i in drawing.items if isinstance(i, Polygon) and i.line == "edge"]
    arrows = [i for i in drawn if len(i.points) == 7]
    assert len(arrows) == 4
    for arrow in arrows:
        tip, tail = arrow.points[0], arrow.points[3]
        assert tail[1] > tip[1]  # down onto the blocks


def test_small_parts_are_shown_larger():
    cart = whole_cart("tower")
    step = next(s for s in cart.steps if "front left block" in s.new)
    near = layout(step_drawing(cart, step, Voice()), Paper(66, 60), Voice(), footer=False)
    frame = next(s for s in cart.steps if "link hose" in s.new)
    far = layout(step_drawing(cart, frame, Voice()), Paper(66, 60), Voice(), footer=False)
    # Words stand beside the frame, not across it, and take of its width.
    assert near.mm_per_unit > 1.2 * far.mm_per_unit


@pytest.mark.parametrize(
    ("line", "left"),
    [
        ([(-1.0, 0.5), (2.0, 0.5)], [[(0.0, 0.5), (1.0, 0.5)]]),
        ([(0.2, 0.2), (0.8, 0.8), (0.8, 3.0)], [[(0.2, 0.2), (0.8, 0.8), (0.8, 1.0)]]),
        (
            [(0.5, -1.0), (0.5, 0.5), (2.0, 0.5), (2.0, 2.0), (0.5, 0.9)],
            [[(0.5, 0.0), (0.5, 0.5), (1.0, 0.5)]],
        ),
        ([(-1.0, 2.0), (2.0, 2.0)], []),
    ],
)
def test_lines_end_at_the_window(line, left):
    found = clipped(line, (0.0, 0.0), (1.0, 1.0))
    if len(line) == 5:
        found = found[:1]
    assert [np.round(p, 9).tolist() for p in found] == [[list(q) for q in piece] for piece in left]


def test_nothing_is_drawn_beyond_the_frame_and_no_side_of_it_is_blank():
    framed = 0
    for drawing in filter(
        None, (step_drawing(c, s, Voice()) for c in map(whole_cart, FORMS) for s in c.steps)
    ):
        lines = [i for i in drawing.items if isinstance(i, Polygon | Polyline)]
        frame = next((i for i in lines if i.line == "frame"), None)
        if frame is None:
            continue
        low, high = np.min(frame.points, axis=0), np.max(frame.points, axis=0)
        loops = [
            loop for i in lines if i is not frame for loop in (i.points, *getattr(i, "holes", ()))
        ]
        points = np.concatenate([np.asarray(loop) for loop in loops])
        beyond = np.maximum(low - points.min(axis=0), points.max(axis=0) - high)
        assert beyond.max() < 1e-6
        assert beyond.min() > -0.05 * (high - low).max()
        framed += 1
    assert framed


def test_a_face_in_parts_is_cut_at_the_window():
    inner = ((0.2, 0.2), (0.4, 0.2), (0.4, 0.4), (0.2, 0.4))
    beyond = ((1.2, 0.2), (1.4, 0.2), (1.4, 0.4), (1.2, 0.4))
    seen = Picture(FRONT, ("a",), (SeenFace((inner, beyond), 0.9, 0),), ())
    cut = windowed(seen, (0.0, 0.0), (1.0, 1.0))
    assert max(x for f in cut.faces for loop in f.loops for x, _ in loop) <= 0.4 + 1e-9
