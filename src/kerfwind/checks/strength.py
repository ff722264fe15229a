"""Whether a finished cart holds: its shelf, its joints, a push, a tug, a threshold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from ..cart.loads import SEPARATOR
from ..cart.model import SupportedPlate
from ..fact_samples import Samples, spread_fact
from ..facts import Amount, Term, facts
from ..finding import Finding, judge
from ..joinery.screws import in_face_n, racking_force_n, rail_moment_nm
from ..joinery.workbench import ROLES
from ..quantity import Draw, Quantity, middle
from ..shop import Shop
from ..sources import fact
from .bottom import bottom_findings
from .checked import CheckedCart
from .joints import joint_findings, joint_height_m, pulled_n
from .plate import Bent, Stiffness, bend
from .pushing import climbed_step_m, gyration_m, stumble_speed_m_s, tipping_force_n
from .straps import strap_findings
from .tipping import SIDES, Stand

_CARRIED = frozenset({"vacuum", *SEPARATOR, "casters"})


def strength(
    shop: Shop, cart: CheckedCart, draw: Draw, *, plate: bool = True
) -> tuple[Finding, ...]:
    """Every check that is not about fit or slope.

    Parameters
    ----------
    plate
        Whether to bend the shelf by finite elements, which takes about a second.
    """
    found = [*_pushes(shop, cart, draw), *_joints(shop, cart, draw)]
    if "dust" in cart.parts:
        found.append(_lifting(shop, cart, draw))
    found += strap_findings(shop, cart, draw)
    found += bottom_findings(cart, draw, _weighing(shop, cart))
    if plate and cart.shelf is not None:
        found += shelf_findings(shop, cart, draw)
    return tuple(found)


def _lifting(shop: Shop, cart: CheckedCart, draw: Draw) -> Finding:
    """Whether one person should lift the full bucket out."""
    full = np.sum([cart.parts[n].mass_kg for n in SEPARATOR], axis=0)
    bucket = shop.separator.bucket
    return judge(
        key="cart.bucket.lift",
        about=Term("part", "bucket"),
        draw=draw,
        value=full,
        limit=fact("cart.bucket.lift").value,
        must="at most",
        dimension="mass",
        rests_on=[bucket.volume, bucket.weight],
        sources=["cart.bucket.lift", "cart.sawdust.density"],
        outcome="heavy",
        facts=facts(weight=Amount(middle(full), "mass")),
        fail="advice",
    )


def arms_m(stand: Stand, side: str) -> Samples:
    """Level distance from the tipping edge to the centre of mass [m]."""
    arm: Samples = np.tan(stand.tilt_rad[side]) * stand.load.centre_m[2]
    return arm


def _rolling(cart: CheckedCart) -> list[Stand]:
    """The states in which a cart is pushed about: those with the vacuum in it."""
    return [s for s in cart.stands if s.state.vacuum_in]


def _worst(cart: CheckedCart, height_m: Samples | float) -> tuple[Samples, Stand, str]:
    """Smallest tipping force over states with the vacuum in, and all sides."""
    gravity = fact("general.gravity").value
    best: tuple[Samples, Stand, str] | None = None
    for stand in _rolling(cart):
        for side in SIDES:
            force = tipping_force_n(stand.load.mass_kg * gravity, arms_m(stand, side), height_m)
            if best is None or np.mean(force) < np.mean(best[0]):
                best = force, stand, side
    assert best is not None
    return best


def _weighing(shop: Shop, cart: CheckedCart) -> list[Quantity]:
    """The shop's quantities behind the cart's weight and where its centre is."""
    rests = [shop.vacuum.weight, shop.vacuum.height]
    if cart.bucket is not None:
        bucket = shop.separator.bucket
        rests += [bucket.height, bucket.weight, bucket.volume, shop.separator.cyclone.weight]
    return rests


def _pushes(shop: Shop, cart: CheckedCart, draw: Draw) -> list[Finding]:
    rests = _weighing(shop, cart)
    push, stand, side = _worst(cart, cart.sizes.handle_m)
    found = [
        judge(
            key="cart.push.handle",
            about=None,
            draw=draw,
            value=push,
            limit=fact("cart.push.hand").value,
            must="at least",
            dimension="force",
            rests_on=rests,
            sources=["cart.push.hand"],
            fail="advice",
            outcome="tips",
            facts=facts(
                push=Amount(middle(push), "force"),
                side=Term("towards", side),
                state=Term("state", stand.state),
            ),
        ),
        _stumble(shop, cart, draw, rests),
        _threshold(shop, cart, draw, rests),
    ]
    if "cyclone" in cart.parts:
        cyclone = shop.separator.cyclone
        port = (
            cart.parts["cyclone"].centre_m[2]
            + draw.of(cyclone.inlet_height)
            - draw.of(cyclone.height) / 2
        )
        pull, stand, side = _worst(cart, port)
        found.append(
            judge(
                key="cart.push.tug",
                about=None,
                draw=draw,
                value=pull,
                limit=fact("cart.push.tug").value,
                must="at least",
                dimension="force",
                rests_on=[*rests, cyclone.inlet_height],
                sources=["cart.push.tug"],
                outcome="tips",
                facts=facts(
                    tug=Amount(middle(pull), "force"),
                    side=Term("towards", side),
                    state=Term("state", stand.state),
                ),
            )
        )
    return found


def _gyration(cart: CheckedCart, stand: Stand, axis: int) -> Samples:
    """About a level axis through the centre of mass; ``axis`` is the one it falls along."""
    centre = stand.load.centre_m[[axis, 2]]
    parts: list[tuple[Samples, Samples, float]] = []
    wood = cart.parts["plywood"].mass_kg
    panels = [cart.body(p.name) for p in cart.placed]
    volume = sum(b.volume_m3 for b in panels)
    for body in panels:
        size = (body.high - body.low)[[axis, 2]]
        at = body.centroid_m[[axis, 2]][:, None]
        parts.append((wood * body.volume_m3 / volume, at, float(np.sqrt(np.sum(size**2) / 12))))
    gone = set() if stand.state.bucket_full else {"dust"}
    bare = not stand.state.hung
    for name, load in cart.parts.items():
        if name == "plywood" or name in gone or (bare and name not in _CARRIED):
            continue
        own = 0.0
        if name in _CARRIED and name != "casters":
            body = cart.body("bucket" if name == "dust" else name)
            own = float(np.sqrt(np.sum((body.high - body.low)[[axis, 2]] ** 2) / 12))
        parts.append((load.mass_kg, load.centre_m[[axis, 2]], own))
    return gyration_m(parts, centre)


def _stumble(shop: Shop, cart: CheckedCart, draw: Draw, rests: Sequence[Quantity]) -> Finding:
    slowest: tuple[Samples, str, Stand] | None = None
    for stand in _rolling(cart):
        for side, (x, _) in SIDES.items():
            gyration = _gyration(cart, stand, 0 if x else 1)
            speed = stumble_speed_m_s(arms_m(stand, side), stand.load.centre_m[2], gyration)
            if slowest is None or np.mean(speed) < np.mean(slowest[0]):
                slowest = speed, side, stand
    assert slowest is not None
    speed, side, stand = slowest
    walk = fact("cart.push.walk").value
    return judge(
        key="cart.push.stumble",
        about=None,
        draw=draw,
        value=speed,
        limit=walk,
        must="at least",
        dimension="speed",
        rests_on=rests,
        sources=["cart.push.walk"],
        outcome="goes_over",
        facts=facts(
            slow=Amount(float(np.quantile(speed, 0.05)), "speed"),
            walk=Amount(walk, "speed"),
            side=Term("towards", side),
            state=Term("state", stand.state),
            bucket="full" if stand.state.bucket_full else "not_full",
        ),
    )


def _threshold(shop: Shop, cart: CheckedCart, draw: Draw, rests: Sequence[Quantity]) -> Finding:
    """The step its wheels climb when pushed at the handle, before it tips instead."""
    radius = shop.wishes.caster_diameter.best_si / 2
    both = 2 * fact("cart.push.hand").value
    found = []
    for stand in _rolling(cart):
        weight = stand.load.mass_kg * fact("general.gravity").value
        for side in SIDES:
            tips = tipping_force_n(weight, arms_m(stand, side), cart.sizes.handle_m)
            # A push up there lifts the far wheels: those at the step then carry all of it.
            found.append(climbed_step_m(weight, radius, np.minimum(tips, both)))
    climbs: Samples = np.minimum.reduce(found)
    return judge(
        key="cart.push.threshold",
        about=Term("part", "casters"),
        draw=draw,
        value=climbs,
        limit=fact("cart.push.threshold").value,
        must="at least",
        dimension="length",
        rests_on=rests,
        sources=["cart.push.threshold", "cart.push.hand"],
        fail="advice",
        outcome="stops",
        facts=facts(climbs=Amount(middle(climbs), "length")),
    )


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
            rests_on=_weighing(shop, cart),
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
    t = next(p.thickness_m for p in cart.panels if p.name == "shelf")
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
    # Across the grain fewer plies carry: strength is taken to go as stiffness does.
    weaker = fact("cart.plywood.modulus_ratio").span[0]
    stress = load * max(max(b.stress_along_pa, b.stress_across_pa / weaker) for b in (soft, stiff))
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
            limit=fact("cart.plywood.bending_stress").value,
            must="at most",
            dimension="stress",
            rests_on=rests,
            sources=["cart.plywood.bending_stress", "cart.plywood.modulus_ratio"],
            outcome="overloaded",
            facts=facts(sheet=sheet),
            fail="stop",
        ),
    ]
