"""What is ticked in the shop, kept beside the journal: the same in all tabs, after a kill too."""

from __future__ import annotations

import hashlib
import json
import threading
from collections.abc import Sequence
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import Any

from ..wholefiles import write_whole
from .document import Document, Edit

#: More of these are no work of a person.
_MOST_ROUNDS, _MOST_TICKS = 40, 2_000


@dataclass
class Round:
    """Cutting by one layout, from its first tick until a panel came out short.

    Attributes
    ----------
    text
        The shop file as it was then: the layout's numbers are of it.
    done
        Numbers of the cuts that are made.
    short
        The panel that came out short: its pencil mark, length and width as measured [m].
    """

    text: str
    done: list[int] = field(default_factory=list)
    short: list[tuple[str, float, float]] = field(default_factory=list)


@dataclass
class Work:
    """All that is ticked.

    Attributes
    ----------
    rounds
        Each begins with what the one before left lying there; none before the first tick.
    steps
        Steps of assembly that are done.
    asked
        A panel that came out short and of which it is not yet decided what to do.
    life
        How often cutting was begun anew: a tick of before is none of now.
    before
        All that was ticked until it was thrown away, to be brought back; None once work went on.
    """

    rounds: list[Round] = field(default_factory=list)
    steps: list[str] = field(default_factory=list)
    asked: tuple[str, float, float] | None = None
    life: int = 0
    before: Work | None = None

    @classmethod
    def of(cls, record: dict[str, Any]) -> Work:
        """As it was written; whatever else raises ValueError."""
        try:
            rounds = [
                Round(str(r["text"]), [int(n) for n in r["done"]], [_short(s) for s in r["short"]])
                for r in record["rounds"]
            ]
            asked, before = record["asked"], record["before"]
            return cls(
                rounds,
                [str(s) for s in record["steps"]],
                None if asked is None else _short(asked),
                int(record["life"]),
                None if before is None else cls.of(before),
            )
        except (KeyError, TypeError) as error:
            raise ValueError(str(error)) from None

    @property
    def number(self) -> int:
        """Of the round at work."""
        return max(len(self.rounds) - 1, 0)

    def layout(self, text: str) -> str:
        """What the cuts are told by that are shown while ``text`` is the shop file."""
        return f"{self.life}.{self.number}.{told_by(self.rounds[-1].text if self.rounds else text)}"


def told_by(text: str) -> str:
    """A short digest, by which what was shown is known again."""
    return hashlib.blake2b(text.encode(), digest_size=8).hexdigest()


def as_built(document: Document, panel: str, sides: Sequence[str | None]) -> Edit:
    """The edit that writes a panel as it was cut, length and width; None for a side as planned."""
    row = {"name": panel}
    row |= {k: v for k, v in zip(("length", "width"), sides, strict=True) if v is not None}
    place = ("built", panel)
    return Edit(place, document.value(place), row)


def _short(given: Any) -> tuple[str, float, float]:
    pencil, length_m, width_m = given
    return str(pencil), float(length_m), float(width_m)


class Ticks:
    """The work in its file; each change is on the disk before it is acknowledged."""

    def __init__(self, folder: Path) -> None:
        self._path = folder / "ticks.json"
        self._lock = threading.Lock()
        try:
            self.work = Work.of(json.loads(self._path.read_bytes()))
        except (FileNotFoundError, ValueError):
            self.work = Work()

    def _keep(self, work: Work) -> None:
        write_whole(self._path, json.dumps(asdict(work), ensure_ascii=False))
        self.work = work

    def _copy(self) -> Work:
        return Work.of(json.loads(json.dumps(asdict(self.work))))

    def cut(self, layout: str, cut: int, on: bool, text: str) -> bool:
        """Tick a cut of a layout, or take the tick away; whether that layout is still cut.

        The first tick settles by which shop file is cut: ``text``, that of the page that ticks.
        """
        with self._lock:
            work = self._copy()
            if layout != work.layout(text):
                return False
            work.before = None
            if not work.rounds:
                work.rounds.append(Round(text))
            done = set(work.rounds[-1].done)
            done = done | {cut} if on else done - {cut}
            if len(done) > _MOST_TICKS:
                return False
            work.rounds[-1].done = sorted(done)
            if not done and len(work.rounds) == 1:
                # Nothing is cut, so the layout may follow the file again.
                work.rounds.clear()
            self._keep(work)
            return True

    def step(self, key: str, on: bool) -> None:
        """Tick a step of assembly, or take the tick away."""
        with self._lock:
            work = self._copy()
            work.before = None
            kept = [s for s in work.steps if s != key]
            work.steps = [*kept, key][-_MOST_TICKS:] if on else kept
            self._keep(work)

    def ask(self, asked: tuple[str, float, float] | None) -> None:
        """A panel came out short; None takes that back."""
        with self._lock:
            work = self._copy()
            work.asked = asked
            self._keep(work)

    def go_on(self, text: str) -> bool:
        """Begin the next round; by its text the panel in question is cut again, or stays."""
        with self._lock:
            work = self._copy()
            if not work.rounds or work.asked is None or len(work.rounds) >= _MOST_ROUNDS:
                return False
            work.rounds[-1].short.append(work.asked)
            work.asked = None
            work.rounds.append(Round(text))
            self._keep(work)
            return True

    def back(self) -> None:
        """Take back the last panel that came out short, with what was cut since."""
        with self._lock:
            work = self._copy()
            if len(work.rounds) > 1:
                work.before = self._left()
                work.rounds.pop()
                work.rounds[-1].short.clear()
            self._keep(work)

    def anew(self) -> None:
        """Nothing is cut, nothing joined."""
        with self._lock:
            self._keep(Work(life=self.work.life + 1, before=self._left()))

    def as_before(self) -> None:
        """Bring back what was thrown away last."""
        with self._lock:
            if self.work.before is not None:
                self._keep(replace(self.work.before, life=self.work.life + 1))

    def _left(self) -> Work:
        return replace(self.work, before=None)
