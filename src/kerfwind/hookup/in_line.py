"""A chain as it lies in line, piece by piece, for whoever draws it."""

from __future__ import annotations

from dataclasses import dataclass

from ..facts import Fact, Ref
from ..shop import End, Hose
from .fits import FitKind
from .model import Chain, Hookups, Origin, Piece

#: How much of the hose belongs to its end [m].
_HOSE_END_M = 0.3
#: A wall is at least this part of the outside diameter, whatever was measured.
_THINNEST = 0.02


@dataclass(frozen=True)
class InLine:
    """One piece between the port and the hose, in the order the air takes them.

    Attributes
    ----------
    what
        What to say for it where the ends that it joins are shown beside it.
    start_m, end_m
        Outside and inside diameter of the end that the air comes to first, and of the other.
    joint
        How it is joined to the next piece; None for the last.
    origin
        None for what is there anyway: the port and the hose.
    """

    what: Fact
    start_m: tuple[float, float]
    end_m: tuple[float, float]
    length_m: float
    joint: FitKind | None
    origin: Origin | None = None
    flexible: bool = False


def in_line(chain: Chain, hose: Hose) -> tuple[InLine, ...]:
    """Port, fittings and hose of one tool; nothing where no chain reaches."""
    if not chain.reached:
        return ()
    joints = chain.joints
    port, mouth = joints[0].upstream_end, joints[-1].downstream_end
    pieces = tuple(
        _of(piece, joint.fit.kind) for piece, joint in zip(chain.pieces, joints[1:], strict=True)
    )
    first = InLine(
        Ref("tool", chain.tool),
        _diameters(port),
        _diameters(port),
        port.length.best_si,
        joints[0].fit.kind,
    )
    ends = _diameters(mouth)
    return (
        first,
        *pieces,
        InLine(Ref("hose", hose.name), ends, ends, _HOSE_END_M, None, flexible=True),
    )


def on_the_unit(hookups: Hookups, hose: Hose) -> tuple[InLine, ...]:
    """A tool hose from what stays on its tool end to the unit's inlet; nothing unless it reaches."""
    chain = next((c for c in hookups.unit if c.hose == hose.name and c.reached), None)
    if chain is None:
        return ()
    line: list[InLine] = []
    for coupling in (c for c in hookups.couplings if c.hose == hose.name):
        piece = coupling.piece
        last = hookups.chain(coupling.tools[0]).joints[-1]
        line.append(_of(piece, last.fit.kind))
    tool, unit = _diameters(hose.tool_end), _diameters(chain.joints[0].upstream_end)
    first = chain.joints[0].fit.kind
    line.append(InLine(Ref("hose", hose.name), tool, unit, _HOSE_END_M, first, flexible=True))
    line += [_of(p, j.fit.kind) for p, j in zip(chain.pieces, chain.joints[1:], strict=True)]
    inlet = chain.joints[-1].downstream_end
    ends = _diameters(inlet)
    return (*line, InLine(chain.finish, ends, ends, inlet.length.best_si, None))


def _of(piece: Piece, joint: FitKind) -> InLine:
    return InLine(
        piece.in_short,
        _diameters(piece.upstream),
        _diameters(piece.downstream),
        piece.fitting.length.best_si,
        joint,
        piece.origin,
    )


def _diameters(end: End) -> tuple[float, float]:
    outside = end.outside.best_si
    return outside, min(end.inside.best_si, (1 - _THINNEST) * outside)
