"""Where on a laid-out cart there is room: outer faces, what stands about them, and the search."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, fields, replace
from typing import Any, TypeVar

import numpy as np

from ..cart.whole_cart import CartLayout
from ..facts import Statement, state
from ..joinery.fasteners import into_face_m, spread
from ..joinery.marks import MarkingRule
from ..joinery.model import PanelJoint
from ..joinery.segments import ends_of, segments_apart_m
from ..joinery.workbench import Workbench
from ..quantity import Draw
from ..shop import Shop
from ..solids import Body, Placement, Vector
from ..sources import fact

#: Room along a back plate's face: from and to along it, outwards, and up, from its lower corner.
Room = tuple[float, float, float, float, float, float]
Pair = tuple[np.ndarray, np.ndarray]

T = TypeVar("T")

_EPS = 1e-6
_Z: Vector = (0.0, 0.0, 1.0)
#: Panels whose outer faces carry options, by form: side of the cart, then panels.
_HOSTS: dict[str, tuple[tuple[str, tuple[str, ...]], ...]] = {
    "tower": (
        ("left", ("left side",)),
        ("right", ("right side",)),
        ("rear", ("upper rail", "lower rail")),
    ),
    "backframe": (
        ("left", ("left post",)),
        ("right", ("right post",)),
        ("rear", ("upper rail", "middle rail", "lower rail")),
    ),
    "low": (("right", ("end",)), ("rear", ("upper rail", "lower rail"))),
}
#: Axis a face looks along, which way, and the axis along it.
_SIDES: dict[str, tuple[int, float, int]] = {
    "left": (0, -1.0, 1),
    "right": (0, 1.0, 1),
    "rear": (1, 1.0, 0),
}
#: Places that are tried for one option before it is refused.
_PLACES = 8
_SCREWS_APART_M = 0.007
_HAND_M = 0.075
_SWIVEL_PLAY_M = 0.01


@dataclass(frozen=True)
class HostFace:
    """A panel's outer face that a back plate can be screwed to.

    ``u`` runs along it (front to back, or left to right), ``v`` up, ``w`` outwards.
    """

    host: str
    side: str
    plane: float
    u0: float
    u1: float
    v0: float
    v1: float

    @property
    def out(self) -> Vector:
        """The way that the face looks, as a unit vector."""
        axis, sign, _ = _SIDES[self.side]
        return (sign, 0.0, 0.0) if axis == 0 else (0.0, sign, 0.0)

    @property
    def along(self) -> Vector:
        """The level way along the face, as a unit vector."""
        return (1.0, 0.0, 0.0) if _SIDES[self.side][2] == 0 else (0.0, 1.0, 0.0)

    def point(self, u: float, w: float, v: float) -> Vector:
        """A point of the face, or ``w`` out from it, in space."""
        axis, sign, along = _SIDES[self.side]
        p = [0.0, 0.0, v]
        p[axis], p[along] = self.plane + sign * w, u
        return p[0], p[1], p[2]

    def box(self, u: float, v: float, room: Room) -> tuple[Vector, Vector]:
        """Low and high corner in space of a room about a plate's lower corner."""
        u0, u1, w0, w1, v0, v1 = room
        axis, sign, _ = _SIDES[self.side]
        w0, w1 = (w0, w1) if sign > 0 else (-w1, -w0)
        out = self.plane + w0, self.plane + w1
        along = u + u0, u + u1
        x, y = (out, along) if axis == 0 else (along, out)
        return (x[0], y[0], v + v0), (x[1], y[1], v + v1)


@dataclass(frozen=True)
class OptionShape:
    """One way of making an option, about the lower corner of its back plate.

    ``solid`` is what it and the things on it take up; ``free`` what must be free besides, to
    take them off. ``backed_m`` is how much of the plate's length must lie on wood.
    ``want_v`` is the height of the plate's lower edge that is best, within ``span_v``.
    """

    plate_u: float
    plate_v: float
    solid: tuple[Room, ...]
    free: tuple[Room, ...] = ()
    backed_m: float = 1e9
    backed_v: float = 1e9
    want_v: float = 0.7
    span_v: tuple[float, float] = (0.0, 9.0)
    worth: float = 0.0
    data: Any = None


