"""Names in other scripts: shown where a typeface has them, named where none has."""

import pytest

from kerfwind.cli import _without_comments
from kerfwind.printed.typeface import _lacking, lacking, wants_system
from kerfwind.printed.typesetting import typeset
from kerfwind.terminal import lacking_text
from kerfwind.words import Voice


@pytest.mark.parametrize("text", ["Workshop", "Atelier d’été, 3 µm ± 5 %", "Ελλάδα Ж → ≥", "€ 20"])
def test_the_bundled_typefaces_suffice_for_most_of_europe(text):
    assert not wants_system(text)
    assert lacking(text) == ""


def test_characters_beyond_the_bundled_typefaces_ask_for_the_computers_own():
    assert wants_system("Werkstatt 工房")
    assert _lacking("Ж工房→", system=False) == "工房"


def test_what_no_typeface_has_is_named_to_the_person():
    assert set(lacking("工房 Werkstatt 工")) <= set("工房")
    assert "工 房" in lacking_text("工房", Voice())
    assert lacking_text("", Voice()) == ""


def test_comments_of_a_shop_file_are_not_looked_at():
    assert "庫" not in _without_comments('[about]  # 車庫\nname = "é"\n')
    assert "庫" in _without_comments('[about]\nname = "車庫"\n')


def test_pages_are_the_same_bytes_each_time():
    data = {"title": "Größe", "paper": "a4", "pages": []}
    assert typeset("templates.typ", data, {}) == typeset("templates.typ", data, {})
