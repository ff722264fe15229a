"""Hidden lines and clipped faces, held against a plain cast of rays."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kerfwind.drawing import Paper, layout, overlaps
from kerfwind.drawing.crossing import crossing_segments
from kerfwind.drawing.mesh import mesh_of
from kerfwind.drawing.project import Picture, picture, picture_drawing
from kerfwind.drawing.view import FRONT, ISOMETRIC, RIGHT, TOP, View, cabinet, perspective, turned
from kerfwind.solids import Body, box, revolved
from kerfwind.words import Voice

from .samples import cart

VIEWS = [FRONT, RIGHT, TOP, ISOMETRIC, cabinet(), turned(25, 35)]


def rays_hit(bodies: list[Body], view: View, at: tuple[float, float]) -> list[tuple[float, int]]:
    """Depths of all surfaces under a spot of a parallel drawing, by Möller and Trumbore."""
    axes = np.array([view.right, view.up, view.away], dtype=float)
    # A ray keeps its drawing x and y while its depth grows.
    origin = np.linalg.solve(axes, np.array([*at, -10.0]))
    direction = np.linalg.solve(axes, np.array([*at, -9.0])) - origin
    hits = []
    for n, body in enumerate(bodies):
        a, b, c = (body.vertices[body.triangles[:, i]] for i in range(3))
        e1, e2 = b - a, c - a
        h = np.cross(direction, e2)
        det = np.sum(e1 * h, axis=1)
        ok = np.abs(det) > 1e-12
        inv = 1 / np.where(ok, det, 1.0)
        s = origin - a
        u = np.sum(s * h, axis=1) * inv
        q = np.cross(s, e1)
        v = q @ direction * inv
        t = np.sum(e2 * q, axis=1) * inv
        inside = ok & (u > 0) & (v > 0) & (u + v < 1)
        hits += [(float(d) - 10.0, n) for d in t[inside]]
    return sorted(hits)


def face_at(seen: Picture, at: tuple[float, float]) -> list[int]:
    """Bodies of all visible faces that hold a spot (even-odd)."""
    found = []
    for face in seen.faces:
        inside = False
        for loop in face.loops:
            p = np.asarray(loop)
            q = np.roll(p, -1, axis=0)
            across = (p[:, 1] <= at[1]) != (q[:, 1] <= at[1])
            p, q = p[across], q[across]
            x = p[:, 0] + (at[1] - p[:, 1]) / (q[:, 1] - p[:, 1]) * (q[:, 0] - p[:, 0])
            inside ^= bool(np.sum(x > at[0]) % 2)
        if inside:
            found.append(face.body)
    return found


block = st.tuples(
    *(st.integers(0, 6) for _ in range(3)), *(st.integers(1, 5) for _ in range(3))
).map(
    lambda v: box(
        "block", [v[i] / 10 for i in range(3)], [(v[i] + v[i + 3]) / 10 for i in range(3)]
    )
)


@settings(max_examples=40)
@given(st.lists(block, min_size=1, max_size=6), st.sampled_from(VIEWS), st.integers(0, 99))
def test_the_face_on_top_is_the_nearest_one(bodies: list[Body], view: View, seed: int) -> None:
    # Blocks may run into each other: faces are clipped where they pass through.
    seen = picture(bodies, view)
    rng = np.random.default_rng(seed)
    all_points = view.project(np.concatenate([b.vertices for b in bodies]))
    low, high = all_points.min(axis=0), all_points.max(axis=0)
    for x, y in rng.uniform(low[:2], high[:2], (30, 2)):
        hits = rays_hit(bodies, view, (x, y))
        faces = face_at(seen, (x, y))
        if not hits:
            assert faces == []
        elif len(hits) == 1 or hits[1][0] - hits[0][0] > 1e-3 or hits[1][1] == hits[0][1]:
            assert faces == [hits[0][1]]


@settings(max_examples=40)
@given(st.lists(block, min_size=1, max_size=6), st.sampled_from(VIEWS))
def test_no_line_is_drawn_behind_something(bodies: list[Body], view: View) -> None:
    seen = picture(bodies, view, hidden="dashed")
    depths = _edge_depths(bodies, view)
    for line in seen.lines:
        for p, q in zip(line.points[:-1], line.points[1:], strict=True):
            at = ((p[0] + q[0]) / 2 + 1.3e-5, (p[1] + q[1]) / 2 + 0.9e-5)
            own = depths(line.body, p, q)
            hits = rays_hit(bodies, view, at)
            nearest = hits[0][0] if hits else math.inf
            if line.line == "hidden":
                assert nearest < max(own) + 1e-3
            else:
                assert nearest > min(own) - 2e-3


@settings(max_examples=12)
@given(st.lists(block, min_size=1, max_size=6), st.sampled_from(VIEWS), st.integers(0, 99))
def test_every_edge_in_sight_is_drawn(bodies: list[Body], view: View, seed: int) -> None:
    seen = picture(bodies, view)
    drawn = np.array(
        [
            (*p, *q)
            for line in seen.lines
            for p, q in zip(line.points[:-1], line.points[1:], strict=True)
        ]
    )
    rng = np.random.default_rng(seed)
    for body in bodies:
        edges = body.feature_edges()
        spots = rng.uniform(0.02, 0.98, len(edges))
        ends = body.vertices[edges]
        points = view.project(ends[:, 0] + spots[:, None] * (ends[:, 1] - ends[:, 0]))
        for x, y, depth in points:
            nearby = [
                rays_hit(bodies, view, (x + dx, y + dy))
                for dx in (-1e-4, 1e-4)
                for dy in (-1e-4, 1e-4)
            ]
            if any(hits and hits[0][0] < depth - 2e-3 for hits in nearby):
                continue  # hidden, or nearly so
            d = drawn[:, 2:] - drawn[:, :2]
            t = np.clip(np.sum(((x, y) - drawn[:, :2]) * d, axis=1) / np.sum(d * d, axis=1), 0, 1)
            off = np.linalg.norm(drawn[:, :2] + t[:, None] * d - (x, y), axis=1)
            assert off.min() < 2e-4


def _edge_depths(bodies: list[Body], view: View):  # type: ignore[no-untyped-def]
    """Depths that the edges of a body which hold a drawn piece have at its middle."""
    ends = []
    for body in bodies:
        t = body.triangles
        pairs = np.concatenate([t[:, (0, 1)], t[:, (1, 2)], t[:, (2, 0)]])
        ends.append(view.project(body.vertices[pairs]))

    def at(number: int, p: tuple[float, float], q: tuple[float, float]) -> list[float]:
        m = np.array([(p[0] + q[0]) / 2, (p[1] + q[1]) / 2])
        a, b = ends[number][:, 0], ends[number][:, 1]
        d = (b - a)[:, :2]
        length2 = np.sum(d * d, axis=1)
        live = length2 > 1e-12
        t = np.sum((m - a[:, :2]) * d, axis=1) / np.where(live, length2, 1.0)
        off = np.linalg.norm(a[:, :2] + t[:, None] * d - m, axis=1)
        on = live & (off < 1e-6) & (t > -1e-9) & (t < 1 + 1e-9)
        return [float(v) for v in (a[:, 2] + t * (b - a)[:, 2])[on]]

    return at


def lengths(seen: Picture, *kinds: str) -> float:
    return sum(
        math.dist(p, q)
        for line in seen.lines
        if line.line in kinds
        for p, q in zip(line.points[:-1], line.points[1:], strict=True)
    )


def test_one_box_from_three_sides_and_isometric() -> None:
    one = [box("box", (0, 0, 0), (0.4, 0.3, 0.2))]
    assert lengths(picture(one, FRONT), "outline", "edge") == pytest.approx(2 * (0.4 + 0.2))
    assert lengths(picture(one, RIGHT), "outline", "edge") == pytest.approx(2 * (0.3 + 0.2))
    assert lengths(picture(one, TOP), "outline", "edge") == pytest.approx(2 * (0.4 + 0.3))
    # Nine of twelve edges are seen, three of each direction; each is shortened to √(2/3).
    seen = picture(one, ISOMETRIC, hidden="dashed")
    shorter = math.sqrt(2 / 3)
    assert lengths(seen, "outline", "edge") == pytest.approx(3 * (0.4 + 0.3 + 0.2) * shorter)
    assert lengths(seen, "hidden") == pytest.approx((0.4 + 0.3 + 0.2) * shorter)


def test_a_box_behind_another_is_dashed_where_covered() -> None:
    front = box("front", (0, 0, 0), (0.2, 0.1, 0.3))
    behind = box("behind", (0.1, 0.5, 0.1), (0.5, 0.6, 0.2))
    seen = picture([front, behind], FRONT, hidden="dashed")
    drawn = [line for line in seen.lines if line.body == 1 and line.line == "hidden"]
    total = sum(
        math.dist(a, b) for s in drawn for a, b in zip(s.points, s.points[1:], strict=False)
    )
    assert total == pytest.approx(0.1 + 0.1 + 0.1)


def test_a_cylinder_has_two_sides_and_two_rims() -> None:
    tube = [revolved("tube", (0, 0, 0), ((0.0, 0.1), (0.5, 0.1)))]
    seen = picture(tube, FRONT)
    assert lengths(seen, "outline", "edge") == pytest.approx(2 * 0.5 + 2 * 0.2, rel=0.01)
    assert len(picture(tube, FRONT).lines) <= 4
    # From above at an angle the near rim is whole, the far one half.
    tilted = picture(tube, turned(0, 30))
    assert sum(len(line.points) for line in tilted.lines) < 90


def test_perspective_shrinks_what_is_far() -> None:
    near, far = box("near", (0, 0, 0), (0.1, 0.1, 0.1)), box("far", (1, 2, 0), (1.1, 2.1, 0.1))
    view = perspective(np.concatenate([near.vertices, far.vertices]), 0.0, 0.0)
    seen = picture([near, far], view)
    height = [np.ptp([p[1] for s in seen.lines if s.body == n for p in s.points]) for n in (0, 1)]
    assert height[0] > height[1] > 0
    with pytest.raises(ValueError, match="behind the eye"):
        view.project((0.0, -50.0, 0.0))


def test_nothing_to_draw_is_said() -> None:
    with pytest.raises(ValueError, match="at least one"):
        picture([], FRONT)
    empty = Body("empty", "panel", np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int64))
    with pytest.raises(ValueError, match="'empty' has 0 triangles"):
        picture([empty], FRONT)


def test_bodies_that_run_through_each_other_show_where() -> None:
    tank = box("tank", (0, 0, 0), (0.4, 0.4, 0.4))
    stub = box("stub", (0.1, -0.2, 0.1), (0.3, 0.2, 0.3))
    seen = picture([tank, stub], FRONT)
    assert lengths(seen, "outline", "edge") == pytest.approx(4 * 0.4 + 4 * 0.2)
    view = turned(30, 20)
    without = lengths(picture([tank], view), "outline", "edge")
    assert without > 0
    joint = [view.at((x, 0.0, 0.3)) for x in (0.1, 0.3)]
    lines = picture([tank, stub], view).lines
    # Where the top of the stub meets the tank's front there is a line of its own.
    assert any(
        math.dist(p, joint[0]) < 1e-6 and any(math.dist(q, joint[1]) < 1e-6 for q in line.points)
        for line in lines
        for p in line.points
    )
    # Bodies that only touch get none.
    resting = box("resting", (0.1, 0.1, 0.4), (0.3, 0.3, 0.6))
    assert len(crossing_segments(mesh_of([tank, resting]))[0]) == 0


def test_inside_out_bodies_are_turned_right() -> None:
    good = box("box", (0, 0, 0), (0.4, 0.3, 0.2))
    bad = Body("box", "hardware", good.vertices, good.triangles[:, ::-1], good.tone)
    assert picture([bad], ISOMETRIC).faces == picture([good], ISOMETRIC).faces


def test_new_parts_are_told_from_old_ones_by_line_and_tone() -> None:
    bodies = cart()
    seen = picture(bodies, ISOMETRIC, emphasised=("Shelf",))
    shelf = seen.names.index("Shelf")
    assert {s.line for s in seen.lines if s.body == shelf} <= {"new", "edge"}
    assert {s.line for s in seen.lines if s.body != shelf} == {"old"}
    darkest = min(f.grey for f in seen.faces if f.body != shelf and bodies[f.body].kind == "panel")
    assert max(f.grey for f in seen.faces if f.body == shelf) < darkest


def test_a_whole_cart_with_leaders_to_its_parts() -> None:
    from kerfwind.drawing import Balloon

    bodies = cart()
    view = perspective(np.concatenate([b.vertices for b in bodies]))
    seen = picture(bodies, view)
    tips = {name: at for name in seen.names if (at := seen.seen_at(name)) is not None}
    assert len(tips) >= 9
    for name, at in tips.items():
        assert name in {seen.names[b] for b in face_at(seen, at)}
    balloons = [Balloon(at, str(n + 1)) for n, at in enumerate(tips.values())]
    placed = layout(picture_drawing("Cart", seen, balloons), Paper(150, 200), Voice())
    assert overlaps(placed) == []
