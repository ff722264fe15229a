"""Charts that print: suction against airflow, and suction along the path.

Both are drawn in millimetres of paper, in greys; lines are named where they end.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from kerfwind.facts import Amount, Name
from kerfwind.quantity import dimension
from kerfwind.words import Voice

from .canvas import SIZES
from .model import Circle, Drawing, Item, Label, Point, Polygon, Polyline
from .overlap import Floats
from .textsize import text_width

#: So far past its meeting with the suction curve a system's curve is drawn [mm].
_PAST_MM = 7.0


@dataclass(frozen=True)
class SystemCurve:
    """What one way through the hoses asks for.

    ``airflow_m3_s`` and ``suction_pa`` are points of the curve, airflow rising; ``meeting``
    is where it meets the suction curve (airflow, suction), None where it does not.
    """

    name: str
    airflow_m3_s: ArrayLike
    suction_pa: ArrayLike
    meeting: tuple[float, float] | None = None


@dataclass(frozen=True)
class PathPart:
    """One part of the way from the tool's port to the filter, and the suction it uses up.

    ``run`` parts lose along their length, ``step`` parts at one place. ``low_pa`` and
    ``high_pa`` are the ends of the loss's band.
    """

    name: str
    loss_pa: float
    kind: Literal["run", "step"] = "step"
    low_pa: float | None = None
    high_pa: float | None = None


@dataclass(frozen=True)
class Axis:
    """A linear axis: values in its unit, from zero, onto millimetres."""

    high: float
    step: float
    length_mm: float
    factor: float
    unit: str
    voice: Voice

    def mm(self, value_si: ArrayLike) -> Floats:
        """Millimetres from the axis' start."""
        return np.asarray(value_si, dtype=float) / self.factor / self.high * self.length_mm

    def ticks(self) -> list[tuple[float, str]]:
        """Place [mm] and text of each tick."""
        count = round(self.high / self.step)
        places = max(0, -math.floor(math.log10(self.step) + 1e-9))
        if places and abs(self.step * 10**places - round(self.step * 10**places)) > 1e-6:
            places += 1
        return [
            (n * self.step / self.high * self.length_mm, self.voice.count(n * self.step, places))
            for n in range(count + 1)
        ]


def nice_axis(
    most_si: float, dimension_name: str, voice: Voice, length_mm: float, every_mm: float = 18.0
) -> Axis:
    """An axis from zero past ``most_si`` in steps of 1, 2, 2.5 or 5 times a power of ten."""
    dim = dimension(dimension_name)
    name = dim.metric if voice.units == "mm" else dim.imperial
    unit = next(u for u in dim.units if u.name == name)
    most = max(most_si / unit.factor, 1e-9)
    rough = most / max(length_mm / every_mm, 1.0)
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(s * power for s in (1, 2, 2.5, 5, 10) if s * power >= rough * (1 - 1e-9))
    high = math.ceil(most / step - 1e-9) * step
    return Axis(high, step, length_mm, unit.factor, name.replace("H2O", "H₂O"), voice)


def _frame(x: Axis, y: Axis, voice: Voice) -> list[Item]:
    w, h = x.length_mm, y.length_mm
    items: list[Item] = []
    for at, text in x.ticks():
        items.append(Polyline(((at, 0), (at, h)), "grid"))
        items.append(Polyline(((at, 0), (at, -1.2)), "axis"))
        items.append(Label((at, -3.2), text, size="small"))
    for at, text in y.ticks():
        items.append(Polyline(((0, at), (w, at)), "grid"))
        items.append(Polyline(((0, at), (-1.2, at)), "axis"))
        items.append(Label((-2.2, at), text, size="small", anchor="end"))
    items.append(Polyline(((0, h), (0, 0), (w, 0)), "axis"))
    airflow, suction = (
        voice.word("drawing.axis.airflow", unit=Name(x.unit)),
        _suction_title(y, voice),
    )
    items.append(Label((w, -7.2), airflow, anchor="end"))
    items.append(Label((-8.0, h + 4.6), suction, anchor="start"))
    return items


def _suction_title(axis: Axis, voice: Voice) -> str:
    return voice.word("drawing.axis.suction", unit=Name(axis.unit))


