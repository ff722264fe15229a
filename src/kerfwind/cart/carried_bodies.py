"""What the cart carries, as solids: vacuum, bucket, cyclone, casters, hose."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from ..shop import Bucket, Cyclone, Vacuum
from ..solids import Body, box, box_like, equal_area, joined, revolved, swept
from ..sources import fact
from .loads import BallastPlace
from .model import HosePath

#: A top inlet sits this far in front of the middle, as a share of the vacuum's length.
TOP_INLET = 0.2
#: A strap's loop as it is drawn: out from its face, and half its length along it [m].
_ANCHOR_M = (0.012, 0.03)


@dataclass(frozen=True)
class VacuumPlace:
    """Where the vacuum stands: middle of its footprint on the bottom, and its inlet's mouth."""

    x_m: float
    y_m: float
    z_m: float


def inlet_mouth(vacuum: Vacuum, spot: VacuumPlace) -> np.ndarray:
    """Middle of the inlet's mouth, the inlet facing the front or up, shape (3,) [m]."""
    if vacuum.inlet_on == "top":
        y = spot.y_m - TOP_INLET * vacuum.length.best_si
        return np.array([spot.x_m, y, spot.z_m + vacuum.height.best_si])
    # Kept on the tank's wall, between wheels and head.
    h, stub = vacuum.height.best_si, _stub_radius_m(vacuum)
    height = min(max(vacuum.inlet_height.best_si, 0.12 * h + stub), 0.63 * h - stub)
    return np.array([spot.x_m, spot.y_m - vacuum.length.best_si / 2, spot.z_m + height])


def _stub_radius_m(vacuum: Vacuum) -> float:
    h, w = vacuum.height.best_si, vacuum.width.best_si
    return min(vacuum.inlet.outside.best_si / 2, 0.1 * w, 0.2 * h)


def vacuum_bodies(vacuum: Vacuum, spot: VacuumPlace) -> list[Body]:
    """The vacuum's tank with its head as one body, and the stub of its inlet as another."""
    w, length, h = vacuum.width.best_si, vacuum.length.best_si, vacuum.height.best_si
    x, y, z = spot.x_m, spot.y_m, spot.z_m
    mouth = inlet_mouth(vacuum, spot)
    stub_r = _stub_radius_m(vacuum)
    if vacuum.shape == "round":
        r = min(w, length) / 2
        tank_r = 0.93 * r
        profile = [
            (0.0, 0.9 * r),
            (0.02 * h, r),
            (0.1 * h, r),
            (0.12 * h, tank_r),
            (0.64 * h, tank_r),
            (0.66 * h, 0.97 * r),
            (0.7 * h, 0.97 * r),
            (0.74 * h, 0.8 * r),
            (0.96 * h, 0.7 * r),
            (h, 0.55 * r),
        ]
        centre_y = y + (length / 2 - r)
        tank = revolved("vacuum", (x, centre_y, z), profile, tone=0.75)
        front = centre_y - tank_r * equal_area()
    else:
        low = box(
            "vacuum",
            (x - w / 2, y - 0.47 * length, z),
            (x + w / 2, y + length / 2, z + 0.68 * h),
            "round",
            0.75,
        )
        head = box(
            "vacuum",
            (x - 0.4 * w, y - 0.38 * length, z + 0.68 * h),
            (x + 0.4 * w, y + 0.4 * length, z + h),
            "round",
            0.75,
        )
        tank = joined("vacuum", [low, head])
        front = y - 0.47 * length
    if vacuum.inlet_on == "top" or front - mouth[1] < 1e-4:
        return [tank]
    stub = revolved(
        "vacuum inlet",
        tuple(mouth),
        [(0.0, stub_r), (front - mouth[1], stub_r)],
        (0, 1, 0),
        tone=0.65,
        segments=24,
    )
    return [tank, replace(stub, part_of=tank.name)]


def bucket_body(bucket: Bucket, foot: Sequence[float]) -> Body:
    """The bucket from its floor at ``foot`` to the top of its rim."""
    height = bucket.height.best_si
    side = height - bucket.rim_drop.best_si
    (wide, long), (rim_w, rim_l), (low_w, low_l) = (
        (x.best_si, y.best_si) for x, y in (bucket.top, bucket.rim, bucket.bottom)
    )
    over = max(rim_w - wide, rim_l - long) / 2
    rimless = bucket.rim_drop.best_si < 1e-4 or over < 1e-4
    if bucket.corner is None:
        profile = [(0.0, low_w / 2), (side, wide / 2)]
        if not rimless:
            profile += [(side, rim_w / 2), (height, rim_w / 2)]
        elif side < height - 1e-4:
            profile.append((height, wide / 2))
        return revolved("bucket", foot, profile, tone=0.88)
    r = bucket.corner.best_si
    sections = [(0.0, low_w, low_l, r), (side, wide, long, r)]
    if not rimless:
        sections += [(side, rim_w, rim_l, r + over), (height, rim_w, rim_l, r + over)]
    elif side < height - 1e-4:
        sections.append((height, wide, long, r))
    return box_like("bucket", foot, sections, tone=0.88)