@dataclass(frozen=True)
class Blocked:
    """No place for an option, and what stands in the way.

    ``wishes`` are places in the shop file; ``reasons`` are other reasons.
    """

    wishes: tuple[str, ...] = ()
    reasons: tuple[Statement, ...] = ()


@dataclass(frozen=True)
class OptionPlace:
    """A shape in its place: the lower corner of its back plate on a face."""

    wood: HostFace
    u: float
    v: float
    shape: OptionShape

    def point(self, u: float, w: float, v: float) -> Vector:
        """A point about the plate's lower corner, in space."""
        return self.wood.point(self.u + u, w, self.v + v)

    def upright(self, u: float, w: float, v: float) -> Placement:
        """A panel flat to the face: its length along it, its width up."""
        return Placement(self.point(u, w, v), self.wood.along, _Z, self.wood.out)

    def post(self, u: float, w: float, v: float) -> Placement:
        """A panel flat to the face: its length up, its width along it."""
        return Placement(self.point(u, w, v), _Z, self.wood.along, self.wood.out)

    def level(self, u: float, w: float, v: float) -> Placement:
        """A panel that lies level: its length along the face, its width outwards."""
        return Placement(self.point(u, w, v), self.wood.along, self.wood.out, _Z)

    def fin(self, u: float, w: float, v: float) -> Placement:
        """A panel on edge, square to the face: its length outwards, its width up."""
        return Placement(self.point(u, w, v), self.wood.out, _Z, self.wood.along)

    def tongue(self, u: float, w: float, v: float) -> Placement:
        """A panel lying level: its length outwards, its width along the face."""
        return Placement(self.point(u, w, v), self.wood.out, self.wood.along, _Z)


def seen_from(side: str) -> tuple[Statement, ...]:
    """Where the picture of a step at this side is drawn from, where it is not the left front."""
    return (state("options.seen", side=side),) if side in ("rear", "right") else ()


class NoScrewsError(ValueError):
    """A part of an option whose screws would meet others where it was put."""


