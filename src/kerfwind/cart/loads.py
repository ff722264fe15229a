"""Masses and their centres, from every part of the cart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from ..fact_samples import Samples, spread_fact
from ..quantity import Draw
from ..shop import Shop
from ..solids import FlatPanel, Placement, frustum_centre_m, prismoid_centre_m
from .model import Load

#: Parts of the separator, as a load of the cart has them; the dust is that of a full bucket.
SEPARATOR = ("bucket", "cyclone", "dust")

#: Parts that the cart itself is made of: they stay whatever is taken off it.
FRAME = ("plywood", "casters", "ballast")


def together(name: str, loads: Sequence[Load]) -> Load:
    """Several loads as one: their masses summed, at their common centre."""
    mass: Samples = sum((each.mass_kg for each in loads), np.zeros(1))
    first: Samples = sum((each.mass_kg * each.centre_m for each in loads), np.zeros((3, 1)))
    return Load(name, mass, first / mass)


def at(
    name: str, mass_kg: Samples, x: Samples | float, y: Samples | float, z: Samples | float
) -> Load:
    """One load from its mass and the coordinates of its centre."""
    centre = np.empty((3, *mass_kg.shape))
    centre[0], centre[1], centre[2] = x, y, z
    return Load(name, mass_kg, centre)


def plywood(plates: Sequence[tuple[str, FlatPanel, Placement]], draw: Draw) -> Load:
    """All panels as one load, by the closed-form volumes of their solids."""
    density = spread_fact("cart.plywood.density", draw)
    volumes = np.array([plate.volume_m3 for _, plate, _ in plates])
    inside = np.array([plate.centroid_m for _, plate, _ in plates])
    origins = np.array([where.origin for _, _, where in plates])
    ways = np.array([(where.along, where.across, where.through) for _, _, where in plates])
    middles = origins + (inside[:, None] @ ways)[:, 0]
    volume = float(volumes.sum())
    # One after the other, so that what is alike at the left and the right adds up to nothing.
    x, y, z = (volumes[:, None] * middles).sum(axis=0) / volume
    return at("plywood", density * volume, x, y, z)


@dataclass(frozen=True)
class BallastPlace:
    """Ballast that lies under the bottom: the middle of its foot, its size [m], and its mass.

    It is ``iron``, or slabs and sand.
    """

    foot: tuple[float, float, float]
    size: tuple[float, float, float]
    mass_kg: float
    iron: bool


@dataclass(frozen=True)
class StandingPoints:
    """Where the things stand: vacuum's and bucket's footprints, casters, ballast, and heights [m]."""

    vacuum_xy: tuple[float, float]
    bottom_top_m: float
    bucket_xy: tuple[float, float] | None
    shelf_top_m: float
    casters_xy: tuple[tuple[float, float], ...]
    caster_height_m: float
    ballast: BallastPlace | None = None


def loads_carried(
    shop: Shop, where: StandingPoints, hang_m: Samples, draw: Draw
) -> dict[str, Load]:
    """Loads besides the plywood: casters, ballast, vacuum, and bucket with lid, cyclone and dust.

    Parameters
    ----------
    hang_m
        How far the bucket's floor is below the top of the shelf, shape (n,) [m].
    """
    share = spread_fact("cart.vacuum.centre_height", draw)
    vacuum = at(
        "vacuum",
        draw.of(shop.vacuum.weight),
        *where.vacuum_xy,
        where.bottom_top_m + share * draw.of(shop.vacuum.height),
    )
    wheel = (
        spread_fact("cart.caster.mass", draw) * (shop.wishes.caster_diameter.best_si / 0.0762) ** 2
    )
    casters = together(
        "casters",
        [at("caster", wheel, x, y, where.caster_height_m / 2) for x, y in where.casters_xy],
    )
    loads = {"vacuum": vacuum, "casters": casters}
    if where.ballast is not None:
        x, y, foot = where.ballast.foot
        mass = np.full(draw.count, where.ballast.mass_kg)
        loads["ballast"] = at("ballast", mass, x, y, foot + where.ballast.size[2] / 2)
    if where.bucket_xy is None:
        return loads
    bucket, cyclone = shop.separator.bucket, shop.separator.cyclone
    floor = where.shelf_top_m - hang_m
    height = draw.of(bucket.height)
    low, high = ((x.best_si, y.best_si) for x, y in (bucket.bottom, bucket.top))
    centre = (
        frustum_centre_m(low[0] / 2, high[0] / 2, 1.0)
        if bucket.is_round
        else prismoid_centre_m(low, high, 1.0)
    )
    loads["bucket"] = at("bucket", draw.of(bucket.weight), *where.bucket_xy, floor + 0.55 * height)
    loads["cyclone"] = at(
        "cyclone",
        draw.of(cyclone.weight),
        *where.bucket_xy,
        floor + height + 0.5 * draw.of(cyclone.height),
    )
    loads["dust"] = at(
        "dust",
        spread_fact("cart.sawdust.density", draw) * draw.of(bucket.volume),
        *where.bucket_xy,
        floor + centre * height,
    )
    return loads


class CartState(StrEnum):
    """A state that a cart is judged in."""

    AS_BUILT = "as built"
    VACUUM_OUT = "vacuum lifted out"
    BARE = "nothing hung on it"
    EMPTY = "bucket empty"
    FULL = "bucket full"
    FULL_VACUUM_OUT = "bucket full, vacuum lifted out"
    FULL_BARE = "bucket full, nothing hung on it"
    FULL_VACUUM_OUT_BARE = "bucket full, vacuum lifted out, nothing hung on it"

    @property
    def bucket_full(self) -> bool:
        """Whether there is a bucket, and it is full of dust."""
        return self in _FULL

    @property
    def vacuum_in(self) -> bool:
        """Whether the vacuum is in its place."""
        return self not in _VACUUM_OUT

    @property
    def hung(self) -> bool:
        """Whether what hangs on its options hangs there, where it has any."""
        return self not in _BARE


_FULL = (
    CartState.FULL,
    CartState.FULL_VACUUM_OUT,
    CartState.FULL_BARE,
    CartState.FULL_VACUUM_OUT_BARE,
)
_VACUUM_OUT = (CartState.VACUUM_OUT, CartState.FULL_VACUUM_OUT, CartState.FULL_VACUUM_OUT_BARE)
_BARE = (CartState.BARE, CartState.FULL_BARE, CartState.FULL_VACUUM_OUT_BARE)


def states(parts: dict[str, Load]) -> dict[CartState, Load]:
    """The states the cart is judged in, each with all its loads as one.

    What hangs on its options hangs there in each, save in one more where all is taken off.
    """
    bare = [parts[name] for name in FRAME if name in parts]
    hung = [load for name, load in parts.items() if name not in {*FRAME, "vacuum", *SEPARATOR}]
    frame, vacuum = [*bare, *hung], parts["vacuum"]
    loads: dict[CartState, list[Load]]
    if "bucket" not in parts:
        loads = {CartState.AS_BUILT: [*frame, vacuum], CartState.VACUUM_OUT: frame}
        if hung:
            loads[CartState.BARE] = [*bare, vacuum]
    else:
        top = [parts["bucket"], parts["cyclone"]]
        full = [*top, parts["dust"]]
        loads = {
            CartState.EMPTY: [*frame, vacuum, *top],
            CartState.FULL: [*frame, vacuum, *full],
            CartState.FULL_VACUUM_OUT: [*frame, *full],
        }
        if hung:
            loads[CartState.FULL_BARE] = [*bare, vacuum, *full]
            loads[CartState.FULL_VACUUM_OUT_BARE] = [*bare, *full]
    return {state: together(str(state), each) for state, each in loads.items()}
