"""Whether a finished cart holds: its shelf, its joints, its bottom."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np

from ..cart.loads import SEPARATOR
from ..cart.model import SupportedPlate
from ..fact_samples import Samples, spread_fact
from ..facts import Amount, Term, facts
from ..finding import Finding, judge
from ..joinery.plywood import allowed_bending_pa
from ..joinery.screws import in_face_n, racking_force_n, rail_moment_nm
from ..joinery.workbench import ROLES
from ..quantity import Draw, middle
from ..shop import Shop
from ..sources import fact
from .bottom import bottom_findings
from .checked import CheckedCart
from .joints import joint_findings, joint_height_m, pulled_n
from .lifting import lifting_finding
from .plate import Bent, Stiffness, bend
from .pushing import tipping_force_n
from .steadiness import weighing
from .straps import strap_findings
from .tipping import Stand


def strength(
    shop: Shop, cart: CheckedCart, draw: Draw, *, plate: bool = True
) -> tuple[Finding, ...]:
    """Every check that is not about fit or slope.

    Parameters
    ----------
    plate
        Whether to bend the shelf by finite elements, which takes about a second.
    """
    found = [*_joints(shop, cart, draw)]
    if "dust" in cart.parts:
        found.append(lifting_finding(shop, cart, draw))
    found += strap_findings(shop, cart, draw)
    found += bottom_findings(cart, draw, weighing(shop))
    if plate and cart.shelf is not None:
        found += shelf_findings(shop, cart, draw)
    return tuple(found)


def arms_m(stand: Stand, side: str) -> Samples:
    """Level distance from the tipping edge to the centre of mass [m]."""
    arm: Samples = np.tan(stand.tilt_rad[side]) * stand.load.centre_m[2]
    return arm


def _joints(shop: Shop, cart: CheckedCart, draw: Draw) -> list[Finding]:
    """Screws: of the casters, and of the rails that keep it square; then joints by their kind."""
    return [
        _caster_screws(shop, cart, draw),
        *_racking(shop, cart, draw),
        *joint_findings(cart, draw),
    ]


def _caster_screws(shop: Shop, cart: CheckedCart, draw: Draw) -> Finding:
    """One wheel stopped by a threshold: the push bends its plate off its screws."""
    item = next(h for h in cart.hardware if h.key == "caster-screw")
    assert item.length_m is not None
    assert item.diameter_m is not None
    # The plate of steel takes no thread to speak of.
    each = in_face_n(item.length_m, item.diameter_m, 0.003, draw)
    lever = 0.8 * fact("cart.caster.plate_width").value
    moment = fact("cart.push.hand").value * draw.of(shop.wishes.caster_height)
    return judge(
        key="cart.casters.screws",
        about=Term("part", "casters"),
        draw=draw,
        value=2 * each,
        limit=moment / lever,
        must="at least",
        dimension="force",
        sources=["cart.screw.withdrawal", "cart.screw.in_face", "cart.push.hand"],
        outcome="short_screws",
    )


def _racking(shop: Shop, cart: CheckedCart, draw: Draw) -> list[Finding]:
    """The rails' screws alone, glue left out, against what would tip the cart first."""
    rails = [p.name for p in cart.placed if ROLES.get(cart.panel(p.key).name) == "rail"]
    if not rails:
        return []
    joints = [j for j in cart.joints if j.second in rails and abs(j.way[0]) > 0.5]
    moments = [rail_moment_nm(j, *joint_height_m(cart, j), pulled_n(cart, j, draw)) for j in joints]
    if not moments:
        return []
    pockets = any(j.by_pockets for j in joints)
    capacity = racking_force_n(moments, cart.sizes.bay_height_m)
    gravity = fact("general.gravity").value
    top = cart.sizes.shelf_top_m
    asked = np.maximum.reduce(
        [
            tipping_force_n(s.load.mass_kg * gravity, arms_m(s, side), top)
            for s in cart.stands
            for side in ("left", "right")
        ]
    )
    return [
        judge(
            key="cart.racking",
            about=Term("part", "joints"),
            draw=draw,
            value=capacity,
            limit=asked,
            must="at least",
            dimension="force",
            rests_on=weighing(shop),
            sources=["cart.screw.withdrawal"]
            + (["cart.screw.in_face", "cart.screw.slanted"] if pockets else ["cart.screw.in_edge"]),
            outcome="leans_on_glue",
            fail="advice",
        )
    ]


