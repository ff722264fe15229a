"""From a drawing and a piece of paper to strokes and words in millimetres.

The largest plain scale is taken at which the drawing with all its dimensions and labels
fits. Dimensions go first, in tiers outside the outline; then what must stand on a spot;
then what can be led away.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from kerfwind.facts import Name
from kerfwind.quantity import UnitChoice
from kerfwind.words import Voice

from .canvas import SIZES, Canvas, block_size
from .filling import Filled, add_caption, fill
from .model import (
    Arc,
    Circle,
    Dimension,
    Drawing,
    Item,
    Ordinates,
    Point,
    Polygon,
    Polyline,
    RoundDimension,
)
from .placed import Placed, PlacedItem, moved, zoomed

#: One drawn length for so many real ones; the usual ones of either ruler.
_METRIC = (0.5, 1, 2, 2.5, 4, 5, 8, 10, 12.5, 15, 20, 25, 30, 40, 50, 75, 100, 200)
_IMPERIAL = (0.5, 1, 2, 3, 4, 6, 8, 10, 12, 16, 20, 24, 32, 48, 60, 64, 96, 192)
_MARGIN = 1.0  # kept clear at the paper's edges [mm]
_TRIES = 12  # scales tried before everything is made smaller
_FOOT_LINE = 3.4  # height of each line that states scale and units [mm]


@dataclass(frozen=True)
class Paper:
    """The space a drawing may use [mm]."""

    width: float
    height: float


def length_text(voice: Voice, denominator: int = 16) -> Callable[[float], str]:
    """How a length in metres is written on a dimension; the unit is stated once below."""
    return lambda length_m: voice.drawn(length_m, denominator)


def cut_text(voice: Voice) -> Callable[[float], str]:
    """How a length in metres is written where something is set out by it."""
    return voice.drawn_to_cut


def layout(
    drawing: Drawing, paper: Paper, voice: Voice, *, denominator: int = 16, footer: bool = True
) -> Placed:
    """Set a drawing on paper.

    Parameters
    ----------
    paper
        The most it may use [mm]; the result is cut down to what it needs.
    voice
        Says the dimensions that the drawing does not give as text, and the line below it.
    footer
        State the scale, the units and the drawing's notes in a line below.
    """
    return layout_together([[drawing]], paper, voice, denominator=denominator, footer=footer)


def layout_together(
    rows: Sequence[Sequence[Drawing | None]],
    paper: Paper,
    voice: Voice,
    *,
    title: str = "",
    denominator: int = 16,
    gap_mm: float = 7.0,
    footer: bool = True,
    captions: bool = True,
) -> Placed:
    """Set several views on one paper at one scale, their origins in line.

    Views in a column share the drawing's x = 0, views in a row share y = 0, as the
    three views of one thing must. With ``captions`` each has its title below it, when there
    are several.
    """
    views = [d for row in rows for d in row if d is not None]
    if not views:
        raise ValueError("no drawing was given; give at least one")
    first = views[0]
    write = cut_text(voice) if first.to_cut else length_text(voice, denominator)
    space = (paper.width, paper.height)
    most = _most(rows, paper, gap_mm)
    tries: list[_Try] = []

    def at(k: float, most: tuple[float, float]) -> _Try:
        filled = [[fill(d, k, write, most) if d else None for d in row] for row in rows]
        if captions and len(views) > 1:
            for row, made in zip(rows, filled, strict=True):
                for d, work in zip(row, made, strict=True):
                    if d and work:
                        add_caption(work, d.title)
        places, right, bottom = _places(filled, gap_mm)
        foot = _foot_lines(_statement(views, k, voice), min(paper.width, max(right, 60.0)))
        foot = foot if footer else []
        width = right + 2 * _MARGIN
        height = bottom + 2 * _MARGIN + (len(foot) * _FOOT_LINE + 1.5 if foot else 0.0)
        return _Try(k, places, foot, width, height, paper)

    for k in _scales(first, most, voice.units, tries):
        tries.append(at(k, space))
        if tries[-1].over <= 1:
            break
    chosen = _choose(tries)
    if not chosen.whole:
        # Larger than the paper it may be, but never without its words.
        chosen = at(chosen.k, (np.inf, np.inf))
    k, places, foot, width, height = (
        chosen.k,
        chosen.places,
        chosen.foot,
        chosen.width,
        chosen.height,
    )
    shrunk = chosen.over > 1 and first.scaled != "paper"
    if shrunk and first.scaled == "scale" and foot:
        scale = Name(_scale_words(k, first))
        stated, free = (
            voice.word(f"drawing.scale.{way}", scale=scale) for way in ("stated", "free")
        )
        foot[0] = foot[0].replace(stated, free)
    items: list[PlacedItem] = []
    measures: list[tuple[Dimension, Point, str]] = []
    for work, dx, dy in places:
        items += [moved(i, dx, dy) for i in work.items]
        measures += [(d, (p[0] + dx, p[1] + dy), t) for d, p, t in work.measures]
    for n, line in enumerate(foot):
        note, y = Canvas(), height - _MARGIN - (len(foot) - n - 0.5) * _FOOT_LINE
        w, _ = block_size(line, SIZES["small"], "It")
        note.text(line, (_MARGIN + w / 2, y), size=SIZES["small"], weight="It")
        width = max(width, w + 2 * _MARGIN)
        items += note.items
    placed = Placed(
        title or first.title,
        width,
        height,
        tuple(items),
        k,
        first.unit_m,
        places[0][1:],
        _scale_words(k, first),
        tuple(measures),
    )
    return zoomed(placed, 1 / chosen.over) if shrunk else placed


@dataclass(frozen=True)
class _Try:
    """The drawing at one scale; ``over`` is how many times too large it came out."""

    k: float
    places: list[tuple[Filled, float, float]]
    foot: list[str]
    width: float
    height: float
    paper: Paper

    @property
    def over(self) -> float:
        return max(self.width / self.paper.width, self.height / self.paper.height)

    @property
    def whole(self) -> bool:
        """Whether its labels were placed; where it was too large already they were not."""
        return all(work.whole for work, _, _ in self.places)


def _choose(tries: list[_Try]) -> _Try:
    """The first that fits, unless another would be much larger with its text a little smaller.

    Words do not shrink with the scale, so a crowded drawing may fit only as a speck.
    """
    fits = tries[-1] if tries[-1].over <= 1 else None
    complete = [t for t in tries if t.whole]
    near = [t for t in complete if 1 < t.over <= 1.25] or ([] if fits else complete)
    best = max(near, key=lambda t: t.k / t.over, default=None)
    if fits is None or (best is not None and best.k / best.over > 1.8 * fits.k):
        return best or tries[-1]
    return fits


def _most(rows: Sequence[Sequence[Drawing | None]], paper: Paper, gap_mm: float) -> float:
    """Millimetres for a unit at which the bare geometry would just fit."""
    columns = max(len(row) for row in rows)
    wide, high = [1e-9] * columns, [1e-9] * len(rows)
    for r, row in enumerate(rows):
        for c, drawing in enumerate(row):
            if drawing:
                w, h = _size(drawing)
                wide[c], high[r] = max(wide[c], w), max(high[r], h)
    free_w = paper.width - 2 * _MARGIN - gap_mm * (columns - 1)
    free_h = paper.height - 2 * _MARGIN - gap_mm * (len(rows) - 1)
    return max(min(free_w / sum(wide), free_h / sum(high)), 1e-6) * (1 - 1e-9)


def _scales(
    drawing: Drawing, most: float, units: UnitChoice, tries: Sequence[_Try]
) -> Iterator[float]:
    """Millimetres of paper for one drawing unit, largest first; ``tries`` so far guide it."""
    if drawing.scaled == "paper":
        yield 1.0
        return
    per_unit = drawing.unit_m * 1000
    if drawing.scaled == "free":
        k = most
        for _ in range(_TRIES):
            yield k
            # Text keeps its size: what is over must come off the geometry alone.
            k *= min(0.96, max(0.8, 1 - 1.05 * (tries[-1].over - 1)))
        return
    steps = _METRIC if units == "mm" else _IMPERIAL
    fitting = [per_unit / s for s in steps if per_unit / s <= most]
    last = fitting[-1] if fitting else most
    yield from [*fitting, *(last * 0.85**n for n in range(1, _TRIES))][:_TRIES]


def _scale_words(k: float, drawing: Drawing) -> str:
    if drawing.scaled != "scale":
        return ""
    ratio = drawing.unit_m * 1000 / k
    if ratio < 1:
        return f"{1 / ratio:.3g}:1"
    return f"1:{ratio:.3g}"


def _statement(views: Sequence[Drawing], k: float, voice: Voice) -> str:
    parts = []
    first = views[0]
    if first.scaled == "scale":
        scale = Name(_scale_words(k, first))
        parts.append(voice.word("drawing.scale.stated", scale=scale))
    if any(isinstance(i, Dimension | Ordinates | RoundDimension) for d in views for i in d.items):
        parts.append(voice.word("drawing.sizes_in", units=voice.units))
    parts += list(dict.fromkeys(n for d in views for n in d.notes))
    text = " · ".join(parts)
    return text[:1].upper() + text[1:]


def _foot_lines(statement: str, width: float) -> list[str]:
    """The statement in lines no wider than ``width`` where its parts allow."""
    lines: list[str] = []
    for part in filter(None, statement.split(" · ")):
        joined = f"{lines[-1]} · {part}" if lines else part
        if lines and block_size(joined, SIZES["small"], "It")[0] <= width:
            lines[-1] = joined
        else:
            lines.append(part)
    return lines


def _size(drawing: Drawing) -> tuple[float, float]:
    points = [p for i in drawing.items for p in _points(i)]
    if not points:
        return (1e-9, 1e-9)
    a = np.asarray(points)
    w, h = a.max(axis=0) - a.min(axis=0)
    return (max(float(w), 1e-9), max(float(h), 1e-9))


def _points(item: Item) -> Sequence[Point]:
    if isinstance(item, Polyline | Polygon):
        return item.points
    if isinstance(item, Circle | Arc):
        (x, y), r = item.centre, item.radius
        return ((x - r, y - r), (x + r, y + r))
    return ()


def _places(
    filled: list[list[Filled | None]], gap: float
) -> tuple[list[tuple[Filled, float, float]], float, float]:
    """How far each view is moved so that columns share x = 0 and rows y = 0; the whole size."""
    columns = max(len(row) for row in filled)
    lefts, rights = [0.0] * columns, [0.0] * columns
    tops, bottoms = [0.0] * len(filled), [0.0] * len(filled)
    known_c: set[int] = set()
    for r, row in enumerate(filled):
        known_r = False
        for c, work in enumerate(row):
            if work:
                left, top, right, bottom = work.bounds
                lefts[c] = min(lefts[c], left) if c in known_c else left
                rights[c] = max(rights[c], right) if c in known_c else right
                tops[r] = min(tops[r], top) if known_r else top
                bottoms[r] = max(bottoms[r], bottom) if known_r else bottom
                known_c.add(c)
                known_r = True
    places: list[tuple[Filled, float, float]] = []
    y = _MARGIN
    for r, row in enumerate(filled):
        x = _MARGIN
        for c, work in enumerate(row):
            if work:
                places.append((work, x - lefts[c], y - tops[r]))
            x += rights[c] - lefts[c] + gap
        y += bottoms[r] - tops[r] + gap
    return places, x - gap - _MARGIN, y - gap - _MARGIN
