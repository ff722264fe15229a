"""What must hold of every cart, proved on its solids."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from scipy.spatial import cKDTree

from kerfwind.cart import CannotBuild, Cart, with_fixes
from kerfwind.facts import Term
from kerfwind.joinery import PanelJoint, Screw
from kerfwind.joinery.drilled import FLAT, drilled, drilled_m3
from kerfwind.joinery.model import Pocket
from kerfwind.quantity import Draw
from kerfwind.shop import Sheet, Shop
from kerfwind.solids import clashes, contact_area_m2, exact, panel_body, shared_volume_m3
from kerfwind.sources import fact
from tests.say import refused, text, title_of, told


def prove(cart: Cart) -> None:
    """Panels touch where joints say, nothing shares a place, and the lists agree."""
    found = clashes(cart.bodies)
    assert not found, [(c.first, c.second, c.volume_m3 * 1e6) for c in found]
    placed = {p.name: p for p in cart.placed}
    for joint in cart.joints:
        first, second = placed[joint.first], placed[joint.second]
        a, b = cart.panel(first.key).plate, cart.panel(second.key).plate
        if joint.how == "glued dado":
            _sits_in_its_groove(cart, joint)
        else:
            assert contact_area_m2(a, first.at, b, second.at) > 1e-4, (joint.first, joint.second)
        assert joint.screws or (
            joint.how in ("glued face", "glued butt")
            and (joint.how == "glued face" or not joint.carries)
        )
        for screw in joint.screws:
            if joint.how == "pocket screws":
                _out_of_a_pocket(cart, joint, screw)
            else:
                _inside_both(cart, joint.first, joint.second, screw)
    _screws_miss_each_other(cart)
    _lists_agree(cart)
    _can_be_said(cart)


def _can_be_said(cart: Cart) -> None:
    """Whatever the cart names or states has its message, with every fact that this wants."""
    for panel in (*cart.panels, *cart.placed):
        assert text(Term("panel", panel.name))
    for step in cart.steps:
        assert title_of(step)
        assert told(step)
    for item in cart.hardware:
        assert text(item.what)
        assert all(map(text, item.uses))
    assert all(text(p.note) for p in cart.panels if p.note is not None)
    assert all(text(h.says) for p in cart.panels for h in p.holes)


def _screws_miss_each_other(cart: Cart) -> None:
    """No screw runs into another: points along each, a millimetre apart or so."""
    rows = {h.key: h for h in cart.hardware}
    lines, joints = [], []
    for joint in cart.joints:
        for screw in joint.screws:
            row = rows[screw.hardware]
            along = np.linspace(0.0, row.length_m, 60)[:, None] * np.array(screw.direction)
            lines.append(np.array(screw.head_m) + along)
            joints.append((joint.first, joint.second, row.diameter_m / 2))
    if not lines:
        return
    tree = cKDTree(np.concatenate(lines))
    pairs = tree.query_pairs(0.006, output_type="ndarray")
    pairs = pairs[pairs[:, 0] // 60 != pairs[:, 1] // 60]
    apart = np.linalg.norm(tree.data[pairs[:, 0]] - tree.data[pairs[:, 1]], axis=1)
    radii = np.array([radius for _, _, radius in joints])
    meet = apart <= radii[pairs[:, 0] // 60] + radii[pairs[:, 1] // 60]
    assert not meet.any(), [(joints[a // 60], joints[b // 60]) for a, b in pairs[meet]]


_CARRIED = (
    "vacuum",
    "vacuum inlet",
    "bucket",
    "cyclone",
    "cyclone inlet",
    "link hose",
    "front strap",
    "rear strap",
)


def prove_ways(cart: Cart) -> None:
    """Vacuum, bucket and drawer come out past everything that stays; hose and straps are taken off.

    The vacuum comes out under the bucket where that hangs over it.
    """
    stays = [b for b in cart.bodies if b.name not in _CARRIED]
    above = [b for b in cart.bodies if b.name in ("bucket", "cyclone", "cyclone inlet")]
    lift = (0.0, 0.0, cart.sizes.lip_height_m + 0.003)
    ways = {"bucket": [(0.0, 0.0, z) for z in (0.1, 0.3, 0.5)]}
    ways["cyclone"] = ways["bucket"]
    up = [(0.0, 0.0, z) for z in (0.1, 0.3, 0.6)]
    forward = [(0.0, -y, lift[2]) for y in (0.0, 0.1, 0.3, 0.6)]
    ways["vacuum"] = up if cart.form == "low" else forward
    names = {b.name for b in cart.bodies}
    for name, moves in ways.items():
        for move in moves if name in names else []:
            moved = cart.body(name).moved(move)
            over = above if name == "vacuum" else []
            met = [b.name for b in [*stays, *over] if shared_volume_m3(moved, b) > 1e-8]
            assert not met, (name, move, met)
    box = [b for b in cart.bodies if b.name.startswith("drawer ")]
    if box:
        front, back = cart.body("drawer front"), cart.body("case back")
        way = front.centroid_m - back.centroid_m
        way[np.argsort(np.abs(way))[:2]] = 0.0
        mine = {b.name for b in box}
        for share in (0.3, 0.6, 0.9):
            for body in box:
                moved = body.moved(share * way)
                met = [
                    b.name
                    for b in cart.bodies
                    if b.name not in mine and shared_volume_m3(moved, b) > 1e-8
                ]
                assert not met, (body.name, share, met)


def prove_it_or_its_remedy(
    form: Callable[[Shop, Sheet, Draw], Cart],
    shop: Shop,
    more: Callable[[Cart], None] = lambda cart: None,
) -> bool:
    """Build and prove it; where a wish is in the way, its remedy must build. Whether it built."""
    nominal = Draw(1)
    try:
        cart = form(shop, shop.sheets[0], nominal)
    except CannotBuild as error:
        assert error.fixes, str(error)
        assert all(all(vars(refused(u)).values()) for u in error.unmet)
        assert all(fix.passes for fix in error.fixes)
        mended = form(*with_fixes(shop, shop.sheets[0], error.fixes), nominal)
        prove(mended)
        more(mended)
        return False
    prove(cart)
    more(cart)
    return True


def prove_drilled(cart: Cart) -> None:
    """Drilled solids are closed, and enclose the wood less each hole and pocket once.

    That they do shows that no hole meets another and no pocket breaks out of the far face.
    """
    for panel in cart.panels:
        solid = exact(drilled(panel))
        whole = panel_body("whole", panel.plate, FLAT).volume_m3
        gone = drilled_m3(panel)
        assert solid.volume() == pytest.approx(whole - gone, abs=1e-9 + 1e-3 * gone), panel.name


def _sits_in_its_groove(cart: Cart, joint: PanelJoint) -> None:
    """The edge rests on the groove's floor and fills it but for its play."""
    first, second = cart.body(joint.first), cart.body(joint.second)
    way = np.array(joint.way)
    box = np.minimum(first.high, second.high) - np.maximum(first.low, second.low)
    across = [i for i in range(3) if abs(way[i]) < 0.5]
    # What goes in, by its depth, is what rests on the floor; a notch rests on the face before it.
    placed = {p.name: p for p in cart.placed}
    one, two = placed[joint.first], cart.panel(placed[joint.second].key)
    uncut = panel_body("uncut", replace(cart.panel(one.key).plate, grooves=()), one.at)
    sink = float(box[int(np.argmax(np.abs(way)))])
    area = shared_volume_m3(uncut, second) / sink
    assert area > 1e-4
    beside = sum(b * two.thickness_m for _, _, b in two.notches) if joint.first == "shelf" else 0.0
    hair = 1e-4
    pressed = shared_volume_m3(first, second.moved(-hair * way)) / hair
    assert 0.99 * area < pressed < 1.01 * (area + beside), (joint.first, joint.second)
    play = fact("cart.dado.play").value
    thin = min(across, key=lambda i: box[i])
    side = np.zeros(3)
    side[thin] = 1.0
    # Open at an edge it can go that way; never both ways beyond its play.
    others = [cart.body(p.name) for p in cart.placed if p.name != joint.second]
    stuck = [
        any(shared_volume_m3(o, second.moved(s * (play + hair) * side)) > 1e-9 for o in others)
        for s in (-1.0, 1.0)
    ]
    assert any(stuck), (joint.first, joint.second)
    loose = [
        shared_volume_m3(first, second.moved(s * 0.4 * play * side)) < 1e-9 for s in (-1.0, 1.0)
    ]
    assert any(loose), (joint.first, joint.second)


