"""Every kind that the computing rooms can state has its message, which uses just its facts."""

import ast
import re
import sys
import threading
from collections import Counter

import pytest
from fluent.syntax import FluentParser
from fluent.syntax import ast as ftl

from kerfwind.facts import Amount, Band, Listing, Name, Place, Ref, Term, slug, state
from kerfwind.faults import refusal
from kerfwind.words import Unsaid, Voice
from kerfwind.words.messages import Messages, messages, plain_message
from tests.words.stated import COMPUTING, ROOT, SHOWING, all_stated, modules

ENGLISH = ROOT / "words" / "en"
#: Elements of drawings and pages, names of typefaces, styles of a terminal.
_MARKUP = re.compile(r"[<>=#|]|\d [\d.]|sans-serif|^bold white on red$")


def variables(pattern):
    """Names of the facts that a message's pattern wants."""
    found = set()

    def visit(node):
        if isinstance(node, ftl.VariableReference):
            found.add(node.id.name.replace("-", "_"))
        elif isinstance(node, ftl.BaseNode):
            for value in vars(node).values():
                for each in value if isinstance(value, list) else [value]:
                    visit(each)

    visit(pattern)
    return found


@pytest.fixture(scope="module")
def entries():
    """Every message and term by name."""
    found = {}
    for file in sorted(ENGLISH.glob("*.ftl")):
        for entry in FluentParser().parse(file.read_text(encoding="utf-8")).body:
            if isinstance(entry, ftl.Message):
                found[entry.id.name] = entry
    return found


def test_every_file_is_sound_and_no_message_stands_twice():
    names = Counter()
    for file in ENGLISH.glob("*.ftl"):
        body = FluentParser().parse(file.read_text(encoding="utf-8")).body
        junk = [e.content for e in body if isinstance(e, ftl.Junk)]
        assert not junk, f"{file.name}: {junk[0]}"
        names.update(
            ("-" if isinstance(e, ftl.Term) else "") + e.id.name
            for e in body
            if isinstance(e, (ftl.Message, ftl.Term))
        )
    assert [n for n, count in names.items() if count > 1] == []
    assert sorted(names) == sorted(messages("en").names())


def test_a_plain_message_is_read_as_fluents_own_parser_reads_it(entries):
    plain = {name: plain_message(messages("en").source(name)) for name in entries}
    alike = [name for name, message in plain.items() if message is not None]
    assert len(alike) > len(entries) / 2
    for name in alike:
        assert plain[name].equals(entries[name], ["span", "comment"]), name


@pytest.mark.parametrize(
    "entry",
    [
        "a = { $n -> [one] x *[other] y }",
        "a = { -term } b",
        'a = {"{"} b',
        "a =\n    below",
        "a = above\n    below",
        "a = b { $n",
        "-a = a term",
        "    .b = c",
    ],
)
def test_what_is_not_plain_is_left_to_fluents_own_parser(entry):
    assert plain_message(entry) is None


def test_every_statement_has_its_message_which_uses_just_its_facts(entries):
    for stated in all_stated():
        for kind in stated.kinds:
            said = [kind, *(f"{kind}.{o}" for o in stated.outcomes if o)]
            wanted = set()
            for each in said:
                assert slug(each) in entries, f"{stated.where}: no message `{slug(each)}`"
                entry = entries[slug(each)]
                wanted |= variables(entry.value)
                for attribute in entry.attributes:
                    wanted |= variables(attribute.value)
            known = stated.facts | stated.besides
            assert wanted <= known, f"{stated.where}: {said} want {wanted - known}"
            unused = stated.facts - wanted
            assert not unused, f"{stated.where}: no message of {said} uses {sorted(unused)}"


def test_every_refusal_says_what_was_found_what_is_allowed_and_how_to_mend_it(entries):
    refused = [each for each in all_stated() if each.refusal]
    assert refused
    for stated in refused:
        for kind in stated.kinds:
            attributes = {a.id.name for a in entries[slug(kind)].attributes}
            assert {"found", "allowed", "mend"} <= attributes, f"{stated.where}: {kind}"


