"""A shop file that is changed a place at a time stays the person's own to the letter."""

import difflib
import tomllib
from pathlib import Path

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from kerfwind.app.document import Edit, same
from tests.app.files import changed, edits, opened, shop_texts

EXAMPLES = Path(__file__).parents[2] / "examples"
GARAGE = (EXAMPLES / "garage.toml").read_text(encoding="utf-8")
PORT = ("tools", "planer", "port", "inside")


def reading(text):
    return tomllib.loads(text.removeprefix("\ufeff").replace("\r\n", "\n"))


def lines_changed(before, after):
    """Lines that went and lines that came."""
    lines = list(difflib.ndiff(before.splitlines(True), after.splitlines(True)))
    return [line[2:] for line in lines if line[0] == "-"], [
        line[2:] for line in lines if line[0] == "+"
    ]


@settings(phases=[Phase.generate], max_examples=300, suppress_health_check=list(HealthCheck))
@given(st.data())
def test_any_changes_of_any_file_are_made_and_taken_back_to_the_letter(data):
    document = opened(data.draw(shop_texts()))
    assert document.data == reading(document.text)
    texts, inverses = [document.text], []
    for _ in range(data.draw(st.integers(1, 6))):
        edit = data.draw(edits(document))
        wanted = changed(document.data, edit)
        inverse = document.apply(edit)
        assert document.data == reading(document.text)
        assert same(document.data, wanted), document.text
        text = document.text
        if not isinstance(edit.place[-1], int):
            # Members of a list have no names by which one could tell that it was made already.
            document.apply(edit)
            assert document.text == text
        inverses.append(Edit.of(inverse.record()))
        texts.append(document.text)
    forward = []
    for inverse, text in zip(reversed(inverses), reversed(texts[:-1]), strict=True):
        forward.append(document.apply(inverse))
        assert document.text == text
    for edit, text in zip(reversed(forward), texts[1:], strict=True):
        document.apply(edit)
        assert document.text == text