@dataclass
class Site:
    """A cart that is laid out, and what room is left on it while options are put on."""

    shop: Shop
    draw: Draw
    layout: CartLayout
    woods: list[HostFace]
    low: np.ndarray
    high: np.ndarray
    extent: list[float]
    wheels: tuple[float, float, float, float]
    limits: tuple[tuple[str, float], ...]
    tallest: float
    top: float = 0.0
    made: dict[str, list[str]] = field(default_factory=dict)

    @classmethod
    def of(cls, shop: Shop, draw: Draw, layout: CartLayout, things: Sequence[Body]) -> Site:
        """The faces of a form, and all that stands about them."""
        bench = layout.bench
        boxes = [bench.extent(name) for name in bench.placed]
        boxes += [(b.low, b.high) for b in things if b.name != "link hose"]
        boxes += _ways_out(things)
        boxes += _swivels(shop, layout)
        woods = _woods(layout)
        for wood in woods:
            boxes += _hands(bench, wood)
        for side in dict.fromkeys(wood.side for wood in woods):
            boxes += _breath(shop, things, [w for w in woods if w.side == side])
        panels = [bench.extent(name) for name in bench.placed]
        low = np.min([a for a, _ in panels], axis=0)
        high = np.max([b for _, b in panels], axis=0)
        return cls(
            shop,
            draw,
            layout,
            woods,
            np.array([a for a, _ in boxes]),
            np.array([b for _, b in boxes]),
            [float(v) for v in (low[0], high[0], low[1], high[1])],
            _swept(shop, layout),
            _limits(shop),
            shop.wishes.greatest_height.best_si + 1e-7,
        )

    @property
    def bench(self) -> Workbench:
        """The bench with the cart's panels."""
        return self.layout.bench

    @property
    def rule(self) -> MarkingRule:
        """What sizes are rounded to, so that they can be marked."""
        return self.layout.bench.rule

    @property
    def t(self) -> float:
        """Thickness of the plywood [m]."""
        return self.layout.bench.thickness_m

    def clear(self, low: Vector, high: Vector) -> bool:
        """Whether a box meets nothing."""
        meets = (np.asarray(low) < self.high - _EPS) & (np.asarray(high) > self.low + _EPS)
        return not meets.all(axis=1).any()

    def fits(self, spot: OptionPlace) -> bool:
        """Whether a shape fits where it is put."""
        rooms = (*spot.shape.solid, *spot.shape.free)
        return all(self.clear(*spot.wood.box(spot.u, spot.v, room)) for room in rooms)

    def take(self, spot: OptionPlace) -> None:
        """Keep a shape's room from what comes after it."""
        for solid, rooms in ((True, spot.shape.solid), (False, spot.shape.free)):
            for room in rooms:
                low, high = spot.wood.box(spot.u, spot.v, room)
                self.low = np.vstack([self.low, low])
                self.high = np.vstack([self.high, high])
                if solid:
                    self.top = max(self.top, high[2])
                    self.extent = _grown(self.extent, low, high)

    def sizes(self, extent: Sequence[float] | None = None) -> tuple[float, float, float]:
        """Side to side, front to back, and the narrower way over the swivelling wheels."""
        x0, x1, y0, y1 = extent if extent is not None else self.extent
        cx0, cx1, cy0, cy1 = self.wheels
        across, along = max(x1, cx1) - min(x0, cx0), max(y1, cy1) - min(y0, cy0)
        return x1 - x0, y1 - y0, min(across, along)

    def allowed(self, extent: Sequence[float] | None = None) -> list[str]:
        """Wishes that sizes like these would break."""
        sizes = self.sizes(extent)
        return [
            name
            for size, (name, limit) in zip(sizes, self.limits, strict=True)
            if size > limit + 1e-7
        ]

    def put(
        self,
        shapes: Callable[[HostFace], Sequence[OptionShape]],
        build: Callable[[OptionPlace], T],
        woods: Sequence[HostFace] | None = None,
    ) -> T | Blocked:
        """Build an option in the best place that it finds.

        A place where its screws would meet others is given up for the next.
        """
        spots, broken = self._ranked(shapes, woods if woods is not None else self.woods)
        tries = 0
        for spot in spots:
            if tries == _PLACES:
                break
            if not self.fits(spot):
                continue
            tries += 1
            before = self._copied()
            try:
                self.take(spot)
                return build(spot)
            except NoScrewsError:
                self._become(before)
        return Blocked(tuple(broken))

    def _copied(self) -> Site:
        """The site as it is now; what is done on this one later does not show on it."""
        return replace(
            self,
            layout=replace(self.layout, bench=self.bench.copied()),
            woods=list(self.woods),
            made={step: list(joints) for step, joints in self.made.items()},
        )

    def _become(self, other: Site) -> None:
        """Take over all that another site holds."""
        for each in fields(self):
            setattr(self, each.name, getattr(other, each.name))

    def _ranked(
        self, shapes: Callable[[HostFace], Sequence[OptionShape]], woods: Sequence[HostFace]
    ) -> tuple[list[OptionPlace], list[str]]:
        """Places within the wishes, best first, and the wishes that others would break."""
        rows: list[tuple[float, OptionPlace]] = []
        broken: set[str] = set()
        for wood in woods:
            for shape in shapes(wood):
                for spot in _spots(wood, shape):
                    extent = self.extent
                    for room in shape.solid:
                        extent = _grown(extent, *wood.box(spot.u, spot.v, room))
                    against = self.allowed(extent)
                    if max(spot.v + room[5] for room in shape.solid) > self.tallest:
                        against.append("wishes.greatest_height")
                    if against:
                        broken |= set(against)
                        continue
                    rows.append((self._cost(spot, extent), spot))
        return [spot for _, spot in sorted(rows, key=lambda row: row[0])], sorted(broken)

    def _cost(self, spot: OptionPlace, extent: Sequence[float]) -> float:
        """Floor it adds, and how far it is from the middle and the height that is best."""
        x0, x1, y0, y1 = extent
        a0, a1, b0, b1 = self.extent
        grown = (x1 - x0) * (y1 - y0) - (a1 - a0) * (b1 - b0)
        middle = (spot.wood.u0 + spot.wood.u1 - spot.shape.plate_u) / 2
        off = abs(spot.v - spot.shape.want_v) + abs(spot.u - middle)
        return 4 * grown + 0.3 * off - spot.shape.worth

    def join(
        self,
        step: str,
        first: str,
        second: str,
        *,
        carries: bool = True,
        at: Sequence[float] | None = None,
        least: int = 2,
    ) -> PanelJoint:
        """Join two panels in a step.

        Raises
        ------
        NoScrewsError
            One of its screws would run into another joint's.
        """
        joint = self.bench.join(first, second, carries=carries, least=least, at=at)
        if self.bench.meets(joint):
            raise NoScrewsError(f"{first}: a screw into the {second} would meet another")
        self.made.setdefault(step, []).append(joint.key)
        return joint

    def mount(self, step: str, plate: str, host: str, under: Sequence[str] = ()) -> PanelJoint:
        """Screw a back plate to its host where no other screw and no part on it is in the way.

        ``under`` names the panels that stand on the plate and would cover a screw's head.

        Raises
        ------
        NoScrewsError
            Fewer than two screws find a place.
        """
        bench = self.bench
        (lo_a, hi_a), (lo_b, hi_b) = bench.extent(plate), bench.extent(host)
        low, high = np.maximum(lo_a, lo_b), np.minimum(hi_a, hi_b)
        normal = int(np.argmax(np.abs(bench.placed[plate].at.through)))
        long, short = sorted((i for i in range(3) if i != normal), key=lambda i: low[i] - high[i])
        length = float(high[long] - low[long])
        middle = (low[short] + high[short]) / 2
        covers = [
            (a[long] - 0.01, b[long] + 0.01)
            for a, b in map(bench.extent, under)
            if a[short] - 0.01 < middle < b[short] + 0.01
        ]
        starts, ends = ends_of(bench.lines())
        head = (low + high) / 2
        deep = max(self.t, bench.thickness_of(host))
        way = np.zeros(3)
        way[normal] = np.sign(lo_b[normal] + hi_b[normal] - lo_a[normal] - hi_a[normal])

        def free(place: float) -> bool:
            spot = low[long] + place
            if any(a < spot < b for a, b in covers) or not 0.01 < place < length - 0.01:
                return False
            head[long] = spot
            apart = segments_apart_m(head - way * self.t, head + way * deep, starts, ends)
            return bool(np.all(apart > _SCREWS_APART_M))

        places: list[float] = []
        step_m = 0.006
        for want in spread(length):
            tries = sorted(np.arange(0.012, length - 0.012, step_m), key=lambda p: abs(p - want))
            fit = next(
                (p for p in tries if free(p) and all(abs(p - q) > 0.02 for q in places)), None
            )
            if fit is not None:
                places.append(float(fit))
        if len(places) < 2:
            raise NoScrewsError(f"{plate}: every screw into the {host} would meet another")
        return self.join(step, plate, host, at=sorted(places))


