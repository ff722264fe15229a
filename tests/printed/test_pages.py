"""Pages that are measured with: true size in the PDF's own coordinates."""

import math
import re
import zlib
from pathlib import Path

import numpy as np
import pytest

from kerfwind.printed import sheets
from kerfwind.printed.sheets import measure_sheet_pdf
from kerfwind.shop import read_shop

POINT_MM = 25.4 / 72


def streams(pdf):
    """Content of every compressed stream of a PDF."""
    found = []
    for start in re.finditer(rb"stream\r?\n", pdf):
        try:
            found.append(zlib.decompressobj().decompress(pdf[start.end() :]))
        except zlib.error:
            continue
    return found


def upright_lines(stream):
    """x and length [mm] of each upright line, grouped by the height it stands at."""
    rows = {}
    pattern = rb"1 0 0 -1 ([\d.]+) ([\d.]+) cm[^\n]*? 0 0 m ([-\d.e]+) ([-\d.]+) l\n"
    for x, y, dx, dy in re.findall(pattern, stream):
        if abs(float(dx)) < 1e-6:
            foot = round(float(y) - float(dy), 1)
            rows.setdefault(foot, []).append((float(x) * POINT_MM, abs(float(dy)) * POINT_MM))
    return rows


@pytest.mark.parametrize("page", ["letter", "a4"])
def test_marks_of_the_strips_stand_pi_times_the_diameter_apart(page):
    # A circle's circumference is π times its diameter: plain geometry.
    found = set()
    for stream in streams(measure_sheet_pdf(page)):
        for row in upright_lines(stream).values():
            marks = sorted(x for x, length in row if length < 8)
            if len(marks) < 20:
                continue
            step = float(np.median(np.diff(marks)))
            assert np.allclose(np.diff(marks), step, atol=2e-3)
            found.add(round(step, 3))
    strips = {round(math.pi * 0.5, 3), round(math.pi * 25.4 / 64, 3)}
    rulers = {1.0, round(25.4 / 16, 3)}
    assert sorted(found) == pytest.approx(sorted(strips | rulers), abs=0.002)


def test_the_strip_reads_diameters_from_its_plain_end():
    # The distance from the plain end to the mark of 20 mm is π (20 mm + paper), with paper of
    # about a tenth of a millimetre (common practice, no source).
    best = None
    for stream in streams(measure_sheet_pdf("a4")):
        for row in upright_lines(stream).values():
            ends = [x for x, length in row if length > 13]
            marks = sorted(x for x, length in row if length < 8)
            if best is None and ends and len(marks) == 91:
                best = marks[0] - min(ends)
    assert best == pytest.approx(math.pi * 20.1, abs=0.35)


def test_paper_is_landscape_and_holds_the_longest_piece():
    for page, wide in (("letter", 279.4), ("a4", 297.0)):
        pdf = measure_sheet_pdf(page)
        boxes = re.findall(rb"/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)", pdf)
        assert boxes
        assert all(float(w) * POINT_MM == pytest.approx(wide, abs=0.5) for w, _ in boxes)
        for stream in streams(pdf):
            for row in upright_lines(stream).values():
                assert max(x for x, _ in row) < wide - 8


@pytest.mark.parametrize("name", ["labels", "garage", "cellar"])
def test_the_home_test_is_one_page_to_take_to_the_bench(name):
    shop = read_shop(Path(__file__).parents[2] / "examples" / f"{name}.toml").shop
    assert len(re.findall(rb"/Type\s*/Page\b", sheets.test_sheet_pdf(shop))) == 1
