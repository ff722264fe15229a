"""The checks of a finished cart, whatever its form."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..cart.model import FREE_M, HeldBucket, HosePath, Sizes
from ..fact_samples import Samples
from ..finding import Finding, judge
from ..joinery.marks import MarkingRule
from ..quantity import Draw, Quantity
from ..shop import AssumedText, Bucket, Hose, Shop
from ..sources import fact
from .tipping import Stand

_STAND_DO = {
    "front": "Lower the separator, widen the base, or set heavy things deeper in it.",
    "rear": "Set the base deeper, or move the separator forward.",
    "left": "Widen the base.",
    "right": "Widen the base.",
}


def distinct(quantities: Sequence[Quantity]) -> list[Quantity]:
    """The quantities, each once: a round bucket gives one diameter for both ways across."""
    return list({q.path: q for q in quantities}.values())


def opening_text(held: HeldBucket, rule: MarkingRule) -> str:
    """An opening's size in words, side to side first."""
    wide, long = rule.text(held.opening_m), rule.text(held.opening_length_m)
    return f"{wide} by {long}" if held.is_box else wide


@dataclass(frozen=True)
class Checker:
    """What the checks of fit and stand read of a cart, and the checks themselves."""

    shop: Shop
    draw: Draw
    rule: MarkingRule
    sizes: Sizes
    out_of_way: str

    def _judge(self, **words: object) -> Finding:
        return judge(room="cart", draw=self.draw, **words)  # type: ignore[arg-type]

    def fits(
        self, bay_play: tuple[float, float], clear_m: Samples | float, over: HeldBucket | None
    ) -> list[Finding]:
        """Whether the vacuum goes in, comes out, and opens where it stands.

        ``bay_play`` is bay width and depth for it, ``clear_m`` the height of its way out under
        the bucket ``over`` it [m].
        """
        vacuum, draw = self.shop.vacuum, self.draw
        clearance = self.shop.wishes.clearance.best_si
        findings = []
        for name, bay, quantity in (
            ("width", bay_play[0], vacuum.width),
            ("depth", bay_play[1], vacuum.length),
        ):
            findings.append(
                self._judge(
                    key=f"cart.fit.{name}",
                    about="vacuum",
                    check=f"goes in by its {name}",
                    value=bay - draw.of(quantity),
                    limit=clearance,
                    must="at least",
                    dimension="length",
                    rests_on=[quantity],
                    unresolved=[quantity.path] if quantity.assumed else [],
                    good=f"The bay leaves play for the vacuum's {name}.",
                    bad=f"The bay is too tight for the vacuum's {name}.",
                    do=f"Measure the vacuum's {name} before cutting.",
                    fail="stop",
                )
            )
        lift = self.sizes.lip_height_m + fact("cart.lift.gap").value / 2
        bucket = self.shop.separator.bucket
        hung: list[Quantity] = []
        if over is not None and over.hold != "standing":
            hung = [bucket.height, bucket.rim_drop]
            hung += distinct([*bucket.top, *bucket.bottom]) if over.hold == "taper" else []
        findings.append(
            self._judge(
                key="cart.fit.lift",
                about="vacuum",
                check="comes out over the lipping",
                value=clear_m - draw.of(vacuum.height),
                limit=lift,
                must="at least",
                dimension="length",
                rests_on=[vacuum.height, *hung],
                unresolved=[vacuum.height.path] if vacuum.height.assumed else [],
                sources=["cart.lift.gap"],
                good=f"The vacuum lifts over the lipping and comes out {self.out_of_way}.",
                bad="There is too little height over the vacuum to lift it over the lipping.",
                do=(
                    "Measure the bucket at top and floor, try its opening in scrap first, or "
                    if over is not None and over.hold == "taper"
                    else "Measure the vacuum's height before cutting, or "
                )
                + "leave the lipping loose.",
                fail="stop",
            )
        )
        findings.append(
            self._judge(
                key="cart.fit.lid",
                about="vacuum",
                check="lid opens where it stands",
                value=clear_m - draw.of(vacuum.height),
                limit=draw.of(vacuum.headroom),
                must="at least",
                dimension="length",
                rests_on=[vacuum.headroom, vacuum.height, *hung],
                good="The lid opens and the filter is in reach with the vacuum in place.",
                bad="Take the vacuum out to open its lid and to clean the filter; it stays in reach.",
                do="Pull the hose off, lift the vacuum over the lipping and open it outside.",
                fail="advice",
            )
        )
        return findings

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

    def bucket(self, held: HeldBucket) -> list[Finding]:
        """Whether the bucket is held as wished, and can be lifted out."""
        bucket, draw = self.shop.separator.bucket, self.draw
        findings = []
        if held.hold == "rim":
            rests = distinct([*bucket.top, *bucket.rim])
            bearing = self._rim_bearing(bucket, held)
            findings.append(
                self._judge(
                    key="cart.bucket.rim",
                    about="bucket",
                    check="body passes the opening, rim rests",
                    value=bearing,
                    limit=0.0,
                    must="at least",
                    dimension="length",
                    rests_on=rests,
                    unresolved=[q.path for q in rests if q.assumed],
                    sources=["cart.rim.bearing"],
                    good=f"An opening of {opening_text(held, self.rule)} passes the body and "
                    "carries the rim all round.",
                    bad="The opening does not both pass the body and carry the rim.",
                    do="Measure the bucket over its rim and just under it before cutting the opening.",
                    fail="stop",
                )
            )
        if held.hold == "taper":
            rests = distinct([*bucket.top, *bucket.bottom])
            spread = held.most_m - held.least_m
            findings.append(
                self._judge(
                    key="cart.bucket.taper",
                    about="bucket",
                    check="wedges before its rim",
                    value=held.depth_m,
                    limit=draw.of(bucket.height) - draw.of(bucket.rim_drop) - 0.006,
                    must="at most",
                    dimension="length",
                    rests_on=rests,
                    unresolved=[q.path for q in rests if q.assumed],
                    good="The bucket wedges on its taper; it hangs between "
                    f"{self.rule.text(held.least_m)} and {self.rule.text(held.most_m)} below the "
                    f"shelf's top, a range of {self.rule.text(spread)}, all kept clear.",
                    bad="The bucket slips through to its rim.",
                    do="Measure it at top and floor; try the opening in scrap first; or carry the rim.",
                )
            )
        room = self.shop.room.height
        lift = (
            self.sizes.shelf_top_m
            + draw.of(bucket.height)
            + draw.of(self.shop.separator.cyclone.height)
        )
        findings.append(
            self._judge(
                key="cart.bucket.out",
                about="bucket",
                check="lifts out of the shelf with its lid",
                value=lift,
                limit=draw.of(room),
                must="at most",
                dimension="length",
                rests_on=[room, bucket.height, self.shop.separator.cyclone.height],
                good="The ceiling leaves room to lift the bucket out with the cyclone on it.",
                bad="The ceiling is too low to lift the bucket out with the cyclone on it.",
                do="Take the lid with the cyclone off first, then lift the bucket.",
                fail="advice",
            )
        )
        return findings

    def hangs(self, held: HeldBucket, under_m: float | None) -> list[Finding]:
        """Whether a bucket that hangs over the bottom is clear of it."""
        if under_m is None or held.hold == "standing":
            return []
        bucket = self.shop.separator.bucket
        return [
            self._judge(
                key="cart.bucket.clear",
                about="bucket",
                check="hangs clear of the bottom",
                value=under_m - held.depth_m,
                limit=0.0,
                must="at least",
                dimension="length",
                rests_on=[bucket.height, bucket.rim_drop],
                good="It hangs by its shelf alone.",
                bad="It stands on the bottom before its shelf carries it, and rocks.",
                do="Measure the bucket up to its rim before cutting the uprights.",
                fail="stop",
            )
        ]

    def wishes(self) -> list[Finding]:
        """Whether the footprint is within the wishes, and the cart passes the door."""
        w, s = self.shop.wishes, self.sizes
        rows = (
            ("footprint.length", "footprint front to back", s.length_m, w.largest_length, 0.0),
            ("footprint.width", "footprint side to side", s.width_m, w.largest_width, 0.0),
            (
                "door",
                "passes the narrowest door",
                s.passing_m,
                w.narrowest_door,
                fact("cart.door.play").value,
            ),
        )
        return [
            self._judge(
                key=f"cart.{key}",
                about="",
                check=what,
                value=value,
                limit=self.draw.of(limit) - play,
                must="at most",
                dimension="length",
                rests_on=[limit],
                good=f"{self.rule.text(value)} is within {self.rule.text(limit.best_si)}.",
                bad=f"{self.rule.text(value)} is over {self.rule.text(limit.best_si)}.",
                do="Measure the door."
                if key == "door" and limit.assumed
                else "Change the wish, or another form.",
            )
            for key, what, value, limit, play in rows
        ]

    def height(self, total: Samples, rests_on: Sequence[Quantity]) -> Finding:
        """Whether the cart with the separator on is as low as wished."""
        limit = self.shop.wishes.greatest_height.best_si
        return self._judge(
            key="cart.height",
            about="",
            check="height with the separator on",
            value=total,
            limit=limit,
            must="at most",
            dimension="length",
            rests_on=rests_on,
            good=f"It stays under {self.rule.text(limit)}.",
            bad=f"It may stand over {self.rule.text(limit)}.",
            do="Measure bucket and cyclone, or allow more height.",
        )

    def stands(self, stands: Sequence[Stand], rests_on: Sequence[Quantity]) -> list[Finding]:
        """Whether it stands on the test's slope, falling to each side, in the worst of its states."""
        slope = fact("cart.tilt.angle").value
        findings = []
        for side in ("front", "rear", "left", "right"):
            worst = min(stands, key=lambda s: float(np.mean(s.tilt_rad[side])))
            value = np.minimum.reduce([s.tilt_rad[side] for s in stands])
            findings.append(
                self._judge(
                    key=f"cart.tilt.{side}",
                    about="",
                    check=f"stands on a 10° slope that falls to its {side}, wheels trailed worst",
                    value=value,
                    limit=slope,
                    must="at least",
                    dimension="angle",
                    rests_on=rests_on,
                    sources=["cart.tilt.angle"],
                    good=f"It overturns to the {side} only beyond "
                    f"{np.degrees(np.quantile(value, 0.05)):.0f}° (worst: {worst.state}).",
                    bad=f"It can overturn to the {side} on a slope of "
                    f"{np.degrees(np.quantile(value, 0.05)):.0f}° (worst: {worst.state}).",
                    do=_STAND_DO[side],
                    fail="stop",
                )
            )
        return findings

    def casters(self, worst_n: Samples, rests_on: Sequence[Quantity]) -> Finding:
        """Whether a caster is rated for what the wheel that carries most carries."""
        rated = self.shop.wishes.caster_load
        gravity = fact("general.gravity").value
        return self._judge(
            key="cart.casters.load",
            about="casters",
            check="one caster carries its share with another lifted",
            value=worst_n / gravity,
            limit=self.draw.of(rated),
            must="at most",
            dimension="mass",
            rests_on=[rated, *rests_on],
            sources=["cart.floor.unevenness"],
            good="Each caster is rated for more than it ever carries, one wheel lifted.",
            bad="With one wheel lifted, two others carry nearly all: more than they are rated for.",
            do="Choose casters rated higher.",
        )

    def hose(self, path: HosePath, hose: Hose) -> list[Finding]:
        """Whether the link hose bends nowhere tighter than it may, and is long enough."""
        # A tenth of a millimetre for what rounding leaves of a bend laid at its limit.
        tightest = min(b.radius_m for b in path.bends) + 1e-4
        bend = self._judge(
            key="cart.hose.bend",
            about=hose.name,
            check="bends wider than where it kinks",
            value=tightest,
            limit=self.draw.of(hose.smallest_bend),
            must="at least",
            dimension="length",
            rests_on=[hose.smallest_bend],
            good=f"Its tightest bend is {self.rule.text(tightest)} in radius.",
            bad=f"A bend of {self.rule.text(tightest)} in radius may kink it.",
            do="Put an elbow on the outlet or the inlet, or use a hose that bends tighter.",
        )
        length = self._judge(
            key="cart.hose.length",
            about=hose.name,
            check="long enough from separator to vacuum",
            value=self.draw.of(hose.length),
            limit=path.cut_m,
            must="at least",
            dimension="length",
            rests_on=[hose.length],
            good=f"{self.rule.text(path.cut_m)} of it are needed.",
            bad=f"The way from separator to vacuum takes {self.rule.text(path.cut_m)} of hose.",
            do=f"Get {self.rule.text(path.cut_m)} of hose of the same bore.",
            fail="advice" if hose.length.assumed else "problem",
        )
        return [bend, length]

    def air(self, gaps: dict[str, float]) -> list[Finding]:
        """Where the motor breathes: free distance on each side of the vacuum [m]."""
        need = fact("cart.air.gap").value
        vacuum, findings = self.shop.vacuum, []
        # A larger vacuum leaves less: all of it above, half of it beside, as it stands amid its bay.
        grows = {
            "top": (vacuum.height, 1.0),
            "front": (vacuum.length, 0.5),
            "rear": (vacuum.length, 0.5),
            "left": (vacuum.width, 0.5),
            "right": (vacuum.width, 0.5),
        }
        for way, side, what in (
            ("air_in", self.shop.vacuum.air_in_on, "breathes in"),
            ("air_out", self.shop.vacuum.air_out_on, "breathes out"),
        ):
            path = f"vacuum.{way}_on"
            # A side that was only assumed settles nothing where another one is shut in.
            guessed = isinstance(side, AssumedText) and min(gaps.values()) < need
            size, share = grows[side]
            close = gaps[side] < FREE_M
            more = share * (self.draw.of(size) - size.best_si) if close else 0.0
            findings.append(
                self._judge(
                    key=f"cart.{way}",
                    about="vacuum",
                    check=f"motor {what} freely ({side})",
                    value=gaps[side] - more,
                    limit=need,
                    must="at least",
                    dimension="length",
                    rests_on=[size] if close else [],
                    unresolved=[path] if guessed else [],
                    sources=["cart.air.gap"],
                    good=f"Where it {what}, at the {side}, nothing stands within "
                    f"{self.rule.text(need)}.",
                    bad=f"Where it {what}, at the {side}, wood stands within "
                    f"{self.rule.text(gaps[side])}.",
                    do=f"Turn the vacuum, or check `{path}`: a motor that cannot breathe overheats.",
                )
            )
        return findings
