"""A chain of fittings from the tool's port to the hose, drawn apart along its middle line.

Drawn in millimetres of paper: diameters and lengths are to one scale, the gaps are as
wide as their words need.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from kerfwind.facts import Name
from kerfwind.words import Voice

from .canvas import SIZES
from .model import Drawing, Item, Label, LineMeaning, Point, Polygon, Polyline, Weight
from .textsize import text_width

_ROW = 3.45  # line to line of the names [mm]


@dataclass(frozen=True)
class ChainPiece:
    """One piece of a chain, in the order the air passes.

    Attributes
    ----------
    start_outside_m, start_inside_m, end_outside_m, end_inside_m
        Diameters of its two ends [m].
    joint
        Words for the joint to the next piece, below its sizes: ``push fit``, ``clamp``.
    flexible
        A hose: shown broken off.
    to_get
        Not owned yet: drawn heavy and said so.
    """

    name: str
    start_outside_m: float
    start_inside_m: float
    end_outside_m: float
    end_inside_m: float
    length_m: float
    joint: str = ""
    flexible: bool = False
    to_get: bool = False


def chain_drawing(
    pieces: Sequence[ChainPiece], *, voice: Voice, width_mm: float = 170.0, most_scale: float = 0.4
) -> Drawing:
    """Pieces in order with their names above and the sizes that meet below each joint.

    Parameters
    ----------
    width_mm
        To keep to, by drawing smaller than ``most_scale``, a share of true size.

    Raises
    ------
    ValueError
        No pieces, or one whose inside is not smaller than its outside.
    """
    if not pieces:
        raise ValueError("the chain has no pieces; give at least one")
    for piece in pieces:
        ends = (
            (piece.start_inside_m, piece.start_outside_m),
            (piece.end_inside_m, piece.end_outside_m),
        )
        if not all(0 < inside < outside for inside, outside in ends) or piece.length_m <= 0:
            raise ValueError(
                f"{piece.name}: inside diameters must lie between zero and the outside ones, and "
                "its length above zero; measure its ends again"
            )
    names = [_wrapped(p, voice) for p in pieces]
    joints = [_joint(a, b, voice) for a, b in zip(pieces[:-1], pieces[1:], strict=True)]
    widths = [max(text_width(t, SIZES["normal"], "Semibold") for t in lines) for lines in names]
    gaps = [max(text_width(t, SIZES["small"]) for t in lines) for lines in joints]
    lengths = [_shown(p) for p in pieces]
    k = most_scale * 1000
    for _ in range(40):
        places, total = _columns([v * k for v in lengths], widths, gaps)
        if total <= width_mm:
            break
        k *= 0.93
    tallest = max(max(p.start_outside_m, p.end_outside_m) for p in pieces) * k
    items: list[Item] = []
    notes: list[Item] = []
    for piece, lines, (x, length) in zip(pieces, names, places, strict=True):
        items += _body(piece, x, length, k)
        top = tallest / 2 + 3.5 + _ROW * (len(lines) - 1)
        for n, line in enumerate(lines):
            at = (x + length / 2, top - _ROW * n)
            notes.append(Label(at, line, weight=_weight(piece, lines, n)))
    for lines, (x0, l0), (x1, _) in zip(joints, places[:-1], places[1:], strict=True):
        middle = (x0 + l0 + x1) / 2
        foot = -tallest / 2 - 2.5
        items.append(
            Polyline(
                ((x0 + l0, foot + 1.5), (x0 + l0, foot), (x1, foot), (x1, foot + 1.5)), "measure"
            )
        )
        for n, line in enumerate(lines):
            notes.append(Label((middle, foot - 2.4 - 3.0 * n), line, size="small"))
    end = places[-1][0] + places[-1][1]
    items.append(Polyline(((places[0][0] - 4.0, 0.0), (end + 4.0, 0.0)), "centre"))
    return Drawing(voice.word("drawing.chain"), (*items, *notes), scaled="paper")


def _weight(piece: ChainPiece, lines: Sequence[str], number: int) -> Weight:
    """Names are bold; the words that it is to be bought are not."""
    return "It" if piece.to_get and number == len(lines) - 1 else "Semibold"


def _shown(piece: ChainPiece) -> float:
    """Length drawn: a hose is broken off."""
    widest = max(piece.start_outside_m, piece.end_outside_m)
    return min(piece.length_m, 1.4 * widest) if piece.flexible else piece.length_m


def _columns(
    lengths: Sequence[float], widths: Sequence[float], gaps: Sequence[float]
) -> tuple[list[tuple[float, float]], float]:
    """Start and length of each piece so that names and joints have room; the whole width."""
    places: list[tuple[float, float]] = []
    middle = max(lengths[0], widths[0]) / 2
    for n, length in enumerate(lengths):
        if n:
            before = lengths[n - 1]
            names = (widths[n - 1] + widths[n]) / 2 + 3.0
            # Neighbouring joint words must not meet either: they get half a piece each side.
            apart = (before + length) / 2 + max(6.0, gaps[n - 1] + 2.0 - min(before, length) / 2)
            middle += max(names, apart)
        places.append((middle - length / 2, length))
    right = middle + max(lengths[-1], widths[-1]) / 2
    return places, right


def _wrapped(piece: ChainPiece, voice: Voice) -> list[str]:
    lines: list[str] = []
    for word in piece.name.split():
        if lines and len(lines[-1]) + len(word) < 15:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return [*lines, voice.word("drawing.chain.to_get")] if piece.to_get else lines


def _joint(piece: ChainPiece, after: ChainPiece, voice: Voice) -> list[str]:
    """The two diameters that meet, closest pair: this into the next, or the next into this."""
    into = abs(piece.end_outside_m - after.start_inside_m)
    over = abs(piece.end_inside_m - after.start_outside_m)
    if into <= over:
        lines = [
            voice.word("drawing.chain.outside", size=Name(voice.fitted(piece.end_outside_m))),
            voice.word("drawing.chain.into", size=Name(voice.fitted(after.start_inside_m))),
        ]
    else:
        lines = [
            voice.word("drawing.chain.inside", size=Name(voice.fitted(piece.end_inside_m))),
            voice.word("drawing.chain.over", size=Name(voice.fitted(after.start_outside_m))),
        ]
    return [*lines, piece.joint] if piece.joint else lines


def _body(piece: ChainPiece, x: float, length: float, k: float) -> list[Item]:
    a, b = piece.start_outside_m * k / 2, piece.end_outside_m * k / 2
    c, d = piece.start_inside_m * k / 2, piece.end_inside_m * k / 2
    line: LineMeaning = "new" if piece.to_get else "outline"
    # A change of size takes the middle third; the ends are straight to push on.
    s, t = x + length / 3, x + 2 * length / 3
    end = x + length
    upper: list[Point] = [(x, a), (s, a), (t, b), (end, b)]
    items: list[Item] = []
    if piece.flexible:
        ribs = max(4, round(length / 1.6))
        step = length / ribs
        upper = []
        for n in range(ribs):
            x0 = x + n * step
            upper += [(x0 + step * 0.25, a), (x0 + step * 0.5, a * 0.93), (x0 + step, a * 0.93)]
        upper = [(x, a), *upper[:-1], (end, a)]
    lower = [(px, -py) for px, py in reversed(upper)]
    items.append(Polygon((*upper, *lower), line, 0.9))
    bore: list[Point] = [(x, c), (s, c), (t, d), (end, d)]
    if not piece.flexible:
        items.append(Polyline(tuple(bore), "hidden"))
        items.append(Polyline(tuple((px, -py) for px, py in bore), "hidden"))
    return items
