"""Invented things to draw."""

from __future__ import annotations

from functools import cache

from kerfwind.cart import Cart
from kerfwind.solids import Body, FlatPanel, Opening, Placement, box, joined, panel_body, revolved
from tests.cart.shops import cart_of, shop

W, D, T = 0.50, 0.52, 0.018


def upright(name: str, x: float, height: float) -> Body:
    """A side panel: length up, width to the back, thickness to the right."""
    plate = FlatPanel(height, D, T, chamfers=(("far right", 0.08), ("near right", 0.08)))
    at = Placement((x, 0, 0.1), (0, 0, 1), (0, 1, 0), (1, 0, 0))
    return panel_body(name, plate, at)


def level(name: str, z: float, radius: float = 0.0) -> Body:
    openings = (Opening(W / 2, D / 2, 2 * radius, 2 * radius, radius),) if radius else ()
    at = Placement((T, 0, z), (1, 0, 0), (0, 1, 0), (0, 0, 1))
    return panel_body(name, FlatPanel(W, D, T, openings), at)


def cart(shelf_radius: float = 0.145) -> list[Body]:
    """Two sides, a base, a shelf that carries a bucket by its rim, a vacuum below."""
    cx, cy = T + W / 2, D / 2
    bodies = [
        upright("Left side", 0.0, 0.75),
        upright("Right side", T + W, 0.75),
        level("Base", 0.1),
        level("Shelf", 0.70, shelf_radius),
        box("Lipping", (T, 0.0, 0.118), (T + W, 0.018, 0.168), "panel", 0.9),
        revolved(
            "Vacuum",
            (cx, cy, 0.118),
            ((0.0, 0.17), (0.2, 0.17), (0.2, 0.18), (0.26, 0.18), (0.305, 0.11)),
        ),
        revolved(
            "Bucket", (cx, cy, 0.433), ((0.0, 0.128), (0.285, 0.142), (0.285, 0.155), (0.36, 0.157))
        ),
        revolved("Lid", (cx, cy, 0.793), ((0.0, 0.16), (0.02, 0.16))),
        revolved("Cyclone", (cx, cy, 0.813), ((0.0, 0.035), (0.22, 0.09), (0.32, 0.09))),
        revolved("Outlet", (cx, cy, 1.133), ((0.0, 0.03), (0.06, 0.03))),
    ]
    for n, (x, y) in enumerate(
        ((0.06, 0.06), (T * 2 + W - 0.06, 0.06), (0.06, D - 0.06), (T * 2 + W - 0.06, D - 0.06))
    ):
        plate = box("plate", (x - 0.04, y - 0.03, 0.094), (x + 0.04, y + 0.03, 0.1))
        fork = box("fork", (x - 0.012, y - 0.02, 0.045), (x + 0.012, y + 0.02, 0.094))
        wheel = revolved(
            "wheel", (x - 0.015, y, 0.0375), ((0.0, 0.0375), (0.03, 0.0375)), (1, 0, 0)
        )
        bodies.append(joined(f"Caster {n + 1}", [plate, fork, wheel], "hardware"))
    return bodies


FORMS = ("tower", "backframe", "low")


@cache
def whole_cart(form: str, joint: str = "screwed butt") -> Cart:
    """A cart of each form, as the shop file asks for it."""
    made = shop(
        wishes=f'form = "{form}"\njoint = "{joint}"\nlargest_width = "60 in"\nlargest_length = "60 in"\n'
        'narrowest_door = "60 in"\ngreatest_height = "80 in"\n'
        'ballast = "0 kg"\noutriggers = "0 in"\n'
    )
    return cart_of(made)
