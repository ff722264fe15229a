"""Which other vacuums and buckets a cart carries, and one cart for the most of a table."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..quantity import middle, parse
from ..shop import Shop
from ..sources import fact
from .loads import at, together
from .model import Cart, Load, Samples
from .tipping import SIDES, arm_m
from .wheels import worst_wheel_n

_HEAVIEST_KG = 200.0
# Each round narrows an end a hundredfold.
_TRIES, _ROUNDS = 101, 4


@dataclass(frozen=True)
class Range:
    """From and to, in SI; ``high`` is infinite where nothing limits it."""

    low: float
    high: float

    def holds(self, value: float) -> bool:
        """Whether a value lies in it."""
        return self.low - 1e-9 <= value <= self.high + 1e-9


@dataclass(frozen=True)
class VacuumSize:
    """A vacuum by what a cart asks of it [m, kg]."""

    name: str
    length_m: float
    width_m: float
    height_m: float
    weight_kg: float


@dataclass(frozen=True)
class BucketSize:
    """A bucket by what an opening asks of it [m]; ``side_m`` from its floor to its rim's underside."""

    name: str
    top_diameter_m: float
    rim_diameter_m: float
    side_m: float


@dataclass(frozen=True)
class Carries:
    """What a finished cart will carry.

    ``bucket_top`` is the diameter just under the rim, ``bucket_rim`` over it, ``bucket_side``
    from the bucket's floor to the underside of its rim; ``full_bucket_kg`` the mass of bucket,
    lid, cyclone and dust together.
    """

    vacuum_length: Range
    vacuum_width: Range
    vacuum_height: Range
    vacuum_kg: Range
    bucket_top: Range
    bucket_rim: Range
    bucket_side: Range
    full_bucket_kg: Range

    def vacuum(self, size: VacuumSize) -> bool:
        """Whether it carries a vacuum."""
        return (
            self.vacuum_length.holds(size.length_m)
            and self.vacuum_width.holds(size.width_m)
            and self.vacuum_height.holds(size.height_m)
            and self.vacuum_kg.holds(size.weight_kg)
        )

    def bucket(self, size: BucketSize) -> bool:
        """Whether its opening carries a bucket."""
        return (
            self.bucket_top.holds(size.top_diameter_m)
            and self.bucket_rim.holds(size.rim_diameter_m)
            and self.bucket_side.holds(size.side_m)
        )


def carries(shop: Shop, cart: Cart) -> Carries:
    """The ranges of vacuums and buckets that a finished cart will carry.

    The vacuum's weight is limited by the casters with one wheel lifted, and from below by
    the appliance test's slope; the full bucket's by both from above. Best values are used.
    """
    sizes, play = cart.sizes, 2 * shop.wishes.clearance.best_si
    lift = sizes.lip_height_m + fact("cart.lift.gap").value
    none = Range(0.0, float("inf"))
    frame = _Frame.of(shop, cart)
    vacuum_kg = Range(*_between(lambda kg: frame.safe(kg, None), _mass(cart, "vacuum")))
    top = rim = side = bucket_kg = none
    held = cart.bucket
    if held is not None:
        opening = held.opening_m
        gap = sizes.clear_height_m - shop.vacuum.height.best_si - lift
        if held.hold == "rim":
            top = Range(0.0, opening - fact("cart.opening.play").value / 2)
            rim = Range(opening + 2 * fact("cart.rim.bearing").value, float("inf"))
            side = Range(0.0, held.most_m + max(gap, 0.0))
        elif held.hold == "standing":
            top = Range(0.0, opening)
        full = sum(_mass(cart, n) for n in ("bucket", "cyclone", "dust"))
        _, most = _between(lambda kg: frame.safe(None, kg), full)
        bucket_kg = Range(0.0, most)
    return Carries(
        Range(0.0, sizes.bay_depth_m - play),
        Range(0.0, sizes.bay_width_m - play),
        Range(0.0, sizes.clear_height_m - lift),
        vacuum_kg, top, rim, side, bucket_kg,
    )  # fmt: skip


def _mass(cart: Cart, part: str) -> float:
    return middle(cart.parts[part].mass_kg)


def _best(load: Load) -> Load:
    """One load at its medians."""
    return Load(
        load.name,
        np.median(load.mass_kg, keepdims=True),
        np.median(load.centre_m, axis=-1, keepdims=True),
    )


def _heavy(load: Load, kg: Samples | None) -> Load:
    """A load of other masses about the same centre."""
    return (
        load
        if kg is None
        else at(load.name, kg, *(np.broadcast_to(c, kg.shape) for c in load.centre_m))
    )


@dataclass(frozen=True)
class _Frame:
    """What casters and slope are judged by, at best values."""

    frame: Load
    vacuum: Load
    full: Load | None
    light: Load | None
    trail_m: Samples
    axles_xy: Samples
    rated_n: float

    @classmethod
    def of(cls, shop: Shop, cart: Cart) -> _Frame:
        parts = {name: _best(load) for name, load in cart.parts.items()}
        names = [n for n in ("bucket", "cyclone", "dust") if n in parts]
        # Whatever hangs on its options counts with the frame.
        stand_in = {"vacuum", *names}
        trail = fact("cart.caster.trail").value * shop.wishes.caster_diameter.best_si
        return cls(
            together("frame", [load for name, load in parts.items() if name not in stand_in]),
            parts["vacuum"],
            together("full", [parts[n] for n in names]) if names else None,
            together("light", [parts[n] for n in names if n != "dust"]) if names else None,
            np.array([trail]),
            np.array([_axle(cart, n) for n in _CASTERS]),
            shop.wishes.caster_load.low_si * fact("general.gravity").value,
        )

    def safe(self, vacuum_kg: Samples | None, full_kg: Samples | None) -> NDArray[np.bool_]:
        """Whether they allow these masses, the bucket full and empty."""
        slope = fact("cart.tilt.angle").value
        safe = np.array([True])
        for top in (self.full, self.light):
            loads = [self.frame, _heavy(self.vacuum, vacuum_kg)]
            if top is not None:
                loads.append(_heavy(top, full_kg) if top is self.full else top)
            load = together("all", loads)
            xy = load.centre_m[:2]
            safe = safe & (
                worst_wheel_n(load.mass_kg, xy, self.axles_xy, self.trail_m) <= self.rated_n
            )
            for out in SIDES.values():
                arm = arm_m(xy, self.axles_xy, out, self.trail_m)
                safe = safe & (np.arctan2(arm, load.centre_m[2]) >= slope)
        return safe


