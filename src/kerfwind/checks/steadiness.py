"""Whether a cart goes over: on a slope, pushed, tugged, or stopped dead, in closed form.

All of it is asked of a cart that is only laid out, so that many sizes can be tried before one is
built.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np

from ..cart import CartLayout
from ..cart.loads import FRAME, SEPARATOR
from ..cart.model import Load
from ..cart.whole_cart import parts_of
from ..fact_samples import Samples, spread_fact
from ..facts import Amount, Ref, Term, facts
from ..finding import Finding, Level, judge
from ..quantity import Draw, Quantity, middle
from ..shop import Hose, Shop
from ..sources import fact
from .pushing import gyration_m, rolled_over_m, stumble_speed_m_s, tipping_force_n
from .standing import stands_of
from .tipping import SIDES, Stand

Check = Literal["tilt", "handle", "tug", "blocked", "stumble"]
#: What can tip a cart over, in the order in which it is told.
CHECKS: tuple[Check, ...] = ("tilt", "handle", "stumble", "tug", "blocked")

#: Checks of what could tip it, by the keys of their findings.
STEADINESS_KEYS = frozenset(
    {
        *(f"cart.tilt.{side}" for side in SIDES),
        "cart.push.handle",
        "cart.push.stumble",
        "cart.push.tug",
        "cart.push.blocked",
    }
)
#: Levels at which a cart does not pass.
FAILED: tuple[Level, ...] = ("stop", "problem")


@dataclass(frozen=True)
class _Stood:
    """A cart in several states, one a row: heights of its centre [m], weights [N], arms [m]."""

    height_m: Samples
    weight_n: Samples
    arm_m: dict[str, Samples]


@dataclass(frozen=True)
class Steadiness:
    """A cart that is laid out, and how it stands in each of its states."""

    shop: Shop
    layout: CartLayout
    draw: Draw

    @cached_property
    def parts(self) -> dict[str, Load]:
        """What it weighs, part by part."""
        return parts_of(self.shop, self.layout, self.draw)

    @cached_property
    def stands(self) -> tuple[Stand, ...]:
        """How it stands, in each of its states."""
        return stands_of(self.shop, self.layout, self.draw, self.parts)

    @cached_property
    def rolling(self) -> tuple[Stand, ...]:
        """The states in which it is pushed about: those with the vacuum in it."""
        return tuple(s for s in self.stands if s.state.vacuum_in)

    @cached_property
    def limits(self) -> dict[Check, Samples]:
        """What each check asks for: a slope [rad], forces [N], a speed [m/s]."""
        even = np.ones(self.draw.count)
        return {
            "tilt": fact("cart.tilt.angle").value * even,
            "handle": fact("cart.push.hand").value * even,
            "stumble": spread_fact("cart.push.walk", self.draw),
            "tug": fact("cart.push.tug").value * even,
            "blocked": self.pull[1] * even,
        }

    @cached_property
    def pull(self) -> tuple[Hose | None, Samples]:
        """The tool hose that pulls most when its port is blocked, and the force [N]."""
        return hose_pull(self.shop, self.draw)

    @cached_property
    def tied_m(self) -> Samples:
        """Height at which the tool hose pulls: where it is tied low, or at its port [m]."""
        if self.shop.wishes.hose_anchor == "low":
            return np.full(self.draw.count, self.layout.places.anchor_m[2])
        if "cyclone" in self.parts:
            cyclone = self.shop.separator.cyclone
            above = self.draw.of(cyclone.inlet_height) - self.draw.of(cyclone.height) / 2
            port: Samples = self.parts["cyclone"].centre_m[2] + above
            return port
        inlet = self.shop.vacuum.inlet_height
        height: Samples = self.layout.sizes.bottom_top_m + self.draw.of(inlet)
        return height

    def stands_for(self, check: Check) -> tuple[Stand, ...]:
        """The states that a check is made in."""
        return self.stands if check == "tilt" else self.rolling

    @cached_property
    def _together(self) -> dict[bool, _Stood]:
        """All states at once, and those in which it is rolled, one state a row."""
        gravity = fact("general.gravity").value
        found = {}
        for rolls, stands in ((False, self.stands), (True, self.rolling)):
            height = np.stack([s.load.centre_m[2] for s in stands])
            weight = np.stack([s.load.mass_kg * gravity for s in stands])
            arm = {
                side: np.tan(np.stack([s.tilt_rad[side] for s in stands])) * height
                for side in SIDES
            }
            found[rolls] = _Stood(height, weight, arm)
        return found

    @cached_property
    def _gyrations(self) -> dict[bool, Samples]:
        """Radius of gyration in each state in which it is rolled, one state a row [m]."""
        return {
            sideways: np.stack([self.gyrations[s.state, sideways] for s in self.rolling])
            for sideways in (False, True)
        }

    def values(self, check: Check, side: str, more_m: float = 0.0) -> Samples:
        """What it stands on one side, a state a row, its wheels ``more_m`` farther out there."""
        stood = self._together[check != "tilt"]
        arm = stood.arm_m[side] + more_m
        if check == "tilt":
            slope: Samples = np.arctan2(arm, stood.height_m)
            return slope
        if check == "handle":
            return tipping_force_n(stood.weight_n, arm, self.layout.sizes.handle_m)
        if check == "stumble":
            return stumble_speed_m_s(arm, stood.height_m, self._gyrations[SIDES[side][0] != 0])
        return tipping_force_n(stood.weight_n, arm, self.tied_m)

    def passed(self, check: Check, side: str, more_m: float = 0.0) -> float:
        """How likely a side passes a check in every state, its wheels so much farther out."""
        passed = (self.values(check, side, more_m) >= self.limits[check]).all(axis=0)
        return float(np.mean(passed))

    def chance(self, check: Check) -> float:
        """How likely it passes a check in every state and on every side."""
        limit = self.limits[check]
        passed = [(self.values(check, side) >= limit).all(axis=0) for side in SIDES]
        return float(np.mean(np.logical_and.reduce(passed)))

    @cached_property
    def gyrations(self) -> dict[tuple[object, bool], Samples]:
        """Radius of gyration in each state, about the axis along it and that across it [m]."""
        return {
            (s.state, sideways): self._gyration(s, 0 if sideways else 1)
            for s in self.rolling
            for sideways in (False, True)
        }

    @cached_property
    def _wood(self) -> dict[int, tuple[Samples, float]]:
        """All panels together, across one axis and up: their centre and own gyration [m]."""
        bench = self.layout.bench
        extents = [bench.extent(name) for name in bench.placed]
        volume = np.array([bench.plate(name)[0].volume_m3 for name in bench.placed])
        share = (volume / volume.sum())[:, None]
        middles = np.stack([(low + high) / 2 for low, high in extents])
        sizes = np.stack([high - low for low, high in extents])
        found = {}
        for axis in (0, 1):
            each, size = middles[:, [axis, 2]], sizes[:, [axis, 2]]
            centre = (share * each).sum(axis=0)
            own = math.sqrt((share * ((each - centre) ** 2 + size**2 / 12)).sum())
            found[axis] = centre[:, None], own
        return found

    def _size_of(self, part: str) -> tuple[float, float, float]:
        """A part that is carried, as a box [m]."""
        vacuum, bucket = self.shop.vacuum, self.shop.separator.bucket
        cyclone, ballast = self.shop.separator.cyclone, self.layout.places.where.ballast
        if part == "vacuum":
            return vacuum.width.best_si, vacuum.length.best_si, vacuum.height.best_si
        if part in ("bucket", "dust"):
            return bucket.rim[0].best_si, bucket.rim[1].best_si, bucket.height.best_si
        if part == "cyclone":
            across = cyclone.body_diameter.best_si
            return across, across, cyclone.height.best_si
        return ballast.size if part == "ballast" and ballast is not None else (0.0, 0.0, 0.0)

    def _gyration(self, stand: Stand, axis: int) -> Samples:
        """About a level axis through the centre of mass; ``axis`` is the one it falls along."""
        parts = [(self.parts["plywood"].mass_kg, *self._wood[axis])]
        gone = set() if stand.state.bucket_full else {"dust"}
        carried = {*FRAME, "vacuum", *SEPARATOR}
        for name, load in self.parts.items():
            if name == "plywood" or name in gone:
                continue
            if not stand.state.hung and name not in carried:
                continue
            box = self._size_of(name)
            own = math.hypot(box[axis], box[2]) / math.sqrt(12)
            parts.append((load.mass_kg, load.centre_m[[axis, 2]], own))
        return gyration_m(parts, stand.load.centre_m[[axis, 2]])


def sealed_pa(shop: Shop, draw: Draw) -> Samples:
    """The most suction that a blocked port can bring, by all that is said of the vacuum [Pa].

    The greatest of what its label says and what was read of it: none of them is left out, since
    a reading with air moving is less.
    """
    suction = shop.vacuum.suction
    rows = [draw.of(suction.sealed), *(draw.of(p.suction) for p in suction.points)]
    if suction.home_test is not None:
        rows += [draw.of(r.suction) for r in suction.home_test.readings]
    sealed: Samples = np.maximum.reduce(rows)
    return sealed


def hose_pull(shop: Shop, draw: Draw) -> tuple[Hose | None, Samples]:
    """The tool hose that pulls most when its port is blocked, and the force [N].

    A ribbed hose is pressed together end to end: its wall takes no thrust, so that the suction
    on its bore pulls at what it hangs on. A smooth wall takes the thrust itself.
    """
    sealed = sealed_pa(shop, draw)
    hoses = [h for h in shop.hoses if h.use == "tool" and h.wall == "ribbed"]
    pulls = [(h, sealed * math.pi / 4 * draw.of(h.bore) ** 2) for h in hoses]
    none: tuple[Hose | None, Samples] = (None, np.zeros(draw.count))
    return max(pulls, key=lambda p: float(np.mean(p[1])), default=none)


def weighing(shop: Shop) -> list[Quantity]:
    """The shop's quantities behind a cart's weight and where its centre is."""
    rests = [shop.vacuum.weight, shop.vacuum.height]
    if shop.separator.in_use:
        bucket = shop.separator.bucket
        rests += [bucket.height, bucket.weight, bucket.volume, shop.separator.cyclone.weight]
    return rests


def steadiness_findings(of: Steadiness) -> list[Finding]:
    """Every check of what could tip it or stop it, but for the slope."""
    return [_handle(of), _stumble(of), _threshold(of), *_tugs(of)]


def _worst(of: Steadiness, check: Check) -> tuple[Samples, Stand, str]:
    """The least over states and sides, and the one state and side that is worst of all."""
    values = {side: of.values(check, side) for side in SIDES}
    rows = [
        (values[side][row], stand, side)
        for row, stand in enumerate(of.stands_for(check))
        for side in SIDES
    ]
    _, stand, side = min(rows, key=lambda row: float(np.mean(row[0])))
    return np.minimum.reduce([value for value, _, _ in rows]), stand, side


def _handle(of: Steadiness) -> Finding:
    push, stand, side = _worst(of, "handle")
    return judge(
        key="cart.push.handle",
        about=None,
        draw=of.draw,
        value=push,
        limit=of.limits["handle"],
        must="at least",
        dimension="force",
        rests_on=weighing(of.shop),
        sources=["cart.push.hand"],
        fail="advice",
        outcome="tips",
        facts=facts(
            push=Amount(middle(push), "force"),
            side=Term("towards", side),
            state=Term("state", stand.state),
        ),
    )


def _stumble(of: Steadiness) -> Finding:
    speed, stand, side = _worst(of, "stumble")
    walk = fact("cart.push.walk")
    return judge(
        key="cart.push.stumble",
        about=None,
        draw=of.draw,
        value=speed,
        limit=of.limits["stumble"],
        must="at least",
        dimension="pace",
        rests_on=weighing(of.shop),
        sources=["cart.push.walk"],
        outcome="goes_over",
        facts=facts(
            slow=Amount(float(np.quantile(speed, 0.05)), "pace"),
            slowest=Amount(walk.span[0], "pace"),
            fastest=Amount(walk.span[1], "pace"),
            side=Term("towards", side),
            state=Term("state", stand.state),
            bucket="full" if stand.state.bucket_full else "not_full",
        ),
    )


def _threshold(of: Steadiness) -> Finding:
    """The step that its wheels roll over at a walk."""
    climbs = rolled_over_m(of.shop.wishes.caster_diameter.best_si / 2, of.limits["stumble"])
    return judge(
        key="cart.push.threshold",
        about=Term("part", "casters"),
        draw=of.draw,
        value=climbs,
        limit=fact("cart.push.threshold").value,
        must="at least",
        dimension="length",
        rests_on=[of.shop.wishes.caster_diameter],
        sources=["cart.push.threshold", "cart.push.walk"],
        fail="advice",
        outcome="stops",
        facts=facts(climbs=Amount(middle(climbs), "length")),
    )


def _tugs(of: Steadiness) -> list[Finding]:
    """A tug on the tool hose by hand, and the pull of one whose port is blocked."""
    tug, stand, side = _worst(of, "tug")
    inlet = of.shop.separator.cyclone.inlet_height if "cyclone" in of.parts else None
    low = of.shop.wishes.hose_anchor == "low"
    rests = weighing(of.shop) + ([inlet] if inlet is not None and not low else [])
    found = [
        judge(
            key="cart.push.tug",
            about=None,
            draw=of.draw,
            value=tug,
            limit=of.limits["tug"],
            must="at least",
            dimension="force",
            rests_on=rests,
            sources=["cart.push.tug"],
            outcome="tips",
            facts=facts(
                tug=Amount(middle(tug), "force"),
                side=Term("towards", side),
                state=Term("state", stand.state),
                tied="low" if low else "port",
            ),
        )
    ]
    hose, pull = of.pull
    if hose is None:
        return found
    blocked = judge(
        key="cart.push.blocked",
        about=Ref("hose", hose.name),
        draw=of.draw,
        value=tug,
        limit=pull,
        must="at least",
        dimension="force",
        rests_on=[*rests, hose.bore, of.shop.vacuum.suction.sealed],
        sources=["cart.push.blocked"],
        outcome="tips",
        facts=facts(
            pull=Amount(middle(pull), "force"),
            side=Term("towards", side),
            state=Term("state", stand.state),
            tied="low" if low else "port",
        ),
    )
    return [*found, blocked]


def chances(of: Steadiness, checks: Sequence[Check] = CHECKS) -> dict[Check, float]:
    """How likely it passes each check."""
    return {check: of.chance(check) for check in checks}
