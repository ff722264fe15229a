"""The messages of one language, each understood when it is first asked for.

They stand beside this module in Project Fluent's syntax, a file for each room. All of them
together take a third of a second to be parsed, so a file is cut where its entries begin, and
an entry is given to Fluent's own parser when a sentence needs it.
"""

from __future__ import annotations

import re
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from threading import Lock
from typing import Any, NoReturn

from fluent.runtime import FluentBundle
from fluent.runtime.types import FluentType
from fluent.syntax import FluentParser, ast

_ENTRY = re.compile(r"^(-?[A-Za-z][\w-]*) *=", re.MULTILINE)
#: A line of an entry that says no more than words and values, and the values in it.
_PLAIN_LINE = re.compile(
    r"(?:([A-Za-z][\w-]*)|    \.([A-Za-z][\w-]*)) = "
    r"((?:[^\s{}]|\{ \$[a-z][\w-]* \})[^{}\n]*(?:\{ \$[a-z][\w-]* \}[^{}\n]*)*)"
)
_PLAIN_VALUE = re.compile(r"\{ \$([a-z][\w-]*) \}")
#: Where a text of more than so many letters goes.
_MARK, _LONG = re.compile("\ue000[0-9]+\ue001"), 800
_REFERRED = re.compile(r"(?<![\w$\"])-?[A-Za-z][\w-]*(?=[ .(}])")


class Unsaid(LookupError):
    """There is no such message, or it wants a fact that was not given."""


class Text(FluentType):
    """A fact in words, however long."""

    def __init__(self, text: str) -> None:
        self.text = text

    def format(self, locale: object) -> str:
        """The text."""
        return self.text


class Choice(FluentType):
    """Which variant of a message is meant; it is never shown itself."""

    def __init__(self, key: str) -> None:
        self.key = key

    def __eq__(self, other: object) -> bool:
        return self.key == (other.key if isinstance(other, Choice) else other)

    def __hash__(self) -> int:
        return hash(self.key)

    def format(self, locale: object) -> NoReturn:
        """Refused."""
        raise Unsaid(f"`{self.key}` chooses between variants and is no word to show")


class Messages:
    """What a language says, by the names of its messages."""

    def __init__(self, language: str, sources: dict[str, str]) -> None:
        self.language = language
        self._source: dict[str, str] = {}
        for text in sources.values():
            starts = [m.start() for m in _ENTRY.finditer(text)]
            for start, end in zip(starts, [*starts[1:], len(text)], strict=True):
                entry = text[start:end]
                self._source[entry.partition("=")[0].strip()] = entry
        self._bundle = FluentBundle([language], use_isolating=False)
        self._parser = FluentParser(with_spans=False)
        self._taken: set[str] = set()
        #: Pages may be printed in one thread while another answers.
        self._taking = Lock()

    def names(self) -> list[str]:
        """Names of all messages and terms."""
        return list(self._source)

    def source(self, name: str) -> str:
        """An entry as it stands in its file."""
        return self._source[name]

    def has(self, name: str, attribute: str = "") -> bool:
        """Whether there is such a message, with such an attribute."""
        if name not in self._source:
            return False
        if not attribute:
            return True
        self._take(name)
        return attribute in self._bundle.get_message(name).attributes

    def format(self, name: str, attribute: str, values: dict[str, Any]) -> str:
        """The message, or one of its attributes, with these values in it.

        Raises
        ------
        Unsaid
            There is no such message, or a value that it wants is missing.
        """
        if not self.has(name, attribute):
            raise Unsaid(f"no message `{name}{'.' if attribute else ''}{attribute}`")
        self._take(name)
        message = self._bundle.get_message(name)
        pattern = message.attributes[attribute] if attribute else message.value
        if pattern is None:
            raise Unsaid(f"`{name}` has no text of its own")
        # Fluent refuses a long text in a choice: a mark stands for it until the message is made.
        later = [k for k, v in values.items() if isinstance(v, Text) and len(v.text) > _LONG]
        marks = {f"\ue000{place}\ue001": values[key].text for place, key in enumerate(later)}
        values = values | dict(zip(later, map(Text, marks), strict=True))
        made, errors = self._bundle.format_pattern(pattern, values)
        if errors:
            raise Unsaid(f"`{name}`: {errors[0]}")
        text = str(made)
        return _MARK.sub(lambda found: marks.get(found[0], found[0]), text) if marks else text

    def _take(self, name: str) -> None:
        """Parse an entry and those that it refers to."""
        if name in self._taken:
            return
        with self._taking:
            self._parse(name, set())

    def _parse(self, name: str, under_way: set[str]) -> None:
        if name in self._taken or name in under_way:
            return
        under_way.add(name)
        text = self._source[name]
        plain = plain_message(text)
        if plain is not None:
            self._bundle.add_resource(ast.Resource([plain]))
            self._taken.add(name)
            return
        body = self._parser.parse(text).body
        entries: list[Any] = [e for e in body if isinstance(e, (ast.Message, ast.Term))]
        if len(entries) != 1 or any(isinstance(e, ast.Junk) for e in body):
            raise Unsaid(f"`{name}` cannot be understood: {text.strip()}")
        self._bundle.add_resource(ast.Resource(entries))
        for other in _REFERRED.findall(text):
            if other in self._source:
                self._parse(other, under_way)
        # Only now: another thread may take it at once.
        self._taken.add(name)


def plain_message(entry: str) -> ast.Message | None:
    """The message of an entry whose lines are plain words and values; else None.

    Four of five are; Fluent's parser, which goes by letters, takes seven times as long for them.
    """
    lines = entry.split("\n")
    while not lines[-1].strip() or lines[-1].startswith("#"):
        lines.pop()
    message = None
    for number, line in enumerate(lines):
        match = _PLAIN_LINE.fullmatch(line)
        if match is None or (number == 0) != bool(match[1]):
            return None
        if message is None:
            message = ast.Message(ast.Identifier(match[1]), _plain_pattern(match[3]))
        else:
            attribute = ast.Attribute(ast.Identifier(match[2]), _plain_pattern(match[3]))
            message.attributes.append(attribute)
    return message


def _plain_pattern(text: str) -> ast.Pattern:
    elements: list[ast.TextElement | ast.Placeable] = []
    for number, part in enumerate(_PLAIN_VALUE.split(text.rstrip(" "))):
        if number % 2:
            elements.append(ast.Placeable(ast.VariableReference(ast.Identifier(part))))
        elif part:
            elements.append(ast.TextElement(part))
    return ast.Pattern(elements)


_registered: dict[str, Messages] = {}


def register(language: str, sources: dict[str, str]) -> None:
    """Add a language, or put others in its place: the text of its files by their names."""
    _registered[language] = Messages(language, sources)


def languages() -> list[str]:
    """Tags of all languages that there are messages in."""
    own = [f.name for f in files("kerfwind.words").iterdir() if _is_language(f)]
    return sorted({*own, *_registered})


def _is_language(folder: Traversable) -> bool:
    return folder.is_dir() and any(f.name.endswith(".ftl") for f in folder.iterdir())


def messages(language: str) -> Messages:
    """The messages of a language that the program has.

    Raises
    ------
    LookupError
        There are none in this language.
    """
    return _registered[language] if language in _registered else _own(language)


@cache
def _own(language: str) -> Messages:
    if language not in languages():
        raise LookupError(f"no messages in `{language}`")
    folder = files("kerfwind.words") / language
    found = sorted(folder.iterdir(), key=lambda f: f.name)
    return Messages(
        language, {f.name: f.read_text(encoding="utf-8") for f in found if f.name.endswith(".ftl")}
    )
