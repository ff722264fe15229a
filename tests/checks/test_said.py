"""Every finding of a cart is a sentence, whatever form, bucket, joint, exhaust and units."""

import re

import numpy as np
import pytest

from kerfwind.checks import build, strength
from kerfwind.checks.collapse import Guard, Pull, bucket_findings
from kerfwind.facts import Term
from kerfwind.finding import Finding
from kerfwind.options.fit import ORDER
from kerfwind.quantity import Draw, UnitChoice
from kerfwind.shop import Shop
from kerfwind.words import Voice

from ..cart.shops import FITTINGS, NOMINAL, shop
from ..say import text

WIDE = 'largest_width = "60 in"\nlargest_length = "60 in"\nnarrowest_door = "40 in"\n'
BOX = (
    'shape = "box"\ntop_width = "280 mm"\ntop_length = "360 mm"\nbottom_width = "260 mm"\n'
    'bottom_length = "330 mm"\nrim_width = "300 mm"\nrim_length = "380 mm"\nvolume = "30 L"\n'
)
TAPERED = 'shape = "tapered"\ntop_diameter = "300 mm"\nbottom_diameter = "260 mm"\n'


def all_findings(s: Shop) -> list[Finding]:
    cart = build(s, s.sheets[0], Draw(40))
    for panel in cart.placed:
        assert text(Term("panel", panel.name)) == panel.name
    pull = Pull(np.full(40, 17e3), (("saw", np.full(40, 9e3)), ("planer", np.full(40, 4e3))))
    guards = (Guard(), Guard(1), Guard(2, 9e3, 0.02), Guard(0, 9e3, 0.02))
    guarded = [f for guard in guards for f in bucket_findings(s, Draw(40), pull, guard)]
    bent = strength(s, cart, Draw(40), plate=s.wishes.hold_bucket == "rim")
    return [*cart.findings, *bent, *guarded]


def check_said(finding: Finding, units: UnitChoice) -> None:
    said = Voice(units=units).finding(finding)
    assert re.fullmatch(r"[a-z].*[^.]", said.check), said
    for sentences in (said.answer, said.do):
        assert re.fullmatch(r"([A-Z0-9].*[.])?", sentences), said
        assert not re.search(r"[{}]|  | [.,;]|None", sentences), said
    assert bool(said.answer)
    assert (finding.level == "good") <= (said.do == "")
    if finding.level in ("problem", "stop"):
        assert said.do


@pytest.mark.parametrize("form", ["tower", "backframe", "low"])
@pytest.mark.parametrize(
    ("hold", "bucket", "joint", "blows", "units"),
    [
        ("rim", "", "screwed butt", "front", "in"),
        ("standing", "", "pocket hole", "rear", "mm"),
        ("standing", BOX, "dado", "left", "both"),
        ("rim", BOX, "glue", "top", "both"),
        ("taper", TAPERED, "screwed butt", "right", "in"),
    ],
)
def test_every_finding_is_said(
    form: str, hold: str, bucket: str, joint: str, blows: str, units: UnitChoice
) -> None:
    wishes = f'form = "{form}"\nhold_bucket = "{hold}"\njoint = "{joint}"\nunder_bench = "40 in"\n'
    s = shop(f'air_out_on = "{blows}"\n', bucket, wishes=wishes + WIDE)
    findings = all_findings(s)
    assert {"cart.tilt.front", "cart.exhaust.person", "cart.collapse.wall"} <= {
        f.key for f in findings
    }
    for finding in findings:
        check_said(finding, units)


def test_every_finding_of_a_cart_with_options_is_said() -> None:
    for option in ORDER:
        wishes = f'form = "backframe"\noptions = ["{option}"]\n{WIDE}'
        for finding in all_findings(shop(wishes=wishes, more=FITTINGS)):
            check_said(finding, "both")


def test_no_separator_no_bucket() -> None:
    s = shop(wishes='under_bench = "30 in"\n' + WIDE)
    separator = s.separator.model_copy(update={"in_use": False})
    s = s.model_copy(update={"separator": separator})
    cart = build(s, s.sheets[0], NOMINAL)
    [bench] = [f for f in cart.findings if f.key == "cart.under_bench.lifted_out"]
    answer = Voice().finding(bench).answer
    assert "under the bench" in answer
    assert "bucket" not in answer
    assert not [f for f in cart.findings if f.key.startswith("cart.bucket")]
