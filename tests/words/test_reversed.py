"""In another language no English is left: what is shown is said by messages, or a person's own."""

import json
import re
import tomllib
from collections.abc import Iterator
from dataclasses import asdict
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from kerfwind.plan import Plan, make_plan
from kerfwind.printed.cart_figures import begin_cart
from kerfwind.printed.content import content
from kerfwind.printed.figures import draw_beside_cart
from kerfwind.printed.tables import air_csv, cuts_csv, panels_csv, shopping_csv, solids_csv
from kerfwind.printed.templates import templates_content
from kerfwind.quantity.dimension import _ALL as DIMENSIONS
from kerfwind.shop import parse_shop
from kerfwind.shop.catalogue.sessions import READY
from kerfwind.terminal import report
from kerfwind.view.findings import voice_of
from kerfwind.view.home_test import home_test_page
from kerfwind.view.measure_sheet import measure_page
from kerfwind.view.page import page_words
from kerfwind.view.schema import shop_schema
from kerfwind.words import Voice
from tests.words.reversed import BACKWARDS, backwards, speak_backwards
from tests.words.stated import COMPUTING

EXAMPLES = Path(__file__).parents[2] / "examples"
#: Rooms that hand words of their own to what is shown, and the part of the pages that shows
#: them: to be emptied.
NOT_YET = {"sources": "sources"}
#: Keys whose values are names of files, or are looked at by the templates alone.
NOT_SHOWN = {"file", "figures", "cover", "exploded", "key", "paper", "language"}
#: The program's name and commands, kinds of files, and what stands so in a list of panels, which
#: the program reads.
OWN = {"kerfwind", "plan", "test", "sheet", "csv", "pdf", "svg", "drawings", "along", "free"}
#: What a shop file says of what is or is not.
OWN |= {"true", "false"}
#: A day that ends with a broom.
SWEPT = """
[[sessions]]
name = "br"
[[sessions.operations]]
time = "30 min"
[[sessions.operations]]
operation = "sweeping"
time = "10 min"
"""
#: Shorter words are too often the same both ways, or a unit.
_WORD = re.compile(r"[^\W\d_]{3,}")


def words(text: str) -> set[str]:
    """The words of a text, in small letters."""
    return {word.lower() for word in _WORD.findall(text.replace("₂", "2"))}


def texts(data: Any) -> Iterator[str]:
    """All texts in data that are shown."""
    if isinstance(data, dict):
        for key, value in data.items():
            if key not in NOT_SHOWN:
                yield from texts(value)
    elif isinstance(data, (list, tuple)):
        for value in data:
            yield from texts(value)
    elif isinstance(data, str):
        yield data


def keys(schema: Any) -> Iterator[str]:
    """The fields of the shop file, and the words that stand for a choice in it."""
    if isinstance(schema, dict):
        yield from schema.get("properties", ())
        yield from (str(choice) for choice in schema.get("enum", ()))
        yield str(schema.get("const", ""))
        for value in schema.values():
            yield from keys(value)
    elif isinstance(schema, list):
        for value in schema:
            yield from keys(value)


@cache
def spoken() -> frozenset[str]:
    """The words of the language, units, and the shop file's own keys."""
    turned = {backwards(word).lower() for word in speak_backwards()}
    units = {unit.name for dimension in DIMENSIONS for unit in dimension.units}
    return frozenset(turned | words(" ".join([*units, *keys(shop_schema(Voice()))])) | OWN)


@pytest.fixture(scope="module", params=["garage", "boathouse", "cellar"])
def plan(request: pytest.FixtureRequest) -> Plan:
    """A plan in the language."""
    speak_backwards()
    text = (EXAMPLES / f"{request.param}.toml").read_text(encoding="utf-8")
    text = text.replace("[about]\n", f'[about]\nlanguage = "{BACKWARDS}"\n')
    # Woods of a day that is ready-made are the program's words.
    for ready in READY:
        text += f'[[sessions]]\nname = "{ready[:2]}"\nready = "{ready}"\n'
    text += SWEPT
    return make_plan(parse_shop(text), samples=64)


def english(plan: Plan, shown: str) -> list[str]:
    """Words that neither the language has nor the person wrote."""
    own = words(" ".join([plan.file.path, *texts(tomllib.loads(plan.file.text))]))
    return sorted(words(shown) - spoken() - own)


def drawn(files: dict[str, str]) -> str:
    """All texts of drawings."""
    found = [t for svg in files.values() for t in re.findall(r">([^<>]+)</", svg)]
    assert found
    return "\n".join(found)


def test_pages_and_drawings(plan: Plan) -> None:
    assert plan.build is not None
    figures = draw_beside_cart(plan)
    cart = begin_cart(plan.shop, plan.build, voice_of(plan))
    data = json.loads(json.dumps(content(plan, figures, cart), default=asdict))
    for part in NOT_YET.values():
        del data[part]
    assert english(plan, "\n".join(texts(data))) == []
    assert english(plan, drawn(figures.files)) == []


def test_templates(plan: Plan) -> None:
    found = templates_content(plan)
    assert found is not None
    data, files = found
    assert english(plan, f"{data['title']}\n{drawn(files)}") == []


def test_tables(plan: Plan) -> None:
    tables = [air_csv(plan), cuts_csv(plan), panels_csv(plan)]
    tables.append(solids_csv(plan.panels, voice_of(plan)))
    assert english(plan, "\n".join(tables)) == []
    assert english(plan, shopping_csv(plan)) == []


def test_the_report(plan: Plan, capsys: pytest.CaptureFixture[str]) -> None:
    report(plan, [Path("x/plan.pdf"), Path("x/drawings/unit.svg")], lacking="x")
    assert english(plan, capsys.readouterr().out) == []


def test_pages_for_the_bench(plan: Plan) -> None:
    shown = [*texts(home_test_page(plan.shop)), *texts(measure_page(Voice(BACKWARDS)))]
    assert english(plan, "\n".join(shown)) == []


def test_rooms_that_are_listed_still_hand_words_on() -> None:
    assert not set(NOT_YET) & set(COMPUTING)


def test_the_check_sees_english(plan: Plan) -> None:
    assert english(plan, "Nobody remembers these") == ["nobody", "remembers", "these"]
    assert len(english(plan, "\n".join(texts(page_words(Voice()))))) > 100
