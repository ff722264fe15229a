"""From a shop file's text to the parts of the page; it runs in the engine's own process."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Any, TypeVar

import htpy as h

from ..facts import Statement
from ..faults import Faults
from ..finding import Finding, as_before
from ..plan import Plan, make_plan
from ..second_process import let_go
from ..shop import ShopFile, ShopReader, parse_shop
from ..stages import Stages
from .asking import Ask, Fetch, Fetched, Newer, Parts, Shown, Stopped
from .fetching import fetched
from .looking import Fragments, Looking, no_tool_yet, part, voice_for
from .page_voice import PageVoice
from .places import PLACES
from .telling import Told, told

T = TypeVar("T")

#: Places that show what was entered, whether it can be planned or not.
_ENTERED = ("start", "shop")

#: Plans of other texts that are kept.
_MOST_OTHERS = 4
#: Stages that a plan tells of, until one has been made and counted.
_USUAL_STAGES = 6


def _nothing() -> None:
    """Nobody is heard."""


class _Answers:
    """A plan's answers, in the words and units that are asked for."""

    def __init__(self, plan: Plan, voice: PageVoice) -> None:
        self.plan, self.voice = plan, voice
        self.told = told(plan, voice)

    def said_in(self, voice: PageVoice) -> list[Told]:
        """In other units the same answers are no others."""
        if voice is not self.voice:
            self.voice, self.told = voice, told(self.plan, voice)
        return self.told


class NotKept(Exception):
    """A plan cannot be made of what is kept alone."""


class Listening(Stages):
    """Stages between which is heard whether anything else is wanted."""

    def __init__(self) -> None:
        """None is heard of until a plan is made."""
        super().__init__()
        self.hear: Newer = _nothing
        #: Whether only what is kept is wanted.
        self.only_kept = False

    def missing(self, name: str) -> None:
        """As of any stages.

        Raises
        ------
        NotKept
            Where only what is kept is wanted.
        """
        if self.only_kept:
            raise NotKept

    def run(self, name: str, stage: Callable[..., T], *inputs: Any, told_by_key: bool = False) -> T:
        """As of any stages."""
        self.hear()
        return super().run(name, stage, *inputs, told_by_key=told_by_key)

    def start(self, name: str, stage: Callable[..., T], *inputs: Any) -> Callable[[], T]:
        """As of any stages; heard is when it is waited for."""
        begun = super().start(name, stage, *inputs)

        def result() -> T:
            self.hear()
            return begun()

        return result


