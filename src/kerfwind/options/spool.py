"""Two horns between a plate and a keeper: to hang a hose on, or to wind a cord round.

Seen from above, and a hose holder from its front::

     host                           keeper
    ======================       ____________
    |      plate          |     | _        _ |   the hose's turns hang on both horns,
    =====================       || |      | ||   and the keeper holds them back
       |            |           ||_|______|_||
       | horn       | horn
    =====================
           keeper
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..cart.fitted import Fitted
from ..cart.hosepath import bend_m
from ..cart.loads import at
from ..fact_samples import spread_fact
from ..facts import Amount, Name, Ref, Term, facts, state
from ..finding import finding, judge
from ..joinery.model import Step
from ..shop import Hose, Shop
from ..sources import fact
from .places import HostFace, OptionPlace, OptionShape, Site, seen_from
from .solids import coil

_IN = 0.0254
_MOST_TURNS = 12
_LARGEST_COIL_M = 0.75


@dataclass(frozen=True)
class _Coil:
    """A hose's turns on two horns [m]; heights from the plate's lower edge."""

    turns: int
    radius: float
    pitch: float
    horn: float
    horn_length: float
    middle: float


def bulkiest(shop: Shop) -> Hose | None:
    """The tool hose that takes the most room; None where there is none."""
    hoses = [h for h in shop.hoses if h.use == "tool"]
    return max(hoses, key=lambda h: h.bore.best_si**2 * h.length.best_si, default=None)


def coil_radii_m(hose: Hose) -> list[tuple[int, float]]:
    """Turns, and the radius to the hose's middle that uses up its length in so many.

    No radius is below that at which the stiffest hose of the range kinks; a hose too short
    for one such turn hangs as part of one.
    """
    least, length = bend_m(hose), hose.length.high_si
    most = int(length / (2 * math.pi * least))
    if most < 1:
        return [(1, least)]
    radii = [(n, length / (2 * math.pi * n)) for n in range(1, min(most, _MOST_TURNS) + 1)]
    return [(n, r) for n, r in radii if 2 * r <= _LARGEST_COIL_M][-4:] or [radii[-1]]


def hose_shapes(site: Site, hose: Hose, wood: HostFace) -> list[OptionShape]:
    """Holders for the coiled hose that a face has room for."""
    rule, t = site.rule, site.t
    tube = hose.bore.best_si / 2 + 0.003
    pitch = hose.bore.best_si + 2 * fact("cart.hose.wall").value
    horn = rule.near(2 * _IN)
    wide = rule.down(min(wood.u1 - wood.u0 - 0.009, 6 * _IN))
    high = rule.down(min(wood.v1 - wood.v0 - 0.001, horn + 0.75 * pitch))
    if wide < 4 * _IN or high < horn + 0.02:
        return []
    off = fact("cart.hose.off_floor").value
    shapes = []
    for turns, radius in coil_radii_m(hose):
        corner = wide / 2 - 0.012
        inside = radius - tube
        if inside <= corner + 0.005:
            continue
        middle = horn + 0.002 - math.sqrt(inside**2 - corner**2)
        length = rule.up(turns * pitch + 0.006)
        outer = radius + tube
        shapes.append(
            OptionShape(
                wide,
                high,
                (
                    (0.0, wide, 0.0, 2 * t + length, 0.0, high),
                    (
                        wide / 2 - outer,
                        wide / 2 + outer,
                        t,
                        t + length,
                        middle - outer,
                        middle + outer,
                    ),
                ),
                ((0.0, wide, t, 2 * t + length + 0.02, high, middle + outer + high - horn),),
                want_v=0.8,
                span_v=(off + outer - middle, 9.0),
                data=_Coil(turns, radius, pitch, horn, length, middle),
            )
        )
    return shapes


def hang_hose(site: Site, hose: Hose, spot: OptionPlace) -> tuple[Step, Fitted]:
    """Build the holder in its place, and hang the hose on it."""
    made: _Coil = spot.shape.data
    t = site.t
    _bobbin(site, spot, "hose", made.horn, made.horn_length, fins=True)
    tube = hose.bore.best_si / 2 + 0.003
    first = t + 0.003 + made.pitch / 2
    centre = spot.point(spot.shape.plate_u / 2, first, made.middle)
    body = coil("coiled hose", centre, spot.wood.out, made.radius, tube, made.turns, made.pitch)
    mass = spread_fact("cart.hose.mass", site.draw) * hose.bore.best_si * site.draw.of(hose.length)
    x, y, z = spot.point(
        spot.shape.plate_u / 2, first + (made.turns - 1) / 2 * made.pitch, made.middle
    )
    ref, across = Ref("hose", hose.name), Amount(2 * made.radius, "length")
    bend = judge(
        key="cart.options.hose",
        about=ref,
        draw=site.draw,
        value=made.radius + 1e-4,
        limit=site.draw.of(hose.smallest_bend),
        must="at least",
        dimension="length",
        rests_on=[hose.smallest_bend],
        outcome="tight",
        facts=facts(turns=made.turns, across=across),
    )
    step = Step(
        0,
        state("options.hose.title"),
        (
            state("options.hose.fix", host=Term("panel", spot.wood.host)),
            state("options.hose.hangs", hose=ref, turns=made.turns, across=across),
            *seen_from(spot.wood.side),
        ),
        (state("options.hose.mind"),),
        ("hose plate", "hose horn 1", "hose horn 2", "hose keeper"),
        tuple(site.made["hose holder"]),
    )
    called = ((body.name, state("options.hose.coiled", hose=Name(_short(hose.name)))),)
    return step, Fitted((body,), (at(body.name, mass, x, y, z),), (bend,), called=called)


def _short(name: str) -> str:
    return name if len(name) <= 24 else name[:23].rstrip() + "…"


def _bobbin(
    site: Site,
    spot: OptionPlace,
    what: str,
    horn: float,
    length: float,
    *,
    fins: bool,
    inset: float = 0.012,
) -> None:
    """Plate, two horns and keeper; ``fins`` stand on edge beside each other, else one over the other."""
    bench, t = site.bench, site.t
    a, b = spot.shape.plate_u, spot.shape.plate_v
    step = {"hose": "hose holder", "cord": "cord wrap"}[what]
    bench.panel(
        f"{what} plate",
        a,
        b,
        {
            f"{what} plate": spot.upright(0.0, 0.0, 0.0),
            f"{what} keeper": spot.upright(0.0, t + length, 0.0),
        },
        grain="free",
        edges=("near", "far", "left", "right"),
        note=state("options.plate_and_keeper"),
    )
    if fins:
        places = {
            f"{what} horn {i}": spot.fin(u, t, 0.0) for i, u in ((1, inset), (2, a - inset - t))
        }
    elif a >= b:
        places = {
            f"{what} horn {i}": spot.fin(u, t, (b - horn) / 2)
            for i, u in ((1, inset), (2, a - inset - t))
        }
    else:
        places = {
            f"{what} horn {i}": spot.tongue((a - horn) / 2, t, v)
            for i, v in ((1, inset), (2, b - inset - t))
        }
    bench.panel(f"{what} horn", length, horn, places, edges=("far",))
    horns = (f"{what} horn 1", f"{what} horn 2")
    for each in horns:
        site.join(step, f"{what} plate", each, carries=what == "hose")
    for each in horns:
        site.join(step, f"{what} keeper", each, carries=False)
    site.mount(step, f"{what} plate", spot.wood.host, horns)


@dataclass(frozen=True)
class _Wrap:
    """A cord's turns round two horns [m]."""

    length: float
    layers: int
    turns: int


