"""A throw-away second language: every message of English reversed letter by letter.

Facts stay as they are and in their places, so whatever reads as English in it was not said by
a message.
"""

import re

from fluent.syntax import FluentParser, FluentSerializer
from fluent.syntax import ast as ftl

from kerfwind.words.messages import register
from tests.words.stated import ROOT

#: Its tag, which no language of the program has.
BACKWARDS = "qaa"
_WORD = re.compile(r"[^\W\d_]+")


def backwards(text: str) -> str:
    """A text with each of its words turned round, all else as it stands."""
    return _WORD.sub(lambda word: word[0][::-1], text)


class _Turned:
    """Turns the text of every pattern; texts become literals, which keep every space."""

    def __init__(self) -> None:
        self.words: set[str] = set()

    def pattern(self, pattern: ftl.Pattern) -> None:
        turned = []
        for element in pattern.elements:
            if isinstance(element, ftl.TextElement):
                self.words.update(_WORD.findall(element.value))
                turned.append(ftl.Placeable(ftl.StringLiteral(_escaped(backwards(element.value)))))
            else:
                self.placeable(element)
                turned.append(element)
        pattern.elements = turned

    def placeable(self, placeable: ftl.Placeable) -> None:
        inside = placeable.expression
        if isinstance(inside, ftl.StringLiteral):
            self.words.update(_WORD.findall(inside.value))
            inside.value = backwards(inside.value)
        elif isinstance(inside, ftl.Placeable):
            self.placeable(inside)
        elif isinstance(inside, ftl.SelectExpression):
            for variant in inside.variants:
                self.pattern(variant.value)


def _escaped(text: str) -> str:
    return text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\u000A")


def speak_backwards() -> set[str]:
    """Register the language; every word that English messages have in their own texts."""
    turned = _Turned()
    sources = {}
    for file in sorted((ROOT / "words" / "en").glob("*.ftl")):
        resource = FluentParser().parse(file.read_text(encoding="utf-8"))
        for entry in resource.body:
            if not isinstance(entry, (ftl.Message, ftl.Term)):
                continue
            if entry.value is not None:
                turned.pattern(entry.value)
            for attribute in entry.attributes:
                turned.pattern(attribute.value)
        resource.body = [e for e in resource.body if isinstance(e, (ftl.Message, ftl.Term))]
        sources[file.name] = FluentSerializer().serialize(resource)
    register(BACKWARDS, sources)
    return turned.words