def cyclone_bodies(cyclone: Cyclone, lid: Sequence[float]) -> list[Body]:
    """The cyclone above the lid at ``lid``, with its inlet to the right."""
    h, r = cyclone.height.best_si, cyclone.body_diameter.best_si / 2
    out_r = min(cyclone.outlet.outside.best_si / 2, 0.6 * r)
    in_r = min(cyclone.inlet.outside.best_si / 2, 0.55 * r)
    inlet_z = min(max(cyclone.inlet_height.best_si, 0.3 * h), 0.9 * h - in_r)
    shoulder = min(max(inlet_z - 1.3 * in_r, 0.15 * h), 0.8 * h)
    roof = min(max(inlet_z + 1.4 * in_r, shoulder + 0.02), 0.93 * h)
    body = revolved(
        "cyclone",
        lid,
        [
            (0.0, 0.62 * r),
            (0.03 * h, 0.45 * r),
            (shoulder, r),
            (roof, r),
            (roof, out_r),
            (h, out_r),
        ],
        tone=0.7,
    )
    x, y, z = lid
    inlet = revolved(
        "cyclone inlet",
        (x + r, y, z + inlet_z),
        [(0.0, in_r), (0.35 * r + 0.02, in_r)],
        (1, 0, 0),
        tone=0.6,
        segments=24,
    )
    return [body, replace(inlet, part_of=body.name)]


def caster_body(
    name: str, x_m: float, y_m: float, height_m: float, wheel_m: float, plate: Sequence[float]
) -> Body:
    """A swivel caster under its plate [m], the wheel trailed to the rear."""
    body = _caster(height_m, wheel_m, tuple(plate))
    return Body(name, "hardware", body.vertices + np.array([x_m, y_m, 0.0]), body.triangles, 0.5)


@lru_cache(maxsize=8)
def _caster(height_m: float, wheel_m: float, plate: tuple[float, float]) -> Body:
    """A caster about whose pivot all is measured."""
    name = "caster"
    tread = fact("cart.caster.tread").value * wheel_m
    trail = fact("cart.caster.trail").value * wheel_m
    radius = wheel_m / 2
    plate_m, cheek = 0.003, 0.003
    under = height_m - plate_m
    crown = max(under - (wheel_m + 0.004), 0.004)
    parts = [
        box(name, (-plate[0] / 2, -plate[1] / 2, under), (plate[0] / 2, plate[1] / 2, height_m)),
        box(
            name,
            (-tread / 2 - cheek, -0.02, under - crown),
            (tread / 2 + cheek, trail + 0.012, under),
        ),
    ]
    for side in (-1.0, 1.0):
        inner, outer = side * (tread / 2), side * (tread / 2 + cheek)
        parts.append(
            box(
                name,
                (min(inner, outer), trail - 0.012, radius - 0.012),
                (max(inner, outer), trail + 0.012, under - crown),
            )
        )
    parts.append(
        revolved(
            name,
            (-tread / 2, trail, radius),
            [(0.0, radius), (tread, radius)],
            (1, 0, 0),
            "hardware",
            segments=32,
        )
    )
    return joined(name, parts, "hardware")


def hose_body(path: HosePath, segments: int = 20) -> Body:
    """The hose as a tube of its bore and wall along its middle line, closed at the ends."""
    points = path.points_m
    radius = path.outside_m / 2
    tangent = np.gradient(points, axis=0)
    tangent /= np.linalg.norm(tangent, axis=1, keepdims=True)
    x, y, _ = tangent[0].tolist()
    side = (y, -x, 0.0)
    if math.hypot(*side) < 1e-6:
        side = (1.0, 0.0, 0.0)
    sides = []
    for a, b, c in tangent.tolist():
        # The ring before, turned no more than the hose itself turns.
        along = side[0] * a + side[1] * b + side[2] * c
        u = side[0] - a * along, side[1] - b * along, side[2] - c * along
        length = math.hypot(*u)
        side = u[0] / length, u[1] / length, u[2] / length
        sides.append(side)
    across = np.array(sides)
    up = np.cross(tangent, across)
    turn = 2 * np.pi * np.arange(segments) / segments
    rings = points[:, None] + radius * (
        np.cos(turn)[None, :, None] * across[:, None] + np.sin(turn)[None, :, None] * up[:, None]
    )
    return Body("link hose", "hose", rings.reshape(-1, 3), swept(segments, len(points)), 0.55)


def ballast_body(place: BallastPlace) -> Body:
    """Ballast in its tray, as one block."""
    (x, y, z), (wide, long, high) = place.foot, place.size
    return box(
        "ballast",
        (x - wide / 2, y - long / 2, z),
        (x + wide / 2, y + long / 2, z + high),
        "round",
        0.6,
    )


def anchor_body(face: Sequence[float]) -> Body:
    """The loop that ties the tool hose low, on a face that looks to the right."""
    x, y, z = face
    reach, half = _ANCHOR_M
    low, high = (x, y - half, z - half / 2), (x + reach, y + half, z + half / 2)
    return box("hose anchor", low, high, "round", 0.5)
