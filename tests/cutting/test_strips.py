"""Strips from offcuts, and edge banding."""

from __future__ import annotations

import pytest

from kerfwind.cutting import Panel, Saw, SheetKind, Strip, banding, nest, strips_from_offcuts


def test_strips_come_from_offcuts_or_are_missing() -> None:
    saw = Saw(kerf_m=0.003)
    sheets = [SheetKind("full", 2.44, 1.22)]
    made = nest([Panel("side", 2.4, 0.9, grain="along")], sheets, saw, budget=0)
    strips = [
        Strip("lipping", 1.5, 0.02, 6),
        Strip("cleat", 0.5, 0.05, 2),
        Strip("beam", 3.0, 0.05),
    ]
    plan = strips_from_offcuts(made, strips, saw)
    assert sum(p.strip == "lipping" for p in plan.placed) == 6
    assert sum(p.strip == "cleat" for p in plan.placed) == 2
    assert [(m.name, m.quantity) for m in plan.missing] == [("beam", 1)]
    for p in plan.placed:
        assert p.rect.x_m >= p.offcut.x_m - 1e-9
        assert p.rect.y_m >= p.offcut.y_m - 1e-9
        assert p.rect.x_m + p.rect.length_m <= p.offcut.x_m + p.offcut.length_m + 1e-6
        assert p.rect.y_m + p.rect.width_m <= p.offcut.y_m + p.offcut.width_m + 1e-6
    for a in plan.placed:
        for b in plan.placed:
            if a is not b and a.sheet == b.sheet:
                assert (
                    a.rect.x_m + a.rect.length_m + 0.003 <= b.rect.x_m + 1e-6
                    or b.rect.x_m + b.rect.length_m + 0.003 <= a.rect.x_m + 1e-6
                    or a.rect.y_m + a.rect.width_m + 0.003 <= b.rect.y_m + 1e-6
                    or b.rect.y_m + b.rect.width_m + 0.003 <= a.rect.y_m + 1e-6
                )


def test_strips_of_another_thickness_are_not_taken() -> None:
    made = nest([Panel("side", 0.4, 0.4)], [SheetKind("full", 2.44, 1.22)], Saw(), budget=0)
    plan = strips_from_offcuts(made, [Strip("thin", 0.5, 0.02, thickness_m=0.006)], Saw())
    assert plan.placed == ()
    assert plan.missing[0].name == "thin"


def test_banding() -> None:
    panels = [
        Panel("side", 0.8, 0.5, 2, banded=("near", "left")),
        Panel("shelf", 0.6, 0.4, 1, banded=("far",)),
        Panel("plain", 0.6, 0.4),
    ]
    (found,) = banding(panels)
    assert found.edges == 5
    assert found.length_m == pytest.approx(2 * (0.8 + 0.5) + 0.6)
    assert found.buy_m == pytest.approx(found.length_m + 5 * 0.05)
