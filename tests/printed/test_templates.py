"""Full-size templates: true size on the page, and tiles that fit each other."""

from __future__ import annotations

import io
import json
import re
import xml.etree.ElementTree as ET
from pathlib import Path

import numpy as np
import pytest
import typst
from PIL import Image

from kerfwind.joinery.model import CutPanel
from kerfwind.printed.templates import (
    FOOT_MM,
    HEAD_MM,
    MARGIN_MM,
    OVERLAP_MM,
    PAPER_MM,
    marks_mm,
    template_pages,
    templates_of,
    tiles,
    window_mm,
)
from kerfwind.solids import Opening
from kerfwind.words import Voice
from tests.drawing.samples import whole_cart

SVG = "{http://www.w3.org/2000/svg}"
ROOT = Path(__file__).parents[2] / "src" / "kerfwind"


class _Panels:
    """What the templates ask of a cart."""

    def __init__(self, *openings: Opening, chamfer: float = 0.0) -> None:
        corners = (("near left", chamfer), ("far right", chamfer)) if chamfer else ()
        self.panels = [
            CutPanel("D", "shelf", 0.9, 0.7, 0.018, 1, "along", openings=openings, chamfers=corners)
        ]


def round_(diameter: float) -> Opening:
    return Opening(0.4, 0.3, diameter, diameter, diameter / 2)


def circles(page: str, radius: float) -> list[tuple[float, float]]:
    return [
        (float(c.get("cx")), float(c.get("cy")))
        for c in ET.fromstring(page).iter(f"{SVG}circle")
        if abs(float(c.get("r")) - radius) < 1e-3
    ]


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("diameter", [0.05, 0.15, 0.2921, 0.45])
def test_a_circle_is_true_to_size_on_every_page_it_takes(paper, diameter):
    (template,) = templates_of(_Panels(round_(diameter)), Voice(units="mm"))
    cut = tiles(template.size_mm, paper)
    pages = template_pages([template], paper, Voice())
    assert len(pages) == len(cut)
    for page, tile in zip(pages, cut, strict=True):
        ((x, y),) = circles(page, diameter * 500)
        # Put back by the offset of its tile, every page's circle is the same circle.
        bottom = PAPER_MM[paper][1] - FOOT_MM
        where = (x - MARGIN_MM + tile.x_mm, bottom - y + tile.y_mm)
        assert where == pytest.approx(template.circle[0], abs=2e-4)


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_tiles_cover_the_shape_and_overlap_exactly(paper):
    size = (470.0, 610.0)
    wide, high = window_mm(paper)
    cut = tiles(size, paper)
    columns = sorted({t.x_mm for t in cut})
    rows = sorted({t.y_mm for t in cut})
    assert len(cut) == len(columns) * len(rows)
    assert np.diff(columns) == pytest.approx(wide - OVERLAP_MM)
    assert np.diff(rows) == pytest.approx(high - OVERLAP_MM)
    assert columns[0] <= 0
    assert columns[-1] + wide >= size[0]
    assert rows[0] <= 0
    assert rows[-1] + high >= size[1]
    assert cut[0].y_mm == max(rows), "the first page is the upper left one"
    assert len(tiles((wide, high), paper)) == 1
    assert len(tiles((wide + 1, high), paper)) == 2


def test_registration_marks_stand_on_both_pages_of_every_overlap():
    (template,) = templates_of(_Panels(round_(0.2921)), Voice(units="mm"))
    cut = tiles(template.size_mm, "letter")
    marks = marks_mm(cut, "letter")
    found: dict[str, list[tuple[float, float]]] = {}
    for page, tile in zip(template_pages([template], "letter", Voice()), cut, strict=True):
        letters = {
            (float(t.get("x")), float(t.get("y"))): t.text
            for t in ET.fromstring(page).iter(f"{SVG}text")
            if len(t.text or "") == 1
        }
        for (x, y), letter in letters.items():
            at = (x - 2.6, y + 2.4)
            assert any(np.allclose(at, c, atol=1e-3) for c in circles(page, 2.5))
            bottom = PAPER_MM["letter"][1] - FOOT_MM
            found.setdefault(letter, []).append(
                (at[0] - MARGIN_MM + tile.x_mm, bottom - at[1] + tile.y_mm)
            )
    assert len(found) == len(marks) == 8
    for letter, spots in found.items():
        assert len(spots) == 2, letter
        assert spots[0] == pytest.approx(spots[1], abs=1e-3)