def _out_of_a_pocket(cart: Cart, joint: PanelJoint, screw: Screw) -> None:
    """Its head sits in the second panel, it leaves that one's edge at half its thickness, and its
    point stays in the first with the wood before it that is asked for."""
    placed = {p.name: p for p in cart.placed}
    row = next(h for h in cart.hardware if h.key == screw.hardware)
    first, second = placed[joint.first], placed[joint.second]
    pa, pb = cart.panel(first.key), cart.panel(second.key)
    head, way = np.array(screw.head_m), np.array(screw.direction)
    assert np.degrees(np.arccos(-way @ np.array(joint.way))) == pytest.approx(15, abs=1e-6)
    x, y, depth = second.at.local(head)
    pocket = min(pb.pockets, key=lambda p: np.hypot(*(np.array((x, y)) - _seat(p))))
    assert np.hypot(*(np.array((x, y)) - _seat(pocket))) < 1e-6
    leaves = head + pocket.seat_m * way
    ex, ey, mid = second.at.local(leaves)
    assert mid == pytest.approx(pb.thickness_m / 2, abs=1e-9)
    assert min(abs(ex), abs(ey), abs(ex - pb.length_m), abs(ey - pb.width_m)) < 1e-9
    point = head + row.length_m * way
    x, y, depth = first.at.local(point)
    radius = row.diameter_m / 2
    assert radius < x < pa.length_m - radius
    assert radius < y < pa.width_m - radius
    assert fact("cart.screw.point").value - 1e-9 <= min(depth, pa.thickness_m - depth)
    for hole in pa.openings:
        apart = max(abs(x - hole.x_m) - hole.length_m / 2, abs(y - hole.y_m) - hole.width_m / 2)
        assert (
            np.hypot(x - hole.x_m, y - hole.y_m) - hole.radius_m if hole.round else apart
        ) > 0.003


