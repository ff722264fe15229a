"""The page's server: one WebSocket a tab, files, and nothing that computes.

Truth is the file on disk. An edit is in the journal before it is acknowledged; what the
page then shows comes from the engine's process, and of that only what has changed is sent.
"""

from __future__ import annotations

import asyncio
import contextlib
import hashlib
import json
import logging
import re
from collections.abc import AsyncIterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from importlib.resources import files
from pathlib import Path
from typing import Any

from markupsafe import Markup
from starlette.applications import Starlette
from starlette.requests import HTTPConnection, Request
from starlette.responses import HTMLResponse, JSONResponse, PlainTextResponse, Response
from starlette.routing import Mount, Route, WebSocketRoute
from starlette.staticfiles import StaticFiles
from starlette.websockets import WebSocket, WebSocketDisconnect

from .. import limits
from ..facts import Amount, Name, Term, slug
from ..faults import Faults, Refusal, refusal, unread
from ..quantity import QuantityError, parse
from ..shop.catalogue.trade_words import hoods_meant
from ..shop.model import Shop
from ..textfile import text_of
from ..wholefiles import write_whole
from ..words import languages
from .asking import Doing, Shown
from .document import Conflict, Document, Edit, Place, is_row, same
from .door import LOOPBACK, Door
from .guard import new_secret
from .history import History
from .link import MOST_ENDS, Engine
from .merge import changes, is_rename
from .page_voice import PageVoice, voice_in
from .paths import free_name, place_text
from .renaming import with_references
from .ticks import Ticks, as_built, told_by
from .understanding import NotUnderstood, bare_length, understood

_LOG = logging.getLogger(__name__)
#: Places in the order of the page's links.
PLACES = (
    "start",
    "shop",
    "air",
    "hookups",
    "cart",
    "cutting",
    "breathing",
    "bench",
    "compare",
    "paper",
)
#: How often the file is looked at for changes from outside [s].
_LOOK_S = 1.0
#: What takes no longer is not told of [s].
_READ_S = 0.1
#: Longer messages of a page are none of ours [bytes].
_MESSAGE = 1_000_000
#: A shop of which nothing is known yet.
_NOTHING = '[about]\nname = "My shop"\n'
#: Letters of a tool's name.
_LONGEST_NAME = 60
#: So many texts that were shown are known again.
_MOST_TEXTS = 100
#: Nothing that is cut from a sheet is longer [m].
_LONGEST_M = 10.0
#: Bytes of a file dropped on the page that are let go by before it is cut off.
_MOST_SENT = 64 * limits.SHOP_BYTES
_TAKEN = {"plan.pdf", "everything.zip", "shop.toml", "test-sheet.pdf", "measure-sheet.pdf"}
_TEXTS = (
    "lost",
    "saved",
    "waiting",
    "asked",
    "working",
    "paper.failed",
    "bring.failed",
    "untaken",
    "untaken.saved",
    "untaken.back",
)


#: A mixed number in a text, not in a tag: `40-1/2`.
_MIXED = re.compile(r"(?<=\d)-(?=\d+/\d[^<>]*<)")


def _unbroken(html: str) -> str:
    """No line ends inside a number: 40-1/2 on two lines could be read as 1/2."""
    return _MIXED.sub("\u2060-\u2060", html)


@dataclass(eq=False)
class Tab:
    """A page that is open: what it looks at, and what it has been sent.

    It is one's ``own`` where it is open on the computer that serves it.
    """

    socket: WebSocket
    own: bool = False
    place: str = "shop"
    sent: dict[str, str] = field(default_factory=dict)
    order: dict[str, tuple[str, ...]] = field(default_factory=dict)
    checking: bool | None = None
    revision: int = -1

    async def say(self, message: Mapping[str, Any]) -> None:
        """Send one message; a page that is gone is no error."""
        with contextlib.suppress(RuntimeError, WebSocketDisconnect):
            # Dates of TOML are none of JSON's.
            await self.socket.send_text(json.dumps(message, ensure_ascii=False, default=str))

    def forget(self, begin: str) -> None:
        """Parts whose names begin so are sent again, the same or not."""
        for name in [each for each in self.sent if each.startswith(begin)]:
            del self.sent[name]

    async def show(self, place: str, shown: Shown) -> None:
        """Send what it has not got as it is of the frame and of a place, all at once."""
        places = []
        for each in ("frame", place):
            fresh = {}
            for name, html in shown.places[each]:
                told = hashlib.blake2b(html.encode(), digest_size=12).hexdigest()
                if self.sent.get(name) != told:
                    fresh[name] = _unbroken(html)
                    self.sent[name] = told
            order = tuple(name for name, _ in shown.places[each])
            if fresh or self.order.get(each) != order:
                self.order[each] = order
                places.append({"place": each, "order": order, "parts": fresh})
        told_of = shown.checking, shown.revision
        if places or (self.checking, self.revision) != told_of:
            self.checking, self.revision = told_of
            await self.say(
                {
                    "t": "parts",
                    "of": place,
                    "places": places,
                    "revision": shown.revision,
                    "checking": shown.checking,
                }
            )


