"""What a fitting must measure in the store."""

from __future__ import annotations

from typing import Literal

from ..shop import Fitting
from ..sources import fact
from .model import Chain, SizeCheck

_Span = tuple[float, float]


def size_checks(fitting: Fitting, users: list[Chain]) -> tuple[SizeCheck, ...]:
    """Size that each end of ``fitting`` must have for the chains that use it.

    Only against ends of known size: two parts bought together are tried together. The
    limits hold for the mating end's best value; where two chains want different sizes the
    narrower common range is told, and nothing where there is none.
    """
    spans: dict[tuple[Literal["end_a", "end_b"], Literal["inside", "outside"]], _Span] = {}
    for chain in users:
        for joint in chain.joints:
            for owner, own, mate in (
                (joint.downstream, joint.downstream_end, joint.upstream_end),
                (joint.upstream, joint.upstream_end, joint.downstream_end),
            ):
                if owner != fitting.called or mate.inside.path.startswith("catalogue["):
                    continue
                if own.joint != "plain":
                    continue
                end: Literal["end_a", "end_b"] = "end_a" if own is fitting.end_a else "end_b"
                inner_is_own = any(q is own.outside for q in joint.fit.rests_on)
                closes = 2 * (own.taper.best_si + mate.taper.best_si) / 2
                room = min(own.length.best_si, mate.length.best_si)
                slack = fact("hookup.slip_play").value + closes * room
                if inner_is_own:
                    size = mate.inside.best_si
                    tight = fact("hookup.rigid_interference").value * size
                    side: Literal["inside", "outside"] = "outside"
                    span = (size - slack, size + tight)
                else:
                    size = mate.outside.best_si
                    tight = fact("hookup.rigid_interference").value * size
                    low = size * (1 - fact("hookup.cuff_stretch").span[0])
                    rubber = own.material == "rubber"
                    high = fact("hookup.clamp_play").value if rubber else slack
                    side, span = "inside", (low if rubber else size - tight, size + high)
                old = spans.get((end, side), span)
                spans[end, side] = (max(old[0], span[0]), min(old[1], span[1]))
    return tuple(
        SizeCheck(end, side, low, high)
        for (end, side), (low, high) in sorted(spans.items())
        if low < high
    )
