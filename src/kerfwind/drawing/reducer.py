"""A printed reducer cut open, with the sizes to measure back."""

from __future__ import annotations

from ..facts import Name
from ..hookup.reducer import Reducer
from ..words import Voice
from .model import Dimension, Drawing, Item, Label, Polygon, Polyline


def reducer_drawing(reducer: Reducer, voice: Voice) -> Drawing:
    """Section along the middle: both ends' diameters, the grips, the cone, the length."""
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
            text = voice.word(f"drawing.reducer.{what}", size=Name(voice.fitted(size)))
            items.append(Dimension((x, -size / 2), (x, size / 2), "y", side, text))  # type: ignore[arg-type]
        way = "goes_over" if end.over else "goes_into"
        mates = voice.word(f"drawing.reducer.{way}", end=end.mates)
        at = (x + (0.004 if side == "left" else -0.004), widest + 0.008)
        items.append(Label(at, mates, anchor="start" if side == "left" else "end", size="small"))
    stops = (0.0, first.grip, length - last.grip, length)
    for a, b in zip(stops[:-1], stops[1:], strict=True):
        items.append(Dimension((a, -widest), (b, -widest), "x", "below"))
    items.append(Dimension((0.0, -widest), (length, -widest), "x", "below"))
    return Drawing(voice.text(reducer.called), tuple(items))
