"""A drawer of plywood in a case of its own, on runners of wood.

Seen from its front::

    host  ________________
    |  ||_______top_______|
    |  ||  ||        ||  ||    the drawer's sides rest on the runners' upper edges
    |  ||  ||________||  ||
    |  ||==  floor     ==||    runners (=)
    |  ||               ||
      inner wall         outer wall
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from ..cart.fitted import Fitted
from ..cart.loads import at
from ..fact_samples import spread_fact
from ..facts import Term, state
from ..joinery.model import Step
from ..solids import Opening
from ..sources import fact
from .places import HostFace, OptionPlace, OptionShape, Site

_IN = 0.0254
#: Widths inside, the last no narrower than a hand; beyond the usual one it must cost no floor.
_INSIDES_M = (8 * _IN, 6.5 * _IN, 5 * _IN, 4 * _IN)
_USUAL_M = 5 * _IN
_HIGH_M = 2.75 * _IN
_RUNNER_M = 1.0 * _IN
_LENGTHS_M = (12 * _IN, 10 * _IN, 8 * _IN)
_LEAST_BACKED_M = 4.5 * _IN
_PULL_M = 1.0 * _IN


@dataclass(frozen=True)
class _Case:
    """Sizes [m]: case long, its clear width between walls, the drawer's box wide and long."""

    long: float
    clear: float
    box_wide: float
    box_long: float
    side: float
    high: float


def drawer_shapes(site: Site, wood: HostFace) -> list[OptionShape]:
    """Drawers that a face takes; they open towards the front, at the rear to the left."""
    rule, t = site.rule, site.t
    play = fact("cart.drawer.play").value
    shapes = []
    least = fact("cart.drawer.hand").value
    for want, across in itertools.product(_LENGTHS_M, _INSIDES_M):
        long = rule.near(want)
        inside = rule.up(max(across, least))
        box_wide = inside + 2 * t
        clear = rule.up(box_wide + 2 * play)
        side = rule.near(_HIGH_M)
        high = rule.up(rule.near(_RUNNER_M) + side + play)
        box_long = rule.down(long - t - 2 * play)
        wide = clear + 2 * t
        shapes.append(
            OptionShape(
                long,
                high,
                ((0.0, long, 0.0, wide, 0.0, high + t), (-t, 0.0, 0.0, wide, 0.0, high)),
                ((-t - 0.9 * long, -t, 0.0, wide, 0.0, high),),
                backed_m=_LEAST_BACKED_M,
                want_v=0.6,
                worth=0.3 * long + 3.0 * min(inside, _USUAL_M) + 0.3 * inside,
                data=_Case(long, clear, box_wide, box_long, side, high),
            )
        )
    return shapes


def build_drawer(site: Site, spot: OptionPlace) -> tuple[list[Step], Fitted]:
    """Build the case and the drawer in their place; a step for each, and what they add."""
    _case(site, spot)
    _box(site, spot)
    made: _Case = spot.shape.data
    x, y, z = spot.point(made.long / 2, site.t + made.clear / 2, made.high / 2)
    load = at("drawer load", spread_fact("cart.drawer.load", site.draw), x, y, z)
    case = Step(
        0,
        state("options.drawer.case"),
        (state("options.drawer.case.fix", host=Term("panel", spot.wood.host)),),
        (state("options.drawer.case.mind"),),
        ("case inner wall", "case outer wall", "runner 1", "runner 2", "case back", "case top"),
        tuple(site.made["case"]),
    )
    drawer = Step(
        0,
        state("options.drawer.box"),
        (state("options.drawer.box.make"),),
        (state("options.drawer.box.mind"),),
        ("drawer side 1", "drawer side 2", "drawer floor", "drawer back", "drawer front"),
        tuple(site.made["drawer"]),
    )
    return [case, drawer], Fitted(loads=(load,))


def _case(site: Site, spot: OptionPlace) -> None:
    made: _Case = spot.shape.data
    bench, t, rule = site.bench, site.t, site.rule
    outer = t + made.clear
    bench.panel(
        "case wall",
        made.long,
        made.high,
        {
            "case inner wall": spot.upright(0.0, 0.0, 0.0),
            "case outer wall": spot.upright(0.0, outer, 0.0),
        },
        grain="free",
    )
    bench.panel(
        "case top",
        made.long,
        made.clear + 2 * t,
        {"case top": spot.level(0.0, 0.0, made.high)},
        grain="free",
        edges=("far",),
    )
    bench.panel(
        "case back",
        made.clear,
        made.high,
        {"case back": spot.fin(made.long - t, t, 0.0)},
        grain="free",
    )
    strip = rule.near(_RUNNER_M)
    bench.panel(
        "runner",
        rule.down(made.long - t - 0.002),
        strip,
        {"runner 1": spot.upright(0.0, t, 0.0), "runner 2": spot.upright(0.0, outer - t, 0.0)},
    )
    walls = ("case inner wall", "case outer wall")
    for i, wall in enumerate(walls, 1):
        site.mount("case", f"runner {i}", wall)
    site.mount("case", walls[0], spot.wood.host, ("runner 1", "case back"))
    for wall in walls:
        site.join("case", wall, "case back", carries=False)
    for wall in walls:
        site.join("case", "case top", wall, carries=False)


def _box(site: Site, spot: OptionPlace) -> None:
    made: _Case = spot.shape.data
    bench, t = site.bench, site.t
    low = site.rule.near(_RUNNER_M)
    start = t + (made.clear - made.box_wide) / 2
    inside = made.box_wide - 2 * t
    bench.panel(
        "drawer side",
        made.box_long,
        made.side,
        {
            "drawer side 1": spot.upright(0.0, start, low),
            "drawer side 2": spot.upright(0.0, start + t + inside, low),
        },
        grain="free",
        edges=("far",),
    )
    bench.panel(
        "drawer floor",
        made.box_long,
        inside,
        {"drawer floor": spot.level(0.0, start + t, low)},
        grain="free",
    )
    over = site.rule.down(made.side - t)
    bench.panel(
        "drawer back",
        inside,
        over,
        {"drawer back": spot.fin(made.box_long - t, start + t, low + t)},
        grain="free",
    )
    front_wide, front_high = made.clear + 2 * t, made.high
    bench.panel(
        "drawer front",
        front_wide,
        front_high,
        {"drawer front": spot.fin(-t, 0.0, 0.0)},
        grain="free",
        edges=("near", "far", "left", "right"),
        openings=(Opening(front_wide / 2, front_high - 1.25 * _IN, _PULL_M, _PULL_M, _PULL_M / 2),),
        note=state("options.drawer.pull"),
    )
    sides = ("drawer side 1", "drawer side 2")
    for side in sides:
        site.join("drawer", side, "drawer floor", carries=False)
        site.join("drawer", side, "drawer back", carries=False)
    for side in sides:
        site.join("drawer", "drawer front", side, carries=False)