def _spots(wood: HostFace, shape: OptionShape) -> list[OptionPlace]:
    edge = 0.004
    backed = min(shape.backed_m, shape.plate_u)
    u_low, u_high = wood.u0 + edge + backed - shape.plate_u, wood.u1 - edge - backed
    held = min(shape.backed_v, shape.plate_v)
    v_low = max(wood.v0 + held - shape.plate_v, shape.span_v[0])
    v_high = min(wood.v1 - held, shape.span_v[1])
    if u_high < u_low - _EPS or v_high < v_low - _EPS:
        return []
    middle = (wood.u0 + wood.u1 - shape.plate_u) / 2
    us = sorted({round(u, 6) for u in (u_low, min(max(middle, u_low), u_high), u_high)})
    steps = max(1, min(11, int((v_high - v_low) / 0.02)))
    vs = [v_low + (v_high - v_low) * k / steps for k in range(steps + 1)]
    return [OptionPlace(wood, u, v, shape) for u in us for v in vs]


def _grown(extent: Sequence[float], low: Vector, high: Vector) -> list[float]:
    return [
        min(extent[0], low[0]),
        max(extent[1], high[0]),
        min(extent[2], low[1]),
        max(extent[3], high[1]),
    ]


def _limits(shop: Shop) -> tuple[tuple[str, float], ...]:
    w = shop.wishes
    door = w.narrowest_door.best_si - fact("cart.door.play").value
    return (
        ("wishes.largest_width", w.largest_width.best_si),
        ("wishes.largest_length", w.largest_length.best_si),
        ("wishes.narrowest_door", door),
    )