def test_each_page_has_both_rulers_and_says_how_to_print():
    pages = template_pages(
        templates_of(_Panels(round_(0.1), chamfer=0.025), Voice(units="both")), "a4", Voice()
    )
    assert len(pages) == 2
    for page in pages:
        spans = [
            float(m[3]) - float(m[1])
            for m in re.finditer(r'd="M([\d.]+) ([\d.]+)L([\d.]+) \2"', page)
        ]
        assert any(abs(s - 100) < 1e-6 for s in spans)
        assert any(abs(s - 101.6) < 1e-6 for s in spans)
        assert "100 %" in page


def test_a_window_with_round_corners_and_a_chamfer_have_their_sizes():
    window = Opening(0.4, 0.3, 0.12, 0.05, 0.02)
    pages = template_pages(
        templates_of(_Panels(window, chamfer=0.165), Voice(units="mm")), "a4", Voice()
    )
    heavy = [
        [p for p in ET.fromstring(page).iter(f"{SVG}path") if p.get("stroke-width") == "0.4"]
        for page in pages
    ]
    assert [len(p) for p in heavy] == [1, 1]
    way = heavy[0][0].get("d")
    ends = np.array([[float(v) for v in m.split()] for m in re.findall(r"[ML]([\d. ]+)", way)])
    arcs = np.array(re.findall(r"A20 20 0 0 0 ([\d.]+) ([\d.]+)", way), dtype=float)
    spots = np.concatenate([ends, arcs])
    assert np.ptp(spots, axis=0) == pytest.approx([120, 50])
    assert len(arcs) == 4
    a, b = (
        [float(v) for v in m.split()] for m in re.findall(r"[ML]([\d. ]+)", heavy[1][0].get("d"))
    )
    assert np.abs(np.subtract(a, b)) == pytest.approx([165, 165])


def test_every_opening_and_every_size_of_chamfer_has_a_template():
    cart = whole_cart("backframe")
    found = templates_of(cart, Voice())
    openings = sum(len(p.openings) for p in cart.panels)
    legs = {round(leg, 6) for p in cart.panels for _, leg in p.chamfers}
    assert len(found) == openings + len(legs)
    assert openings
    assert len(legs) == 2


def test_the_typeset_page_measures_true(tmp_path):
    """Measured on the rendered page itself: ten dots to the millimetre."""
    pages = template_pages(
        templates_of(_Panels(round_(0.11)), Voice(units="mm")), "letter", Voice()
    )
    data = {"title": "templates", "paper": "us-letter", "pages": ["p.svg"]}
    work, folder = tmp_path, str(tmp_path)
    (work / "p.svg").write_text(pages[0], encoding="utf-8")
    (work / "data.json").write_text(json.dumps(data), encoding="utf-8")
    source = (ROOT / "printed" / "templates.typ").read_text(encoding="utf-8")
    (work / "t.typ").write_text(source, encoding="utf-8")
    image = typst.compile(str(work / "t.typ"), root=folder, format="png", ppi=254.0)
    grey = np.asarray(Image.open(io.BytesIO(image)).convert("L"), dtype=float)
    assert grey.shape == (2794, 2159)
    ((x, y),) = circles(pages[0], 55.0)
    ink = 255.0 - grey
    # Away from the cross lines: a chord 20 mm above the middle, length by Pythagoras.
    row = ink[round(y * 10) - 200 : round(y * 10) - 199].mean(axis=0)
    left = row[round(x * 10) - 600 : round(x * 10) - 300]
    right = row[round(x * 10) + 300 : round(x * 10) + 600]
    reach = np.arange(300)
    a = round(x * 10) - 600 + (left @ reach) / left.sum()
    b = round(x * 10) + 300 + (right @ reach) / right.sum()
    up = (round(y * 10) - 199.5) / 10 - y
    diameter = 2 * np.hypot((b - a) / 20, up)
    assert diameter == pytest.approx(110.0, abs=0.1)
    assert y - 55 > HEAD_MM