_CASTERS = ("front left", "front right", "rear left", "rear right")


def _axle(cart: Cart, corner: str) -> tuple[float, float]:
    """Middle of a caster's block, where its swivel axis is."""
    block = cart.body(f"{corner} block")
    middle = (block.low + block.high) / 2
    return float(middle[0]), float(middle[1])


def _between(safe: Callable[[Samples], NDArray[np.bool_]], start: float) -> tuple[float, float]:
    """Ends of the range about ``start`` in which it stays safe; empty when it is not there."""
    if not safe(np.array([start]))[0]:
        return start, start
    ends = []
    for far in (0.0, _HEAVIEST_KG):
        good, bad = start, far
        for _ in range(_ROUNDS):
            steps = np.linspace(good, bad, _TRIES)
            fails = np.flatnonzero(~safe(steps))
            if not len(fails):
                good = bad
                break
            good, bad = float(steps[fails[0] - 1]), float(steps[fails[0]])
        ends.append(good)
    return ends[0], ends[1]


@dataclass(frozen=True)
class Bay:
    """A bay for the most vacuums of a table [m]."""

    length_m: float
    width_m: float
    height_m: float
    carried: tuple[str, ...]


def bay_for_most(
    vacuums: Sequence[VacuumSize], longest_m: float, widest_m: float, highest_m: float
) -> Bay:
    """The smallest bay within the limits that holds the most vacuums of a table.

    Only vacuums that fit the limits by themselves can be held, and a bay as large as the
    largest of those holds them all; so the answer needs no search.
    """
    fit = [
        v for v in vacuums
        if v.length_m <= longest_m and v.width_m <= widest_m and v.height_m <= highest_m
    ]  # fmt: skip
    if not fit:
        return Bay(0.0, 0.0, 0.0, ())
    return Bay(
        max(v.length_m for v in fit),
        max(v.width_m for v in fit),
        max(v.height_m for v in fit),
        tuple(v.name for v in fit),
    )


@dataclass(frozen=True)
class OpeningFor:
    """An opening for the most buckets of a table [m], carried by their rims."""

    diameter_m: float
    carried: tuple[str, ...]


def opening_for_most(buckets: Sequence[BucketSize]) -> OpeningFor:
    """The opening that carries the most buckets of a table by their rims.

    Each bucket allows the openings between its body, with play, and its rim, with bearing;
    the best opening lies where most of these spans overlap, at the low end of one of them.
    """
    play, bearing = fact("cart.opening.play").value, fact("cart.rim.bearing").value
    spans = [(b.top_diameter_m + play / 2, b.rim_diameter_m - 2 * bearing, b.name) for b in buckets]
    spans = [s for s in spans if s[0] <= s[1]]
    best = OpeningFor(0.0, ())
    for low, _, _ in sorted(spans):
        held = tuple(name for a, b, name in spans if a <= low + 1e-12 and low <= b + 1e-12)
        if len(held) > len(best.carried):
            best = OpeningFor(low, held)
    return best


def shop_for_most(
    shop: Shop, vacuums: Sequence[VacuumSize], buckets: Sequence[BucketSize]
) -> tuple[Shop, tuple[str, ...], tuple[str, ...]]:
    """The shop changed so that its cart carries the most of two tables of sizes.

    Returns
    -------
    shop, vacuums, buckets
        To build from, and the names that its cart will carry.
    """

    def metres(size: float) -> str:
        return f"{size * 1000:.2f} mm"

    w, vacuum, bucket = shop.wishes, shop.vacuum, shop.separator.bucket
    play = 2 * w.clearance.best_si
    bay = bay_for_most(
        vacuums, w.largest_length.best_si - play, w.largest_width.best_si - play,
        w.greatest_height.best_si,
    )  # fmt: skip
    changed = shop
    if bay.carried:
        sizes = {"length": bay.length_m, "width": bay.width_m, "height": bay.height_m}
        update = {
            k: parse(metres(v), "length").at(f"vacuum.{k}").standing_as("chosen")
            for k, v in sizes.items()
        }
        changed = changed.model_copy(update={"vacuum": vacuum.model_copy(update=update)})
    hole = opening_for_most(buckets)
    if hole.carried:
        chosen = [b for b in buckets if b.name in hole.carried]
        drop = bucket.rim_drop.best_si
        play = fact("cart.opening.play").value
        sizes = {
            "top_diameter": hole.diameter_m - play,
            "rim_diameter": min(b.rim_diameter_m for b in chosen),
            "height": max(b.side_m for b in chosen) + drop,
        }
        update = {
            k: parse(metres(v), "length").at(f"separator.bucket.{k}").standing_as("chosen")
            for k, v in sizes.items()
        }
        separator = shop.separator.model_copy(update={"bucket": bucket.model_copy(update=update)})
        changed = changed.model_copy(update={"separator": separator})
    return changed, bay.carried, hole.carried
