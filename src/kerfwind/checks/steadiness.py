"""Whether a cart goes over: on a slope, pushed, tugged, or stopped dead, in closed form.

All of it is asked of a cart that is only laid out, so that many sizes can be tried before one is
built.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np

from ..cart import CartLayout
from ..cart.loads import FRAME, SEPARATOR, CartState, states
from ..cart.model import Load
from ..cart.whole_cart import parts_of
from ..fact_samples import Samples, spread_fact
from ..facts import Amount, Ref, Term, facts
from ..finding import Finding, Level, judge
from ..quantity import Draw, Quantity, middle
from ..shop import Hose, Shop
from ..sources import fact
from .pushing import rolled_over_m, stumble_arm_m, stumble_speed_m_s, tipping_arm_m, tipping_force_n
from .standing import stands_of, trail_m
from .tipping import SIDES, Stand, arm_m

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
    def loads(self) -> dict[CartState, Load]:
        """All its loads as one, in each of its states."""
        return states(self.parts)

    @cached_property
    def stands(self) -> tuple[Stand, ...]:
        """How it stands, in each of its states."""
        return stands_of(self.shop, self.layout, self.draw, self.loads)

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
        axles, trail = np.array(self.layout.places.where.casters_xy), trail_m(self.shop, self.draw)
        found = {}
        for rolls in (False, True):
            loads = [load for state, load in self.loads.items() if state.vacuum_in or not rolls]
            centre = np.stack([load.centre_m for load in loads], axis=1)
            weight = np.stack([load.mass_kg for load in loads]) * gravity
            arm = {side: arm_m(centre[:2], axles, out, trail) for side, out in SIDES.items()}
            found[rolls] = _Stood(centre[2], weight, arm)
        return found

    def values(self, check: Check, side: str) -> Samples:
        """What it stands on one side, a state a row."""
        stood = self._together[check != "tilt"]
        arm = stood.arm_m[side]
        if check == "tilt":
            slope: Samples = np.arctan2(arm, stood.height_m)
            return slope
        if check == "handle":
            return tipping_force_n(stood.weight_n, arm, self.layout.sizes.handle_m)
        if check == "stumble":
            return stumble_speed_m_s(arm, stood.height_m, self._gyrations[SIDES[side][0] != 0])
        return tipping_force_n(stood.weight_n, arm, self.tied_m)

    def _asked_m(self, check: Check) -> dict[str, Samples]:
        """The arm that passes a check on each side, a state a row [m]."""
        stood, limit = self._together[check != "tilt"], self.limits[check]
        if check == "stumble":
            across, along = (
                stumble_arm_m(limit, stood.height_m, self._gyrations[sideways])
                for sideways in (True, False)
            )
            return {side: across if out[0] else along for side, out in SIDES.items()}
        if check == "tilt":
            asked = np.tan(limit) * stood.height_m
        else:
            pulled = self.layout.sizes.handle_m if check == "handle" else self.tied_m
            asked = tipping_arm_m(limit, stood.weight_n, pulled)
        return dict.fromkeys(SIDES, asked)

    @cached_property
    def lacking_m(self) -> dict[Check, dict[str, Samples]]:
        """How much farther out the wheels must be at each side to pass a check in every state [m].

        Shape (n,); zero or less where it passes.
        """
        return {
            check: {
                side: (asked - self._together[check != "tilt"].arm_m[side]).max(axis=0)
                for side, asked in self._asked_m(check).items()
            }
            for check in CHECKS
        }

    def chance(self, check: Check) -> float:
        """How likely it passes a check in every state and on every side."""
        lacking = np.maximum.reduce(list(self.lacking_m[check].values()))
        return float(np.mean(lacking <= 0.0))

    @cached_property
    def chances(self) -> dict[Check, float]:
        """How likely it passes each check."""
        return {check: self.chance(check) for check in CHECKS}

    @cached_property
    def _gyrations(self) -> dict[bool, Samples]:
        """Radius of gyration in each state in which it is rolled, one state a row [m]."""
        rolling = [s for s in self.loads if s.vacuum_in]
        return {
            sideways: np.stack([self._gyration(s, 0 if sideways else 1) for s in rolling])
            for sideways in (False, True)
        }

    @cached_property
    def _wood(self) -> dict[int, tuple[Samples, float]]:
        """All panels together, across one axis and up: their centre and own gyration [m]."""
        bench = self.layout.bench
        plates = [bench.plate(name) for name in bench.placed]
        volume = np.array([plate.volume_m3 for plate, _ in plates])
        share = (volume / volume.sum())[:, None]
        sides = np.array([(p.length_m, p.width_m, p.thickness_m) for p, _ in plates])
        ways = np.array([(at.along, at.across, at.through) for _, at in plates])
        over = (sides[:, None] @ ways)[:, 0]
        middles, sizes = np.array([at.origin for _, at in plates]) + over / 2, np.abs(over)
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

    @cached_property
    def _moments(self) -> dict[int, dict[str, Samples]]:
        """Of each part about the origin, across the axis that it falls along and up: its mass,
        its two first moments, and m (c² + k²), shape (4, n).
        """
        found: dict[int, dict[str, Samples]] = {0: {}, 1: {}}
        for axis, name in itertools.product(found, self.parts):
            load = self.parts[name]
            if name == "plywood":
                (across, up), own = self._wood[axis]
            else:
                (across, up), box = load.centre_m[[axis, 2]], self._size_of(name)
                own = math.hypot(box[axis], box[2]) / math.sqrt(12)
            mass = load.mass_kg
            second = mass * (across**2 + up**2 + own**2)
            found[axis][name] = np.stack([mass, mass * across, mass * up, second])
        return found

    def _gyration(self, state: CartState, axis: int) -> Samples:
        """About a level axis through the centre of mass; ``axis`` is the one it falls along."""
        carried = {*FRAME, "vacuum", *SEPARATOR}
        mass, first_across, first_up, second = np.sum(
            [
                moments
                for name, moments in self._moments[axis].items()
                if (name in carried or state.hung) and (name != "dust" or state.bucket_full)
            ],
            axis=0,
        )
        across, up = self.loads[state].centre_m[[axis, 2]]
        shifted = 2 * (across * first_across + up * first_up) / mass
        radius: Samples = np.sqrt(second / mass - shifted + across**2 + up**2)
        return radius


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