class Desk:
    """One shop file, the pages that look at it, and the engine behind them."""

    def __init__(self, path: Path) -> None:
        self.history = History(path)
        self.ticks = Ticks(self.history.folder)
        self._aside_file = self.history.folder / "aside.toml"
        #: The text of the plan that is kept aside.
        self.aside = ""
        with contextlib.suppress(OSError, UnicodeDecodeError):
            self.aside = self._aside_file.read_text(encoding="utf-8")
        self.name = path.name
        #: Lets a phone in; None where the page is not served.
        self.door: Door | None = None
        self.tabs: set[Tab] = set()
        self.engine: Engine | None = None
        #: The number of the last question, and of the one that knows the last tick.
        self._asked = self._ticked = 0
        #: The last texts that were shown, by what they are told by.
        self._texts: dict[str, str] = {}
        #: What is being worked out, until it is told.
        self._untold: Doing | None = None
        self._tasks: set[asyncio.Task[None]] = set()
        self._unsaved = asyncio.Event()
        #: Why the file does not get what is entered; empty where it does.
        self._kept = ""
        #: The printed pages that were asked for last, and what they go by.
        self._pages: tuple[str, list[str]] = ("", [])

    @property
    def voice(self) -> PageVoice:
        """The language of the file as it is now, where there are messages in it."""
        about = self.history.document.data.get("about")
        wanted = about.get("language") if isinstance(about, dict) else None
        return voice_in(wanted) if wanted in languages() else voice_in()

    def start(self) -> None:
        """Begin the engine and the look-out for changes from outside."""
        self.engine = Engine(self._shown, self._doing, self._engine_ended)
        if self.door is not None:
            self.door.serve()
        # Planned before the first page asks.
        self._ask_for(())
        self._do(self._look_out())

    async def end(self) -> None:
        """Save what is not saved yet, and end the engine."""
        for task in list(self._tasks):
            task.cancel()
        if self.door is not None:
            await self.door.shut()
        if self.engine is not None:
            self.engine.end()
        with contextlib.suppress(OSError):
            self.history.save()
        self.history.close()

    def _do(self, work: Any) -> None:
        task = asyncio.get_running_loop().create_task(work)
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    async def _look_out(self) -> None:
        """Save what the journal has before the file, and take in what someone else writes there."""
        while True:
            with contextlib.suppress(TimeoutError):
                await asyncio.wait_for(self._unsaved.wait(), _LOOK_S)
            self._unsaved.clear()
            seen = self.history.revision
            try:
                outside = await asyncio.to_thread(self.history.save)
            except OSError as error:
                why = Name(error.strerror or str(error))
                await self._tell_kept(
                    self.voice.word("app.unsaved", why=why),
                    self.voice.word("app.kept.unwritten", why=why),
                )
                if self.history.revision != seen:
                    # What was changed elsewhere was read before.
                    self.changed()
                continue
            if (faults := self.history.faults) is not None:
                await self._tell_kept(
                    self._unread("app.outside.unread", faults),
                    self._unread("app.kept.unread", faults),
                )
                continue
            await self._tell_kept("", "")
            if outside is None or outside.change is None:
                continue
            await self._notice(self.voice.word("app.outside.merged"))
            for clash in outside.change.clashes:
                for tab in self.tabs:
                    edit = Edit(clash.place, clash.theirs, clash.ours)
                    gone = clash.place if is_row(clash.place) else ()
                    await tab.say(self._clash(-1, [edit], clash.place, gone))
            self.changed()

    async def _tell_kept(self, notice: str, sign: str) -> None:
        """Tell once why the file does not get what is entered; the sign of it stays until it does."""
        if sign == self._kept:
            return
        self._kept = sign
        for tab in list(self.tabs):
            await self._tell_state(tab)
        if notice:
            await self._notice(notice)

    def _unread(self, message: str, faults: Faults) -> str:
        """Why a file cannot be read, by its first fault."""
        fault = faults.faults[0]
        found = Name(self.voice.refusal(fault).found)
        return self.voice.word(message, line=fault.line, found=found)

    async def _notice(self, text: str) -> None:
        for tab in list(self.tabs):
            await tab.say({"t": "notice", "text": text})

    # ---- from the engine -----------------------------------------------------------------

    def ask(self) -> None:
        """Ask the engine for what the open places show."""
        if self.engine is None or not self.tabs:
            return
        self._ask_for(tuple(dict.fromkeys(tab.place for tab in self.tabs)))

    def _ask_for(self, places: tuple[str, ...], *, anew: bool = False) -> None:
        assert self.engine is not None
        if self.engine.given_up:
            self._tell_given_up()
            return
        text = self.history.text
        self._texts[told_by(text)] = text
        if len(self._texts) > _MOST_TEXTS:
            del self._texts[next(iter(self._texts))]
        self._asked = self.engine.ask(
            self.history.revision, places, text, self.name, self.ticks.work, self.aside, anew=anew
        )

    def changed(self) -> None:
        """The text is another: save it, tell the pages and ask anew."""
        self._unsaved.set()
        if self.engine is not None:
            self.engine.begin_anew()
        for tab in self.tabs:
            self._do(self._tell_state(tab))
        self.ask()

    async def _tell_state(self, tab: Tab) -> None:
        undo, redo = self.history.undoable, self.history.redoable
        await tab.say(
            {"t": "state", "undo": self._step_text("undo", undo)}
            | {"redo": self._step_text("redo", redo), "kept": self._kept}
        )

    def _step_text(self, way: str, edits: Sequence[Edit]) -> str:
        """What an undo or a redo would do; empty where there is nothing to be done."""
        if not edits:
            return ""
        word = self.voice.word
        # What is renamed or moved in more than one place is told of by one of them.
        edit = next((e for e in edits if is_rename(e)), edits[-1])
        if not is_rename(edit) and len({edit.place[0] for edit in edits}) > 1:
            return word(f"app.{way}.several", count=len(edits))
        field_name = Name(self._field_name(edit.place))
        if isinstance(edit.new, dict | list) or isinstance(edit.old, dict | list) or edit.moves:
            return word(f"app.{way}.row", field=field_name)
        if edit.new is None:
            return word(f"app.{way}.none", field=field_name)
        return word(f"app.{way}.set", field=field_name, value=Name(self._said(edit.new)))

    def _said(self, value: Any) -> str:
        if value is None:
            return "–"
        if isinstance(value, dict):
            # A row by its name; of another table all that is in it.
            name = value.get("name")
            return name if isinstance(name, str) else self._said(list(value.values()))
        if isinstance(value, list):
            return ", ".join(map(self._said, value)) or "–"
        if isinstance(value, bool):
            return self.voice.word("app.yes" if value else "app.no")
        choice = f"choice.{slug(str(value))}"
        return self.voice.say(choice) if self.voice.can_say(choice) else str(value)

    def _shown(self, shown: Shown) -> None:
        if shown.revision != self.history.revision or shown.number < self._ticked:
            # An old verdict is never shown as a new one.
            return
        if not shown.checking:
            self._untold = None
        for tab in self.tabs:
            if tab.place in shown.places:
                self._do(tab.show(tab.place, shown))

    def _doing(self, doing: Doing) -> None:
        """Tell what is being worked out; not what is over before anyone could read it."""
        if self._untold is None:
            asyncio.get_running_loop().call_later(_READ_S, self._tell_doing)
        self._untold = doing

    def _tell_doing(self) -> None:
        doing, self._untold = self._untold, None
        if doing is not None and doing.number == self._asked:
            told = {"t": "doing", "text": doing.what, "at": doing.at, "of": doing.of}
            for tab in self.tabs:
                self._do(tab.say(told))

    def _engine_ended(self) -> None:
        assert self.engine is not None
        if not self.engine.given_up:
            for tab in self.tabs:
                self._do(tab.say({"t": "notice", "text": self.voice.word("app.stopped")}))
        self._ask_for(tuple(dict.fromkeys(tab.place for tab in self.tabs)))

    def _tell_given_up(self) -> None:
        text = self.voice.word("app.given_up", count=MOST_ENDS)
        again = self.voice.word("app.given_up.again")
        for tab in self.tabs:
            self._do(tab.say({"t": "given-up", "text": text, "again": again}))

    # ---- from the pages ------------------------------------------------------------------

    async def live(self, socket: WebSocket) -> None:
        """One page, as long as it is open."""
        await socket.accept()
        tab = Tab(socket, own=_at_this_computer(socket))
        self.tabs.add(tab)
        try:
            while True:
                try:
                    text = await socket.receive_text()
                except (WebSocketDisconnect, RuntimeError):
                    # It is gone; while something was being sent the second of them says so.
                    break
                if len(text) > _MESSAGE:
                    break
                try:
                    message = json.loads(text)
                except ValueError:
                    break
                if not isinstance(message, dict) or not await self._heard_whole(tab, message):
                    break
        finally:
            self.tabs.discard(tab)

    async def _heard_whole(self, tab: Tab, message: dict[str, Any]) -> bool:
        """Take one message; what fails on it is told, and ends no page."""
        try:
            return await self._heard(tab, message)
        except OSError as error:
            # It stays with the page, which sends it again.
            await self._notice(
                self.voice.word("app.unsaved", why=Name(error.strerror or str(error)))
            )
        except Exception:
            _LOG.exception("A message of a page could not be taken")
            edits = message.get("edits")
            first = edits[0] if isinstance(edits, list) and edits else None
            given = first.get("place") if isinstance(first, dict) else None
            keys = given if isinstance(given, list) else []
            place = tuple(keys) if all(isinstance(key, str | int) for key in keys) else ()
            # A page would send what it gets no answer to again for ever.
            await tab.say(
                {
                    "t": "refused",
                    "seq": message.get("seq"),
                    "place": list(place),
                    "text": self.voice.word("app.failed"),
                    "name": self._field_name(place),
                }
            )
        return True

    async def _heard(self, tab: Tab, message: dict[str, Any]) -> bool:
        """Take one message; whether it was one of ours."""
        kind = message.get("t")
        if kind in ("hello", "go"):
            place = message.get("place")
            tab.place = place if place in PLACES else "shop"
            if kind == "hello":
                await self._tell_state(tab)
                if tab.own:
                    # The page may be from before the door was shut, or this began.
                    await tab.say({"t": "phone", "html": self._phone()})
            # The page empties a place that it leaves.
            tab.sent = {k: v for k, v in tab.sent.items() if k.startswith("frame-")}
            self.ask()
            return True
        if kind in ("stop", "rest", "again") and self.engine is not None:
            if kind == "stop":
                self.engine.stop(self._asked)
            else:
                self.engine.begin_anew()
                self._ask_for(tuple(dict.fromkeys(t.place for t in self.tabs)), anew=True)
            return True
        if kind == "phone":
            await self._let_in(tab, bool(message.get("in")))
            return True
        client, seq = message.get("client"), message.get("seq")
        if not isinstance(client, str) or not isinstance(seq, int) or len(client) > 80:
            return False
        if kind in ("undo", "redo"):
            move = self.history.undo if kind == "undo" else self.history.redo
            with contextlib.suppress(Conflict, Faults):
                await asyncio.to_thread(move, client, seq)
            await tab.say({"t": "ack", "seq": seq, "revision": self.history.revision})
            self.changed()
            return True
        if kind == "tool":
            await self._tool(tab, client, seq, str(message.get("name"))[:_LONGEST_NAME].strip())
            return True
        if kind == "begin":
            await self._begin(tab, client, seq, str(message.get("what")))
            return True
        if kind == "aside":
            await self._set_aside(tab, client, seq, str(message.get("what")))
            return True
        if kind in ("tick", "short", "work"):
            await self._work(tab, client, seq, message)
            return True
        if kind != "edit" or not isinstance(message.get("edits"), list):
            return False
        step = message.get("step", "")
        await self._edit(tab, client, seq, message["edits"], step if isinstance(step, str) else "")
        return True

    async def _edit(self, tab: Tab, client: str, seq: int, given: list[Any], step: str) -> None:
        document = self.history.document
        edits: list[Edit] = []
        if self.history.has(client, seq):
            # Its answer was lost on the way.
            await tab.say({"t": "ack", "seq": seq, "revision": self.history.revision})
            return
        gone: Place = ()
        for each in given:
            place = tuple(each.get("place", ()))
            old, new = each.get("old"), each.get("new")
            if is_row(place[:2]) and document.value(place[:2]) is None and (old or place[2:]):
                now, by = self.history.went(str(place[0]), str(place[1]))
                if now is not None:
                    # Who gave it the new name goes on under the old one for a moment.
                    gone = gone if by == {client} else place[:2]
                    place = (place[0], now, *place[2:])
                    old = document.value(place) if is_row(place) else old
                elif new is not None:
                    gone = place[:2]
            if is_row(place) and old is None and isinstance(new, dict):
                there = document.value(place)
                if there is not None and not same(there, new):
                    name = free_name(str(place[1]), document.data, str(place[0]))
                    place, new = (place[0], name), {**new, "name": name}
            if each.get("free"):
                old = document.value(place)
            try:
                new = understood(place, new, document.data)
            except NotUnderstood as error:
                await self._refuse(tab, seq, place, error.refusal, error.bounds)
                return
            edits.append(Edit(place, old, new))
        if gone and not all(same(document.value(e.place), e.new) for e in edits):
            await tab.say(self._clash(seq, edits, edits[0].place, gone))
            return
        try:
            every = with_references(edits, document.data)
            await asyncio.to_thread(self.history.take, client, seq, every, step)
        except Conflict as clash:
            await tab.say(self._clash(seq, edits, clash.place))
            return
        except Faults as faults:
            await self._refuse(tab, seq, edits[-1].place, faults.faults[0])
            return
        except OSError as error:
            # It stays with the page, which sends it again.
            await self._notice(
                self.voice.word("app.unsaved", why=Name(error.strerror or str(error)))
            )
            return
        # Planning begins at once: it takes longer than to tell.
        self.changed()
        await tab.say({"t": "ack", "seq": seq, "revision": self.history.revision})

    async def _refuse(
        self,
        tab: Tab,
        seq: int,
        place: Place,
        refused: Refusal,
        bounds: tuple[str, str] | None = None,
    ) -> None:
        """Say which field does not take what was entered, why, and what it would take."""
        said = self.voice.refusal(refused)
        allowed = (
            self.voice.word("app.untaken.bounds", low=Name(bounds[0]), high=Name(bounds[1]))
            if bounds
            else said.allowed
        )
        why = self.voice.word(
            "app.untaken.why", found=Name(said.found), allowed=Name(allowed), mend=Name(said.mend)
        )
        name = self._field_name(place)
        await tab.say({"t": "refused", "seq": seq, "place": list(place), "text": why, "name": name})

    async def _work(self, tab: Tab, client: str, seq: int, message: dict[str, Any]) -> None:
        """What is done in the shop: a tick, a panel that came out short, and what then."""
        try:
            if message["t"] == "tick":
                await self._tick(tab, message)
            elif message["t"] == "short":
                length_m, width_m = (self._length(str(message[s])) for s in ("length", "width"))
                # What came out short has come off.
                if not str(message["key"]).startswith("cut:") or await self._tick(tab, message):
                    self.ticks.ask((str(message["panel"]), length_m, width_m))
            else:
                await asyncio.to_thread(self._way, client, seq, message)
                for each in self.tabs:
                    each.forget("bench-")
        except NotUnderstood as error:
            said = self.voice.refusal(error.refusal)
            await tab.say({"t": "notice", "text": f"{said.found}. {said.mend}"})
        except (KeyError, TypeError, ValueError, Conflict, Faults):
            await tab.say({"t": "notice", "text": self.voice.word("app.refused")})
        except OSError as error:
            await self._notice(
                self.voice.word("app.unsaved", why=Name(error.strerror or str(error)))
            )
            return
        await tab.say({"t": "ack", "seq": seq, "revision": self.history.revision})
        self.changed()
        self._ticked = self._asked

    async def _tool(self, tab: Tab, client: str, seq: int, name: str) -> None:
        """A tool by its name in the trade; one that is not known is asked about."""
        hoods = hoods_meant(name)
        if not hoods:
            said = self.voice.word("app.tool.unknown", name=Name(name))
            await tab.say({"t": "notice", "text": said})
            await tab.say({"t": "ack", "seq": seq, "revision": self.history.revision})
            return
        row = {"name": free_name(name, self.history.document.data), "hood": hoods[0]}
        if len(hoods) > 1:
            hood = Term("hood", hoods[0])
            taken = self.voice.word("app.tool.taken", name=Name(name), hood=hood)
            await tab.say({"t": "notice", "text": taken})
        edit = {"place": ["tools", row["name"]], "old": None, "new": row}
        await self._edit(tab, client, seq, [edit], "")

    async def _begin(self, tab: Tab, client: str, seq: int, what: str) -> None:
        """All anew: from nothing, or from the worked example; an undo brings back what was."""
        text = example() if what == "example" else _NOTHING
        edits = list(changes(self.history.document.data, Document(text).data))
        try:
            await asyncio.to_thread(self.history.take, client, seq, edits)
        except (Conflict, Faults):
            await tab.say({"t": "notice", "text": self.voice.word("app.refused")})
        await tab.say({"t": "ack", "seq": seq, "revision": self.history.revision})
        self.changed()

    async def _set_aside(self, tab: Tab, client: str, seq: int, what: str) -> None:
        """Keep this plan aside, go back to the one that is, or forget it."""
        text = self.history.text if what == "keep" else self.aside if what == "restore" else ""
        try:
            if what == "restore" and text:
                edits = list(changes(self.history.document.data, Document(text).data))
                await asyncio.to_thread(self.history.take, client, seq, edits)
            else:
                await asyncio.to_thread(write_whole, self._aside_file, text)
                self.aside = text
        except (Conflict, Faults):
            await tab.say({"t": "notice", "text": self.voice.word("app.refused")})
        except OSError as error:
            await self._notice(
                self.voice.word("app.unsaved", why=Name(error.strerror or str(error)))
            )
            return
        await tab.say({"t": "ack", "seq": seq, "revision": self.history.revision})
        self.changed()

    async def _tick(self, tab: Tab, message: Mapping[str, Any]) -> bool:
        """Tick a cut or a step; whether it could be."""
        kind, _, rest = str(message["key"]).partition(":")
        on = bool(message.get("on", True))
        # A page that has ticked it itself is shown how it stands.
        for each in self.tabs:
            each.forget("bench-")
        if kind == "step":
            await asyncio.to_thread(self.ticks.step, rest, on)
            return True
        layout, cut = str(message["of"]), int(rest)
        # What was cut was cut by what the page showed, whatever the file has become since.
        text = self._texts.get(layout.rpartition(".")[2], self.history.text)
        if await asyncio.to_thread(self.ticks.cut, layout, cut, on, text):
            return True
        await tab.say({"t": "notice", "text": self.voice.word("app.bench.late")})
        return False

    def _length(self, given: str) -> float:
        """A length as it was measured [m]."""
        try:
            size = parse(bare_length(given, self.history.document.data), "length").best_si
        except QuantityError as error:
            raise NotUnderstood(unread(error)) from None
        if not 0 < size < _LONGEST_M:
            raise NotUnderstood(refusal("app.bench.size", most=Amount(_LONGEST_M, "length")))
        return size

    def _way(self, client: str, seq: int, message: dict[str, Any]) -> None:
        """How to go on with a panel that came out short."""
        what, work = message["what"], self.ticks.work
        if what == "anew":
            self.ticks.anew()
        elif what == "back":
            self.ticks.back()
        elif what == "before":
            self.ticks.as_before()
        elif message.get("way") in ("recut", "follow") and work.rounds:
            text = work.rounds[-1].text
            if message["way"] == "follow":
                text = self._follow(client, seq, str(message["panel"]), message["sides"], text)
            self.ticks.go_on(text)
        else:
            self.ticks.ask(None)

    def _follow(self, client: str, seq: int, panel: str, sides: list[str | None], text: str) -> str:
        """Write a panel into the file as it was cut; the text that the cuts are of, with it."""
        self.history.take(client, seq, [as_built(self.history.document, panel, sides)])
        cut_by = Document(text)
        cut_by.apply(as_built(cut_by, panel, sides))
        return cut_by.text

    def _clash(
        self, seq: int, edits: Sequence[Edit], at: Place, gone: Place = ()
    ) -> dict[str, Any]:
        """A question to a page: its change, or what is there now.

        ``gone`` is the row, under the name that it had, which another name or nothing has taken
        the place of. What of the edits cannot be made any more is not offered.
        """
        word, document = self.voice.word, self.history.document
        edit = next((e for e in edits if e.place == at), edits[-1])
        theirs = document.value(edit.place)
        text = word("app.clash", field=Name(self._field_name(edit.place)))
        if gone and document.value(edit.place[:2]) is None:
            text = word("app.clash.gone", name=Name(str(gone[1])))
        elif gone and gone != edit.place[:2]:
            text = word("app.clash.renamed", name=Name(str(gone[1])), now=Name(str(edit.place[1])))
        keep = [replace(e, old=document.value(e.place)) for e in edits]
        try:
            Document(self.history.text).apply_all(keep)
        except Conflict:
            keep = []
        ours, found = Name(self._said(edit.new)), Name(self._said(theirs))
        if not keep:
            text = f"{text} {word('app.clash.lost', value=ours)}"
        mine = word("app.clash.yours", value=ours)
        other = word("app.clash.theirs", value=found)
        if is_row(edit.place):
            mine = word("app.clash.away" if edit.new is None else "app.clash.back")
        if not keep or (theirs is None and is_row(edit.place)):
            other = word("app.clash.leave")
        return {
            "t": "clash",
            "seq": seq,
            "place": list(edit.place),
            "edits": [{"place": e.place, "old": e.old, "new": e.new} for e in keep],
            "theirs": theirs,
            "text": text,
            "keepText": mine,
            "takeText": other,
        }

    def _field_name(self, place: Place) -> str:
        """A place of the file as a person knows it."""
        path = place_text(place)
        return (
            self.voice.place(path)
            if self.voice.can_say_place(path)
            else self.voice.word("app.file")
        )

    # ---- files ---------------------------------------------------------------------------

    async def page(self, request: Request) -> Response:
        """The frame of the page; all else comes through the socket."""
        return HTMLResponse(self._page(own=_at_this_computer(request)))

    def _page(self, *, own: bool) -> str:
        word = self.voice.word
        source = (files("kerfwind.app") / "static" / "page.html").read_text(encoding="utf-8")
        links = Markup("").join(
            Markup('<a href="#{}">{}</a>').format(p, word(f"app.place.{p}")) for p in PLACES
        )
        texts = {
            name: word(f"app.{name}", count=1) if name == "waiting" else word(f"app.{name}")
            for name in _TEXTS
        }
        if not own:
            texts["lost"] = word("app.lost.phone")
        return source.format(
            language=self.voice.language,
            title=Markup.escape(word("app.title", name=Name(self.name))),
            links=links,
            todo=word("app.todo"),
            undo=word("app.undo"),
            redo=word("app.redo"),
            enough=word("app.enough"),
            untaken=word("app.untaken.without"),
            theme=word("app.theme"),
            place="start" if self.history.revision == 0 else "shop",
            phone=self._for_phone() if own else "",
            texts=json.dumps(texts).replace("<", "\\u003c"),
        )

    async def _let_in(self, tab: Tab, wanted: bool) -> None:
        """Open the door for a phone, or shut it; only who sits at this computer may."""
        if self.door is None or not tab.own:
            return
        if not wanted:
            await self.door.shut()
        elif self.door.unlock():
            self.door.serve()
        else:
            await tab.say({"t": "notice", "text": self.voice.word("app.phone.none")})
        for each in self.tabs:
            if each.own:
                await each.say({"t": "phone", "html": self._phone()})

    def _for_phone(self) -> Markup:
        """What stands on the page of this computer for a phone."""
        return Markup(
            '<details id="phone" open><summary>{}</summary><div>{}</div></details>'
        ).format(self.voice.word("app.phone"), self._phone())

    def _phone(self) -> Markup:
        """Lets a phone in, or the way in."""
        word = self.voice.word
        address = self.door.address if self.door is not None else ""
        if not address:
            return Markup("<button type=button data-phone=in>{}</button><p>{}</p>").format(
                word("app.phone.let"), word("app.phone.why")
            )
        import segno

        # Dark on light in any theme, or no camera reads it.
        code = segno.make(address).svg_inline(scale=4, border=4, dark="#000", light="#fff")
        return Markup(
            "{}<div><p>{}</p><button type=button data-phone=out>{}</button></div>"
        ).format(Markup(code), word("app.phone.how", address=Name(address)), word("app.phone.out"))

    async def scene(self, request: Request) -> Response:
        """The cart's solids for the model."""
        assert self.engine is not None
        got = await self.engine.fetch("scene", self.history.text, self.name)
        if got.content is None:
            return PlainTextResponse("", status_code=404)
        return Response(got.content, media_type=got.kind)

    async def pages(self, request: Request) -> Response:
        """How many pages the plan has as it prints, and what they go by."""
        assert self.engine is not None
        text = self.history.text
        got = await self.engine.fetch("pages", text, self.name)
        if got.content is None:
            return PlainTextResponse(self.voice.word("app.nothing_yet"), status_code=409)
        pages = json.loads(got.content)
        told = hashlib.blake2b(got.content, digest_size=8).hexdigest()
        # Of one plan at a time: older ones are not asked for any more.
        self._pages = told, pages
        count = len(pages)
        names = [
            self.voice.word("app.paper.page", number=n, count=count) for n in range(1, count + 1)
        ]
        return JSONResponse({"pages": [f"/pages/{told}/{n}" for n in range(count)], "names": names})

    async def one_page(self, request: Request) -> Response:
        """A page of the plan as it prints."""
        told, pages = self._pages
        number = request.path_params["number"]
        if request.path_params["told"] != told or number >= len(pages):
            return PlainTextResponse("", status_code=404)
        return Response(pages[number], media_type="image/svg+xml")

    async def take(self, request: Request) -> Response:
        """A file to take along."""
        what = request.path_params["name"]
        if what not in _TAKEN or self.engine is None:
            return PlainTextResponse("", status_code=404)
        got = await self.engine.fetch(what, self.history.text, self.name)
        if got.content is None:
            return PlainTextResponse(self.voice.word("app.nothing_yet"), status_code=409)
        return Response(
            got.content,
            media_type=got.kind,
            headers={"content-disposition": f'attachment; filename="{got.name}"'},
        )

    async def bring(self, request: Request) -> Response:
        """A shop file dropped on the page: its text in place of all that is there, to be undone."""
        held, size = bytearray(), 0
        async for chunk in request.stream():
            size += len(chunk)
            # Who is cut off while still sending hears no answer: what is too much is let go by.
            if size > _MOST_SENT:
                break
            if size <= limits.SHOP_BYTES:
                held += chunk
        if size > limits.SHOP_BYTES:
            return PlainTextResponse(self.voice.word("app.bring.large"), status_code=413)
        try:
            wanted = Document(text_of(bytes(held), "shop").text)
            if not wanted.data.keys() & Shop.model_fields.keys():
                raise Faults([refusal("shop.file.nothing", file="shop")])
            edits = list(changes(self.history.document.data, wanted.data))
            if not edits:
                return PlainTextResponse(self.voice.word("app.bring.same"))
            await asyncio.to_thread(self.history.take, new_secret(), 1, edits)
        except Faults as faults:
            return PlainTextResponse(self._unread("app.bring.unread", faults), status_code=422)
        except Conflict:
            return PlainTextResponse(self.voice.word("app.bring.meanwhile"), status_code=409)
        except OSError as error:
            why = Name(error.strerror or str(error))
            return PlainTextResponse(self.voice.word("app.bring.unsaved", why=why), status_code=507)
        self.changed()
        return PlainTextResponse(self.voice.word("app.bring.taken"))


