"""Saying what the computing rooms state, in a language and in the reader's units."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, fields, replace
from functools import cached_property
from typing import Any

from ..facts import Amount, Band, Fact, Facts, Listing, Name, Place, Ref, Statement, Term, slug
from ..faults import Refusal
from ..finding import Finding
from ..quantity import Quantity, UnitChoice
from .messages import Choice, Messages, Text, messages
from .numbers import bare, bare_cut, bare_length, show, show_cut, show_range, show_written
from .places import place_statement

#: A number or a size in a name, such as `2` or `1-1/4`, that is a word of its own.
_NUMBER = re.compile(r"(?<!\S)\d+(?:-\d+/\d+)?(?!\S)")
#: So many sentences are kept.
_MOST_KEPT = 8_000
_ZEROS = re.compile(r"\.0+(?=\D|$)|(\.\d*?)0+(?=\D|$)")


@dataclass(frozen=True)
class Said:
    """A finding in words; ``do`` is empty where there is nothing to do."""

    about: str
    check: str
    answer: str
    do: str
    numbers: str


@dataclass(frozen=True)
class SaidRefusal:
    """A refusal in words: where, what was found, what is allowed, how to mend it."""

    place: str
    found: str
    allowed: str
    mend: str


@dataclass(frozen=True)
class Voice:
    """A language, a choice of units and a currency to say things in.

    ``currency`` is a sign or a code, such as ``$`` or ``EUR``; empty for bare numbers.
    """

    language: str = "en"
    units: UnitChoice = "in"
    currency: str = ""

    @cached_property
    def _messages(self) -> Messages:
        return messages(self.language)

    @cached_property
    def _kept(self) -> dict[tuple[str, Facts, str], str]:
        """What was said before: two sentences of three come again on another page or line."""
        return {}

    def __getstate__(self) -> dict[str, str]:
        # Another process reads the messages itself.
        return {f.name: getattr(self, f.name) for f in fields(self)}

    @property
    def plain_units(self) -> UnitChoice:
        """One system of units, where two would be too much."""
        return "in" if self.units == "both" else self.units

    def plain(self) -> Voice:
        """The same voice in one system of units."""
        return self if self.units == self.plain_units else replace(self, units=self.plain_units)

    def text(self, fact: Fact) -> str:
        """Any fact in words.

        Raises
        ------
        Unsaid
            No message says it.
        """
        if isinstance(fact, Statement):
            return self.say(fact.kind, fact.facts, fact.part)
        if isinstance(fact, Amount):
            return self.amount(fact)
        if isinstance(fact, Band):
            return self._range(fact)
        if isinstance(fact, Quantity):
            return show_written(fact, self.units, self._between("number.range"))
        if isinstance(fact, Term):
            return self._term(fact)
        if isinstance(fact, Ref):
            return fact.name
        if isinstance(fact, Name):
            return fact.text
        if isinstance(fact, Place):
            return self.place(fact.path)
        if isinstance(fact, Listing):
            return self._list([self.text(each) for each in fact.items], fact.joined)
        return str(fact)

    def _term(self, term: Term) -> str:
        """A term; numbers in its key, as in ``handle post 2``, are facts of one message."""
        numbers = zip(("first", "second"), _NUMBER.findall(term.key), strict=False)
        key = _NUMBER.sub("n", term.key)
        return self.say(f"{term.kind}.{key}", tuple((k, Name(n)) for k, n in numbers))

    def say(self, kind: str, facts: Facts = (), attribute: str = "") -> str:
        """The message of a kind, or one of its attributes, with its facts in words."""
        asked = kind, facts, attribute
        said = self._kept.get(asked)
        if said is None:
            values = {name.replace("_", "-"): self._value(fact) for name, fact in facts}
            said = self._messages.format(slug(kind), attribute, values)
            if len(self._kept) >= _MOST_KEPT:
                self._kept.clear()
            self._kept[asked] = said
        return said

    def word(self, kind: str, **named: Fact) -> str:
        """A message of the views themselves: a heading, a label, a line."""
        return self.say(kind, tuple(named.items()))

    def can_say(self, kind: str, attribute: str = "") -> bool:
        """Whether there is a message of this kind."""
        return self._messages.has(slug(kind), attribute)

    def can_say_place(self, path: str) -> bool:
        """Whether a field of the shop file has a name in this language."""
        return self.can_say(place_statement(Place(path)).kind)

    def place(self, path: str) -> str:
        """A field of the shop file by its name, or as it is written there where it has none."""
        return self.text(place_statement(Place(path))) if self.can_say_place(path) else path

    def help(self, path: str) -> str:
        """What stands in a field of the shop file; its path has no names of what is listed."""
        return self.say(f"place.{path}", (("name", Name("")),), "help")

    def found_at(self, path: str) -> str:
        """A field by its name and by where to find it in the file."""
        statement = place_statement(Place(path))
        if not self.can_say(statement.kind, "help"):
            return self.place(path)
        return self.word("place.found_at", name=statement, path=Name(path))

    def _value(self, fact: Fact) -> Any:
        if isinstance(fact, int):
            return fact
        return Choice(slug(fact)) if isinstance(fact, str) else Text(self.text(fact))

    def amount(self, amount: Amount) -> str:
        """A number with its unit."""
        si, dimension = amount.si, amount.dimension
        if dimension == "money":
            return self.money(si)
        if amount.style in ("dust", "hours"):
            return self._dust(si) if amount.style == "dust" else self._hours(si)
        if dimension == "microns":
            return self._number("microns", f"{si:.0f}")
        if amount.style == "cut":
            return show_cut(si, self.units)
        if amount.style in ("inch", "metric"):
            text = show(si, dimension, "in" if amount.style == "inch" else "mm", denominator=64)
            # As it is written in a shop file: a comma there could be a decimal's.
            return text.replace(",", "")
        if amount.style in ("most", "tall"):
            return self._most(si) if amount.style == "most" else self._tall(si)
        if amount.style == "caliper":
            return self._caliper(si)
        if amount.style == "fine" and dimension == "area":
            return self._in_both(
                self._number("square_inches", f"{si / 0.0254**2:.2g}"),
                self._number("square_mm", f"{si * 1e6:.0f}"),
            )
        if amount.style == "fine" and dimension == "mass":
            return self._in_both(
                self._number("ounces", f"{si / 0.45359237 * 16:.1f}"),
                self._number("grams", f"{1e3 * si:.0f}"),
            )
        if amount.style == "fine" and dimension == "length":
            return show(si, dimension, self.units, denominator=64)
        if dimension == "share":
            number = f"{100 * si:.{int(amount.style == 'fine')}f}"
            if amount.style == "finest":
                number = f"{100 * si:.3g}"
            return self.word("number.percent", number=Name(number))
        if amount.style == "trade" and self.units == "mm":
            # Metric pipe and duct are sold by the round ten millimetres.
            return show(round(si, 2), dimension, self.units)
        text = show(si, dimension, self.units)
        return _ZEROS.sub(r"\1", text) if amount.style == "short" else text

    def _most(self, length_m: float) -> str:
        """A thin thing's greatest thickness; a sixty-fourth of an inch would be too coarse."""
        texts = [self._number("mm", f"{math.floor(length_m * 1e4) / 10:.1f}")]
        if self.units != "mm":
            inches = math.floor(length_m / 0.0254 * 1000) / 1000
            texts.insert(0, self._number("inch", f"{inches:.3f}"))
        return self._list(texts, "commas")

    def _caliper(self, length_m: float) -> str:
        """A small length for a caliper: in millimetres, for none but metric readers in inches too."""
        metric = self._number("mm", f"{1000 * length_m:.1f}")
        if self.units == "mm":
            return metric
        imperial = self._number("inch", f"{length_m / 0.0254:.2f}")
        return self.word("number.both", first=Name(metric), second=Name(imperial))

    def _tall(self, length_m: float) -> str:
        """A height that nobody measures in inches."""
        return self._in_both(
            self._number("feet", f"{length_m / 0.3048:.0f}"),
            self._number("metres", f"{length_m:.1f}"),
        )

    def _dust(self, mass_kg: float) -> str:
        """A mass of dust: in milligrams or grams while it is small, whatever the units."""
        if mass_kg >= 1.0:
            return show(mass_kg, "mass", self.units)
        if mass_kg >= 1e-3:
            grams = 1e3 * mass_kg
            return self._number("grams", f"{grams:.0f}" if grams >= 10 else f"{grams:.1f}")
        return self._number(
            "milligrams", f"{1e6 * mass_kg:.2g}" if mass_kg < 1e-5 else f"{1e6 * mass_kg:.0f}"
        )

    def _hours(self, seconds: float) -> str:
        """A time as people say it: minutes to two hours, then hours to a half."""
        if seconds < 7200:
            return self._number("minutes", f"{seconds / 60:.0f}")
        return self._number("hours", f"{round(seconds / 1800) / 2:g}")

    def _in_both(self, imperial: str, metric: str) -> str:
        if self.units == "both":
            return self.word("number.both", first=Name(imperial), second=Name(metric))
        return imperial if self.units == "in" else metric

    def _number(self, unit: str, number: str) -> str:
        return self.say(f"number.{unit}", (("number", Name(number)),))

    def length(self, length_m: float, denominator: int = 32) -> str:
        """A length [m] to a part of an inch, or to a millimetre; to a tenth where it is short."""
        return show(length_m, "length", self.units, denominator=denominator)

    def drawn(self, length_m: float, denominator: int = 16) -> str:
        """A length [m] as it stands on a dimension line, without its unit."""
        return bare_length(length_m, self.units, denominator)

    def fitted(self, length_m: float) -> str:
        """A diameter [m] on a drawing that meets another: millimetres to a caliper's tenth, always.

        A thirty-second of an inch is more than what tells a press fit from a loose one.
        """
        metric = f"{1000 * length_m:.1f}"
        return metric if self.units == "mm" else f"{bare_length(length_m, 'in', 32)} ({metric})"

    def drawn_to_cut(self, length_m: float) -> str:
        """A length [m] on a dimension line by which something is cut, without its unit."""
        return bare_cut(length_m, self.units)

    def bare(self, value_si: float, dimension: str) -> str:
        """A number in one system of units, whose unit stands above."""
        return bare(value_si, dimension, self.units)

    def count(self, number: float, decimals: int = 0) -> str:
        """A number of things, or of a unit that stands elsewhere."""
        return f"{number:,.{decimals}f}"

    def money(self, amount: float) -> str:
        """An amount of money: round from one up where it has no cents."""
        whole = amount == int(amount) and abs(amount) >= 1
        number = f"{amount:,.0f}" if whole else f"{amount:,.2f}"
        if not self.currency:
            return number
        sign = "yes" if len(self.currency) == 1 else "no"
        return self.word(
            "number.money", number=Name(number), currency=Name(self.currency), sign=sign
        )

    def _list(self, texts: list[str], joined: str) -> str:
        if len(texts) < 2:
            return "".join(texts)
        middle = self._between(f"list.{joined}")
        if joined in ("and", "or"):
            return middle.join([self._between("list.commas").join(texts[:-1]), texts[-1]])
        return middle.join(texts)

    def _between(self, kind: str) -> str:
        """What a message puts between what is before and what is after."""
        whole = self.say(kind, (("before", Name("\x00")), ("after", Name("\x01"))))
        return whole.partition("\x00")[2].partition("\x01")[0]

    def finding(self, finding: Finding) -> Said:
        """A finding in words: what was checked, the answer, what to do, value and limit."""
        key = finding.key
        answer = self.say(f"{key}.{finding.outcome}", finding.facts)
        if finding.otherwise and (
            (finding.outcome == "good" and finding.level != "good")
            or (finding.outcome == finding.otherwise and finding.level == "unknown")
        ):
            answer = self._leaning(answer, finding)
        return Said(
            "" if finding.about is None else self.about(finding),
            self.say(key, finding.facts),
            answer,
            self._do(finding),
            self.numbers(finding),
        )

    def about(self, finding: Finding) -> str:
        """The thing that a finding is about; empty for the whole unit."""
        if finding.about is None or isinstance(finding.about, str):
            return finding.about or ""
        return self.text(finding.about)

    def _do(self, finding: Finding) -> str:
        if finding.level == "good":
            return ""
        for kind in dict.fromkeys((finding.outcome, finding.otherwise)):
            if kind and self.can_say(f"{finding.key}.{kind}", "do"):
                return self.say(f"{finding.key}.{kind}", finding.facts, "do")
        if self.can_say(finding.key, "do"):
            return self.say(finding.key, finding.facts, "do")
        return ""

    def _leaning(self, answer: str, finding: Finding) -> str:
        """An answer that is no more than likely; the doubt comes before a long one."""
        settled = "no" if finding.level == "unknown" else "yes"
        about = (("likely", finding.leaning), ("settled", settled))
        doubt = self.say("finding.doubt", about)
        if ": " in answer or ". " in answer:
            return f"{doubt[0].upper()}{doubt[1:]}: {answer[0].lower()}{answer[1:]}"
        return f"{answer.rstrip('.')}: {doubt}."

    def refusal(self, refusal: Refusal) -> SaidRefusal:
        """A refusal in words."""
        found, allowed, mend = (
            self.say(refusal.kind, refusal.facts, part) for part in ("found", "allowed", "mend")
        )
        # In a file that was read, a field goes by the name that stands there.
        place = refusal.place if refusal.file else self.found_at(refusal.place)
        return SaidRefusal(place, found, allowed, mend)

    def numbers(self, finding: Finding) -> str:
        """Value, limit and likelihood in one line; empty where there is no value."""
        if finding.value is None:
            return ""
        plain = self.plain()
        parts = [plain.band(finding.value)]
        if finding.limit is not None and finding.must:
            parts.append(
                self.word(
                    "finding.must", way=slug(finding.must), limit=Name(plain.band(finding.limit))
                )
            )
        if finding.likelihood is not None:
            parts.append(self.likelihood(finding.likelihood))
        return self._list(parts, "semicolons")

    def likelihood(self, likelihood: float) -> str:
        """The chance of passing, never rounded to a certainty it does not have."""
        if likelihood > 0.99:
            return self.word("finding.passes", share="nearly-all")
        if likelihood < 0.01:
            return self.word("finding.passes", share="hardly-any")
        return self.word("finding.passes", share="some", cases=round(100 * likelihood))

    def band(self, band: Band) -> str:
        """Best value and, where it is wider than rounding, its band."""
        best = show(band.best, band.dimension, self.units)
        low, high = (show(v, band.dimension, self.units) for v in (band.low, band.high))
        if low == high:
            return best
        return f"{best} ({self._range(band)})"

    def _range(self, band: Band) -> str:
        between = self._between("number.range")
        return show_range(band.low, band.high, band.dimension, self.units, between)
