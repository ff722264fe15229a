"""What of the page is kept from answer to answer is what would be made anew."""

import random
from dataclasses import replace

from kerfwind.app.asking import Ask
from kerfwind.app.document import Document, Edit
from kerfwind.app.form import Form
from kerfwind.app.looking import Fragments, Looking
from kerfwind.app.page_voice import voice_in
from kerfwind.app.places import PLACES
from kerfwind.app.places.shop import the_form
from kerfwind.app.planner import Planner
from kerfwind.kept import Kept
from kerfwind.shop import ShopReader
from kerfwind.shop.model import Shop
from kerfwind.shop.schema import model_in
from kerfwind.stages import Stages
from tests.test_stage_keys import edited, garage

SEED, EDITS = 5, 12
#: Edits that change names, units, and what is offered elsewhere.
FIRST = (
    (("tools", "jigsaw", "name"), "sabre saw"),
    (("about", "units"), "mm"),
    (("hoses", "slim hose", "name"), "thin hose"),
    (("tools", "drill press"), None),
    (("about", "currency"), "€"),
    (("about", "units"), "both"),
    (("vacuum", "height"), "25 in"),
    (("vacuum", "height"), "nonsense"),
    (("vacuum", "height"), "26 in"),
)


def test_every_answer_is_what_a_page_made_anew_shows():
    rng = random.Random(SEED)
    document, planner = Document(garage()), Planner()
    compared = 0

    made = planner._shown

    def compare(ask: Ask, *, checking: bool):
        nonlocal compared
        here = made(ask, checking=checking)
        look = planner._look(ask, checking=checking)
        look = replace(look, fragments=Fragments(), stages=Stages())
        anew = {name: PLACES[name](look) for name in ask.places}
        assert here.places == {"frame": look.frame(), **anew}
        compared += 1
        return here

    planner._shown = compare
    places = ("shop", "start")
    number = 0

    def show() -> None:
        nonlocal number
        number += 1
        list(planner.show(Ask(number, number, places, document.text, "shop.toml"), lambda: None))

    show()
    for place, new in FIRST:
        document.apply(Edit(place, document.value(place), new))
        show()
    # All names as they were.
    document = Document(garage())
    show()
    done = 0
    while done < EDITS:
        if edited(document, rng):
            done += 1
            show()
    assert compared > len(FIRST) + EDITS


def test_fields_are_the_same_in_all_units_and_currencies():
    reader = ShopReader()
    file = reader.read(garage())
    look = Looking("", reader.tables, file, None, None, False)
    form = the_form(look)
    assert form.assumed

    def page(voice) -> str:
        said = Form(voice, form.data, form.assumed, form.troubles, Kept(1))
        models = {s: model_in(f.annotation) for s, f in Shop.model_fields.items()}
        return "".join(
            str(each) for s, m in models.items() if m is not None for each in said.fields(m, (s,))
        )

    first = page(voice_in())
    assert "<input" in first
    assert page(voice_in("en", "mm", "€")) == first
    assert page(voice_in("en", "both", "kr")) == first
