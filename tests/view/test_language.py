"""A shop file asks for a language, and is answered where the program does not have it."""

import pytest
from tests.say import refused
from tests.words.reversed import BACKWARDS, speak_backwards

from kerfwind.faults import Faults
from kerfwind.shop import parse_shop
from kerfwind.view.language import voice_in
from kerfwind.words import Voice, languages

TOOL = '[[tools]]\nname = "a"\nhood = "pad holes"\n'


def test_english_is_usual():
    assert "en" in languages()
    assert voice_in(parse_shop(TOOL)) == Voice("en", "in", "$")


def test_a_language_that_was_added_is_spoken():
    speak_backwards()
    file = parse_shop(f'[about]\nlanguage = "{BACKWARDS}"\nunits = "mm"\n{TOOL}')
    assert voice_in(file).word("page.to_buy") == "oT yub"


def test_a_language_that_is_not_there_is_answered():
    with pytest.raises(Faults) as told:
        voice_in(parse_shop(f'[about]\nname = "x"\nlanguage = "xx"\n{TOOL}', "mine.toml"))
    [fault] = told.value.faults
    assert (fault.file, fault.line, fault.place) == ("mine.toml", 3, "about.language")
    said = refused(fault)
    assert "xx" in said.found
    assert "en" in said.allowed
    assert "leave `language` out" in said.mend


def test_a_voice_goes_to_another_process_without_its_messages():
    import pickle

    voice = Voice(units="mm")
    assert voice.word("page.to_buy")
    again = pickle.loads(pickle.dumps(voice))
    assert again == voice
    assert "_messages" not in vars(again)
    assert again.word("page.to_buy") == voice.word("page.to_buy")
