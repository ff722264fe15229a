"""What a place of the page is made from, and the frame around all places."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import htpy as h
from markupsafe import Markup

from ..drawing import Drawing, Paper, layout, svg
from ..facts import Name, slug
from ..faults import Faults
from ..kept import Kept
from ..plan import Plan
from ..shop import ShopFile
from ..stages import Stages
from ..view.figure import Figure
from ..view.findings import Group, groups
from ..view.first import what_works
from ..words import Voice, languages
from .asking import Parts
from .form import Assumed
from .page_voice import PageVoice, voice_in
from .paths import coded
from .telling import Told, changed, told
from .ticks import Work
from .todo import todo

#: The width that a drawing is laid out for [mm]; the page scales it to its column.
WIDTH_MM = 190.0
#: What a shop lacks of which nothing is known yet.
_NO_TOOL = {"shop-no_tool", "shop-tools-empty"}
#: What is possible by itself, but not beside something else that was entered.
_CONTRADICTION = re.compile(r"shop-(bucket-|low_caster|high_inlet|air-rises|not_inside)")
#: A drawing's own width [mm].
_WIDE = re.compile(r'width="([\d.]+)mm"')
#: So many lines of the answer stand above all places.
_MOST_LINES = 4
#: So many changed answers are shown at once.
_MOST_CHANGED = 6


def no_tool_yet(faults: Faults | None) -> bool:
    """Whether a file lacks no more than its first tool: nothing is planned of it yet."""
    return faults is not None and {slug(f.kind) for f in faults.faults} <= _NO_TOOL


def voice_for(file: ShopFile | None) -> PageVoice:
    """The language, units and money of a shop file; the usual ones where there is none."""
    if file is None:
        return voice_in()
    about = file.shop.about
    return voice_in(about.language, about.units, about.currency)


#: Tables of fields that are kept where it is not known yet how many there are.
_MOST_TABLES = 100
#: Fields that a table has, or a few more.
_FIELDS = 30


class Fragments:
    """What of the page was made last, to be sent again where what it shows is the same."""

    def __init__(self) -> None:
        self.tables: Kept[str] = Kept(_MOST_TABLES)
        self.fields: Kept[Markup] = Kept(_MOST_TABLES)
        self.assumed: Kept[Assumed] = Kept(_MOST_TABLES)
        self.floor: Kept[str] = Kept(4)
        #: What there is to do, each by itself.
        self.rows: Kept[Markup] = Kept(128)

    def hold(self, tables: int) -> None:
        """Keep what so many tables of fields show, and as much again that they showed before."""
        self.tables.hold(2 * tables)
        self.fields.hold(2 * tables * _FIELDS)
        self.assumed.hold(2 * tables * _FIELDS)


@dataclass
class Looking:
    """Everything that a place may show.

    Attributes
    ----------
    given
        What the person wrote, as tables; nothing where it is no TOML.
    plan
        The last one that could be made; None where none could be yet.
    faults
        What is wrong with the text as it is now; the plan is then of an earlier one.
    checking
        Whether the plan is a first answer, the rest still being worked out or left.
    stopped
        Whether the person stopped the rest, so that nothing is being worked out.
    work
        What is ticked in the shop.
    aside
        The text of the plan that was kept aside; empty for none.
    was
        The answers before the last change; empty where none was made since the start.
    plan_of
        The plan of another text of the same file; None where none can be made.
    """

    text: str
    given: dict[str, Any]
    file: ShopFile | None
    plan: Plan | None
    faults: Faults | None
    checking: bool
    stopped: bool = False
    stages: Stages = field(repr=False, default_factory=Stages)
    fragments: Fragments = field(repr=False, default_factory=Fragments)
    work: Work = field(default_factory=Work)
    aside: str = ""
    was: Sequence[Told] = ()
    plan_of: Callable[[str], Plan | None] = field(repr=False, default=lambda text: None)

    @property
    def settled(self) -> bool:
        """Whether nothing more is being worked out, so that large drawings are made."""
        return self.stopped or not self.checking

    @cached_property
    def voice(self) -> Voice:
        """The language and units of the shop file."""
        return voice_for(self.file)

    def label(self, kind: str, **named: Any) -> str:
        """A text of the page itself."""
        return self.voice.word(f"app.{kind}", **named)

    def drawn(self, name: str, make: Callable[[], Figure | None] | Figure, *inputs: Any) -> h.Node:
        """A drawing, made again only when what it shows has changed."""

        def lay() -> str:
            figure = make if isinstance(make, Figure) else make()
            if figure is None:
                return ""
            placed = layout(figure.drawing, Paper(WIDTH_MM, 240.0), self.voice)
            return svg(placed)

        voice = self.voice
        text = self.stages.run(
            f"drawing {name}",
            lambda *_: lay(),
            *inputs,
            voice.language,
            voice.units,
            voice.currency,
        )
        return on_paper(text)

    def table(self, make: Callable[[], str], *shown: Any) -> str:
        """A table of fields, made again only when what it shows has changed.

        Their names and helps are the same in all units, and what is assumed is among ``shown``.
        """
        return self.fragments.tables.of((), (*shown, self.voice.language), make)

    def frame(self) -> Parts:
        """What stands around every place: the name, the answer, what there is to do."""
        title = self.plan.title if self.plan is not None else self.label("untitled")
        return [
            ("frame-title", str(h.span("#frame-title.title")[title])),
            ("frame-units", str(self._units())),
            ("frame-answer", str(self._answer())),
            # While more is worked out the last one stays, so that nothing jumps.
            *([("frame-changed", str(self._changed()))] if self.settled else []),
            ("frame-todo", str(todo(self))),
        ]

    @property
    def spoken(self) -> tuple[str, ...]:
        """What makes the same facts other words."""
        voice = self.voice
        return voice.language, voice.units, voice.currency

    def _answer(self) -> h.Node:
        state = "checking" if self.checking else "checked"
        state = "faulty" if self.faults else "stopped" if self.stopped else state
        lines: Sequence[str] = ()
        if self.faults is not None:
            count = len(self.faults.faults)
            lines = (
                self.label("answer.no_tool")
                if no_tool_yet(self.faults)
                else self.label("answer.contradicting", count=count)
                if all(_CONTRADICTION.match(slug(f.kind)) for f in self.faults.faults)
                else self.label("answer.faulty", count=count),
            )
        elif self.plan is not None:
            lines = what_works(self.plan)[:_MOST_LINES]
        return h.div("#frame-answer.answer", data_state=state, role="status", aria_live="polite")[
            [h.p[line] for line in lines],
            self.unchecked() if self.checking and self.faults is None else None,
            h.button(type="button", data_rest="")[self.label("stopped.rest")]
            if state == "stopped"
            else None,
        ]

    def unchecked(self) -> h.Node:
        """Says that more is to come, or that it was stopped."""
        return h.p(".checking")[self.label("stopped.rest.not" if self.stopped else "checking")]

    def _units(self) -> h.Node:
        """The units, and the language where there is more than one, to be switched."""
        about = self.given.get("about", {})
        if not isinstance(about, dict):
            about = {}
        choices: dict[str, tuple[str, ...]] = {"units": ("in", "mm", "both")}
        if len(languages()) > 1:
            choices["language"] = tuple(languages())
        shown = {"units": self.voice.units, "language": self.voice.language}
        return h.span("#frame-units.units")[
            (
                h.label[
                    h.span[self.voice.say(f"field.{name}")],
                    h.select(
                        id=f"switch-{name}",
                        data_place=coded(("about", name)),
                        data_old=json.dumps(about.get(name)),
                    )[
                        (
                            h.option(value=v, selected=v == shown[name])[
                                self.label(f"{name}.{v}") if name == "units" else v
                            ]
                            for v in values
                        )
                    ],
                ]
                for name, values in choices.items()
            )
        ]

    def _changed(self) -> h.Node:
        """What the last change did to the answers, old beside new; it can be taken back here."""
        if self.plan is None or not self.was or self.faults is not None or self.stopped:
            return h.div("#frame-changed.changed", hidden=True)
        rows = [r for r in changed(self.was, told(self.plan, self.voice)) if not r.same]
        return h.div("#frame-changed.changed", role="status", aria_live="polite")[
            h.details(open=True, id="fold-changed")[
                h.summary[self.label("changed") if rows else self.label("changed.nothing")],
                h.ul[
                    (
                        h.li[
                            h.span(".what")[self.label(f"group.{r.group}"), " · ", r.what],
                            " ",
                            h.del_[r.before.answer]
                            if r.before
                            else h.span[self.label("changed.new")],
                            h.span(aria_hidden="true")[" → "],
                            h.ins[r.after.answer if r.after else self.label("changed.gone")],
                        ]
                        for r in rows[:_MOST_CHANGED]
                    ),
                    h.li[
                        h.a(href="#compare")[
                            self.label("changed.more", count=len(rows) - _MOST_CHANGED)
                        ]
                    ]
                    if len(rows) > _MOST_CHANGED
                    else None,
                ]
                if rows
                else None,
            ]
        ]

    @cached_property
    def findings(self) -> list[Group]:
        """What is not good, worst first."""
        return groups(self.plan.findings, self.voice) if self.plan is not None else []


def on_paper(text: str) -> h.Node:
    """A drawing as it stands on the page, all at one scale; nothing where there is none."""
    if not text:
        return None
    wide = _WIDE.search(text)
    style = f' style="--mm: {wide[1]}"' if wide else ""
    inner = text.replace("<svg ", f'<svg class="drawing"{style} ', 1)
    return h.div(".paper", tabindex="0")[Markup(inner)]


def laid(drawing: Drawing, voice: Voice, paper: Paper) -> str:
    """A drawing as SVG."""
    return svg(layout(drawing, paper, voice))


def part(name: str, *content: Any, kind: str = "section") -> tuple[str, str]:
    """A part of a place with its name."""
    return name, str(h.section(id=name, class_=kind)[content])


def table(
    columns: Sequence[str], rows: Sequence[Sequence[Any]], numbers: Sequence[int] = ()
) -> h.Node:
    """A table; the columns in ``numbers`` hold figures. On a narrow screen each row is a card."""
    return h.table[
        h.thead[h.tr[(h.th(scope="col")[c] for c in columns)]],
        h.tbody[
            (
                h.tr[
                    (
                        h.td(class_="number" if n in numbers else None, data_column=columns[n])[
                            cell
                        ]
                        for n, cell in enumerate(row)
                    )
                ]
                for row in rows
            )
        ],
    ]


def names(texts: Sequence[str]) -> tuple[Name, ...]:
    """Texts as facts."""
    return tuple(map(Name, texts))
