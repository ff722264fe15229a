"""The checks of a finished cart, whatever its form."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from ..cart.model import FREE_M, HeldBucket, HosePath, Sizes
from ..fact_samples import Samples
from ..facts import Amount, Fact, Ref, Term, facts, state
from ..finding import Finding, finding, judge
from ..quantity import Draw, Quantity
from ..shop import AssumedText, Bucket, Hose, Shop
from ..sources import fact
from .tipping import SIDES, Stand

_VACUUM, _BUCKET, _CASTERS = (Term("part", part) for part in ("vacuum", "bucket", "casters"))


def distinct(quantities: Sequence[Quantity]) -> list[Quantity]:
    """The quantities, each once: a round bucket gives one diameter for both ways across."""
    return list({q.path: q for q in quantities}.values())


def _to_measure(
    across: Sequence[Quantity], corner: Quantity | None
) -> Literal["sizes", "corner", "both"]:
    """What of a bucket settles how its rim rests: what was assumed of it, or else its sizes."""
    if corner is None or not corner.assumed:
        return "sizes"
    return "both" if any(q.assumed for q in across) else "corner"


def opening_size(held: HeldBucket) -> Fact:
    """An opening's size, side to side first."""
    wide, long = Amount(held.opening_m, "length"), Amount(held.opening_length_m, "length")
    return state("size.by", wide=wide, long=long) if held.is_box else wide