def _clipped(x: Floats, y: Floats, width: float, height: float) -> list[list[Point]]:
    """The parts of a curve inside the frame."""
    parts: list[list[Point]] = [[]]
    for (x0, y0), (x1, y1) in zip(
        zip(x[:-1], y[:-1], strict=True), zip(x[1:], y[1:], strict=True), strict=True
    ):
        low, high = 0.0, 1.0
        for p, d, most in ((x0, x1 - x0, width), (y0, y1 - y0, height)):
            if d == 0:
                if not 0 <= p <= most:
                    low = 2.0
                continue
            a, b = sorted(((0 - p) / d, (most - p) / d))
            low, high = max(low, a), min(high, b)
        if low >= high:
            continue
        a_point = (float(x0 + low * (x1 - x0)), float(y0 + low * (y1 - y0)))
        b_point = (float(x0 + high * (x1 - x0)), float(y0 + high * (y1 - y0)))
        if parts[-1] and math.dist(parts[-1][-1], a_point) > 1e-6:
            parts.append([])
        if not parts[-1]:
            parts[-1].append(a_point)
        parts[-1].append(b_point)
    return [p for p in parts if len(p) > 1]


def suction_chart(
    airflow_m3_s: ArrayLike,
    suction_pa: ArrayLike,
    systems: Sequence[SystemCurve] = (),
    *,
    band_pa: tuple[ArrayLike, ArrayLike] | None = None,
    points: Sequence[tuple[float, float]] = (),
    voice: Voice,
    width_mm: float = 150.0,
    height_mm: float = 85.0,
) -> Drawing:
    """The vacuum's suction curve against what the hoses ask for.

    Parameters
    ----------
    airflow_m3_s, suction_pa
        Points of the suction curve, airflow rising, shape (n,).
    systems
        A curve for each tool or way, drawn to a little past its meeting.
    band_pa
        Lower and upper suction at the same airflows, shape (n,) each: where nine curves
        in ten lie.
    points
        Measured (airflow, suction), drawn as rings.
    width_mm, height_mm
        Of the frame; texts stand around it.
    """
    q, p = np.asarray(airflow_m3_s, dtype=float), np.asarray(suction_pa, dtype=float)
    if q.shape != p.shape or q.ndim != 1 or len(q) < 2:
        raise ValueError(
            f"the suction curve has {q.size} airflows and {p.size} suctions; "
            "give two or more of each, as many of one as of the other"
        )
    top = float(p.max() if band_pa is None else np.max(band_pa[1]))
    meetings = [s.meeting for s in systems if s.meeting]
    most_q = max([float(q.max()), *(m[0] for m in meetings)])
    x = nice_axis(most_q, "airflow", voice, width_mm)
    y = nice_axis(top, "pressure", voice, height_mm, 14.0)
    items: list[Item] = []
    if band_pa is not None:
        lower, upper = (np.clip(y.mm(b), 0, height_mm) for b in band_pa)
        xs = x.mm(q)
        edge = [*zip(xs, upper, strict=True), *zip(xs[::-1], lower[::-1], strict=True)]
        items.append(Polygon(tuple((float(a), float(b)) for a, b in edge), None, 0.88))
    items += _frame(x, y, voice)
    alive = np.append(True, p[:-1] > 0)  # nothing is drawn along the axis
    main = _clipped(x.mm(q[alive]), y.mm(p[alive]), width_mm, height_mm)
    items += [Polyline(tuple(part), "curve") for part in main]
    names: list[Item] = []
    for system in systems:
        items += _system(system, x, y, voice, names)
    for a, b in points:
        spot = (float(x.mm(a)), float(y.mm(b)))
        items.append(Circle(spot, 0.9, "axis", 1.0))
    if main:
        end = main[0][min(len(main[0]) // 8, len(main[0]) - 1)]
        name = voice.word("drawing.suction.vacuum")
        names.append(Label((end[0] + 2.0, end[1] + 3.0), name, weight="It", anchor="start"))
    note = (voice.word("drawing.suction.band"),) if band_pa is not None else ()
    return Drawing(voice.word("drawing.suction"), (*items, *names), scaled="paper", notes=note)


def _system(system: SystemCurve, x: Axis, y: Axis, voice: Voice, names: list[Item]) -> list[Item]:
    a = np.asarray(system.airflow_m3_s, dtype=float)
    b = np.asarray(system.suction_pa, dtype=float)
    px, py = x.mm(a), y.mm(b)
    text = system.name
    if system.meeting is not None:
        spot = (float(x.mm(system.meeting[0])), float(y.mm(system.meeting[1])))
        airflow = Amount(system.meeting[0], "airflow")
        text = voice.word("drawing.suction.met", tool=Name(system.name), airflow=airflow)
        # A little past the meeting, where the paper is empty, is the place for its name.
        beyond = np.linspace(spot[0], min(spot[0] + _PAST_MM, float(px[-1])), 15)
        ends = np.append(px[px < spot[0]], beyond[beyond >= spot[0]])
        # Between points too suction goes about as the airflow squared.
        px, py = ends, np.interp(ends**2, px**2, py)
        keep = (px <= spot[0]) | (np.hypot(px - spot[0], py - spot[1]) <= _PAST_MM)
        px, py = px[keep], py[keep]
    parts = _clipped(px, py, x.length_mm, y.length_mm)
    items: list[Item] = [Polyline(tuple(part), "second") for part in parts]
    if system.meeting is not None:
        items.append(Circle(spot, 1.0, "axis", 0.1))
    if parts:
        ex, ey = parts[-1][-1]
        names.append(Label((ex + 1.5, ey + 0.8), text, size="small", anchor="start"))
    return items


def path_chart(
    parts: Sequence[PathPart],
    *,
    available_pa: float | None = None,
    voice: Voice,
    width_mm: float = 80.0,
    row_mm: float = 7.0,
) -> Drawing:
    """Suction from the tool's port (top) to the filter (bottom) as a stepped profile.

    Parameters
    ----------
    parts
        In the order the air meets them.
    available_pa
        Suction the vacuum makes at this airflow, drawn as a line to the right.
    """
    if not parts:
        raise ValueError("the path has no parts; give at least one")
    total = sum(p.loss_pa for p in parts)
    most = max(total, available_pa or 0.0, 1.0)
    x = nice_axis(most, "pressure", voice, width_mm)
    height = row_mm * len(parts)
    items: list[Item] = []
    for at, text in x.ticks():
        items.append(Polyline(((at, 0), (at, -height)), "grid"))
        items.append(Label((at, 2.4), text, size="small"))
    items.append(Polyline(((0, 0), (width_mm, 0)), "axis"))
    items.append(Label((width_mm, 6.6), _suction_title(x, voice), anchor="end"))
    notes: list[Item] = []
    profile: list[Point] = [(0.0, 0.0)]
    before = 0.0
    widest = max(text_width(p.name, SIZES["normal"]) for p in parts)
    right, sizes, shares = width_mm + 3.0, 10.0, 11.0
    for n, part in enumerate(parts):
        top, bottom = -n * row_mm, -(n + 1) * row_mm
        middle = (top + bottom) / 2
        a, b = float(x.mm(before)), float(x.mm(before + part.loss_pa))
        # What was lost before stands pale behind; what is lost here is dark.
        if part.kind == "run":
            here: tuple[Point, ...] = ((a, top), (b, bottom), (a, bottom))
            profile += [(a, top), (b, bottom)]
        else:
            here = ((a, middle), (b, middle), (b, bottom), (a, bottom))
            profile += [(a, middle), (b, middle), (b, bottom)]
        items.append(Polygon(((0, top), (a, top), (a, bottom), (0, bottom)), None, 0.94))
        items.append(Polygon(here, None, 0.7))
        notes.append(Label((-2.0 - widest, middle), part.name, anchor="start"))
        percent = Name(voice.count(100 * part.loss_pa / max(total, 1e-9)))
        share = voice.word("drawing.path.share_of", percent=percent) if total > 0 else ""
        loss = voice.bare(part.loss_pa, "pressure")
        notes.append(Label((right + sizes, middle), loss, anchor="end"))
        notes.append(Label((right + sizes + shares, middle), share, anchor="end"))
        if part.low_pa is not None and part.high_pa is not None:
            low, high = (Name(voice.bare(v, "pressure")) for v in (part.low_pa, part.high_pa))
            band = voice.word("number.range", before=low, after=high)
            band_at = (right + sizes + shares + 3.0, middle)
            notes.append(Label(band_at, band, size="small", anchor="start"))
        if n:
            items.append(Polyline(((-2.0 - widest, top), (right + sizes + shares, top)), "grid"))
        before += part.loss_pa
    items.append(Polyline(((0, 0), (0, -height), (width_mm, -height)), "axis"))
    items.append(Polyline(tuple(profile), "curve"))
    if available_pa is not None:
        at = float(x.mm(available_pa))
        items.append(Polyline(((at, 0), (at, -height)), "cut"))
        made = voice.word("drawing.path.vacuum")
        notes.append(Label((at, -height - 3.0), made, size="small"))
    notes.append(Label((right + sizes, 2.4), x.unit, weight="It", size="small", anchor="end"))
    heading = voice.word("drawing.path.share")
    notes.append(Label((right + sizes + shares, 2.4), heading, "here", None, "small", "It", "end"))
    if any(p.low_pa is not None for p in parts):
        at_band = (right + sizes + shares + 3.0, 2.4)
        heading = voice.word("drawing.path.band")
        notes.append(Label(at_band, heading, "here", None, "small", "It", "start"))
    return Drawing(voice.word("drawing.path"), (*items, *notes), scaled="paper")