def _seat(pocket: Pocket) -> np.ndarray:
    back = pocket.reach_m - pocket.seat_m * np.cos(pocket.angle_rad)
    return np.array((pocket.x_m, pocket.y_m)) + back * np.array(pocket.way)


def _inside_both(cart: Cart, first: str, second: str, screw: object) -> None:
    """The screw starts on the first panel's face, and its point stays in the second."""
    placed = {p.name: p for p in cart.placed}
    row = next(h for h in cart.hardware if h.key == screw.hardware)  # type: ignore[attr-defined]
    head = np.array(screw.head_m)  # type: ignore[attr-defined]
    point = head + (row.length_m + 0.001) * np.array(screw.direction)  # type: ignore[attr-defined]
    a, b = placed[first], placed[second]
    pa, pb = cart.panel(a.key).plate, cart.panel(b.key).plate
    x, y, depth = a.at.local(head)
    assert -1e-6 <= x <= pa.length_m + 1e-6
    assert -1e-6 <= y <= pa.width_m + 1e-6
    assert min(abs(depth), abs(depth - pa.thickness_m)) < 1e-6
    for hole in pa.openings:
        apart = max(abs(x - hole.x_m) - hole.length_m / 2, abs(y - hole.y_m) - hole.width_m / 2)
        round_apart = np.hypot(x - hole.x_m, y - hole.y_m) - hole.radius_m
        assert (round_apart if hole.round else apart) > 0.003
    x, y, depth = b.at.local(point)
    assert 0 < x < pb.length_m
    assert 0 < y < pb.width_m
    assert 0 < depth < pb.thickness_m


def _lists_agree(cart: Cart) -> None:
    names = [p.name for p in cart.placed]
    assert len(set(names)) == len(names)
    for panel in cart.panels:
        copies = [p for p in cart.placed if p.key == panel.key]
        assert len(copies) == panel.quantity
        for copy in copies:
            body = cart.body(copy.name)
            assert body.volume_m3 == pytest.approx(panel.plate.volume_m3, rel=1e-3)
            sides = sorted([panel.length_m, panel.width_m, panel.thickness_m])
            assert sorted(body.high - body.low) == pytest.approx(sides, abs=1e-6)
    screws: dict[str, int] = {}
    for joint in cart.joints:
        for screw in joint.screws:
            screws[screw.hardware] = screws.get(screw.hardware, 0) + 1
    listed = {h.key: h.quantity for h in cart.hardware if h.key.startswith("screw-")}
    assert screws == listed
    shown = [name for step in cart.steps for name in step.new]
    assert sorted(shown) == sorted(b.name for b in cart.bodies)
    fastened = [key for step in cart.steps for key in step.joints]
    assert sorted(fastened) == sorted(j.key for j in cart.joints)
