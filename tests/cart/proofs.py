"""What must hold of every cart, proved on its solids."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from kerfwind.cart import CannotBuild, Cart, with_remedy
from kerfwind.quantity import Draw
from kerfwind.shop import Sheet, Shop
from kerfwind.solids import clashes, contact_area_m2, shared_volume_m3


def prove(cart: Cart) -> None:
    """Panels touch where joints say, nothing shares a place, and the lists agree."""
    found = clashes(cart.bodies)
    assert not found, [(c.first, c.second, c.volume_m3 * 1e6) for c in found]
    placed = {p.name: p for p in cart.placed}
    for joint in cart.joints:
        first, second = placed[joint.first], placed[joint.second]
        a, b = cart.panel(first.key).plate, cart.panel(second.key).plate
        assert contact_area_m2(a, first.at, b, second.at) > 1e-4, (joint.first, joint.second)
        assert joint.screws
        for screw in joint.screws:
            _inside_both(cart, joint.first, joint.second, screw)
    _lists_agree(cart)


_ADDED = ("handle ", "hose ", "cord ", "rack ", "peg ", "case ", "runner ", "drawer ",
          "small shelf ", "switch ", "outlet strip")  # fmt: skip
_CARRIED = ("vacuum", "vacuum inlet", "bucket", "cyclone", "cyclone inlet", "link hose")


def prove_ways(cart: Cart) -> None:
    """Vacuum, bucket and drawer come out past all that options add."""
    added = [b for b in cart.bodies if b.name.startswith(_ADDED) or "coiled" in b.name]
    added += [cart.body(n) for n in cart.steps[-1].new if n not in _CARRIED]
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
            met = [b.name for b in added if shared_volume_m3(moved, b) > 1e-8]
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
                met = [b.name for b in cart.bodies if b.name not in mine
                       and shared_volume_m3(moved, b) > 1e-8]  # fmt: skip
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
        assert error.remedy, str(error)
        assert all(u.wish and u.found and u.allowed and u.mend for u in error.unmet)
        mended = form(*with_remedy(shop, shop.sheets[0], error.remedy), nominal)
        prove(mended)
        more(mended)
        return False
    prove(cart)
    more(cart)
    return True


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
