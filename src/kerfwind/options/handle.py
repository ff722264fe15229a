"""A bar on two posts, at the height at which a standing adult pushes.

Seen from its end::

       | | |    bar, on the outer faces of the posts
       | |_|
       | |      post, screwed flat to the host
    ===| |
    host |
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..cart.fitted import Fitted
from ..facts import Amount, Band, Term, facts, state
from ..finding import Finding, finding, judge
from ..joinery.model import PanelJoint, Step
from ..joinery.plywood import allowed_bending_pa
from ..joinery.screws import couple_nm, in_face_n
from ..sources import fact
from .places import HostFace, OptionPlace, OptionShape, Site, seen_from

_IN = 0.0254
_WIDEST_M = 14 * _IN
_OVERLAP_M = 14 * _IN
# Bars and posts are narrower than any that the published values allow more.
_STRIP_M = 8 * _IN
#: Panel that carries the handle, by form.
_HOSTS = {"tower": "upper rail", "backframe": "upper rail", "low": "end"}


@dataclass(frozen=True)
class _Bar:
    """A post's width and length, the bar's height, its lower edge over the post's, its lever [m]."""

    post: float
    tall: float
    high: float
    low: float
    arm: float


def handle_shapes(site: Site, wood: HostFace) -> list[OptionShape]:
    """Handles at every height of the usual range, above the host or below it."""
    if wood.host != _HOSTS[site.layout.form]:
        return []
    rule, t = site.rule, site.t
    wide = rule.down(min(_WIDEST_M, wood.u1 - wood.u0 - 0.009))
    push, stress = fact("cart.push.hand").value, allowed_bending_pa(_STRIP_M, "passing")
    grip = fact("cart.handle.grip").value
    # Bending across its thickness: M = F L / 4, section modulus b t² / 6.
    bar = rule.up(max(grip, 6 * push * wide / 4 / (t * t * stress)))
    height = fact("cart.handle.height")
    low, high = height.span
    free = fact("cart.handle.knuckles").value
    shapes = []
    for middle in np.arange(low, high + 1e-6, 0.015):
        bar_low = float(middle) - bar / 2
        above = bar_low > wood.v1 - 0.02
        if not above and bar_low + bar > wood.v0 + 0.02:
            continue
        if above:
            foot = max(wood.v0, wood.v1 - _OVERLAP_M)
            tall = rule.up(bar_low + bar - foot)
            bar_at, arm, held = tall - bar, foot + tall - bar / 2 - wood.v1, wood.v1 - foot
        else:
            tall = rule.down(wood.v1 - bar_low)
            foot, held = wood.v1 - tall, wood.v1 - wood.v0
            bar_at, arm = 0.0, wood.v0 - foot - bar / 2
        arm = max(arm, 0.0)
        post = rule.up(max(2 * _IN, 6 * (push * arm / 2) / (t * t * stress)))
        if wide < 2 * post + 4 * _IN:
            continue
        inner = (post, wide - post)
        shapes.append(
            OptionShape(
                wide,
                tall,
                (
                    (0.0, post, 0.0, t, 0.0, tall),
                    (wide - post, wide, 0.0, t, 0.0, tall),
                    (0.0, wide, t, 2 * t, bar_at, bar_at + bar),
                ),
                (
                    (*inner, t - free, t, bar_at, bar_at + bar),
                    (*inner, 2 * t, 2 * t + 2 * free, bar_at - free, bar_at + bar + free),
                ),
                backed_v=held,
                want_v=foot,
                span_v=(foot - 1e-6, foot + 1e-6),
                worth=-2 * abs(float(middle) - height.value),
                data=_Bar(post, tall, bar, bar_at, arm),
            )
        )
    return shapes


