"""A plate for a switched outlet strip on the outside, with a tie for its cord."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ...fact_samples import spread_fact
from ...facts import Name
from ...finding import Finding
from ...joinery.model import HardwareItem, Step
from ...solids import Opening, box
from ...sources import fact
from ..loads import at
from .model import Fitted
from .places import HostFace, OptionPlace, OptionShape, Site, seen_from

_IN = 0.0254


@dataclass(frozen=True)
class _Strip:
    """Where the strip lies on the plate: along it and up [m]."""

    u: tuple[float, float]
    v: tuple[float, float]


def switch_shapes(site: Site, wood: HostFace) -> list[OptionShape]:
    """Plates for the outlet strip that a face has room for, with the strip upright or level."""
    rule = site.rule
    long, wide, deep = (fact(f"cart.strip.{k}").value for k in ("length", "width", "depth"))
    plugs = fact("cart.strip.plugs").value
    low, high = fact("cart.switch.reach").span
    end, side = 2 * _IN, 0.625 * _IN
    a, b = rule.up(long + end + 0.25 * _IN), rule.up(wide + 2 * side)
    shapes = []
    for u, v in ((b, a), (a, b)):
        strip = (
            _Strip((side, side + wide), (end, end + long))
            if v > u
            else _Strip((end, end + long), (side, side + wide))
        )
        middle = (strip.v[0] + strip.v[1]) / 2
        shapes.append(
            OptionShape(
                u,
                v,
                ((0.0, u, 0.0, site.t + deep, 0.0, v),),
                ((*strip.u, site.t, site.t + deep + plugs, *strip.v),),
                want_v=fact("cart.switch.reach").value - middle,
                span_v=(low - middle, high - middle),
                data=strip,
            )
        )
    return shapes


def build_switch(site: Site, spot: OptionPlace) -> tuple[Step, Fitted]:
    """Build the plate in its place and put the outlet strip on it."""
    strip: _Strip = spot.shape.data
    u, v = spot.shape.plate_u, spot.shape.plate_v
    # Two holes through which a tie holds the cord, at the end where it leaves.
    apart, end = 0.75 * _IN, 1.0 * _IN
    if v > u:
        places = [(u / 2 - apart / 2, end), (u / 2 + apart / 2, end)]
    else:
        places = [(end, v / 2 - apart / 2), (end, v / 2 + apart / 2)]
    d = 0.008 if site.bench.metric else 0.3125 * _IN
    site.bench.panel(
        "switch plate",
        u,
        v,
        {"switch plate": spot.upright(0.0, 0.0, 0.0)},
        grain="free",
        openings=tuple(Opening(x, y, d, d, d / 2) for x, y in places),
        note=Name("The two small holes take a tie round the cord."),
    )
    joint = site.mount("switch", "switch plate", spot.wood.host)
    deep = fact("cart.strip.depth").value
    a = spot.point(strip.u[0], site.t, strip.v[0])
    b = spot.point(strip.u[1], site.t + deep, strip.v[1])
    body = box(
        "outlet strip",
        [min(p) for p in zip(a, b, strict=True)],
        [max(p) for p in zip(a, b, strict=True)],
        "round",
        0.6,
    )
    x, y, z = (float(c) for c in body.centroid_m)
    load = at(body.name, spread_fact("cart.strip.mass", site.draw), x, y, z)
    low, high = fact("cart.switch.reach").span
    text = site.rule.text
    amps = site.shop.vacuum.amps.high_si
    finding = Finding(
        key="cart.options.switch",
        room="cart",
        about="switch",
        check="within reach",
        level="good" if low <= z <= high else "advice",
        answer=f"Its middle is {text(z)} above the floor; {text(low)} to {text(high)} is in reach.",
        sources=("cart.switch.reach",),
    )
    item = HardwareItem(
        "outlet-strip",
        Name(
            f"listed outlet strip with switch and breaker, heavy cord, rated for {math.ceil(amps)} A or more"
        ),
        1,
        (Name("on the switch plate, with a tie for its cord"),),
        kind="outlet strip",
    )
    step = Step(
        0,
        Name("Fix the switch plate and the outlet strip"),
        (
            Name(
                f"Screw the plate to the {spot.wood.host} from outside, its lower edge "
                f"{text(spot.v - site.layout.sizes.bottom_top_m)} above the bottom; then the strip on it by "
                "its own slots, over the screws. Tie its cord to the plate through the two small holes, so "
                "that a pull on the cord never reaches the strip." + seen_from([spot.wood.side])
            ),
        ),
        (
            Name(
                "Use a listed strip as its maker says, whole and unopened; one strip, straight into the "
                "wall, never strip on strip. Anything wired in is a licensed electrician's work, and local "
                "codes decide. Lead no cord where the vacuum or the bucket comes out."
            ),
        ),
        ("switch plate", "outlet strip"),
        (joint.key,),
    )
    return step, Fitted((body,), (load,), (finding,), (item,))
