"""Pictures of a session: dust in the air, where the dust goes, the bucket, the day's dose.

All are drawn in millimetres of paper, in greys; bands hold nine cases of ten.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from kerfwind.words import Voice

from .canvas import SIZES
from .model import Drawing, Item, Label, Point, Polygon, Polyline, Size, rectangle
from .overlap import Floats
from .textsize import text_width

#: Greys of what is under, between and over the limits, and of a band of cases.
_OVER, _BETWEEN, _BAND = 0.84, 0.93, 0.66
#: A flow that is there is drawn at least so wide [mm].
_THIN = 0.25


@dataclass(frozen=True)
class Course:
    """Something against another, with the band of nine cases in ten; all of shape (points,)."""

    at: Floats
    low: Floats
    middle: Floats
    high: Floats


@dataclass(frozen=True)
class Span:
    """A stretch of time with its name [min]."""

    start: float
    end: float
    name: str


@dataclass(frozen=True)
class Flow:
    """One place where dust ends: what it is called, its mass in words, and parts of what is made.

    ``caught`` is the part that comes by way of a hood, ``past`` the part that went past them.
    """

    name: str
    mass: str
    caught: float
    past: float


@dataclass(frozen=True)
class _Scale:
    """Values onto millimetres, straight or by decades, with the places of its ticks."""

    low: float
    high: float
    length_mm: float
    ticks: tuple[float, ...]
    decades: bool = False

    def mm(self, value: Floats | float) -> Floats:
        v = np.asarray(value, dtype=float)
        if self.decades:
            v = np.log10(np.maximum(v, self.low / 10))
            low, high = math.log10(self.low), math.log10(self.high)
        else:
            low, high = self.low, self.high
        return np.clip((v - low) / (high - low), 0.0, 1.0) * self.length_mm


def _straight(most: float, length_mm: float, every_mm: float, whole: bool = False) -> _Scale:
    rough = max(most, 1e-9) / max(length_mm / every_mm, 1.0)
    power = 10.0 ** math.floor(math.log10(rough))
    steps = [s * power for s in (1, 2, 2.5, 5, 10)]
    step = next(s for s in steps if s >= rough * (1 - 1e-9))
    if whole:
        step = max(1.0, float(math.ceil(step)))
    count = math.ceil(most / step - 1e-9)
    return _Scale(0.0, count * step, length_mm, tuple(n * step for n in range(count + 1)))


def _minutes(most: float, length_mm: float) -> _Scale:
    step = next(
        (s for s in (10.0, 15.0, 30.0, 60.0, 120.0, 240.0) if most / s * 14.0 <= length_mm), 480.0
    )
    count = max(1, math.ceil(most / step - 1e-9))
    return _Scale(0.0, count * step, length_mm, tuple(n * step for n in range(count + 1)))


def _by_decades(low: float, high: float, length_mm: float) -> _Scale:
    first, last = math.floor(math.log10(low)), math.ceil(math.log10(high))
    ticks = tuple(10.0**n for n in range(first, last + 1))
    return _Scale(ticks[0], ticks[-1], length_mm, ticks, decades=True)


def _number(value: float) -> str:
    return f"{value:,.0f}" if value >= 10 or value == round(value) else f"{value:g}"


def _frame(x: _Scale, y: _Scale, across: str, up: str, percent: bool = False) -> list[Item]:
    w, h = x.length_mm, y.length_mm
    items: list[Item] = []
    for tick in x.ticks:
        at = float(x.mm(tick))
        items.append(Polyline(((at, 0), (at, h)), "grid"))
        items.append(Label((at, -3.2), _number(tick), size="small"))
    for tick in y.ticks:
        at = float(y.mm(tick))
        items.append(Polyline(((0, at), (w, at)), "grid"))
        text = f"{100 * tick:,.0f} %" if percent else _number(tick)
        items.append(Label((-2.2, at), text, size="small", anchor="end"))
    items.append(Polyline(((0, h), (0, 0), (w, 0)), "axis"))
    items.append(Label((w, -7.2), across, anchor="end", size="small"))
    if up:
        items.append(Label((-10.0, h + 4.4), up, anchor="start", size="small"))
    return items


def _band(course: Course, x: _Scale, y: _Scale) -> list[Item]:
    xs = x.mm(course.at)
    upper, lower = y.mm(course.high), y.mm(course.low)
    edge = [*zip(xs, upper, strict=True), *zip(xs[::-1], lower[::-1], strict=True)]
    area = Polygon(tuple((float(a), float(b)) for a, b in edge), None, _BAND)
    line = zip(xs, y.mm(course.middle), strict=True)
    return [area, Polyline(tuple((float(a), float(b)) for a, b in line), "curve")]


def air_chart(
    course: Course,
    tasks: Sequence[Span],
    *,
    limit: float,
    clear: float,
    limit_name: str,
    mask_min: tuple[float, float],
    voice: Voice,
    width_mm: float = 150.0,
    height_mm: float = 42.0,
) -> Drawing:
    """Inhalable dust round the worker against time.

    Parameters
    ----------
    course
        Minutes from the beginning, and mg/m³.
    tasks
        The operations, along the top.
    limit, clear
        The limit, and what the mask may come off at [mg/m³].
    mask_min
        From the beginning to where the mask may come off: the middle case, and the longest of
        nine in ten [min].
    """
    most_min = float(course.at[-1])
    x = _minutes(most_min, width_mm)
    top = max(float(course.high.max()), limit) * 1.3
    y = _by_decades(clear / 10, top, height_mm)
    over, between = float(y.mm(limit)), float(y.mm(clear))
    items: list[Item] = [
        rectangle(0, over, width_mm, height_mm - over, None, _OVER),
        rectangle(0, between, width_mm, over - between, None, _BETWEEN),
    ]
    items += _band(course, x, y)
    across = voice.word("drawing.axis.minutes")
    items += _frame(x, y, across, "")
    items.append(Label((0.0, -7.2), voice.word("drawing.axis.dust"), size="small", anchor="start"))
    items.append(Polyline(((0, over), (width_mm, over)), "cut"))
    items.append(Label((width_mm + 1.5, over), limit_name, size="small", anchor="start"))
    clear_text = voice.word("drawing.air.clear")
    items.append(Label((width_mm + 1.5, between), clear_text, size="small", anchor="start"))
    items += _lanes(tasks, x, height_mm + 6.6)
    soon, late = (min(float(x.mm(m)), width_mm) for m in mask_min)
    bar = height_mm + 1.2
    items.append(rectangle(0, bar, soon, 2.0, "edge", 0.3))
    items.append(rectangle(soon, bar, max(late - soon, 0.0), 2.0, "edge", 0.8))
    on = voice.word("drawing.air.mask")
    items.append(Label((width_mm + 1.5, bar + 1.0), on, size="small", anchor="start"))
    return Drawing(voice.word("drawing.air"), tuple(items), scaled="paper")


def _lanes(tasks: Sequence[Span], x: _Scale, above_mm: float) -> list[Item]:
    """The operations as lines with their names, each in the lowest lane that is free."""
    ends: list[float] = []
    items: list[Item] = []
    for task in tasks:
        start, end = float(x.mm(task.start)), float(x.mm(task.end))
        lane = next((n for n, taken in enumerate(ends) if taken <= start), len(ends))
        taken = max(end, start + text_width(task.name, SIZES["small"])) + 1.5
        ends[lane : lane + 1] = [taken]
        y = above_mm + 4.0 * lane
        items.append(Polyline(((start, y - 1.6), (end, y - 1.6)), "outline"))
        items.append(Label((start, y + 0.4), task.name, size="small", anchor="start"))
    return items


def flow_chart(
    made: str,
    flows: Sequence[Flow],
    *,
    voice: Voice,
    width_mm: float = 110.0,
    whole_mm: float = 24.0,
    row_mm: float = 5.0,
) -> Drawing:
    """Where the dust goes: from what is made by the hoods, or past them, to where it ends.

    Widths are in proportion to mass, ``whole_mm`` for all that is made, but for flows that would
    be too thin to be seen; ``row_mm`` is kept for each name.
    """
    caught, past = sum(f.caught for f in flows), sum(f.past for f in flows)
    unit = whole_mm / max(caught + past, 1e-12)
    rows = [max((f.caught + f.past) * unit + 1.4, row_mm) for f in flows]
    high, gap, bar = max(sum(rows), whole_mm + row_mm), row_mm, 2.2
    middle = 0.36 * width_mm
    items: list[Item] = []
    begin = (high + whole_mm) / 2
    items.append(rectangle(0.0, begin - whole_mm, bar, whole_mm, "edge", 0.35))
    items.append(Label((-1.5, high / 2 + 2.0), voice.word("drawing.flow.made"), anchor="end"))
    items.append(Label((-1.5, high / 2 - 2.2), made, size="small", anchor="end"))
    top = (high + whole_mm + gap) / 2
    starts = {}
    ways = (
        ("caught", caught, voice.word("drawing.flow.hoods")),
        ("past", past, voice.word("drawing.flow.past")),
    )
    for way, part, name in ways:
        wide = part * unit
        seen = max(wide, _THIN)
        items.append(_ribbon((bar, begin, begin - wide), (middle, top, top - wide), 0.82))
        items.append(rectangle(middle, top - seen, bar, seen, "edge", 0.35))
        items.append(Label((middle + bar / 2, top + 2.0), name, size="small"))
        starts[way] = top
        begin, top = begin - wide, top - wide - gap
    names = width_mm + bar + 2.0
    masses = names + 2.0 + max((text_width(f.name, SIZES["normal"]) for f in flows), default=0.0)
    at = high
    for flow, row in zip(flows, rows, strict=True):
        y, wide = at - row / 2, max((flow.caught + flow.past) * unit, _THIN)
        end = y + wide / 2
        items.append(rectangle(width_mm, y - wide / 2, bar, wide, "edge", 0.35))
        for way, part in (("caught", flow.caught), ("past", flow.past)):
            if part > 0:
                begin, seen = starts[way], max(part * unit, _THIN)
                ribbon = ((middle + bar, begin, begin - seen), (width_mm, end, end - seen))
                items.append(_ribbon(*ribbon, 0.82 if way == "caught" else 0.7))
                starts[way] -= part * unit
                end -= part * unit
        items.append(Label((names, y), flow.name, anchor="start"))
        items.append(Label((masses, y), flow.mass, size="small", anchor="start"))
        at -= row
    return Drawing(voice.word("drawing.flow"), tuple(items), scaled="paper")


def _ribbon(
    start: tuple[float, float, float], end: tuple[float, float, float], grey: float
) -> Polygon:
    """A flow between two upright edges: (x, top, bottom) of each."""
    x0, top0, low0 = start
    x1, top1, low1 = end
    s = np.linspace(0.0, 1.0, 17)
    bend = s * s * (3 - 2 * s)
    xs = x0 + s * (x1 - x0)
    upper = top0 + bend * (top1 - top0)
    lower = low0 + bend * (low1 - low0)
    points: list[Point] = [
        *zip(xs.tolist(), upper.tolist(), strict=True),
        *zip(xs[::-1].tolist(), lower[::-1].tolist(), strict=True),
    ]
    return Polygon(tuple(points), None, grey)


def bucket_chart(
    course: Course,
    passes: tuple[float, float],
    *,
    voice: Voice,
    width_mm: float = 62.0,
    height_mm: float = 27.0,
) -> Drawing:
    """Level in the bucket against sessions, and where its separator begins to pass chips.

    Parameters
    ----------
    course
        Sessions, and parts of the bucket.
    passes
        Between which parts of the bucket it begins to pass chips.
    """
    x = _straight(float(course.at[-1]), width_mm, 10.0, whole=True)
    y = _Scale(0.0, 1.0, height_mm, (0.0, 0.25, 0.5, 0.75, 1.0))
    low, high = (float(y.mm(p)) for p in passes)
    items: list[Item] = [rectangle(0, low, width_mm, high - low, None, _OVER)]
    items += _band(course, x, y)
    across, up = voice.word("drawing.axis.sessions"), voice.word("drawing.axis.bucket")
    items += _frame(x, y, across, up, percent=True)
    items.append(
        Label(
            (width_mm + 1.5, (low + high) / 2),
            voice.word("drawing.bucket.passes"),
            size="small",
            anchor="start",
        )
    )
    return Drawing(voice.word("drawing.bucket"), tuple(items), scaled="paper")


def dose_chart(
    dust: Course, noise: Course, *, voice: Voice, width_mm: float = 62.0, height_mm: float = 27.0
) -> Drawing:
    """The day's dose of dust and of noise as they add up; the whole day's is one.

    Parameters
    ----------
    dust, noise
        Minutes from the beginning, and parts of what a whole day may bring.
    """
    x = _minutes(max(float(dust.at[-1]), float(noise.at[-1])), width_mm)
    most = max(float(dust.high[-1]), float(noise.high[-1]), 1.0)
    y = _by_decades(0.01, most * 1.5, height_mm)
    one = float(y.mm(1.0))
    items: list[Item] = [rectangle(0, one, width_mm, height_mm - one, None, _OVER)]
    items += _band(dust, x, y)
    edges = [noise.low, noise.high]
    for each in edges:
        line = zip(x.mm(noise.at), y.mm(each), strict=True)
        items.append(Polyline(tuple((float(a), float(b)) for a, b in line), "hidden"))
    middle = zip(x.mm(noise.at), y.mm(noise.middle), strict=True)
    items.append(Polyline(tuple((float(a), float(b)) for a, b in middle), "second"))
    across, up = voice.word("drawing.axis.minutes"), voice.word("drawing.axis.dose")
    items += _frame(x, y, across, up, percent=True)
    items.append(Polyline(((0, one), (width_mm, one)), "cut"))
    for name, course in (("dust", dust), ("noise", noise)):
        at = (float(x.mm(course.at[-1])) + 1.5, float(y.mm(course.middle[-1])))
        word = voice.word("drawing.dose.dust" if name == "dust" else "drawing.dose.noise")
        items.append(_name(at, word))
    return Drawing(voice.word("drawing.dose"), tuple(items), scaled="paper")


def _name(at: Point, text: str, size: Size = "small") -> Label:
    return Label(at, text, size=size, weight="It", anchor="start")
