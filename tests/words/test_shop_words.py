"""What the shop file holds has words: each field, each reason, each part of the catalogue."""

import json

import pytest

from kerfwind.facts import Place, Term
from kerfwind.quantity.dimension import _ALL
from kerfwind.shop.catalogue.fittings import offers
from kerfwind.shop.schema import fields_of_file
from kerfwind.view.schema import shop_schema
from kerfwind.words import Voice
from kerfwind.words.places import place_statement
from tests.say import text

FIELDS = list(fields_of_file())
LISTS = {"hoses", "tools", "branches", "fittings", "sheets", "built", "room.outlets", "sessions"}
LISTS |= {"vacuum.suction.points", "vacuum.suction.home_test.readings"}


def with_names(path):
    """The path with a name for what is listed on the way, as findings have it."""
    path = path.replace("sessions.operations.", "sessions.operations[2].")
    for each in LISTS:
        if path.startswith(f"{each}."):
            return path.replace(each, f"{each}[my own]", 1)
    return path


@pytest.mark.parametrize("field", FIELDS, ids=lambda f: f.path)
def test_every_field_of_the_file_has_a_name_and_says_what_stands_in_it(field):
    path, voice = with_names(field.path), Voice()
    name = voice.place(path)
    assert name != path
    assert name[0].islower()
    assert not name.endswith(".")
    assert ("my own" in name) == ("[" in path)
    assert voice.help(field.path).endswith(".")
    assert voice.found_at(path) == f"{name} (`{path}`)"


def test_the_fields_are_those_of_the_file_and_no_two_share_a_name():
    names = [Voice().place(with_names(f.path)) for f in FIELDS]
    assert len(FIELDS) > 200
    # Names of hoses, fittings and sheets stand by themselves: what is asked of each is alike.
    alone = [n for n, f in zip(names, FIELDS, strict=True) if f.path.split(".")[0] not in LISTS]
    assert len(set(alone)) == len(alone)


@pytest.mark.parametrize("path", sorted(LISTS))
def test_what_is_listed_goes_by_its_name(path):
    assert "my own" in Voice().place(f"{path}[my own]")


@pytest.mark.parametrize("name", ["planer", "a [b] c", "a.b", "tools[x].port", "]", "{ $name }"])
def test_a_name_may_be_any_text(name):
    path = f"tools[{name}].port.outside"
    assert place_statement(Place(path)).kind == "place.tools.port.outside"
    assert Voice().place(path) == f"the outside diameter of the {name}'s port"


def test_the_schema_describes_every_field():
    schema = shop_schema(Voice())
    parts = [schema, *schema["$defs"].values()]
    described = [field["description"] for part in parts for field in part["properties"].values()]
    assert all(described)
    assert len(described) > 150
    height = schema["$defs"]["Vacuum"]["properties"]["height"]["description"]
    assert height == (
        "Floor to the top of the lid or handle. A quantity: length from 150 mm to 1.5 m."
    )
    bench = schema["$defs"]["Wishes"]["properties"]["under_bench"]["description"]
    assert "length from" in bench
    hood = schema["$defs"]["Tool"]["properties"]["hood"]["description"]
    assert "pad holes: a sanding pad with holes and a shroud" in hood
    assert json.dumps(schema)


def test_every_dimension_has_its_words():
    for each in _ALL:
        assert text(Term("dimension", each.name)) == each.name
        wanted = text(Term("wanted", each.name))
        units = wanted.partition(" in ")[2].split(", ")
        assert units == each.spellings()
        assert "`" in text(Term("examples", each.name))


def test_every_fitting_on_sale_is_said_as_it_is_called():
    for offer in offers():
        assert text(Term("fitting", offer.fitting.name)) == offer.fitting.name
