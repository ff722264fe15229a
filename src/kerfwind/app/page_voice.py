"""The voice of the page: what messages quote of a shop file is called as the page calls it."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import lru_cache

from ..facts import Fact, Facts, Listing, Name, slug
from ..finding import Finding
from ..quantity import UnitChoice
from ..words import Said, Voice

#: A quote of a file or of a command; a heading of a list; a line of a file.
_QUOTED = re.compile(r"`([^`]*)`")
_HEADING = re.compile(r"\[\[(\w+)\]\]")
_LINE = re.compile(r'\b(\w+) = "([^"]*)"')
#: Facts that list what goes by a key in a file.
_LISTED = ("fields", "keys")
_COMMAND, _SETTING = re.compile(r"kerfwind ([\w-]+)"), re.compile(r"([\w.]+) = (.*)")

_MOST_SPOKEN = 1000
_SPOKEN: dict[tuple[int, str, str, str], tuple[Finding, Said]] = {}


@dataclass(frozen=True)
class PageVoice(Voice):
    """A voice that says neither keys nor commands."""

    def say(self, kind: str, facts: Facts = (), attribute: str = "") -> str:
        """A message, with the names that the page has for what it quotes."""
        return self._said(kind, facts, attribute) if facts else _said(self, kind, attribute)

    def finding(self, finding: Finding) -> Said:
        """A finding in words, kept as long as it is the same one."""
        key = id(finding), self.language, self.units, self.currency
        known = _SPOKEN.get(key)
        if known is None or known[0] is not finding:
            known = _SPOKEN[key] = finding, super().finding(finding)
            if len(_SPOKEN) > _MOST_SPOKEN:
                _SPOKEN.pop(next(iter(_SPOKEN)))
        return known[1]

    def _said(self, kind: str, facts: Facts, attribute: str) -> str:
        if any(name in _LISTED for name, _ in facts):
            facts = tuple((n, self._listed(f) if n in _LISTED else f) for n, f in facts)
        text = super().say(kind, facts, attribute)
        if "`" in text:
            text = _QUOTED.sub(lambda found: self._called(found[1]), text)
        if "[[" in text:
            text = _HEADING.sub(lambda found: self._called(found[1]), text)
        if ' = "' in text:
            text = _LINE.sub(lambda found: self._set(found[1], found[2]), text)
        return text

    def _listed(self, fact: Fact) -> Fact:
        """A list of keys as the names that the page has for them."""
        if not isinstance(fact, Listing):
            return fact
        names = (Name(f"“{self._name(i.text)}”") if isinstance(i, Name) else i for i in fact.items)
        return replace(fact, items=tuple(names))

    def _called(self, quoted: str) -> str:
        if (command := _COMMAND.match(quoted)) is not None:
            known = f"app.command.{command[1]}"
            return f"“{self.say(known)}”" if self.can_say(known) else "kerfwind"
        if (setting := _SETTING.fullmatch(quoted)) is not None:
            return self._set(setting[1], setting[2].strip('"'))
        return f"“{self._name(quoted)}”"

    def _set(self, key: str, value: str) -> str:
        return f"“{self._name(key)}: {self._choice(value)}”"

    def _name(self, key: str) -> str:
        last = key.rpartition(".")[2]
        if self.can_say(f"field.{slug(last)}"):
            return super().say(f"field.{slug(last)}")
        return self._choice(key)

    def _choice(self, value: str) -> str:
        known = f"choice.{slug(value)}"
        return super().say(known) if re.search(r"\w", value) and self.can_say(known) else value


@lru_cache(4)
def voice_in(language: str = "en", units: UnitChoice = "in", currency: str = "") -> PageVoice:
    """The page's voice; the same one again, which keeps what it said."""
    return PageVoice(language, units, currency)


@lru_cache(8192)
def _said(voice: PageVoice, kind: str, attribute: str) -> str:
    """A message without facts is always the same."""
    return voice._said(kind, (), attribute)
