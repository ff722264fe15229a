"""What stands against a cart: said so that it can be mended, and mended by what is said."""

import pickle

import pytest

from kerfwind.cart import CannotBuild, with_entries, with_fixes
from kerfwind.facts import Amount, Fix, Listing, Name, Term
from kerfwind.options import FORMS
from kerfwind.quantity import Draw
from kerfwind.words import Voice

from .shops import shop

NOMINAL = Draw(1)


def refused(wishes: str) -> CannotBuild:
    s = shop(wishes=wishes)
    with pytest.raises(CannotBuild) as raised:
        FORMS[s.wishes.form](s, s.sheets[0], NOMINAL)
    return raised.value


@pytest.mark.parametrize("marks", ["inch", "metric"])
@pytest.mark.parametrize("units", ["in", "mm", "both"])
def test_a_size_that_is_asked_for_builds_as_it_is_read(marks: str, units: str) -> None:
    """Whatever units a person reads in, copied into the file it is large enough."""
    wishes = f'form = "tower"\nmeasures = "{marks}"\ngreatest_height = "40 in"\n'
    error = refused(wishes)
    [height] = [u for u in error.unmet if u.place == "wishes.greatest_height"]
    voice = Voice(units=units)  # type: ignore[arg-type]
    [needed] = [fact for name, fact in height.facts if name == "needed"]
    assert voice.text(needed) in voice.refusal(height).mend
    entries = {fix.place: voice.text(fix.to) for fix in error.fixes}
    s = shop(wishes=wishes)
    assert FORMS["tower"](*with_entries(s, s.sheets[0], entries), NOMINAL).form == "tower"


def test_fixes_of_several_wishes_belong_together() -> None:
    error = refused('form = "tower"\ngreatest_height = "40 in"\nlargest_width = "12 in"\n')
    assert len(error.unmet) > 1
    assert all(u.fixes == error.fixes for u in error.unmet)
    assert {"wishes.greatest_height", "wishes.largest_width"} <= {f.place for f in error.fixes}


def test_a_fix_is_put_in_as_it_is() -> None:
    s = shop()
    fixes = (
        Fix("wishes.largest_width", Amount(0.5, "length"), True),
        Fix("wishes.options", Listing((Term("option", "handle"), Name("drawer"))), True),
        Fix("wishes.hold_bucket", "standing", True),
        Fix("sheet.thickness", s.sheets[0].length, True),
    )
    changed, sheet = with_fixes(s, s.sheets[0], fixes)
    assert changed.wishes.largest_width.best_si == 0.5
    assert changed.wishes.largest_width.standing == "chosen"
    assert changed.wishes.options == ("handle", "drawer")
    assert changed.wishes.hold_bucket == "standing"
    assert sheet.thickness.best_si == s.sheets[0].length.best_si
    with pytest.raises(KeyError, match=r"wishes\.nonesuch"):
        with_fixes(s, sheet, [Fix("wishes.nonesuch", "x", True)])


def test_what_cannot_be_built_passes_from_one_process_to_another() -> None:
    error = refused('form = "low"\nlargest_width = "30 in"\n')
    again = pickle.loads(pickle.dumps(error))
    assert (again.form, again.unmet, again.fixes) == (error.form, error.unmet, error.fixes)
