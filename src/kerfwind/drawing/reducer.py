"""A printed reducer cut open, with the sizes to measure back."""

from __future__ import annotations

from ..hookup.reducer import Reducer
from ..words import Voice
from .layout import length_text
from .model import Dimension, Drawing, Item, Label, Polygon, Polyline


def reducer_drawing(reducer: Reducer, voice: Voice) -> Drawing:
    """Section along the middle: both ends' diameters, the grips, the cone, the length."""
    write = length_text(voice.units, 32)
    upper = (*reducer.inner, *reversed(reducer.outer))
    lower = tuple((x, -r) for x, r in upper)
    length = reducer.length
    first, last = reducer.first, reducer.last
    widest = max(r for _, r in reducer.outer)
    items: list[Item] = [
        Polygon(tuple(upper), "outline", 0.86, "section"),
        Polygon(lower, "outline", 0.86, "section"),
        Polyline(((-0.006, 0.0), (length + 0.006, 0.0)), "centre"),
    ]
    for x, end, side in ((0.0, first, "left"), (length, last, "right")):
        for size, what in ((end.inside, "inside"), (end.outside, "outside")):
            items.append(
                Dimension((x, -size / 2), (x, size / 2), "y", side, f"Ø {write(size)} {what}")  # type: ignore[arg-type]
            )
        way = "goes over" if end.over else "goes into"
        at = (x + (0.004 if side == "left" else -0.004), widest + 0.008)
        items.append(
            Label(
                at,
                f"{way} {voice.text(end.mates)}",
                anchor="start" if side == "left" else "end",
                size="small",
            )
        )
    stops = (0.0, first.grip, length - last.grip, length)
    for a, b in zip(stops[:-1], stops[1:], strict=True):
        items.append(Dimension((a, -widest), (b, -widest), "x", "below"))
    items.append(Dimension((0.0, -widest), (length, -widest), "x", "below"))
    return Drawing(voice.text(reducer.called), tuple(items))