@dataclass
class Planner:
    """Keeps what was planned last, and the stages, between two edits."""

    stages: Listening = field(default_factory=Listening)
    fragments: Fragments = field(default_factory=Fragments)
    text: str = ""
    name: str = ""
    revision: int = -1
    plan: Plan | None = None
    was: _Answers | None = None
    answers: _Answers | None = None
    reader: ShopReader = field(default_factory=ShopReader)
    #: What was found last, in whole and first answers.
    said: dict[bool, tuple[Finding, ...]] = field(default_factory=lambda: {False: (), True: ()})
    file: ShopFile | None = None
    faults: Faults | None = None
    whole: bool = False
    #: Whether the person wants no more than the first answer to this text.
    stopped: bool = False
    others: dict[str, Plan | None] = field(default_factory=dict)
    #: How many stages the last plan told of.
    of: int = _USUAL_STAGES
    #: The pages of a plan as they print, and that plan.
    pages: tuple[Plan, bytes] | None = None

    def show(
        self, ask: Ask, newer: Newer, doing: Callable[[str, int, int], None] = lambda *_: None
    ) -> Iterator[Shown]:
        """The first answer, marked as being checked, then the whole.

        ``doing`` is told what is being worked out. Where ``newer`` raises `Stopped`, the first
        answer stays, and what was not checked is said.
        """
        if ask.text is not None and (ask.text, ask.name) != (self.text, self.name):
            self._take(ask.text, ask.name)
        self.revision = ask.revision
        if self.faults is not None or self.file is None:
            yield self._shown(ask, checking=False)
            return

        self.stopped = self.stopped and not ask.anew
        if not self.whole and not self.stopped:
            self.whole = self._is_kept(newer)
        if not self.whole:
            if self.plan is None or self.plan.file is not self.file:
                self.plan = self._made(self.file, newer, doing, first=True)
            if not self.stopped:
                yield self._shown(ask, checking=True)
                try:
                    newer()
                    self.plan = self._made(self.file, newer, doing)
                    self.whole = True
                except Stopped:
                    self.stopped = True
        yield self._shown(ask, checking=False)
        # Ready for the next edit, while nobody waits.
        if self.whole and self.plan is not None:
            self.answers = _Answers(self.plan, voice_for(self.file))

    def _is_kept(self, newer: Newer) -> bool:
        """Whether all of the plan is kept, which then is made of it: there is no first answer."""
        assert self.file is not None
        self.stages.only_kept = True
        try:
            self.plan = self._made(self.file, newer, lambda *_: None)
        except NotKept:
            return False
        except Stopped:
            self.stopped = True
            return False
        finally:
            self.stages.only_kept = False
        return True

    def _made(
        self,
        file: ShopFile,
        newer: Newer,
        doing: Callable[[str, int, int], None],
        *,
        first: bool = False,
    ) -> Plan:
        def hear() -> None:
            try:
                newer()
            except Stopped:
                # Before there is an answer there is nothing to be content with.
                if not first:
                    raise
                self.stopped = True

        at = 0

        def on_stage(stage: Statement) -> None:
            nonlocal at
            hear()
            doing(voice.text(stage), at, self.of)
            at += 1

        voice = voice_for(file)
        self.stages.hear = hear
        try:
            plan = make_plan(file, stages=self.stages, on_stage=on_stage, first=first)
        finally:
            self.stages.hear = _nothing
        self.of = at
        # What is found again is the same object, so that what was made of it still holds.
        said = [*self.said[False], *self.said[True]]
        findings = self.said[first] = as_before(plan.findings, said)
        return replace(plan, findings=findings)

    def _take(self, text: str, name: str) -> None:
        if self.answers is not None:
            self.was = self.answers
        # What was begun for the text before is not waited for any more.
        self.stages.forget_begun()
        let_go()
        self.text, self.name = text, name
        self.whole = self.stopped = False
        self.pages = None
        try:
            self.file = self.reader.read(text, name)
            self.faults = None
        except Faults as faults:
            self.faults = faults

    def _shown(self, ask: Ask, *, checking: bool) -> Shown:
        look = self._look(ask, checking=checking)
        parts: dict[str, Parts] = {"frame": look.frame()}
        older = look.faults is not None and look.plan is not None
        for name in ask.places:
            parts[name] = PLACES[name](look)
            if older and name not in _ENTERED:
                said = h.p(".caution")[look.label("older")]
                parts[name] = [part("older", said), *parts[name]]
        return Shown(ask.number, ask.revision, checking, parts)

    def _look(self, ask: Ask, *, checking: bool) -> Looking:
        """What the places are made from."""
        return Looking(
            text=self.text,
            given=self.reader.tables,
            file=self.file,
            plan=None if no_tool_yet(self.faults) else self.plan,
            faults=self.faults,
            checking=checking or self.stopped,
            stopped=self.stopped,
            stages=self.stages,
            fragments=self.fragments,
            work=ask.work,
            aside=ask.aside,
            was=self.was.said_in(voice_for(self.file)) if self.was is not None else (),
            plan_of=self._plan_of,
        )

    def _plan_of(self, text: str) -> Plan | None:
        """The whole plan of another text; kept for a few."""
        if text == self.text and self.plan is not None and self.plan.file is self.file:
            return self.plan
        if text not in self.others:
            while len(self.others) >= _MOST_OTHERS:
                del self.others[next(iter(self.others))]
            try:
                file = parse_shop(text, self.name)
                self.others[text] = make_plan(file, stages=self.stages)
            except Faults:
                self.others[text] = None
        return self.others[text]

    def fetch(self, fetch: Fetch) -> Fetched:
        """A file for the page or the person."""
        return self.prepared(fetch)()

    def prepared(self, fetch: Fetch) -> Callable[[], Fetched]:
        """Plan what a file is of; what is returned makes it, from that plan alone.

        It may be called in another thread, while this one goes on with another text.
        """
        if (fetch.text, fetch.name) != (self.text, self.name):
            self._take(fetch.text, fetch.name)
        if self.file is None or self.faults is not None or self.whole:
            pass
        elif fetch.what == "scene":
            # The cart is there with the first answer; the rest is not waited for.
            if self.plan is None or self.plan.file is not self.file:
                self.plan = make_plan(self.file, stages=self.stages, first=True)
        else:
            self.plan = make_plan(self.file, stages=self.stages)
            self.whole, self.stopped = True, False
        plan = self.plan if self.faults is None else None
        if fetch.what != "pages" or plan is None:
            return partial(fetched, fetch, plan)
        return partial(self._set, fetch, plan)

    def _set(self, fetch: Fetch, plan: Plan) -> Fetched:
        """The pages as they print, made once of a plan."""
        pages = self.pages
        if pages is None or pages[0] is not plan:
            content = fetched(fetch, plan).content
            assert content is not None
            pages = self.pages = plan, content
        return Fetched(fetch.number, pages[1], "application/json", "pages.json")
