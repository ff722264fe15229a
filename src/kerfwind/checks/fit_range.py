"""Which other vacuums and buckets a cart carries, and one cart for the most of a table."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..cart.bucket_opening import CLEAT_M, taper_depth_m
from ..cart.loads import FRAME, SEPARATOR, at, together
from ..cart.model import HeldBucket, Hold, Load
from ..cart.straps import slide_m
from ..fact_samples import Samples
from ..quantity import Draw, Quantity, middle, parse
from ..shop import Bucket, Shop
from ..solids import Body
from ..sources import fact
from .checked import CheckedCart
from .pushing import gyration_m, stumble_speed_m_s, tipping_force_n
from .steadiness import hose_pull
from .tipping import SIDES, arm_m
from .wheels import worst_wheel_n

_HEAVIEST_KG = 200.0
# Of all walks, the share that a cart must stand to be stopped from: what a check calls good.
_WALKS = 0.9
# Each round narrows an end a hundredfold.
_TRIES, _ROUNDS = 101, 4


@dataclass(frozen=True)
class SizeRange:
    """A range of sizes or masses, in SI; ``high`` is infinite where nothing limits it."""

    low: float
    high: float

    def holds(self, value: float) -> bool:
        """Whether a value lies in it."""
        return self.low - 1e-9 <= value <= self.high + 1e-9


@dataclass(frozen=True)
class VacuumSize:
    """What a cart needs to know of a vacuum to carry it [m, kg]."""

    name: str
    length_m: float
    width_m: float
    height_m: float
    weight_kg: float


@dataclass(frozen=True)
class BucketSize:
    """A bucket by what an opening asks of it [m]; ``side_m`` from its floor to its rim's underside.

    A box gives its sizes side to side, and front to back in the fields of that length; a round
    bucket leaves those at 0. Sizes at the floor that are left at 0 are those under the rim.
    """

    name: str
    top_diameter_m: float
    rim_diameter_m: float
    side_m: float
    top_length_m: float = 0.0
    rim_length_m: float = 0.0
    floor_diameter_m: float = 0.0
    floor_length_m: float = 0.0

    @property
    def is_round(self) -> bool:
        """Whether it is round: then one diameter stands for both ways across."""
        return self.top_length_m == 0

    @property
    def ways(self) -> list[tuple[float, float, float]]:
        """Under the rim, over it and at the floor: side to side, and of a box front to back."""
        top, long = self.top_diameter_m, self.top_length_m
        ways = [(top, self.rim_diameter_m, self.floor_diameter_m or top)]
        if not self.is_round:
            ways.append((long, self.rim_length_m, self.floor_length_m or long))
        return ways


@dataclass(frozen=True)
class Across:
    """Sizes of a bucket that an opening carries, one way: under the rim, over it, at its floor."""

    top: SizeRange
    rim: SizeRange
    floor: SizeRange


@dataclass(frozen=True)
class FitRange:
    """What a finished cart will carry.

    Sizes of buckets are given ``across``: once for round ones, and for boxes side to side
    and front to back. ``bucket_side`` runs from the bucket's floor to the underside of its rim,
    or for one that wedges to where it wedges; ``full_bucket_kg`` is the mass of bucket, lid,
    cyclone and dust together.
    """

    vacuum_length: SizeRange
    vacuum_width: SizeRange
    vacuum_height: SizeRange
    vacuum_kg: SizeRange
    hold: Hold
    across: tuple[Across, ...]
    bucket_side: SizeRange
    full_bucket_kg: SizeRange

    def vacuum(self, size: VacuumSize) -> bool:
        """Whether the cart carries a vacuum of these sizes."""
        return (
            self.vacuum_length.holds(size.length_m)
            and self.vacuum_width.holds(size.width_m)
            and self.vacuum_height.holds(size.height_m)
            and self.vacuum_kg.holds(size.weight_kg)
        )

    def bucket(self, size: BucketSize) -> bool:
        """Whether its opening carries a bucket; a round opening no box, and the other way round."""
        if size.is_round != (len(self.across) == 1):
            return False
        deep = size.side_m
        for span, (top, rim, floor) in zip(self.across, size.ways, strict=True):
            if self.hold == "standing":
                # Between cleats counts what it measures at their height.
                floor += max(top - floor, 0.0) * min(CLEAT_M / size.side_m, 1.0)
            if not (span.top.holds(top) and span.rim.holds(rim) and span.floor.holds(floor)):
                return False
            if self.hold == "taper":
                deep = min(deep, float(taper_depth_m(span.floor.high, floor, top, size.side_m)))
        return self.bucket_side.holds(deep)


def fit_range_of(shop: Shop, cart: CheckedCart) -> FitRange:
    """The ranges of vacuums and buckets that a finished cart will carry, any of them together.

    The vacuum's weight is limited by the casters with one wheel lifted, and from below by
    every check of what could tip the cart, for the tallest vacuum beside a bucket somewhat heavier
    than the shop's own; the full bucket's by both from above, beside every such vacuum. Best values
    are used, and nearly the fastest walk. A cart that fails one of these carries no other weights.
    """
    sizes, play = cart.sizes, 2 * shop.wishes.clearance.best_si
    lift = sizes.lip_height_m + fact("cart.lift.gap").value
    none = SizeRange(0.0, float("inf"))
    frame, highest = _Frame.of(shop, cart).with_tallest(
        shop.vacuum.height.best_si, sizes.clear_height_m - lift, sizes.bottom_top_m
    )
    own = _mass(cart, "vacuum")
    full = sum(_mass(cart, n) for n in SEPARATOR if n in cart.parts)
    # Half of what the bucket could gain beside the shop's own vacuum is left to it.
    half = (full + _between(lambda kg: frame.safe(None, kg), full)[1]) / 2
    vacuum_kg = SizeRange(*_between(lambda kg: frame.safe(kg, np.full_like(kg, half)), own))
    side = bucket_kg = none
    across: list[Across] = []
    held = cart.bucket
    if held is not None:
        gap = sizes.clear_height_m - shop.vacuum.height.best_si - lift
        openings = (held.opening_m, held.opening_length_m)
        ways = openings[: 1 + held.is_box]
        if held.hold == "standing":
            across = [_among_cleats(shop, held, way, width) for way, width in enumerate(ways)]
            bucket = shop.separator.bucket
            # A taller one would raise what it holds.
            side = SizeRange(0.0, bucket.height.best_si - bucket.rim_drop.best_si)
        else:
            across = [_across(held.hold, width) for width in ways]
            # Beside the vacuum it hangs over the bottom, else over the vacuum's lid.
            deepest = (
                held.most_m + max(gap, 0.0)
                if _over_each_other(cart.body("bucket"), cart.body("vacuum"))
                else sizes.shelf_top_m - sizes.bottom_top_m
            )
            side = SizeRange(0.0, deepest)
        beside = (vacuum_kg.low, own, vacuum_kg.high)

        def safe(kg: Samples) -> NDArray[np.bool_]:
            vacuums = np.repeat(beside, len(kg))
            all_safe = frame.safe(vacuums, np.tile(kg, len(beside)))
            return np.all(all_safe.reshape(len(beside), -1), axis=0)  # type: ignore[no-any-return]

        _, most = _between(safe, full)
        bucket_kg = SizeRange(0.0, most)
    return FitRange(
        SizeRange(0.0, sizes.bay_depth_m - play),
        SizeRange(0.0, sizes.bay_width_m - play),
        SizeRange(0.0, highest),
        vacuum_kg,
        held.hold if held else "none",
        tuple(across or [Across(none, none, none)]),
        side,
        bucket_kg,
    )


def _over_each_other(one: Body, other: Body) -> bool:
    """Whether one stands or hangs over the other, seen from above."""
    return bool(np.all(one.low[:2] < other.high[:2]) and np.all(other.low[:2] < one.high[:2]))


def _across(hold: Hold, opening_m: float) -> Across:
    """Sizes that an opening carries one way."""
    play, bearing = fact("cart.opening.play").value, fact("cart.rim.bearing").value
    none = SizeRange(0.0, float("inf"))
    if hold == "taper":
        return Across(SizeRange(opening_m, float("inf")), none, SizeRange(0.0, opening_m))
    top = SizeRange(0.0, opening_m - play / 2)
    return Across(top, SizeRange(opening_m + 2 * bearing, float("inf")), top)


def _among_cleats(shop: Shop, held: HeldBucket, way: int, opening_m: float) -> Across:
    """Sizes that a pocket between cleats holds, side to side (``way`` 0) or front to back (1).

    A smaller floor slides between them until a strap meets the cyclone; the shop's own bucket
    is held, since the pocket was made for it.
    """
    bucket, cyclone = shop.separator.bucket, shop.separator.cyclone
    none = SizeRange(0.0, float("inf"))
    slides = slide_m(held, cyclone.body_diameter.best_si)
    floor, top = bucket.bottom[way].best_si, bucket.top[way].best_si
    side = max(bucket.height.best_si - bucket.rim_drop.best_si, CLEAT_M)
    own = floor + max(top - floor, 0.0) * CLEAT_M / side
    return Across(none, none, SizeRange(min(opening_m - 2 * slides, own), opening_m))


def _mass(cart: CheckedCart, part: str) -> float:
    return middle(cart.parts[part].mass_kg)


def _best(load: Load) -> Load:
    """The load at the medians of its mass and centre, as a draw of one."""
    return Load(
        load.name,
        np.median(load.mass_kg, keepdims=True),
        np.median(load.centre_m, axis=-1, keepdims=True),
    )


def _heavy(load: Load, kg: Samples | None) -> Load:
    """The load with other masses at the centre it has; as it is where none are given."""
    return (
        load
        if kg is None
        else at(load.name, kg, *(np.broadcast_to(c, kg.shape) for c in load.centre_m))
    )


@dataclass(frozen=True)
class _Frame:
    """The loads and wheels by which casters and all that tips it are judged, at best values.

    ``own_m`` is the radius of gyration of frame, vacuum and bucket, each about itself, for falling
    to the front or rear and to the left or right; ``tugged`` are a height at which the cart is
    pulled or pushed, and the force.
    """

    frames: tuple[Load, ...]
    vacuum: Load
    full: Load | None
    light: Load | None
    trail_m: Samples
    axles_xy: Samples
    rated_n: float
    own_m: dict[str, tuple[float, float]]
    tugged: tuple[tuple[float, float], ...]

    @classmethod
    def of(cls, shop: Shop, cart: CheckedCart) -> _Frame:
        parts = {name: _best(load) for name, load in cart.parts.items()}
        names = [n for n in SEPARATOR if n in parts]
        # Whatever hangs on its options counts with the frame, on it and taken off.
        stand_in = {"vacuum", *names}
        wood = [parts[name] for name in FRAME if name in parts]
        hung = [load for name, load in parts.items() if name not in {*FRAME, *stand_in}]
        trail = fact("cart.caster.trail").value * shop.wishes.caster_diameter.best_si
        return cls(
            tuple(together("frame", rows) for rows in ([*wood, *hung], wood)[: 1 + bool(hung)]),
            parts["vacuum"],
            together("full", [parts[n] for n in names]) if names else None,
            together("light", [parts[n] for n in names if n != "dust"]) if names else None,
            np.array([trail]),
            np.array(cart.casters_xy),
            shop.wishes.caster_load.low_si * fact("general.gravity").value,
            {
                "frame": _own_m(cart, [p.name for p in cart.placed] + _UNDER),
                "vacuum": _own_m(cart, ["vacuum"]),
                "full": _own_m(cart, ["bucket", "cyclone"]),
                "light": _own_m(cart, ["bucket", "cyclone"]),
            },
            _tugged(shop, cart),
        )

    def with_tallest(self, own_m: float, room_m: float, stands_on_m: float) -> tuple[_Frame, float]:
        """The frame with the tallest vacuum it can carry, and that vacuum's height [m]; its centre rises with it.

        Sought up to a quarter more than the shop's own: of a taller one the height says too
        little about where its weight is.
        """

        def raised(heights: Samples) -> _Frame:
            x, y, z = self.vacuum.centre_m
            z = stands_on_m + (z - stands_on_m) * heights / own_m
            centre = np.stack(np.broadcast_arrays(x, y, z))
            return replace(self, vacuum=Load(self.vacuum.name, self.vacuum.mass_kg, centre))

        own = min(own_m, room_m)
        _, most = _between(
            lambda heights: raised(heights).safe(None, None), own, own, min(room_m, 1.25 * own_m)
        )
        return raised(np.array([most])), most

    def safe(self, vacuum_kg: Samples | None, full_kg: Samples | None) -> NDArray[np.bool_]:
        """Whether they allow these masses, bucket full and empty, the full one also alone."""
        slope = fact("cart.tilt.angle").value
        gravity = fact("general.gravity").value
        slow, fast = fact("cart.push.walk").span
        fastest = slow + _WALKS * (fast - slow)
        vacuum = _heavy(self.vacuum, vacuum_kg)
        rolled = [[frame, vacuum] for frame in self.frames]
        stood = rolled
        if self.full is not None and self.light is not None:
            full = _heavy(self.full, full_kg)
            rolled = [[*each, top] for each in rolled for top in (self.light, full)]
            stood = [*rolled, *([frame, full] for frame in self.frames)]
        each_kg, each_centre = _all_of([together("all", loads) for loads in stood])
        # It goes over to the side on which its centre is nearest to the edge.
        sideways, lengthways = (
            np.minimum(*(arm_m(each_centre, self.axles_xy, SIDES[s], self.trail_m) for s in sides))
            for sides in (("left", "right"), ("front", "rear"))
        )
        slopes = np.arctan2(np.minimum(sideways, lengthways), each_centre[2])
        wheels = worst_wheel_n(
            each_kg.ravel(), each_centre[:2].reshape(2, -1), self.axles_xy, self.trail_m
        )
        safe: NDArray[np.bool_] = np.all(
            (slopes >= slope) & (wheels.reshape(slopes.shape) <= self.rated_n), axis=0
        )
        # What is only lifted off it is not pushed about.
        rolls = slice(len(rolled))
        mass, centre = each_kg[rolls], each_centre[:, rolls]
        arms = sideways[rolls], lengthways[rolls]
        for at_m, force in self.tugged:
            pulled = tipping_force_n(mass * gravity, np.minimum(*arms), at_m)
            safe = safe & np.all(pulled >= force, axis=0)
        carried = [_all_of(some) for some in zip(*rolled, strict=True)]
        for axis in (0, 1):
            ways = [axis, 2]
            parts = [
                (kg, middles[ways], np.array([[self.own_m[x.name][axis]] for x in some]))
                for some, (kg, middles) in zip(zip(*rolled, strict=True), carried, strict=True)
            ]
            gyration = gyration_m(parts, centre[ways])
            stopped = stumble_speed_m_s(arms[axis], centre[2], gyration)
            safe = safe & np.all(stopped >= fastest, axis=0)
        return safe


def _all_of(loads: Sequence[Load]) -> tuple[Samples, Samples]:
    """Masses (k, n) and centres (3, k, n) of several loads, one a row."""
    count = max(max(len(load.mass_kg), load.centre_m.shape[1]) for load in loads)
    shape = (len(loads), count)
    mass, centre = np.empty(shape), np.empty((3, *shape))
    for row, load in enumerate(loads):
        mass[row], centre[:, row] = load.mass_kg, load.centre_m
    return mass, centre


#: Bodies that belong to the frame besides its panels.
_UNDER = [
    *(f"{row} {side} caster" for row in ("front", "rear") for side in ("left", "right")),
    "ballast",
]


def _own_m(cart: CheckedCart, names: Sequence[str]) -> tuple[float, float]:
    """Radius of gyration of some bodies together, for falling sideways and front to back [m].

    Each as the box that it fills and by its volume, which all of them share in alike.
    """
    bodies = [b for b in cart.bodies if b.name in names]
    if not bodies:
        return 0.0, 0.0
    volume = np.array([b.volume_m3 for b in bodies])
    middles = np.array([(b.low + b.high) / 2 for b in bodies])
    sizes = np.array([b.high - b.low for b in bodies])
    centre = volume @ middles / volume.sum()
    square = volume @ ((middles - centre) ** 2 + sizes**2 / 12) / volume.sum()
    return float(np.sqrt(square[0] + square[2])), float(np.sqrt(square[1] + square[2]))


def _tugged(shop: Shop, cart: CheckedCart) -> tuple[tuple[float, float], ...]:
    """Where the cart is pulled by its tool hose [m], and the most that this pulls with [N]."""
    low = [b for b in cart.bodies if b.name == "hose anchor"]
    if low:
        at_m = float(low[0].low[2] + low[0].high[2]) / 2
    elif "cyclone" in cart.parts:
        cyclone = shop.separator.cyclone
        at_m = middle(cart.parts["cyclone"].centre_m[2])
        at_m += cyclone.inlet_height.best_si - cyclone.height.best_si / 2
    else:
        at_m = cart.sizes.bottom_top_m + shop.vacuum.inlet_height.best_si
    return ((at_m, max(fact("cart.push.tug").value, middle(hose_pull(shop, Draw(1))[1]))),)


def _between(
    safe: Callable[[Samples], NDArray[np.bool_]],
    start: float,
    least: float = 0.0,
    greatest: float = _HEAVIEST_KG,
) -> tuple[float, float]:
    """Ends of the range about ``start`` in which it stays safe; empty when it is not there.

    Looked for from ``least`` to ``greatest``.
    """
    if not safe(np.array([start]))[0]:
        return start, start
    ends = []
    for far in (least, greatest):
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
        v
        for v in vacuums
        if v.length_m <= longest_m and v.width_m <= widest_m and v.height_m <= highest_m
    ]
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
    """An opening for the most buckets of a table [m], carried by their rims.

    ``length_m`` is that of an opening for boxes, front to back; 0 where it is round.
    """

    diameter_m: float
    carried: tuple[str, ...]
    length_m: float = 0.0


def opening_for_most(buckets: Sequence[BucketSize]) -> OpeningFor:
    """The opening that carries the most buckets of a table by their rims.

    Each bucket allows the openings between its body, with play, and its rim, with bearing;
    the best opening lies where most of these spans overlap, at the low end of one of them.
    An opening for boxes has two such spans, and carries no round bucket.
    """
    best = _round_for_most([b for b in buckets if b.is_round])
    boxes = [b for b in buckets if not b.is_round]
    wide = {b.name: _span(b.top_diameter_m, b.rim_diameter_m) for b in boxes}
    long = {b.name: _span(b.top_length_m, b.rim_length_m) for b in boxes}
    for across, along in itertools.product(
        sorted({low for low, _ in wide.values()}), sorted({low for low, _ in long.values()})
    ):
        held = tuple(n for n in wide if _in(across, wide[n]) and _in(along, long[n]))
        if len(held) > len(best.carried):
            best = OpeningFor(across, held, along)
    return best


def _span(top_m: float, rim_m: float) -> tuple[float, float]:
    """Openings that a bucket allows, one way; empty where the second is the smaller."""
    play, bearing = fact("cart.opening.play").value, fact("cart.rim.bearing").value
    return top_m + play / 2, rim_m - 2 * bearing


def _in(opening_m: float, span: tuple[float, float]) -> bool:
    return span[0] <= opening_m + 1e-12 and opening_m <= span[1] + 1e-12


def _round_for_most(buckets: Sequence[BucketSize]) -> OpeningFor:
    spans = {b.name: _span(b.top_diameter_m, b.rim_diameter_m) for b in buckets}
    best = OpeningFor(0.0, ())
    for low in sorted({span[0] for span in spans.values()}):
        held = tuple(name for name, span in spans.items() if _in(low, span))
        if len(held) > len(best.carried):
            best = OpeningFor(low, held)
    return best


def _chosen(key: str, size_m: float) -> Quantity:
    text = f"{size_m * 1000:.2f} mm"
    return parse(text, "length").at(f"separator.bucket.{key}").standing_as("chosen")


def _full_and_empty(own: Bucket, wide: float, long: float, deep: float) -> dict[str, Quantity]:
    """What a bucket of these sizes [m] holds, and its weight: the shop's own by its wall's area.

    ``long`` is 0 for a round one, ``wide`` then its diameter.
    """
    share = math.pi / 4 if long == 0 else 1.0
    long = long or wide

    def wall(a: float, b: float, side: float) -> float:
        return 2 * (a + b) * side + 2 * a * b

    top = own.top
    was = wall(top[0].best_si, top[1].best_si, own.height.best_si)
    was *= 1.0 if own.shape == "box" else math.pi / 4
    kg = own.weight.best_si * share * wall(wide, long, deep) / was
    holds = parse(f"{share * wide * long * deep * 1000:.2f} L", "volume")
    weighs = parse(f"{kg:.2f} kg", "mass")
    return {
        "volume": holds.at("separator.bucket.volume").standing_as("chosen"),
        "weight": weighs.at("separator.bucket.weight").standing_as("assumed"),
    }


def _bucket_update(hole: OpeningFor, chosen: Sequence[BucketSize], own: Bucket) -> dict[str, Any]:
    """A bucket that stands for all that an opening carries: as large as it passes, rim smallest.

    It holds and weighs what the largest would, so that slope and casters are judged by that.
    """
    play = fact("cart.opening.play").value
    deep = max(b.side_m for b in chosen)
    sizes = {"height": deep + own.rim_drop.best_si}
    across = "diameter" if hole.length_m == 0 else "width"
    sizes[f"top_{across}"] = sizes[f"bottom_{across}"] = hole.diameter_m - play
    sizes[f"rim_{across}"] = min(b.rim_diameter_m for b in chosen)
    if hole.length_m:
        sizes["top_length"] = sizes["bottom_length"] = hole.length_m - play
        sizes["rim_length"] = min(b.rim_length_m for b in chosen)
    long = hole.length_m - play / 2 if hole.length_m else 0.0
    return {key: _chosen(key, size) for key, size in sizes.items()} | _full_and_empty(
        own, hole.diameter_m - play / 2, long, deep
    )


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
        vacuums,
        w.largest_length.best_si - play,
        w.largest_width.best_si - play,
        w.greatest_height.best_si,
    )
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
        becomes = _bucket_update(hole, chosen, bucket)
        if hole.length_m:
            # Sharp corners pass where the table's rounder ones do.
            becomes["corner"] = _chosen("corner", 0.0)
        if bucket.is_round != (hole.length_m == 0):
            gone = ("top", "bottom", "rim")
            ways = ("length", "width") if hole.length_m == 0 else ("diameter",)
            becomes |= {f"{level}_{way}": None for level in gone for way in ways}
            becomes["shape"] = "straight" if hole.length_m == 0 else "box"
            becomes.setdefault("corner", None)
        separator = shop.separator.model_copy(update={"bucket": bucket.model_copy(update=becomes)})
        changed = changed.model_copy(update={"separator": separator})
    return changed, bay.carried, hole.carried
