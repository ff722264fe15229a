"""Contrast, names of controls, order of headings: no serious fault on any place (axe-core)."""

from __future__ import annotations

from pathlib import Path

import pytest

from kerfwind.app.server import PLACES

_OF_COLOURS = ["color-contrast", "link-in-text-block"]
AXE = Path(__file__).parent / "vendor" / "axe.js"


@pytest.mark.parametrize(("width", "theme"), [(1280, "light"), (390, "dark")])
def test_no_serious_fault_on_any_place(visiting, server, width, theme):
    # The page's own policy lets no script in from elsewhere; the test's is let in beside it.
    visit = visiting(server, width=width, color_scheme=theme, bypass_csp=True)
    found = []
    for place in PLACES:
        visit.go(place)
        visit.page.reload()
        visit.settled(place)
        visit.page.add_script_tag(path=AXE)
        # What lies folded away would not be looked at.
        visit.page.locator("details").evaluate_all("all => all.forEach(d => { d.open = true })")
        # The colours alone differ between the schemes, and these rules alone look at colours.
        other = "dark" if theme == "light" else "light"
        for scheme, rules in ((theme, None), (other, _OF_COLOURS)):
            visit.page.emulate_media(color_scheme=scheme)
            told = visit.page.evaluate(
                "rules => axe.run({resultTypes: ['violations'], ...(rules && {runOnly: rules})})",
                rules,
            )
            found += [
                f"{place}, {scheme}: {v['id']}: {node['html'][:160]}: {node['failureSummary']}"
                for v in told["violations"]
                if v["impact"] in ("serious", "critical")
                for node in v["nodes"][:2]
            ]
    assert not found, "\n".join(found)
