"""A drawing as DXF: true size in millimetres, one layer for each meaning."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from io import StringIO
from typing import TYPE_CHECKING, Any

import numpy as np

from kerfwind.plaintext import visible
from kerfwind.words import Voice

from .layout import Paper, layout
from .model import Arc, Circle, Dimension, Drawing, LineMeaning, Point, Polygon, Polyline
from .placed import Head, Placed, Ring, Stroke, Words

if TYPE_CHECKING:
    from ezdxf.document import Drawing as DxfDocument
    from ezdxf.layouts import Modelspace

#: Layer, line type and line weight (hundredths of a millimetre) of each meaning.
_LAYERS: dict[LineMeaning, tuple[str, str, int]] = {
    "outline": ("OUTLINE", "CONTINUOUS", 50),
    "edge": ("EDGE", "CONTINUOUS", 25),
    "hidden": ("HIDDEN", "DASHED", 25),
    "centre": ("CENTRE", "CENTER", 18),
    "cut": ("CUT", "DASHDOT", 50),
    "waste": ("WASTE", "CONTINUOUS", 25),
    "new": ("NEW", "CONTINUOUS", 70),
    "old": ("OLD", "CONTINUOUS", 25),
    "curve": ("CURVE", "CONTINUOUS", 70),
    "second": ("CURVE_SECOND", "CONTINUOUS", 50),
    "axis": ("AXIS", "CONTINUOUS", 35),
    "grid": ("GRID", "CONTINUOUS", 13),
    "frame": ("FRAME", "CONTINUOUS", 13),
    "measure": ("MEASURE", "CONTINUOUS", 18),
}
_TEXT_LAYER = "TEXT"


def dxf(drawing: Drawing, voice: Voice, *, measured: bool = True) -> str:
    """The drawing as the text of a DXF file (R2010), in millimetres at true size.

    Parameters
    ----------
    voice
        Says the dimensions; the geometry is in millimetres whatever its units.
    measured
        With dimensions, labels and leaders; without, the geometry alone, for a machine.
    """
    with new_document() as document:
        for name, line_type, weight in _LAYERS.values():
            document.layers.add(name, linetype=line_type, lineweight=weight)
        document.layers.add(_TEXT_LAYER)
        _fill(document.modelspace(), drawing, voice, measured)
        return text_of(document)


@contextmanager
def new_document() -> Iterator[DxfDocument]:
    """An empty document in millimetres, without dates and random marks.

    The same drawing gives the same file.
    """
    import ezdxf
    from ezdxf import units as dxf_units

    kept = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        document = ezdxf.new("R2010", setup=True)
        document.units = dxf_units.MM
        yield document
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = kept


def text_of(document: DxfDocument) -> str:
    """The document as the text of a DXF file."""
    # Those in use come out of a set: in order, or each run would have its own.
    for kind in sorted(document.entitydb.dxf_types_in_use()):
        document.classes.add_class(kind)
    stream = StringIO()
    document.write(stream)
    return stream.getvalue()


def as_text(words: str) -> str:
    """Words for a TEXT entity, which shows them as they are.

    In it ``%%c`` is a sign of diameter, ``^J`` the end of a line, and ``\\U+00D8`` a letter.
    """
    text = visible(words)
    if "%%" in text:
        text = text.replace("%", "%%%")
    text = re.sub(r"\\(?=[Uu]\+[0-9A-Fa-f]{4}|[Mm]\+[0-9A-Fa-f]{5})", r"\\U+005C", text)
    # A caret is written with a space, which readers drop at the end.
    body = text.removesuffix("^")
    return body.replace("^", "^ ") + (r"\U+005E" if body != text else "")


def _fill(space: Modelspace, drawing: Drawing, voice: Voice, measured: bool) -> None:
    to_mm = drawing.unit_m * 1000 if drawing.scaled != "paper" else 1.0
    for item in drawing.items:
        _geometry(space, item, to_mm)
    if measured:
        placed = layout(drawing, Paper(277, 190), voice, footer=False)
        _notes(space, placed, to_mm)


def _geometry(space: Modelspace, item: Any, k: float) -> None:
    if isinstance(item, Polyline):
        points = [(x * k, y * k) for x, y in item.points]
        space.add_lwpolyline(points, dxfattribs={"layer": _LAYERS[item.line][0]})
    elif isinstance(item, Polygon):
        attributes = {"layer": _LAYERS[item.line or "edge"][0]}
        for loop in (item.points, *item.holes):
            points = [(x * k, y * k) for x, y in loop]
            space.add_lwpolyline(points, close=True, dxfattribs=attributes)
    elif isinstance(item, Circle):
        x, y = item.centre
        attributes = {"layer": _LAYERS[item.line or "edge"][0]}
        space.add_circle((x * k, y * k), item.radius * k, dxfattribs=attributes)
    elif isinstance(item, Arc):
        x, y = item.centre
        space.add_arc(
            (x * k, y * k),
            item.radius * k,
            float(np.degrees(item.start_rad)),
            float(np.degrees(item.end_rad)),
            dxfattribs={"layer": _LAYERS[item.line][0]},
        )


def _notes(space: Modelspace, placed: Placed, to_mm: float) -> None:
    """Dimensions as DIMENSION entities; labels and leaders as text and lines."""
    from ezdxf.enums import TextEntityAlignment

    k = to_mm / placed.mm_per_unit

    def real(p: Point) -> Point:
        return ((p[0] - placed.origin[0]) * k, (placed.origin[1] - p[1]) * k)

    override = {
        "dimtxt": 2.0 * k,
        "dimasz": 2.2 * k,
        "dimexo": 0.8 * k,
        "dimexe": 1.2 * k,
        "dimgap": 0.6 * k,
    }
    for dimension, base, text in placed.measures:
        _dimension(space, dimension, real(base), text, to_mm, override)
    texts_of_dimensions = [text for _, _, text in placed.measures]
    for item in placed.items:
        if isinstance(item, Words):
            if item.text in texts_of_dimensions:
                texts_of_dimensions.remove(item.text)
                continue
            entity = space.add_text(
                as_text(item.text),
                height=item.size * 0.66 * k,
                rotation=item.turn_deg,
                dxfattribs={"layer": _TEXT_LAYER},
            )
            entity.set_placement(real(item.at), align=TextEntityAlignment.CENTER)
        elif isinstance(item, Ring) and (item.line is None or item.grey == 1.0):
            space.add_circle(real(item.centre), item.radius * k, dxfattribs={"layer": "MEASURE"})
    # Each linear dimension set down three strokes and two heads, before any leader.
    count = len(placed.measures)
    strokes = [i for i in placed.items if isinstance(i, Stroke) and i.line == "measure"]
    heads = [i for i in placed.items if isinstance(i, Head)]
    for stroke in strokes[3 * count :]:
        space.add_lwpolyline([real(p) for p in stroke.points], dxfattribs={"layer": "MEASURE"})
    for head in heads[2 * count :]:
        space.add_lwpolyline(
            [real(p) for p in head.points], close=True, dxfattribs={"layer": "MEASURE"}
        )


def _dimension(
    space: Modelspace,
    dimension: Dimension,
    base: Point,
    text: str,
    to_mm: float,
    override: dict[str, float],
) -> None:
    a = (dimension.start[0] * to_mm, dimension.start[1] * to_mm)
    b = (dimension.end[0] * to_mm, dimension.end[1] * to_mm)
    attributes = {"layer": "MEASURE"}
    if dimension.along == "aligned":
        if (b[0], b[1]) < (a[0], a[1]):
            a, b = b, a  # its text is read from below or from the right
        angle = float(np.degrees(np.arctan2(b[1] - a[1], b[0] - a[0])))
    else:
        angle = 0.0 if dimension.along == "x" else 90.0
    entity = space.add_linear_dim(
        base=base, p1=a, p2=b, angle=angle, text=text, override=override, dxfattribs=attributes
    )
    entity.render()