def _stiffness(thickness_m: float, soft: bool) -> Stiffness:
    """For a modulus of 1 Pa along the grain: deflection and modulus go one over the other."""
    low, high = fact("cart.plywood.modulus_ratio").span
    shear = fact("cart.plywood.shear_modulus").span
    return Stiffness.plywood(
        1.0,
        low if soft else high,
        shear[0] if soft else shear[1],
        fact("cart.plywood.poisson").value,
        thickness_m,
    )


def shelf_bracket(cart: CheckedCart) -> tuple[Bent, Bent]:
    """The shelf under 1 N at a modulus of 1 Pa, softest and stiffest supports.

    Softest: simply held on the sides, nothing at the rear. Stiffest: clamped along both whole
    ends, and held by the upper rail. The truth lies between.
    """
    outline = cart.shelf
    assert outline is not None
    return _bracket(outline, next(p.thickness_m for p in cart.panels if p.name == "shelf"))


@lru_cache(maxsize=8)
def _bracket(outline: SupportedPlate, t: float) -> tuple[Bent, Bent]:
    stiff_edges = replace(
        outline,
        left="clamped",
        right="clamped",
        rear="simply",
        held_from_m=0.0,
        corner_m=outline.held_from_m,
    )
    found = []
    for edges, soft in ((outline, True), (stiff_edges, False)):
        found.append(_unit(edges, _stiffness(t, soft), t))
    return found[0], found[1]


def _unit(outline: SupportedPlate, stiffness: Stiffness, thickness_m: float) -> Bent:
    if outline.radius_m > 0:
        # Corners ask for a finer mesh than a circle does.
        around = 36 if max(outline.stretch_m) == 0 else 48
        return bend(outline, stiffness, thickness_m, rim_load_n=1.0, around=around)
    even = 1.0 / (outline.length_m * outline.width_m)
    # A bucket in the middle bends it at most twice as far as the same load spread evenly.
    one = bend(outline, stiffness, thickness_m, pressure_pa=even)
    return Bent(2 * one.deflection_m, 2 * one.stress_along_pa, 2 * one.stress_across_pa)


def shelf_findings(shop: Shop, cart: CheckedCart, draw: Draw) -> list[Finding]:
    """Sag after years and bending stress of the shelf under a full bucket."""
    outline = cart.shelf
    assert outline is not None
    soft, stiff = shelf_bracket(cart)
    load = fact("general.gravity").value * np.sum(
        [cart.parts[n].mass_kg for n in SEPARATOR], axis=0
    )
    modulus = spread_fact("cart.plywood.modulus", draw)
    creep = fact("cart.plywood.creep").value
    sag = creep * load * soft.deflection_m / modulus
    least = creep * load * stiff.deflection_m / modulus
    span = outline.length_m * fact("cart.shelf.sag").value
    rests = [shop.separator.bucket.volume, shop.separator.bucket.weight]
    firm, loose = Amount(middle(least), "length"), Amount(middle(sag), "length")
    sheet = "second" if any(p.second for p in cart.panels if p.name == "shelf") else "first"
    along = load * max(soft.stress_along_pa, stiff.stress_along_pa)
    across = load * max(soft.stress_across_pa, stiff.stress_across_pa)
    # What runs along the face grain goes through the panel's width, and the other way round.
    allowed = allowed_bending_pa(outline.width_m, "lasting")
    weaker = allowed_bending_pa(outline.length_m, "lasting", across=True)
    stress = np.maximum(along, across * (allowed / weaker))
    return [
        judge(
            key="cart.shelf.sag",
            about=Term("panel", "shelf"),
            draw=draw,
            value=sag,
            limit=span,
            must="at most",
            dimension="length",
            rests_on=rests,
            sources=["cart.plywood.modulus", "cart.plywood.creep", "cart.shelf.sag"],
            outcome="sags",
            facts=facts(firm=firm, loose=loose, sheet=sheet),
        ),
        judge(
            key="cart.shelf.stress",
            about=Term("panel", "shelf"),
            draw=draw,
            value=stress,
            limit=allowed,
            must="at most",
            dimension="stress",
            rests_on=rests,
            sources=[
                "cart.plywood.bending_along",
                "cart.plywood.bending_across",
                "cart.plywood.narrow",
                "cart.load.lasting",
            ],
            outcome="overloaded",
            facts=facts(sheet=sheet),
            fail="stop",
        ),
    ]