def _at_this_computer(asked: HTTPConnection) -> bool:
    """Whether a page came by the port that only this computer reaches."""
    return (asked.scope.get("server") or ("", 0))[0] == LOOPBACK


def example() -> str:
    """The worked example: in a wheel it lies beside this, in a clone among the examples."""
    package = Path(str(files("kerfwind.app")))
    packed = package / "example.toml"
    clone = package.parents[2] / "examples" / "garage.toml"
    return (packed if packed.exists() else clone).read_text(encoding="utf-8")


def make_app(desk: Desk) -> Starlette:
    """The server's routes."""

    @contextlib.asynccontextmanager
    async def lifespan(_: Starlette) -> AsyncIterator[None]:
        desk.start()
        try:
            yield
        finally:
            await desk.end()

    package = Path(str(files("kerfwind")))
    return Starlette(
        routes=[
            Route("/", desk.page),
            Route("/scene", desk.scene),
            Route("/take/{name}", desk.take),
            Route("/pages", desk.pages),
            Route("/pages/{told}/{number:int}", desk.one_page),
            Route("/bring", desk.bring, methods=["POST"]),
            WebSocketRoute("/live", desk.live),
            Mount("/static", StaticFiles(directory=package / "app" / "static")),
            Mount("/fonts", StaticFiles(directory=package / "drawing" / "fonts")),
        ],
        lifespan=lifespan,
    )
