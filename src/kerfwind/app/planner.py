"""From a shop file's text to the parts of the page; it runs in the engine's own process."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from ..facts import Statement
from ..faults import Faults
from ..plan import Plan, make_plan
from ..second_process import let_go
from ..shop import ShopFile, parse_shop
from ..stages import Stages
from ..view.findings import voice_of
from .asking import Ask, Fetch, Fetched, Newer, Parts, Shown
from .fetching import fetched
from .looking import Looking
from .places import PLACES
from .telling import Told, told

#: Plans of other texts that are kept.
_MOST_OTHERS = 4


@dataclass
class Planner:
    """Keeps what was planned last, and the stages, between two edits."""

    stages: Stages = field(default_factory=Stages)
    text: str = ""
    name: str = ""
    revision: int = -1
    plan: Plan | None = None
    was: list[Told] = field(default_factory=list)
    answers: list[Told] = field(default_factory=list)
    file: ShopFile | None = None
    faults: Faults | None = None
    whole: bool = False
    others: dict[str, Plan | None] = field(default_factory=dict)

    def show(self, ask: Ask, newer: Newer) -> Iterator[Shown]:
        """The first answer, marked as being checked, then the whole."""
        if ask.text is not None and (ask.text, ask.name) != (self.text, self.name):
            self._take(ask.text, ask.name)
        self.revision = ask.revision
        if self.faults is not None or self.file is None:
            yield self._shown(ask, checking=False)
            return

        def on_stage(_: Statement) -> None:
            newer()

        if not self.whole:
            if self.plan is None or self.plan.file is not self.file:
                plan = make_plan(self.file, stages=self.stages, on_stage=on_stage, first=True)
                self.plan = plan
            yield self._shown(ask, checking=True)
            newer()
            self.plan = make_plan(self.file, stages=self.stages, on_stage=on_stage)
            self.whole = True
        yield self._shown(ask, checking=False)
        # Ready for the next edit, while nobody waits.
        self.answers = told(self.plan, voice_of(self.plan)) if self.plan is not None else []

    def _take(self, text: str, name: str) -> None:
        if self.answers:
            self.was = self.answers
        # What was begun for the text before is not waited for any more.
        self.stages.forget_begun()
        let_go()
        self.text, self.name = text, name
        self.whole = False
        try:
            self.file = parse_shop(text, name, self.file)
            self.faults = None
        except Faults as faults:
            self.faults = faults

    def _shown(self, ask: Ask, *, checking: bool) -> Shown:
        look = Looking(
            text=self.text,
            file=self.file,
            plan=self.plan,
            faults=self.faults,
            checking=checking,
            stages=self.stages,
            work=ask.work,
            aside=ask.aside,
            was=self.was,
            plan_of=self._plan_of,
        )
        parts: dict[str, Parts] = {"frame": look.frame()}
        for name in ask.places:
            parts[name] = PLACES[name](look)
        return Shown(ask.number, ask.revision, checking, parts)

    def _plan_of(self, text: str) -> Plan | None:
        """The plan of another text, as far as it answers first; kept for a few."""
        if text == self.text and self.plan is not None and self.plan.file is self.file:
            return self.plan
        if text not in self.others:
            while len(self.others) >= _MOST_OTHERS:
                del self.others[next(iter(self.others))]
            try:
                file = parse_shop(text, self.name)
                self.others[text] = make_plan(file, first=True)
            except Faults:
                self.others[text] = None
        return self.others[text]

    def fetch(self, fetch: Fetch) -> Fetched:
        """A file for the page or the person."""
        if (fetch.text, fetch.name) != (self.text, self.name):
            self._take(fetch.text, fetch.name)
        if self.file is not None and self.faults is None and not self.whole:
            self.plan = make_plan(self.file, stages=self.stages)
            self.whole = True
        return fetched(fetch, self.plan if self.faults is None else None, self.stages)