def _woods(layout: CartLayout) -> list[HostFace]:
    faces = []
    bench = layout.bench
    for side, hosts in _HOSTS[layout.form]:
        axis, sign, along = _SIDES[side]
        for host in hosts:
            # A rail of the second sheet can be too thin, or too thick, for any screw on sale.
            if (
                host not in bench.placed
                or into_face_m(bench.thickness_m, bench.thickness_of(host), bench.metric) is None
            ):
                continue
            low, high = bench.extent(host)
            plane = float(high[axis] if sign > 0 else low[axis])
            faces.append(
                HostFace(
                    host,
                    side,
                    plane,
                    float(low[along]),
                    float(high[along]),
                    float(low[2]),
                    float(high[2]),
                )
            )
    return faces


def _reach(shop: Shop) -> float:
    return (fact("cart.caster.trail").span[1] + 0.5) * shop.wishes.caster_diameter.best_si


def _swept(shop: Shop, layout: CartLayout) -> tuple[float, float, float, float]:
    """What the wheels sweep as they swivel: from and to across, then from and to front to back [m]."""
    reach = _reach(shop)
    xs, ys = zip(*layout.places.where.casters_xy, strict=True)
    return min(xs) - reach, max(xs) + reach, min(ys) - reach, max(ys) + reach


def _swivels(shop: Shop, layout: CartLayout) -> list[Pair]:
    """Boxes that the wheels sweep as they swivel."""
    reach = _reach(shop)
    wheel = shop.wishes.caster_diameter.best_si
    return [
        (
            np.array([x - reach, y - reach, 0.0]),
            np.array([x + reach, y + reach, wheel + _SWIVEL_PLAY_M]),
        )
        for x, y in layout.places.where.casters_xy
    ]


def _ways_out(things: Sequence[Body]) -> list[Pair]:
    """Up from the bucket and the cyclone, and out from the cyclone's inlet, for its hose."""
    boxes = []
    for body in things:
        if body.name in ("bucket", "cyclone"):
            boxes.append((body.low, np.array([body.high[0], body.high[1], 9.0])))
        if body.name == "cyclone inlet":
            low, high = body.low.copy(), body.high.copy()
            low[1:] -= 0.03
            high[1:] += 0.03
            high[0] += 0.5
            boxes.append((low, high))
    return boxes


def _hands(bench: Workbench, wood: HostFace) -> list[Pair]:
    """Boxes that must stay free in front of a face's hand holes and windows."""
    plate, at = bench.plate(wood.host)
    axis, sign, _ = _SIDES[wood.side]
    boxes = []
    for o in plate.openings:
        a = at.point(o.x_m - o.length_m / 2, o.y_m - o.width_m / 2)
        b = at.point(o.x_m + o.length_m / 2, o.y_m + o.width_m / 2)
        low, high = np.minimum(a, b), np.maximum(a, b)
        low[axis] = wood.plane if sign > 0 else wood.plane - _HAND_M
        high[axis] = wood.plane + _HAND_M if sign > 0 else wood.plane
        boxes.append((low, high))
    return boxes


def _breath(shop: Shop, things: Sequence[Body], woods: Sequence[HostFace]) -> list[Pair]:
    """In front of the vacuum, where its motor breathes through this side past its rails."""
    wood = woods[0]
    if wood.side not in (shop.vacuum.air_in_on, shop.vacuum.air_out_on):
        return []
    vacuum = next(b for b in things if b.name == "vacuum")
    axis, sign, _ = _SIDES[wood.side]
    gap = fact("cart.air.gap").value
    low, high = vacuum.low.copy(), vacuum.high.copy()
    if sign > 0:
        face = float(high[axis])
        high[axis] = max(face, wood.plane if wood.plane < face + gap else face) + gap
    else:
        face = float(low[axis])
        low[axis] = min(face, wood.plane if wood.plane > face - gap else face) - gap
    if wood.side == "rear":
        middle = (low[2] + high[2]) / 2
        high[2] = min([high[2], *(w.v0 for w in woods if w.v0 > middle)])
        low[2] = max([low[2], *(w.v1 for w in woods if w.v1 < middle)])
    return [(low, high)]