@dataclass(frozen=True)
class Checker:
    """What the checks of fit and stand read of a cart, and the checks themselves."""

    shop: Shop
    draw: Draw
    sizes: Sizes
    out_of_way: Literal["front", "up"]

    def fits(
        self, bay_play: tuple[float, float], clear_m: Samples | float, over: HeldBucket | None
    ) -> list[Finding]:
        """Whether the vacuum goes in, comes out, and opens where it stands.

        ``bay_play`` is bay width and depth for it, ``clear_m`` the height of its way out under
        the bucket ``over`` it [m].
        """
        vacuum, draw = self.shop.vacuum, self.draw
        found = [
            judge(
                key="cart.fit.width" if way == "width" else "cart.fit.depth",
                about=_VACUUM,
                draw=draw,
                value=bay - draw.of(quantity),
                limit=self.shop.wishes.clearance.best_si,
                must="at least",
                dimension="length",
                rests_on=[quantity],
                unresolved=[quantity.path] if quantity.assumed else [],
                outcome="tight",
                fail="stop",
            )
            for way, bay, quantity in (
                ("width", bay_play[0], vacuum.width),
                ("depth", bay_play[1], vacuum.length),
            )
        ]
        lift = self.sizes.lip_height_m + fact("cart.lift.gap").value / 2
        bucket = self.shop.separator.bucket
        hung: list[Quantity] = []
        if over is not None and over.hold != "standing":
            hung = [bucket.height, bucket.rim_drop]
            hung += distinct([*bucket.top, *bucket.bottom]) if over.hold == "taper" else []
        found.append(
            judge(
                key="cart.fit.lift",
                about=_VACUUM,
                draw=draw,
                value=clear_m - draw.of(vacuum.height),
                limit=lift,
                must="at least",
                dimension="length",
                rests_on=[vacuum.height, *hung],
                unresolved=[vacuum.height.path] if vacuum.height.assumed else [],
                sources=["cart.lift.gap"],
                outcome="low",
                facts=facts(
                    way=self.out_of_way,
                    above="taper" if over is not None and over.hold == "taper" else "other",
                ),
                fail="stop",
            )
        )
        found.append(
            judge(
                key="cart.fit.lid",
                about=_VACUUM,
                draw=draw,
                value=clear_m - draw.of(vacuum.height),
                limit=draw.of(vacuum.headroom),
                must="at least",
                dimension="length",
                rests_on=[vacuum.headroom, vacuum.height, *hung],
                outcome="outside",
                fail="advice",
            )
        )
        return found

    def _rim_bearing(self, bucket: Bucket, held: HeldBucket) -> Samples:
        """Spare bearing of the rim, or spare play of the body where that is less [m]."""
        draw, least = self.draw, fact("cart.rim.bearing").value
        margins = []
        over = []
        for opening, top, rim in zip(
            (held.opening_m, held.opening_length_m), bucket.top, bucket.rim, strict=True
        ):
            bearing = (draw.of(rim) - opening) / 2
            over.append((draw.of(rim) - draw.of(top)) / 2)
            margins += [bearing - least, opening - draw.of(top)]
        if bucket.corner is not None:
            # On the diagonal both corners are rounded, the rim's about the wall's own.
            corner = draw.of(bucket.corner) + np.maximum(*over)
            flat = np.minimum(margins[0], margins[2]) + least
            margins.append(
                math.sqrt(2) * flat - (math.sqrt(2) - 1) * (corner - held.corner_m) - least
            )
        spare: Samples = np.minimum.reduce(margins)
        return spare

    def bucket(self, held: HeldBucket, total: Samples) -> list[Finding]:
        """Whether the bucket is held as wished, and can be lifted out.

        ``total`` is the height of the whole cart [m]: where that is over the ceiling, it is not
        there that the bucket is lifted out.
        """
        bucket, draw = self.shop.separator.bucket, self.draw
        found = []
        if held.hold == "rim":
            rests = distinct([*bucket.top, *bucket.rim])
            corner = bucket.corner
            found.append(
                judge(
                    key="cart.bucket.rim",
                    about=_BUCKET,
                    draw=draw,
                    value=self._rim_bearing(bucket, held),
                    limit=0.0,
                    must="at least",
                    dimension="length",
                    rests_on=rests if corner is None else [*rests, corner],
                    unresolved=[q.path for q in rests if q.assumed],
                    sources=["cart.rim.bearing"],
                    outcome="wrong_size",
                    facts=facts(opening=opening_size(held), measure=_to_measure(rests, corner)),
                    fail="stop",
                )
            )
        if held.hold == "taper":
            rests = distinct([*bucket.top, *bucket.bottom])
            found.append(
                judge(
                    key="cart.bucket.taper",
                    about=_BUCKET,
                    draw=draw,
                    value=held.depth_m,
                    limit=draw.of(bucket.height) - draw.of(bucket.rim_drop) - 0.006,
                    must="at most",
                    dimension="length",
                    rests_on=rests,
                    unresolved=[q.path for q in rests if q.assumed],
                    outcome="slips",
                    facts=facts(
                        least=Amount(held.least_m, "length"),
                        most=Amount(held.most_m, "length"),
                        spread=Amount(held.most_m - held.least_m, "length"),
                    ),
                )
            )
        room, cyclone = self.shop.room.height, self.shop.separator.cyclone
        lifted = self.sizes.shelf_top_m + draw.of(bucket.height) + draw.of(cyclone.height)
        found.append(
            judge(
                key="cart.bucket.out",
                about=_BUCKET,
                draw=draw,
                value=np.maximum(lifted, total),
                limit=draw.of(room),
                must="at most",
                dimension="length",
                rests_on=[room, bucket.height, cyclone.height],
                outcome="low_ceiling",
                fail="advice",
            )
        )
        return found

    def hangs(self, held: HeldBucket, under_m: float | None) -> list[Finding]:
        """Whether a bucket that hangs over the bottom is clear of it."""
        if under_m is None or held.hold == "standing":
            return []
        bucket = self.shop.separator.bucket
        return [
            judge(
                key="cart.bucket.clear",
                about=_BUCKET,
                draw=self.draw,
                value=under_m - held.depth_m,
                limit=0.0,
                must="at least",
                dimension="length",
                rests_on=[bucket.height, bucket.rim_drop],
                outcome="rocks",
                fail="stop",
            )
        ]

    def wishes(self) -> list[Finding]:
        """Whether the footprint is within the wishes, and the cart passes the door."""
        w, s = self.shop.wishes, self.sizes
        footprint = [
            judge(
                key="cart.footprint.length" if way == "length" else "cart.footprint.width",
                about=None,
                draw=self.draw,
                value=value,
                limit=self.draw.of(limit),
                must="at most",
                dimension="length",
                rests_on=[limit],
                outcome="over",
                facts=facts(size=Amount(value, "length"), limit=Amount(limit.best_si, "length")),
            )
            for way, value, limit in (
                ("length", s.length_m, w.largest_length),
                ("width", s.width_m, w.largest_width),
            )
        ]
        door = w.narrowest_door
        passes = judge(
            key="cart.door",
            about=None,
            draw=self.draw,
            value=s.passing_m,
            limit=self.draw.of(door) - fact("cart.door.play").value,
            must="at most",
            dimension="length",
            rests_on=[door],
            outcome="over",
            facts=facts(
                size=Amount(s.passing_m, "length"),
                limit=Amount(door.best_si, "length"),
                door="assumed" if door.assumed else "measured",
            ),
        )
        return [*footprint, passes]

    def height(self, total: Samples, rests_on: Sequence[Quantity]) -> Finding:
        """Whether the cart with the separator on is as low as wished."""
        limit = self.shop.wishes.greatest_height.best_si
        return judge(
            key="cart.height",
            about=None,
            draw=self.draw,
            value=total,
            limit=limit,
            must="at most",
            dimension="length",
            rests_on=rests_on,
            outcome="over",
            facts=facts(limit=Amount(limit, "length")),
        )

    def room(self, total: Samples, rests_on: Sequence[Quantity]) -> list[Finding]:
        """Whether the cart, and then its link hose on it, stands in a room of known height.

        ``total`` is the height of the cart without its link hose [m].
        """
        if self.shop.room.height.assumed:
            return []
        stands = self._under_ceiling(total, rests_on, hose=False)
        if stands.level != "good":
            return [stands]
        wheel = self.shop.wishes.caster_height
        hose_top = self.sizes.hose_top_m + self.draw.of(wheel) - wheel.best_si
        return [self._under_ceiling(np.maximum(total, hose_top), rests_on, hose=True)]

    def _under_ceiling(self, high: Samples, rests_on: Sequence[Quantity], *, hose: bool) -> Finding:
        ceiling = self.shop.room.height
        return judge(
            key="cart.room",
            about=None,
            draw=self.draw,
            value=high,
            limit=self.draw.of(ceiling),
            must="at most",
            dimension="length",
            rests_on=[ceiling, *rests_on],
            outcome="hose" if hose else "low",
            facts=facts(
                size=Amount(float(np.median(high)), "length"),
                ceiling=Amount(ceiling.best_si, "length"),
            ),
            fail="problem" if hose else "stop",
        )

    def over_hose(self) -> list[Finding]:
        """Whether the link hose stays within the height and the depth that are wished for."""
        w, s = self.shop.wishes, self.sizes
        found = []
        if s.hose_top_m > s.height_m:
            found.append(_with_hose(s.height_over_hose_m, w.greatest_height, high=True))
        if s.length_over_hose_m > s.length_m:
            found.append(_with_hose(s.length_over_hose_m, w.largest_length, high=False))
        # Where it goes through doors sideways, the hose in front goes with it.
        through = min(s.width_m, s.length_over_hose_m)
        door = w.narrowest_door.low_si - fact("cart.door.play").value
        if s.passing_m <= door < through:
            size = Amount(through, "length")
            found.append(finding("cart.door.hose", "over", "advice", facts=facts(size=size)))
        return found

    def stands(self, stands: Sequence[Stand], rests_on: Sequence[Quantity]) -> list[Finding]:
        """Whether it stands on the test's slope, falling to each side, in the worst of its states."""
        slope = fact("cart.tilt.angle").value
        found = []
        for side in SIDES:
            worst = min(stands, key=lambda s: float(np.mean(s.tilt_rad[side])))
            value = np.minimum.reduce([s.tilt_rad[side] for s in stands])
            found.append(
                judge(
                    key="cart.tilt.front"
                    if side == "front"
                    else "cart.tilt.rear"
                    if side == "rear"
                    else "cart.tilt.left"
                    if side == "left"
                    else "cart.tilt.right",
                    about=None,
                    draw=self.draw,
                    value=value,
                    limit=slope,
                    must="at least",
                    dimension="angle",
                    rests_on=rests_on,
                    sources=["cart.tilt.angle"],
                    outcome="overturns",
                    facts=facts(
                        slope=Amount(slope, "angle"),
                        beyond=Amount(float(np.quantile(value, 0.05)), "angle"),
                        worst=Term("state", worst.state),
                    ),
                    fail="stop",
                )
            )
        return found

    def casters(self, worst_n: Samples, rests_on: Sequence[Quantity]) -> Finding:
        """Whether a caster is rated for what the wheel that carries most carries."""
        rated = self.shop.wishes.caster_load
        gravity = fact("general.gravity").value
        return judge(
            key="cart.casters.load",
            about=_CASTERS,
            draw=self.draw,
            value=worst_n / gravity,
            limit=self.draw.of(rated),
            must="at most",
            dimension="mass",
            rests_on=[rated, *rests_on],
            sources=["cart.floor.unevenness"],
            outcome="over",
        )

    def hose(self, path: HosePath, hose: Hose) -> list[Finding]:
        """Whether the link hose bends nowhere tighter than it may, and is long enough."""
        # A tenth of a millimetre for what rounding leaves of a bend laid at its limit.
        tightest = min(b.radius_m for b in path.bends) + 1e-4
        bend = judge(
            key="cart.hose.bend",
            about=Ref("hose", hose.name),
            draw=self.draw,
            value=tightest,
            limit=self.draw.of(hose.smallest_bend),
            must="at least",
            dimension="length",
            rests_on=[hose.smallest_bend],
            outcome="kinks",
            facts=facts(radius=Amount(tightest, "length")),
        )
        length = judge(
            key="cart.hose.length",
            about=Ref("hose", hose.name),
            draw=self.draw,
            value=self.draw.of(hose.length),
            limit=path.cut_m,
            must="at least",
            dimension="length",
            rests_on=[hose.length],
            outcome="short",
            facts=facts(needed=Amount(path.cut_m, "length")),
            fail="advice" if hose.length.assumed else "problem",
        )
        return [bend, length]

    def air(self, gaps: dict[str, float]) -> list[Finding]:
        """Where the motor breathes: free distance on each side of the vacuum [m]."""
        need = fact("cart.air.gap").value
        vacuum, found = self.shop.vacuum, []
        # A larger vacuum leaves less: all of it above, half of it beside, as it stands amid its bay.
        grows = {
            "top": (vacuum.height, 1.0),
            "front": (vacuum.length, 0.5),
            "rear": (vacuum.length, 0.5),
            "left": (vacuum.width, 0.5),
            "right": (vacuum.width, 0.5),
        }
        for way, side in (("in", vacuum.air_in_on), ("out", vacuum.air_out_on)):
            # A side that was only assumed settles nothing where another one is shut in.
            guessed = isinstance(side, AssumedText) and min(gaps.values()) < need
            size, share = grows[side]
            close = gaps[side] < FREE_M
            more = share * (self.draw.of(size) - size.best_si) if close else 0.0
            found.append(
                judge(
                    key="cart.air_in" if way == "in" else "cart.air_out",
                    about=_VACUUM,
                    draw=self.draw,
                    value=gaps[side] - more,
                    limit=need,
                    must="at least",
                    dimension="length",
                    rests_on=[size] if close else [],
                    unresolved=[f"vacuum.air_{way}_on"] if guessed else [],
                    sources=["cart.air.gap"],
                    outcome="shut_in",
                    facts=facts(
                        side=Term("at", side),
                        needed=Amount(need, "length"),
                        gap=Amount(gaps[side], "length"),
                    ),
                )
            )
        return found


def _with_hose(size_m: float, wish: Quantity, *, high: bool) -> Finding:
    """A size with the link hose; it gives way, so that standing over is no fault of the wood."""
    over = size_m > wish.best_si
    return finding(
        "cart.height.hose" if high else "cart.footprint.hose",
        "over" if over else "good",
        "advice" if over else "good",
        facts=facts(size=Amount(size_m, "length"), limit=Amount(wish.best_si, "length")),
    )