def test_outcomes_that_are_put_in_later_have_messages(entries):
    later = {
        keyword.value.value
        for _, tree in modules()
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
        if node.func.id == "replace"
        for keyword in node.keywords
        if keyword.arg == "outcome" and isinstance(keyword.value, ast.Constant)
    }
    assert later
    for outcome in later:
        assert any(name.endswith(f"-{outcome}") for name in entries), outcome


def test_a_field_without_a_name_is_told_as_it_is_written():
    assert Voice().text(Place("hoses[grey hose].tool_end")) == "the tool end of the grey hose"
    assert Voice().text(Place("hoses[grey hose].nonesuch")) == "hoses[grey hose].nonesuch"


def endings(entries):
    """What names of messages end in, behind any of their dashes."""
    return {name[i + 1 :] for name in entries for i, letter in enumerate(name) if letter == "-"}


def is_sentence(text, known):
    """Three words or more, unless it is the key of a term or of a message."""
    words = [word for word in text.split() if re.search("[A-Za-z]", word)]
    key = slug(re.sub(r"\b\d+\b", "n", text))
    return len(words) >= 3 and not {slug(text), key} & known


def sentences(file, tree, entries):
    """Texts of three words or more that stand in a module for people to read."""
    known = endings(entries)
    docs = {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
    raised = {
        id(inner)
        for node in ast.walk(tree)
        if isinstance(node, (ast.Raise, ast.Assert))
        for inner in ast.walk(node)
    }
    helped = {
        id(inner)
        for node in ast.walk(tree)
        if isinstance(node, ast.keyword) and node.arg in ("help", "metavar")
        for inner in ast.walk(node.value)
    }
    return [
        f"{file.relative_to(ROOT)}:{node.lineno}: {node.value!r}"
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and is_sentence(node.value, known)
        and id(node) not in docs | raised | helped
        and not _MARKUP.search(node.value)
    ]


@pytest.mark.parametrize("rooms", [COMPUTING, SHOWING])
def test_no_sentence_stands_in_a_room_that_computes_or_shows(rooms, entries):
    found = [each for file, tree in modules(rooms) for each in sentences(file, tree, entries)]
    assert found == []


def test_the_check_sees_a_sentence(entries):
    tree = ast.parse('"""Not this one."""\nprint(f"and {1} that is said")\nx(help="nor this one")')
    assert len(sentences(ROOT / "x.py", tree, entries)) == 1


def test_every_term_that_is_written_out_has_its_message(entries):
    written = [
        (file.name, tuple(a.value for a in node.args))
        for file in sorted(ROOT.rglob("*.py"))
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id == "Term"
        and len(node.args) == 2
        and all(isinstance(a, ast.Constant) for a in node.args)
    ]
    assert written
    assert [each for each in written if slug(".".join(each[1])) not in entries] == []


def test_every_word_that_a_view_asks_for_is_there(entries):
    asked = [
        (file.name, node.args[0].value)
        for file in sorted(ROOT.rglob("*.py"))
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr == "word"
        and node.args
        and isinstance(node.args[0], ast.Constant)
        and "." in str(node.args[0].value)
    ]
    assert asked
    assert [each for each in asked if slug(each[1]) not in entries] == []


def test_facts_are_told_in_the_readers_units():
    length, flow = Amount(0.0254, "length"), Band(0.04, 0.038, 0.042, "airflow")
    assert Voice(units="in").text(length) == "1 in"
    assert Voice(units="mm").text(length) == "25 mm"
    assert Voice(units="both").text(length) == "1 in (25 mm)"
    assert Voice(units="mm").text(flow) == "137 to 151 m³/h"


@pytest.mark.parametrize(
    ("amount", "inch", "metric", "both"),
    [
        # What is sold by a size goes by that size, whatever the reader's units.
        (Amount(0.009525, "length", "inch"), "3/8 in", "3/8 in", "3/8 in"),
        (Amount(0.012, "length", "metric"), "12 mm", "12 mm", "12 mm"),
        # A thickness not to go beyond is rounded down.
        (Amount(0.00199, "length", "most"), "0.078 in, 1.9 mm", "1.9 mm", "0.078 in, 1.9 mm"),
        (Amount(2.5, "length", "tall"), "8 ft", "2.5 m", "8 ft (2.5 m)"),
        (Amount(3e-4, "area", "fine"), "0.47 in²", "300 mm²", "0.47 in² (300 mm²)"),
    ],
)
def test_sizes_are_told_as_people_tell_them(amount, inch, metric, both):
    told = [Voice(units=units).text(amount) for units in ("in", "mm", "both")]
    assert told == [inch, metric, both]


def test_lists_and_names():
    voice = Voice()
    names = tuple(Name(n) for n in ("saw", "planer", "sander"))
    assert voice.text(Listing(names)) == "saw, planer and sander"
    assert voice.text(Listing(names, "or")) == "saw, planer or sander"
    assert voice.text(Listing(names[:2], "then")) == "saw, then planer"
    assert voice.text(Ref("tool", "{ $x } planer")) == "{ $x } planer"
    assert len(voice.text(Listing(tuple(Name("x" * 80) for _ in range(200))))) > 16000


def test_money_is_told_in_the_currency_of_the_reader():
    few, round_sum = Amount(0.6, "money"), Amount(1250.0, "money")
    assert Voice(currency="$").text(few) == "$0.60"
    assert Voice(currency="EUR").text(round_sum) == "1,250 EUR"
    assert Voice().text(round_sum) == "1,250"


def test_a_field_of_a_file_is_named_as_it_stands_there():
    written = refusal("cutting.list.no_length", "length", file="list.csv", line=2)
    assert Voice().refusal(written).place == "length"


def test_what_cannot_be_said_is_an_error_that_names_it():
    with pytest.raises(Unsaid, match="power-together-over_there"):
        Voice().text(state("power.together.over_there"))
    with pytest.raises(Unsaid, match="cord"):
        Voice().text(state("power.cord.thinnest", cord=Name("3 m")))
    with pytest.raises(Unsaid, match="chooses"):
        Voice().text(state("power.vacuum_alone.outlet", outlet="12 A"))


def test_a_term_is_a_message():
    assert Voice().text(Term("cord", "14 AWG")) == "14 AWG"


def test_terms_that_are_counted_share_a_message():
    assert Voice().text(Term("panel", "handle post 2")) == "handle post 2"
    assert Voice().text(Term("panel", "rack 1 bracket 2")) == "rack 1 bracket 2"
    assert Voice().text(Term("panel", "left side")) == "left side"


@pytest.mark.parametrize("letters", [700, 900, 3_000, 60_000])
def test_a_text_of_any_length_goes_into_a_choice(letters):
    text = "x" * letters
    said = Voice().word("first.and_more", first=Name(text), count=3)
    assert said == f"{text} and 3 more"


def test_threads_may_ask_for_messages_that_nobody_has_asked_for_yet():
    texts = {f.name: f.read_text(encoding="utf-8") for f in sorted(ENGLISH.glob("*.ftl"))}
    own = Messages("en", texts)
    refused = []

    def ask():
        for name in [n for n in own.names() if not n.startswith("-")][:500]:
            try:
                own.format(name, "", {})
            except Unsaid:
                pass  # it wants facts
            except Exception as error:
                refused.append(f"{name}: {error!r}")

    before = sys.getswitchinterval()
    sys.setswitchinterval(1e-6)
    try:
        asking = [threading.Thread(target=ask) for _ in range(4)]
        for each in asking:
            each.start()
        for each in asking:
            each.join()
    finally:
        sys.setswitchinterval(before)
    assert refused == []
