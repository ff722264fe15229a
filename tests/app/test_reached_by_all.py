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
    visit.go()
    visit.page.add_script_tag(path=AXE)
    found = []
    for place in PLACES:
        visit.go(place)
        # What lies folded away would not be looked at.
        visit.page.locator("details").evaluate_all("all => all.forEach(d => { d.open = true })")
        found += serious(visit.page, place, theme)
    visit.go("shop")
    visit.write("vacuum-height", "tall")
    visit.page.wait_for_selector("#field-vacuum-height .refused")
    found += serious(visit.page, "a field that is refused", theme)
    assert not found, "\n".join(found)


def serious(page, where: str, theme: str) -> list[str]:
    """The serious faults of what is shown, in both schemes."""
    found = []
    # The colours alone differ between the schemes, and these rules alone look at colours.
    other = "dark" if theme == "light" else "light"
    for scheme, rules in ((theme, None), (other, _OF_COLOURS)):
        page.emulate_media(color_scheme=scheme)
        told = page.evaluate(
            "rules => axe.run({resultTypes: ['violations'], ...(rules && {runOnly: rules})})", rules
        )
        found += [
            f"{where}, {scheme}: {v['id']}: {node['html'][:160]}: {node['failureSummary']}"
            for v in told["violations"]
            if v["impact"] in ("serious", "critical")
            for node in v["nodes"][:2]
        ]
    page.emulate_media(color_scheme=theme)
    return found