_HORN_M = 1.25 * _IN
_INSET_M = 1.0 * _IN


def cord_length_m(shop: Shop) -> tuple[float, bool]:
    """Length of cord to wind up, and whether the shop file gives it."""
    if shop.circuit.cord is not None:
        return shop.circuit.cord.high_si, True
    return fact("cart.cord.length").span[1], False


def cord_shapes(site: Site, wood: HostFace) -> list[OptionShape]:
    """Cord wraps that a face has room for, upright or level."""
    rule, t = site.rule, site.t
    cord, _ = cord_length_m(site.shop)
    thick = fact("cart.cord.diameter").span[1]
    broad = rule.near(2 * _IN)
    shapes = []
    for long in (6 * _IN, 7 * _IN, 8 * _IN, 10 * _IN, 12 * _IN):
        span = rule.near(long)
        around = 2 * (span - 2 * _INSET_M) + 2 * _HORN_M
        turns = math.ceil(cord / around)
        layers = int(_INSET_M / thick)
        wide = max(rule.up(math.ceil(turns / layers) * thick + 0.006), rule.up(2 * _IN))
        if wide > 6 * _IN:
            continue
        for u, v in ((broad, span), (span, broad)):
            shapes.append(
                OptionShape(
                    u,
                    v,
                    ((0.0, u, 0.0, 2 * t + wide, 0.0, v),),
                    ((-0.03, u + 0.03, t + 0.005, 2 * t + wide, -0.03, v + 0.03),),
                    want_v=0.6,
                    data=_Wrap(wide, math.ceil(turns * thick / wide), turns),
                )
            )
    return shapes


def wrap_cord(site: Site, spot: OptionPlace) -> tuple[Step, Fitted]:
    """Build the cord wrap in its place."""
    made: _Wrap = spot.shape.data
    _bobbin(site, spot, "cord", site.rule.near(_HORN_M), made.length, fins=False, inset=_INSET_M)
    cord, given = cord_length_m(site.shop)
    wound = finding(
        "cart.options.cord",
        "good" if given else "assumed",
        "good" if given else "advice",
        Term("option", "cord wrap"),
        facts=facts(cord=Amount(cord, "length", "tall"), turns=made.turns, layers=made.layers),
        measure=() if given else ("circuit.cord",),
        sources=("cart.cord.diameter",),
    )
    step = Step(
        0,
        state("options.cord.title"),
        (state("options.cord.fix", host=Term("panel", spot.wood.host)), *seen_from(spot.wood.side)),
        (state("options.cord.mind"),),
        ("cord plate", "cord horn 1", "cord horn 2", "cord keeper"),
        tuple(site.made["cord wrap"]),
    )
    return step, Fitted(findings=(wound,))
