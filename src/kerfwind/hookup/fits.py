"""Whether two ends go together, and how they hold.

Everything hangs on one number: the play at the mouth, the outer part's inside diameter
less the inner part's outside diameter. A taper takes play up with depth:

        outer  ____________            play(depth) = play(0) - slope * depth
               ‾‾‾‾\\___ inner  ‾‾‾     slope = 2 tan(half taper), both parts' added
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ..kept import Kept
from ..quantity import Draw, Quantity
from ..shop import End
from ..sources import fact
from .ends import EndTable, Floats

FitKind = Literal["press", "slip", "locks", "needs clamp", "needs tape", "loose", "won't go"]
#: What decides a fit: the play; that a thread or lock holds in its own mate alone; that both
#: ends go over, or both into, the other part; or that one is made to the other's true size.
Decides = Literal["play", "own mate", "both over", "both into", "to measure"]
KINDS: tuple[FitKind, ...] = (
    "press",
    "slip",
    "locks",
    "needs clamp",
    "needs tape",
    "loose",
    "won't go",
)
PRESS, SLIP, LOCKS, CLAMP, TAPE, LOOSE, WONT = range(7)

Codes = NDArray[np.int8]
Indices = NDArray[np.int64]


@dataclass(frozen=True)
class Fit:
    """How two ends go together.

    Attributes
    ----------
    kind
        The most likely way, among those that hold if holding is the likelier: ``press`` where
        depth, taper or stretch take up the play, and it holds by itself; ``slip`` where it stays
        on and pulls off easily; ``locks`` where two halves are made for each other; ``needs
        clamp`` where a rubber cuff closes under a band clamp; ``needs tape`` where tape or a
        bushing fills the play; ``loose`` where it falls off; ``won't go`` where it is too tight
        to be pushed on.
    inner
        Which of the two goes inside the other; empty where neither may.
    likelihood
        How likely it holds, with the clamp, tape or bushing it may need.
    likelihoods
        The same for each kind that occurs.
    kinds
        Index into `KINDS` along the sample axis.
    play_m
        Play at the mouth [m] along the sample axis, negative where the inner is larger.
    depth_m
        How deep it goes [m], likewise.
    miss_m
        How far the play is from one that holds [m], likewise: positive too loose,
        negative too tight, 0 where it holds, NaN where no size would mend it.
    decides
        What decides it.
    source
        The key of the fact behind it.
    rests_on
        The two diameters that decide.
    """

    kind: FitKind
    inner: Literal["a", "b", ""]
    likelihood: float
    likelihoods: dict[FitKind, float]
    kinds: Codes
    play_m: Floats
    depth_m: Floats
    miss_m: Floats
    decides: Decides
    source: str
    rests_on: tuple[Quantity, ...]

    @property
    def holds(self) -> NDArray[np.bool_]:
        """Whether it holds, along the sample axis."""
        held: NDArray[np.bool_] = self.kinds < LOOSE
        return held


@dataclass(frozen=True)
class Limits:
    """The limits of practice along the sample axis, so that all joints share one draw."""

    stretch: Floats
    squeeze: Floats
    interference: float
    press_m: float
    slip_m: float
    clamp_m: float
    bushing_m: float
    least_depth_m: float

    @classmethod
    def of(cls, draw: Draw) -> Limits:
        """The limits for one draw."""
        stretch, squeeze = fact("hookup.cuff_stretch"), fact("hookup.cuff_squeeze")
        return cls(
            draw.between(*stretch.span, stretch.key),
            draw.between(*squeeze.span, squeeze.key),
            fact("hookup.rigid_interference").value,
            fact("hookup.press_play").value,
            fact("hookup.slip_play").value,
            fact("hookup.clamp_play").value,
            fact("hookup.bushing_play").value,
            fact("hookup.least_depth").value,
        )


def assess(
    table: EndTable, limits: Limits, inner: Indices, outer: Indices
) -> tuple[Codes, Floats, Floats, Floats]:
    """Kind, play [m], depth [m] and miss [m] of each pair ``inner`` in ``outer``.

    All have shape ``(pairs, count)``. Whether the parts may go that way round is left
    to the caller.
    """
    play = table.inside[outer] - table.outside[inner]
    over_rubber, in_rubber = table.rubber[outer][:, None], table.rubber[inner][:, None]
    allow = (
        limits.interference * table.outside[inner]
        + over_rubber * limits.stretch * table.inside[outer]
        + in_rubber * limits.squeeze * table.outside[inner]
    )
    slope = table.slope[inner] + table.slope[outer]
    room = np.minimum(table.length[inner], table.length[outer])
    least = np.minimum(limits.least_depth_m, room)
    spare = play + allow
    with np.errstate(divide="ignore", invalid="ignore"):
        depth = np.where(slope > 1e-9, spare / slope, np.where(spare >= 0, np.inf, 0.0))
    depth = np.clip(depth, 0.0, room)
    seated = play - slope * room
    too_tight = spare - slope * least
    codes = np.full(play.shape, TAPE, dtype=np.int8)
    codes[seated > limits.bushing_m] = LOOSE
    codes[(seated <= limits.clamp_m) & over_rubber] = CLAMP
    codes[(seated <= limits.slip_m) & ~over_rubber] = SLIP
    codes[seated <= np.where(over_rubber, 0.0, limits.press_m)] = PRESS
    codes[too_tight < 0] = WONT
    miss = np.where(too_tight < 0, too_tight, np.maximum(seated - limits.bushing_m, 0.0))
    _lock(table, inner, outer, codes, miss)
    return codes, play, depth, miss


def _lock(table: EndTable, inner: Indices, outer: Indices, codes: Codes, miss: Floats) -> None:
    a, b = table.lock[inner], table.lock[outer]
    if not (a.any() or b.any()):
        return
    mates = (a > 0) & (a == b)
    codes[mates], miss[mates] = LOCKS, 0.0
    # A cuff clamped over the ridges of a thread or lock holds; nothing else does.
    cuff = (a > 0) & (b == 0) & table.rubber[outer]
    ridged = codes[cuff]
    codes[cuff] = np.where(ridged == PRESS, CLAMP, ridged).astype(np.int8)
    strangers = ((a > 0) | (b > 0)) & (a != b) & ~cuff
    codes[strangers], miss[strangers] = WONT, np.nan


def fit(end_a: End, end_b: End, draw: Draw, rows: Kept[Floats] | None = None) -> Fit:
    """How ``end_a`` and ``end_b`` go together.

    Parameters
    ----------
    end_a, end_b
        Two ends that face each other.
    draw
        The draw of everything uncertain; results have its length.
    rows
        Keeps what was drawn of each end.
    """
    table = EndTable.of((end_a, end_b), draw, rows)
    limits = Limits.of(draw)
    inner, outer = np.array([0, 1]), np.array([1, 0])
    codes, play, depth, miss = assess(table, limits, inner, outer)
    allowed = table.may_go_in[inner] & table.may_go_over[outer]
    if not allowed.any():
        return _neither(end_a, end_b, draw)
    held = np.where(allowed, np.mean(codes < LOOSE, axis=1), -1.0)
    # Of two ways that hold equally, the one with less play; of two misses, the nearer.
    distance = np.nan_to_num(np.mean(np.abs(miss), axis=1), nan=1.0)
    tie = np.where(allowed, np.mean(codes, axis=1) + distance * 1e3, np.inf)
    way = 0 if (held[0], -tie[0]) >= (held[1], -tie[1]) else 1
    pair = (end_a, end_b) if way == 0 else (end_b, end_a)
    code = codes[way]
    shares = {kind: float(np.mean(code == i)) for i, kind in enumerate(KINDS) if np.any(code == i)}
    likelihood = float(held[way])
    holding = [k for k in shares if KINDS.index(k) < LOOSE]
    pool = holding if likelihood >= 0.5 else [k for k in shares if k not in holding]
    kind = max(pool, key=lambda k: shares[k])
    return Fit(
        kind,
        "a" if way == 0 else "b",
        likelihood,
        shares,
        code,
        play[way],
        depth[way],
        miss[way],
        "own mate" if np.isnan(miss[way]).all() else "play",
        _source_of(kind),
        (pair[0].outside, pair[1].inside),
    )


_fits: Kept[Fit] = Kept(192)


def known_fit(end_a: End, end_b: End, draw: Draw) -> Fit:
    """`fit`, kept for the ends of a shop, which stay the same from one plan to the next."""
    return _fits.of((end_a, end_b), draw, lambda: fit(end_a, end_b, draw))


def _neither(end_a: End, end_b: End, draw: Draw) -> Fit:
    shape = draw.count
    nothing, missing = np.zeros(shape), np.full(shape, np.nan)
    kind: FitKind = "won't go"
    return Fit(
        kind,
        "",
        0.0,
        {kind: 1.0},
        np.full(shape, WONT, dtype=np.int8),
        missing,
        nothing,
        missing,
        "both over" if end_a.goes == "over" else "both into",
        "hookup.least_depth",
        (end_a.outside, end_b.outside),
    )


def _source_of(kind: FitKind) -> str:
    return {
        "press": "hookup.press_play",
        "slip": "hookup.slip_play",
        "locks": "practice",
        "needs clamp": "hookup.clamp_play",
        "needs tape": "hookup.bushing_play",
        "loose": "hookup.bushing_play",
        "won't go": "hookup.least_depth",
    }[kind]