def build_handle(site: Site, spot: OptionPlace) -> tuple[Step, Fitted, float]:
    """Build the handle in its place; its step, what it adds, and the height at which hands push [m]."""
    made: _Bar = spot.shape.data
    bench, t, wide = site.bench, site.t, spot.shape.plate_u
    bench.panel(
        "handle post",
        made.tall,
        made.post,
        {f"handle post {i}": spot.post(u, 0.0, 0.0) for i, u in ((1, 0.0), (2, wide - made.post))},
        edges=("near", "far"),
    )
    bench.panel(
        "handle bar",
        wide,
        made.high,
        {"handle bar": spot.upright(0.0, t, made.low)},
        edges=("near", "far", "left", "right"),
    )
    posts = ("handle post 1", "handle post 2")
    fixed = [site.mount("handle", p, spot.wood.host) for p in posts]
    for post in posts:
        site.mount("handle", "handle bar", post)
    middle = spot.v + made.low + made.high / 2
    step = Step(
        0,
        state("options.handle.title"),
        (
            state(
                "options.handle.fix",
                host=Term("panel", spot.wood.host),
                middle=Amount(middle, "length"),
            ),
            *seen_from(spot.wood.side),
        ),
        (state("options.handle.mind"),),
        (*posts, "handle bar"),
        tuple(site.made["handle"]),
    )
    return step, Fitted(findings=_findings(site, made, middle, fixed)), middle


def board_shapes(site: Site, spot: OptionPlace) -> tuple[HostFace, list[OptionShape]]:
    """The face over a handle's posts, and boards across it below the bar."""
    made: _Bar = spot.shape.data
    wood = spot.wood
    face = HostFace(
        "handle post 1",
        wood.side,
        wood.plane + _outwards(wood) * site.t,
        spot.u,
        spot.u + spot.shape.plate_u,
        spot.v,
        spot.v + made.low - 3 * _IN,
    )
    wide = spot.shape.plate_u
    shapes = [
        OptionShape(
            wide,
            site.rule.near(high),
            ((0.0, wide, 0.0, site.t, 0.0, site.rule.near(high)),),
            backed_m=wide - 0.008,
            backed_v=1e9,
            want_v=9.0,
            worth=high,
        )
        for high in (24 * _IN, 20 * _IN, 16 * _IN, 13 * _IN, 10 * _IN, 8 * _IN)
    ]
    return face, shapes


def _outwards(wood: HostFace) -> float:
    return 1.0 if sum(wood.out) > 0 else -1.0


def build_board(site: Site, spot: OptionPlace) -> tuple[Step, HostFace]:
    """A board across the posts, which carries what finds no room elsewhere; its outer face."""
    wide, high = spot.shape.plate_u, spot.shape.plate_v
    site.bench.panel(
        "handle board",
        wide,
        high,
        {"handle board": spot.upright(0.0, 0.0, 0.0)},
        grain="free",
        edges=("near", "far", "left", "right"),
    )
    for post in ("handle post 1", "handle post 2"):
        site.mount("handle board", "handle board", post)
    step = Step(
        0,
        state("options.handle_board.title"),
        (state("options.handle_board.fix"), *seen_from(spot.wood.side)),
        (state("options.handle_board.mind"),),
        ("handle board",),
        tuple(site.made["handle board"]),
    )
    wood = spot.wood
    face = HostFace(
        "handle board",
        wood.side,
        wood.plane + _outwards(wood) * site.t,
        spot.u,
        spot.u + wide,
        spot.v,
        spot.v + high,
    )
    return step, face


def _findings(
    site: Site, made: _Bar, middle: float, fixed: Sequence[PanelJoint]
) -> tuple[Finding, ...]:
    usual = fact("cart.handle.height")
    low, high = usual.span
    reach = finding(
        "cart.options.handle",
        "stands",
        "good" if low <= middle <= high else "advice",
        Term("option", "handle"),
        facts=facts(middle=Amount(middle, "length"), usual=Band(usual.value, low, high, "length")),
        sources=("cart.handle.height",),
    )
    holds = []
    for joint in fixed:
        item = site.bench.screws[joint.screws[0].hardware]
        each = in_face_n(item.length_m or 0.0, item.diameter_m or 0.0, site.t, site.draw)
        heights = np.array([s.head_m[2] for s in joint.screws])
        # The post pries about the end of its overlap that lies nearer the bar.
        places = abs(heights - (heights.max() if made.low > 0 else heights.min())) + 0.02
        holds.append(couple_nm([float(p) for p in places], 9.0, each))
    asked = fact("cart.push.hand").value * (made.arm + 0.02)
    held = judge(
        key="cart.options.handle_holds",
        about=Term("option", "handle"),
        draw=site.draw,
        value=np.sum(holds, axis=0) / (made.arm + 0.02),
        limit=asked / (made.arm + 0.02),
        must="at least",
        dimension="force",
        sources=["cart.screw.withdrawal", "cart.screw.in_face", "cart.push.hand"],
        outcome="glue",
        fail="advice",
    )
    return reach, held
