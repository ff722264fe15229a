"""Every kind of drawing, laid out cleanly and set on one page by the printing engine."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from kerfwind.cutting import Mark, Panel, Saw, SheetKind, cut_order, nest
from kerfwind.drawing import (
    Balloon,
    Dimension,
    Drawing,
    Label,
    Paper,
    layout,
    layout_together,
    mesh,
    overlaps,
    svg,
)
from kerfwind.drawing.chain import ChainPiece, chain_drawing
from kerfwind.drawing.chart import PathPart, SystemCurve, nice_axis, path_chart, suction_chart
from kerfwind.drawing.dxf import dxf
from kerfwind.drawing.model import Polygon, Polyline
from kerfwind.drawing.panel import panel_drawing
from kerfwind.drawing.placed import Placed
from kerfwind.drawing.project import picture, picture_drawing
from kerfwind.drawing.sheet import on_sheet, sheet_drawing
from kerfwind.drawing.view import FRONT, RIGHT, TOP, cabinet, perspective, turned
from kerfwind.facts import state
from kerfwind.joinery.model import CutPanel, Hole
from kerfwind.solids import Body, Opening, coarser
from kerfwind.words import Voice

from .samples import cart

FONTS = Path(__file__).parents[2] / "src" / "kerfwind" / "drawing" / "fonts"
SAW = Saw(trim_m=0.006)
PANELS = [
    Panel("left side", 0.75, 0.52, 2, grain="along", marks=(Mark("chamfer", 0.75, 0, 0.08),)),
    Panel("Shelf", 0.52, 0.5, grain="along", marks=(Mark("hole", 0.26, 0.25, 0.29),)),
    Panel("Base", 0.52, 0.5, grain="along"),
    Panel("Lipping", 0.5, 0.05, 3),
    Panel("Caster block", 0.1, 0.09, 4),
]
SIDE = CutPanel(
    "A",
    "left side",
    0.75,
    0.52,
    0.018,
    2,
    "along",
    edges=("far", "right"),
    openings=(Opening(0.6, 0.26, 0.12, 0.035, 0.0175), Opening(0.3, 0.26, 0.1, 0.1, 0.05)),
    chamfers=(("far right", 0.08), ("near right", 0.08)),
    holes=tuple(
        Hole(x, y, 0.0045, "joint", state("joinery.hole.countersunk"))
        for x in (0.05, 0.15, 0.25, 0.36, 0.5)
        for y in (0.009, 0.511)
    ),
)
CHAIN = [
    ChainPiece("Sander port", 0.032, 0.028, 0.032, 0.028, 0.04, "push fit"),
    ChainPiece("Stepped cone", 0.037, 0.0325, 0.057, 0.052, 0.09, "clamp", to_get=True),
    ChainPiece("Wide hose", 0.066, 0.0575, 0.066, 0.058, 3.0, flexible=True),
]


def chart() -> Drawing:
    q = np.linspace(0, 0.058, 60)
    p = 21000 * (1 - (q / 0.058) ** 1.6)
    systems = []
    for name, k in (("Sander", 5e7), ("Mitre saw", 1.6e7), ("Router", 1.3e7), ("Planer", 4e6)):
        n = int(np.argmax(k * q**2 > p))
        systems.append(SystemCurve(name, q, k * q**2, (float(q[n]), float(p[n]))))
    return suction_chart(
        q, p, systems, voice=Voice(), band_pa=(p * 0.9, p * 1.08), points=[(0.01, 2e4)]
    )


def path() -> Drawing:
    parts = [
        PathPart("Port", 1500.0),
        PathPart("Ribbed hose", 7900.0, "run", 6500.0, 9300.0),
        PathPart("Cyclone", 650.0, "step", 500.0, 820.0),
        PathPart("Filter", 1300.0),
    ]
    return path_chart(parts, voice=Voice(), available_pa=11350.0)


def pictures() -> list[Placed]:
    bodies = cart()
    points = np.concatenate([b.vertices for b in bodies])
    seen = picture(bodies, perspective(points))
    notes = [Balloon(seen.seen_at("Shelf") or (0, 0), "4")]
    notes.append(Label(seen.seen_at("Vacuum") or (0, 0), "vacuum", "leader"))  # type: ignore[arg-type]
    whole = layout(picture_drawing("The unit", seen, notes), Paper(80, 110), Voice())
    step = picture(bodies[:5], turned(-35, 28), emphasised=("Shelf",))
    apart = [b.moved((0.3 * n, 0.0, 0.0)) for n, b in enumerate(bodies[:4])]
    sides = []
    for view in (FRONT, RIGHT, TOP):
        flat = picture(bodies, view, hidden="dashed", shaded=False)
        low, high = view.at(points.min(axis=0)), view.at(points.max(axis=0))
        overall = Dimension((min(low[0], high[0]), low[1]), (max(low[0], high[0]), low[1]))
        sides.append(picture_drawing(view.name, flat, [overall]))
    return [
        whole,
        layout(picture_drawing("Step", step), Paper(60, 60), Voice()),
        layout(picture_drawing("Apart", picture(apart, cabinet())), Paper(90, 60), Voice()),
        layout_together(
            [[sides[2], None], [sides[0], sides[1]]], Paper(120, 150), Voice(units="mm")
        ),
    ]


def everything() -> list[Placed]:
    nested = nest(PANELS, [SheetKind("half sheet", 1.22, 1.22)], SAW)
    steps = cut_order(nested, SAW)
    sheets = [
        layout(
            sheet_drawing(s, steps, kerf_m=SAW.kerf_m, voice=Voice(units="mm")),
            Paper(175, 170),
            Voice(units="mm"),
        )
        for s in nested.sheets
    ]
    return [
        *sheets,
        *pictures(),
        layout(panel_drawing(SIDE, Voice(units="mm")), Paper(175, 120), Voice(units="mm")),
        layout(panel_drawing(SIDE, Voice(units="in")), Paper(110, 110), Voice()),
        layout(chart(), Paper(200, 130), Voice()),
        layout(path(), Paper(200, 130), Voice()),
        layout(chain_drawing(CHAIN, voice=Voice()), Paper(180, 90), Voice()),
    ]


def test_all_drawings_are_clean_and_go_to_paper(tmp_path: Path) -> None:
    import typst

    page = [
        "#set page(width: 420mm, height: auto, margin: 8mm)",
        '#set text(font: "Source Sans Pro")',
    ]
    for n, placed in enumerate(everything()):
        assert [o for o in overlaps(placed) if o[0] != "line"] == [], placed.title
        text = svg(placed)
        ET.fromstring(text)
        (tmp_path / f"{n}.svg").write_text(text, encoding="utf-8")
        page.append(f'#box(image("{n}.svg", width: {placed.width:.2f}mm))')
    source = tmp_path / "all.typ"
    source.write_text("\n".join(page), encoding="utf-8")
    png = typst.compile(str(source), format="png", ppi=60, font_paths=[str(FONTS)])
    assert png[:4] == b"\x89PNG"


@pytest.mark.parametrize("units", ["in", "mm", "both"])
def test_lines_keep_out_of_the_words_of_charts_and_panels(units: str) -> None:
    for drawing in (
        panel_drawing(SIDE, Voice(units=units)),
        chart(),
        path(),
        chain_drawing(CHAIN, voice=Voice()),
    ):  # type: ignore[arg-type]
        assert overlaps(layout(drawing, Paper(250, 200), Voice(units=units))) == []  # type: ignore[arg-type]


def test_a_sheet_names_every_piece_and_numbers_every_cut() -> None:
    nested = nest(PANELS, [SheetKind("half sheet", 1.22, 1.22)], SAW)
    steps = cut_order(nested, SAW)
    for sheet in nested.sheets:
        placed = layout(
            sheet_drawing(sheet, steps, kerf_m=0.003, voice=Voice()), Paper(250, 250), Voice()
        )
        words = [w.text for w in placed.words]
        for piece in sheet.pieces:
            assert any(w.split(" ")[0] == piece.pencil for w in words), piece.pencil
        numbers = {str(c.number) for s in steps for c in s.cuts if c.sheet == sheet.number}
        assert numbers <= set(words)


def test_every_line_of_a_long_name_stands_above_its_piece() -> None:
    long = "cuff cut to go over the port of the old sander and the hose that came with it"
    pieces = [
        ChainPiece(long, 0.05, 0.045, 0.05, 0.045, 0.07, "press", to_get=True),
        ChainPiece("hose", 0.05, 0.045, 0.05, 0.045, 0.07, ""),
    ]
    drawing = chain_drawing(pieces, voice=Voice())
    top = max(y for i in drawing.items if isinstance(i, Polygon) for _, y in i.points)
    words = long.split()
    named = [i for i in drawing.items if isinstance(i, Label) and i.text.split()[0] in words]
    named += [i for i in drawing.items if isinstance(i, Label) and i.text == "to get"]
    assert len(named) > 5
    assert min(i.at[1] for i in named) > top + 1.5


def test_an_empty_stretch_is_broken_out_and_sizes_stay_true() -> None:
    panel = Panel("side", 0.7, 0.4, 2)
    nested = nest([panel], [SheetKind("whole sheet", 2.44, 1.22)], SAW)
    steps = cut_order(nested, SAW)
    (sheet,) = nested.sheets
    drawing = sheet_drawing(sheet, steps, kerf_m=SAW.kerf_m, voice=Voice(units="mm"))
    placed = layout(drawing, Paper(175, 140), Voice(units="mm"))
    shown = max(x for i in drawing.items if isinstance(i, Polyline) for x, _ in i.points)
    words = [w.text for w in placed.words]
    assert shown < 0.7 * 2.44
    assert {"2440", "1220", "700", "400"} <= set(words)
    offcut = max(sheet.offcuts, key=lambda r: r.area_m2)
    written = " ".join(words)
    # To the tenth of a millimetre that the list of cuts has too.
    sides = (f"{1000 * side:.1f}" for side in (offcut.length_m, offcut.width_m))
    assert " × ".join(side.removesuffix(".0") for side in sides) in written
    numbers = {str(c.number) for s in steps for c in s.cuts}
    assert numbers <= set(words)


def test_a_turned_panel_keeps_its_face_up() -> None:
    nested = nest([Panel("Rail", 1.0, 0.2)], [SheetKind("narrow", 0.25, 1.1, grain="none")], Saw())
    piece = nested.sheets[0].pieces[0]
    assert piece.turned
    corners = [on_sheet(piece, x, y) for x, y in ((0, 0), (1.0, 0), (1.0, 0.2), (0, 0.2))]
    a = np.array(corners) - (piece.x_m, piece.y_m)
    assert a.min() == pytest.approx(0)
    assert a.max(axis=0) == pytest.approx([0.2, 1.0])
    x, y = a[:, 0], a[:, 1]
    # Corners run the same way round as before: turned, not turned over.
    assert np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) > 0


def test_axes_have_plain_steps() -> None:
    axis = nice_axis(20800.0, "pressure", Voice(), 90.0)
    assert axis.unit == "inH₂O"
    assert axis.high * 249.089 >= 20800.0
    assert [t for _, t in axis.ticks()][:3] == ["0", "20", "40"]
    small = nice_axis(0.12, "pressure", Voice(units="mm"), 60.0)
    assert len({t for _, t in small.ticks()}) == len(small.ticks())


def test_impossible_input_is_answered() -> None:
    with pytest.raises(ValueError, match="measure its ends again"):
        chain_drawing([ChainPiece("Odd", 0.03, 0.04, 0.03, 0.02, 0.1)], voice=Voice())
    with pytest.raises(ValueError, match="at least one"):
        path_chart([], voice=Voice())
    with pytest.raises(ValueError, match="2 airflows and 3 suctions"):
        suction_chart([0, 1], [3, 2, 1], voice=Voice())


def test_a_panel_goes_to_dxf_with_its_holes() -> None:
    import io

    import ezdxf

    space = ezdxf.read(
        io.StringIO(dxf(panel_drawing(SIDE, Voice(units="mm")), Voice(units="mm")))
    ).modelspace()
    circles = [e for e in space.query("CIRCLE") if e.dxf.layer in ("OUTLINE", "EDGE")]
    assert len(circles) == len(SIDE.holes) + 1


def test_a_drawing_does_not_hang_on_what_was_drawn_before() -> None:
    bodies = [coarser(b, least_sides=12) for b in cart()]
    lying = np.array([[1.0, 0, 0], [0, 0, -1.0], [0, 1.0, 0]])
    turned_over = [replace(b, vertices=b.vertices @ lying.T) for b in bodies]

    def drawn(shown: list[Body]) -> str:
        look = perspective(np.concatenate([b.vertices for b in shown]))
        return svg(layout(picture_drawing("Unit", picture(shown, look)), Paper(150, 118), Voice()))

    after = (drawn(bodies), drawn(turned_over))[1]
    mesh._KNOWN.clear()
    assert drawn(turned_over) == after
