"""SVG and DXF: what is written is what was drawn, and the same bytes every time."""

from __future__ import annotations

import io
import math
import xml.etree.ElementTree as ET

import pytest

from kerfwind.drawing import Arc, Drawing, Label, layout, rectangle, svg
from kerfwind.drawing.dxf import dxf
from kerfwind.drawing.hatching import hatch_lines
from kerfwind.drawing.textsize import text_width
from kerfwind.words import Voice

from .test_layout import A_PAGE, side_panel

SVG = "{http://www.w3.org/2000/svg}"


def test_svg_is_the_same_every_time_and_well_formed() -> None:
    placed = layout(side_panel(), A_PAGE, Voice(units="mm"))
    text = svg(placed)
    assert text == svg(layout(side_panel(), A_PAGE, Voice(units="mm")))
    root = ET.fromstring(text)
    assert root.find(f"{SVG}title").text == "Side panel"  # type: ignore[union-attr]
    assert [t.text for t in root.iter(f"{SVG}text")] == [w.text for w in placed.words]
    assert root.get("width") == f"{placed.width:.2f}".rstrip("0").rstrip(".") + "mm"


def test_svg_escapes_what_people_write() -> None:
    drawing = Drawing("A & B <c>", (rectangle(0, 0, 1, 1), Label((0.5, 0.5), '1 < 2 & "3"')))
    root = ET.fromstring(svg(layout(drawing, A_PAGE, Voice())))
    assert root.find(f"{SVG}title").text == "A & B <c>"  # type: ignore[union-attr]
    assert '1 < 2 & "3"' in {t.text for t in root.iter(f"{SVG}text")}


def test_words_keep_their_width_where_the_typeface_is_missing() -> None:
    room = rectangle(0, 0, 1, 1)
    known = ET.fromstring(
        svg(layout(Drawing("d", (room, Label((0.5, 0.5), "case wall"))), A_PAGE, Voice()))
    )
    words = [t for t in known.iter(f"{SVG}text") if t.text == "case wall"]
    assert [float(t.get("textLength", "0")) for t in words] == [
        pytest.approx(text_width("case wall", float(t.get("font-size", "0"))), abs=0.01)
        for t in words
    ]
    # A width that is only a guess must not stretch the words.
    strange = svg(layout(Drawing("d", (room, Label((0.5, 0.5), "木工房"))), A_PAGE, Voice()))
    assert "textLength" not in strange[: strange.index("木工房")].rsplit("<text", 1)[1]


def test_dxf_is_true_size_on_layers_with_real_dimensions() -> None:
    import ezdxf

    text = dxf(side_panel(), Voice(units="mm"))
    assert text == dxf(side_panel(), Voice(units="mm"))
    document = ezdxf.read(io.StringIO(text))
    assert document.audit().errors == []
    space = document.modelspace()
    outline = next(e for e in space if e.dxftype() == "LWPOLYLINE" and e.dxf.layer == "OUTLINE")
    xs, ys = zip(*outline.get_points("xy"), strict=True)
    assert (max(xs), max(ys)) == pytest.approx((600, 900))
    hole = next(e for e in space if e.dxftype() == "CIRCLE" and e.dxf.layer == "OUTLINE")
    assert hole.dxf.radius == pytest.approx(130)
    measured = sorted(e.get_measurement() for e in space.query("DIMENSION"))
    assert measured == pytest.approx(sorted([600, 900, 600, 200, math.hypot(100, 100)]))


def test_dxf_for_a_machine_is_geometry_alone() -> None:
    import ezdxf

    space = ezdxf.read(
        io.StringIO(dxf(side_panel(), Voice(units="mm"), measured=False))
    ).modelspace()
    assert {e.dxf.layer for e in space} == {"OUTLINE"}


def test_arcs_turn_the_same_way_in_both() -> None:
    import ezdxf

    drawing = Drawing("Arc", (Arc((0, 0), 0.1, 0.0, math.pi / 2), rectangle(-0.2, -0.2, 0.4, 0.4)))
    arc = next(
        iter(ezdxf.read(io.StringIO(dxf(drawing, Voice(units="mm"), measured=False))).modelspace())
    )
    assert arc.start_point.isclose((100, 0))
    assert arc.end_point.isclose((0, 100))
    placed = layout(drawing, A_PAGE, Voice(units="mm"))
    k = 0.1 * placed.mm_per_unit
    x, y = placed.origin
    # SVG starts at the top of the quarter and runs clockwise to its right-hand end.
    assert f"M{x:.2f}".rstrip("0").rstrip(".") in svg(placed)
    assert f"{y - k:.2f}".rstrip("0").rstrip(".") + "A" in svg(placed)


def test_hatch_fills_in_proportion_to_area_and_spares_holes() -> None:
    outer = ((0.0, 0.0), (80.0, 0.0), (80.0, 60.0), (0.0, 60.0))
    hole = ((20.0, 20.0), (50.0, 20.0), (50.0, 50.0), (20.0, 50.0))
    total = sum(math.dist(a, b) for a, b in hatch_lines([outer], "waste"))
    assert total * 1.6 == pytest.approx(4800, rel=0.02)
    left = sum(math.dist(a, b) for a, b in hatch_lines([outer, hole], "waste"))
    assert left * 1.6 == pytest.approx(3900, rel=0.02)


def test_text_width_from_the_font_tables() -> None:
    from fontTools.ttLib import TTFont

    from kerfwind.drawing import textsize

    folder = textsize.files("kerfwind.drawing") / "fonts"
    for weight in ("Regular", "Semibold", "Bold", "It"):
        font = TTFont(str(folder / f"SourceSansPro-{weight}.ttf"))
        names, advances = font.getBestCmap(), font["hmtx"]
        for sample in ("23-5/8 (600)", "Ø 10-1/4 through", "Prüfstück § 7"):
            width = sum(advances[names[ord(c)]][0] for c in sample) * 3 / 1000
            assert text_width(sample, 3, weight) == pytest.approx(width)
