"""All that was changed in a shop file, kept across restarts: what was acknowledged stays.

A change is put into a journal, and that onto the disk, before it is acknowledged. The file
itself is written after that, whole. Both lie in the person's state folder but the file:

- ``known.json``: the text that the file was last seen with by the program, and its revision;
- ``journal.jsonl``: a line for each change since, and for older ones as far back as one may
  want to undo.

So after a kill the journal has what the file lacks; and where someone else changed the file
meanwhile, both are merged, with the known text as the origin of both.
"""

from __future__ import annotations

import hashlib
import json
import os
import sys
import threading
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from types import TracebackType
from typing import Any, Literal

from .. import disk, limits
from ..faults import Faults, refusal
from ..textfile import TextFile, read_text
from ..tomlfile import load_toml
from ..wholefiles import write_whole
from .document import Conflict, Document, Edit, Place, same, written
from .merge import Clash, changes, is_rename, merge

Kind = Literal["edit", "undo", "redo", "outside"]

#: Changes, and bytes of the journal, that are kept at most once the file has them.
MOST_CHANGES, MOST_BYTES = 2_000, 8_000_000
#: Bytes of a text that holds too few values to be more than a file may have.
_SMALL = 2 * limits.TOML_VALUES


@dataclass(frozen=True)
class Change:
    """One line of the journal.

    Attributes
    ----------
    revision
        Counts up by one with each change.
    client, sequence
        Who made it, and that one's own number for it: the same two never count twice.
    edits, inverses
        What was changed, and what takes it back, each in the order to be made; no inverses
        where the text stayed as it was.
    digest
        Of the text after it.
    step
        Changes of one client that follow each other with the same step, such as a tool that is
        dragged, are undone together.
    of
        Revisions that an undo takes back, or the one that a redo does.
    text, found, clashes
        Of a change from outside: the text that was made of it, the digest of the file as it was
        found, and the places to be asked about.
    """

    revision: int
    client: str
    sequence: int
    kind: Kind
    edits: tuple[Edit, ...]
    inverses: tuple[Edit, ...]
    digest: str
    step: str = ""
    of: tuple[int, ...] = ()
    text: str | None = None
    found: str | None = None
    clashes: tuple[Clash, ...] = ()

    def line(self) -> bytes:
        """As a line of the journal."""
        record: dict[str, Any] = {
            "revision": self.revision,
            "client": self.client,
            "sequence": self.sequence,
            "kind": self.kind,
            "edits": [e.record() for e in self.edits],
            "inverses": [e.record() for e in self.inverses],
            "digest": self.digest,
            "step": self.step,
            "of": self.of,
        }
        if self.text is not None:
            record |= {"text": self.text, "found": self.found}
            record["clashes"] = [[c.place, c.ours, c.theirs] for c in self.clashes]
        # Dates of TOML are none of JSON's; as texts they are what the person reads.
        return json.dumps(record, ensure_ascii=False, default=str).encode() + b"\n"

    @classmethod
    def of_line(cls, line: bytes) -> Change:
        """From a line of the journal; ValueError where it is none."""
        try:
            record = json.loads(line)
            return cls(
                revision=record["revision"],
                client=record["client"],
                sequence=record["sequence"],
                kind=record["kind"],
                edits=tuple(map(Edit.of, record["edits"])),
                inverses=tuple(map(Edit.of, record["inverses"])),
                digest=record["digest"],
                step=record["step"],
                of=tuple(record["of"]),
                text=record.get("text"),
                found=record.get("found"),
                clashes=tuple(Clash(tuple(p), o, t) for p, o, t in record.get("clashes", ())),
            )
        except (KeyError, TypeError, UnicodeDecodeError) as error:
            raise ValueError(str(error)) from None


@dataclass(frozen=True)
class Taken:
    """An acknowledged change; ``again`` where it was already taken before."""

    change: Change
    again: bool = False


@dataclass(frozen=True)
class Outside:
    """What someone else made of the file: a merged change, or why it cannot be read."""

    change: Change | None = None
    faults: Faults | None = None


@dataclass
class _Stacks:
    """Changes that can be taken back, and those that can be made again, the last one last."""

    undo: list[Change] = field(default_factory=list)
    redo: list[Change] = field(default_factory=list)

    def take_in(self, change: Change) -> None:
        if change.kind in ("undo", "redo"):
            source, target = (
                (self.undo, self.redo) if change.kind == "undo" else (self.redo, self.undo)
            )
            while source and source[-1].revision in change.of:
                source.pop()
            target.append(change)
        elif change.inverses:
            self.undo.append(change)
            self.redo.clear()


class History:
    """The file, its changes, and their undoing; one at a time for a file.

    May be called by several threads. A change takes as long as the disk needs to hold it;
    `save` is to be called off the path, soon after.

    Parameters
    ----------
    path
        The shop file.
    state
        The folder in which journals of all files lie; the person's own state folder without.

    Raises
    ------
    Faults
        The file cannot be read, is no TOML and was never open before, or is open already.
    OSError
        The state folder cannot be written to.
    """

    def __init__(self, path: str | Path, state: Path | None = None) -> None:
        self.path = Path(path)
        self._file = str(path)
        self._lock = threading.RLock()
        self._saving = threading.Lock()
        #: Why the file on the disk cannot be taken as it is; nothing is saved meanwhile.
        self.faults: Faults | None = None
        #: Places that were changed here and outside, until someone sets them.
        self.clashes: tuple[Clash, ...] = ()
        self._folder = folder_of(self.path, state)
        self._folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        self._document: Document
        self._form: TextFile
        #: What the file held when it was last looked at; it may be gone since, or be written.
        self._found: str
        self._gone = False
        self._writing: str | None = None
        #: What the file held when it could not be read.
        self._unread: str | None = None
        #: The revision of the text in ``known.json``.
        self._known = 0
        self._handle = -1
        held = disk.hold(self._folder / "lock")
        if held is None:
            raise Faults([refusal("app.file.held", file=self._file)])
        self._held = held
        try:
            self._open()
        except BaseException:
            self.close()
            raise

    def __enter__(self) -> History:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let another have the file. Nothing is saved: `save` before."""
        with self._lock:
            for name in ("_handle", "_held"):
                handle, closed = getattr(self, name), -1
                setattr(self, name, closed)
                if handle >= 0:
                    os.close(handle)

    # What there is.

    @property
    def folder(self) -> Path:
        """Where all lies that is kept for this file."""
        return self._folder

    @property
    def document(self) -> Document:
        """The file's document; it is changed through `take` alone."""
        return self._document

    @property
    def text(self) -> str:
        """The text with all changes."""
        return self._document.text

    @property
    def revision(self) -> int:
        """The number of the last change, or 0."""
        return self._revision

    @property
    def saved(self) -> bool:
        """Whether the file has all changes."""
        with self._lock:
            return self._found == self.text and not self._gone

    @property
    def undoable(self) -> tuple[Edit, ...]:
        """What an undo would change; empty where nothing is left to be undone."""
        with self._lock:
            return tuple(e for change in self._last_step() for e in change.inverses)

    @property
    def redoable(self) -> tuple[Edit, ...]:
        """What a redo would change; empty where nothing was undone last."""
        with self._lock:
            return self._stacks.redo[-1].inverses if self._stacks.redo else ()

    # Changing it.

    def take(self, client: str, sequence: int, edits: Sequence[Edit], step: str = "") -> Taken:
        """Make all the edits or none, and acknowledge them.

        Raises
        ------
        Conflict
            What stands at a place is not what an edit goes from; nothing was changed.
        Faults
            The file would be larger than one may be; nothing was changed.
        OSError
            The disk does not take it; nothing was changed.
        """
        with self._lock:
            return self._change("edit", client, sequence, tuple(edits), step)

    def undo(self, client: str, sequence: int) -> Taken | None:
        """Take back the last step that was not taken back; None where there is none.

        Raises as `take` does.
        """
        with self._lock:
            if (client, sequence) not in self._taken and not self._stacks.undo:
                return None
            step = self._last_step()
            of = tuple(change.revision for change in step)
            try:
                return self._change("undo", client, sequence, self.undoable, "", of)
            except Conflict:
                # It can never be taken back; what came before it may.
                del self._stacks.undo[-len(step) :]
                raise

    def redo(self, client: str, sequence: int) -> Taken | None:
        """Make again what was last taken back; None where there is nothing.

        Raises as `take` does.
        """
        with self._lock:
            if (client, sequence) not in self._taken and not self._stacks.redo:
                return None
            of = tuple(change.revision for change in self._stacks.redo[-1:])
            return self._change("redo", client, sequence, self.redoable, "", of)

    def has(self, client: str, sequence: int) -> bool:
        """Whether a change of a client was taken already."""
        with self._lock:
            return (client, sequence) in self._taken

    def went(self, key: str, name: str) -> tuple[str | None, set[str]]:
        """What a row is called now that once had a name, and who made it so.

        None where it was taken away, or where nothing is known of it.
        """
        with self._lock:
            now: str | None = None
            by: set[str] = set()
            for change in self._changes:
                for edit in change.edits:
                    # The last row of that name is meant.
                    if edit.place[:2] == (key, name) and _leaves(edit):
                        now, by = _name_after(edit), {change.client}
                    elif now is not None and edit.place[:2] == (key, now) and _leaves(edit):
                        now = _name_after(edit)
                        by.add(change.client)
            there = now is not None and self._document.value((key, now)) is not None
            return (now if there else None), by

    def since(self, revision: int) -> tuple[Change, ...] | None:
        """The changes after a revision; None where they are no longer kept."""
        with self._lock:
            first = self._changes[0].revision if self._changes else self._revision + 1
            if not first - 1 <= revision <= self._revision:
                return None
            return tuple(c for c in self._changes if c.revision > revision)

    # The file.

    def save(self) -> Outside | None:
        """Bring the file up to date; what someone else had changed in it, if anything.

        Raises
        ------
        OSError
            The file cannot be written; the journal keeps what it lacks.
        """
        with self._saving:
            outside = self.look()
            with self._lock:
                if self.faults is not None or self._handle < 0:
                    return outside
                text, revision = self.text, self._revision
                raw = self._form.raw(text)
                written = self.saved
                self._writing = text
            try:
                if not written:
                    write_whole(self.path, raw)
            except OSError:
                self._writing = None
                raise
            with self._lock:
                self._found, self._gone, self._writing = text, False, None
            if revision != self._known:
                self._know(revision, text)
            return outside

    def look(self) -> Outside | None:
        """Take in what someone else has changed in the file; None where no one has.

        Raises
        ------
        OSError
            The disk does not take what was changed into the journal.
        """
        with self._lock:
            try:
                form = read_text(self.path)
            except Faults as faults:
                self._gone = not self.path.exists()
                if self._gone:
                    # What was taken away is written anew at the next save.
                    self.faults = self._unread = None
                    return None
                if str(faults) == str(self.faults):
                    return None
                self.faults = faults
                return Outside(faults=faults)
            self._gone = False
            if form.text in (self._found, self._writing):
                self.faults = self._unread = None
                return None
            if form.text == self._unread:
                return None
            return self._take_in(form)

    # At work.

    def _change(
        self,
        kind: Kind,
        client: str,
        sequence: int,
        edits: tuple[Edit, ...],
        step: str,
        of: tuple[int, ...] = (),
    ) -> Taken:
        before = self._taken.get((client, sequence))
        if before is not None:
            return Taken(before, again=True)
        for edit in edits:
            self._check(edit)
        mark = self._document.mark()
        try:
            inverses = tuple(self._document.apply_all(edits))
            text = self.text
            if (size := len(text.encode())) > limits.SHOP_BYTES:
                most = limits.SHOP_BYTES
                raise Faults([refusal("shop.file.large", file=self._file, size=size, most=most)])
            if size > _SMALL:
                load_toml(text, self._file)
            if self._document.at(mark) and kind == "edit":
                inverses = ()
            change = Change(
                revision=self._revision + 1,
                client=client,
                sequence=sequence,
                kind=kind,
                edits=edits,
                inverses=inverses,
                digest=_digest(text),
                step=step,
                of=of,
            )
            self._write(change)
        except BaseException:
            self._document.back_to(mark)
            raise
        self._keep(change)
        if len(self._changes) > 2 * MOST_CHANGES or self._size > 2 * MOST_BYTES:
            with suppress(OSError):
                self._shorten()
        return Taken(change)

    def _check(self, edit: Edit) -> None:
        """Let nothing into the file with which it could not be opened again."""
        if edit.new is None:
            return
        value = edit.new
        for key in reversed(edit.place):
            value = {str(key): value}
        load_toml(f"value = {written(value)}", self._file)

    def _last_step(self) -> list[Change]:
        """The changes that the next undo takes back, the last one first."""
        found: list[Change] = []
        for change in reversed(self._stacks.undo):
            if found and not (
                change.step and (change.client, change.step) == (found[0].client, found[0].step)
            ):
                break
            found.append(change)
        return found

    def _take_in(self, form: TextFile) -> Outside:
        """Merge what the file holds with what is not yet in it."""
        clashes: tuple[Clash, ...] = ()
        text = form.text
        try:
            if self.text != self._found:
                merged = merge(self._found, self.text, form.text, self._file)
                text, clashes = merged.text, merged.clashes
            document = Document(text, self._file)
        except Faults as faults:
            self.faults, self._unread = faults, form.text
            return Outside(faults=faults)
        edits = tuple(changes(self._document.data, document.data))
        change = Change(
            revision=self._revision + 1,
            client="",
            sequence=self._revision + 1,
            kind="outside",
            edits=edits,
            inverses=_inverses(self._document, document, edits),
            digest=_digest(document.text),
            text=document.text,
            found=_digest(form.text),
            clashes=clashes,
        )
        self._write(change)
        self._document, self._form, self._found = document, form, form.text
        self.faults = self._unread = None
        self._keep(change)
        return Outside(change)

    def _keep(self, change: Change) -> None:
        self._revision = change.revision
        self._changes.append(change)
        if change.client:
            self._taken[change.client, change.sequence] = change
        self._stacks.take_in(change)
        self.clashes = _unsettled(self.clashes, change)

    # The state folder.

    def _open(self) -> None:
        journal = self._folder / "journal.jsonl"
        known = _read_known(self._folder / "known.json")
        if known is None:
            # Nothing that a journal says could be followed without the text it begins with.
            with suppress(FileNotFoundError):
                disk.unlink(journal)
        kept, sound = _read_journal(journal)
        self._handle = disk.extend(journal)
        disk.cut(self._handle, sound)
        self._size = sound
        self._changes: list[Change] = []
        self._taken: dict[tuple[str, int], Change] = {}
        self._stacks = _Stacks()
        self._revision = 0
        try:
            form: TextFile | None = read_text(self.path)
        except Faults:
            if known is None or self.path.exists():
                raise
            form = None
        if known is None:
            assert form is not None
            self._form, self._found = form, form.text
            self._document = Document(form.text, self._file)
            self._know(0, form.text)
            return
        self._known, self._found = known
        self._document = Document(self._found, self._file)
        # Texts that the program may have left the file with.
        left = {_digest(self._found)}
        for change in kept:
            if change.revision > self._known:
                self._follow(change)
                left |= {change.digest, change.found or change.digest}
            self._keep(change)
        self._revision = max(self._revision, self._known)
        if form is None:
            self._form, self._gone = TextFile(self._found, "utf-8"), True
            return
        self._form = form
        if _digest(form.text) in left:
            self._found = form.text
        else:
            self._take_in(form)
        if self._size > MOST_BYTES or len(self._changes) > MOST_CHANGES:
            self._shorten()

    def _follow(self, change: Change) -> None:
        """Make a change of the journal that the known text does not have."""
        if change.text is not None:
            self._document = Document(change.text, self._file)
            return
        # Each was taken once, and in this order; a place that is otherwise now is left so.
        with suppress(Conflict):
            self._document.apply_all(change.edits)

    def _know(self, revision: int, text: str) -> None:
        record = json.dumps({"revision": revision, "text": text}, ensure_ascii=False)
        write_whole(self._folder / "known.json", record)
        self._known = revision

    def _write(self, change: Change) -> None:
        """Put a change on the disk; where it cannot be, the journal is as it was."""
        line = change.line()
        try:
            disk.write_to(self._handle, line)
            disk.fsync(self._handle)
        except BaseException:
            with suppress(OSError):
                disk.cut(self._handle, self._size)
            raise
        self._size += len(line)

    def _shorten(self) -> None:
        """Leave out the oldest changes; never one that the file may lack."""
        kept: list[Change] = []
        lines: list[bytes] = []
        size = 0
        for change in reversed(self._changes):
            line = change.line()
            full = len(kept) >= MOST_CHANGES or size + len(line) > MOST_BYTES
            if full and change.revision <= self._known:
                break
            kept.insert(0, change)
            lines.insert(0, line)
            size += len(line)
        journal = self._folder / "journal.jsonl"
        write_whole(journal, b"".join(lines))
        os.close(self._handle)
        self._handle = disk.extend(journal)
        self._size = size
        self._changes, self._taken, self._stacks = [], {}, _Stacks()
        for change in kept:
            self._changes.append(change)
            if change.client:
                self._taken[change.client, change.sequence] = change
            self._stacks.take_in(change)


def folder_of(path: Path, state: Path | None = None) -> Path:
    """Where all lies that is kept for a file, under whatever name it is opened."""
    return (state or state_folder()) / _digest(os.path.realpath(path))


def state_folder() -> Path:
    """Where a person's programs keep what they were at."""
    given = os.environ.get("XDG_STATE_HOME", "")
    if os.path.isabs(given):
        return Path(given) / "kerfwind"
    if sys.platform == "win32" and (local := os.environ.get("LOCALAPPDATA")):
        return Path(local) / "kerfwind"
    return Path.home() / ".local" / "state" / "kerfwind"


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "surrogateescape")).hexdigest()[:32]


def _read_known(path: Path) -> tuple[int, str] | None:
    try:
        record = json.loads(path.read_bytes())
        revision, text = int(record["revision"]), str(record["text"])
        Document(text)
    except (FileNotFoundError, ValueError, KeyError, TypeError):
        return None
    return revision, text


def _read_journal(path: Path) -> tuple[list[Change], int]:
    """The changes in a journal, and how many bytes of it are sound: a last line may be torn."""
    try:
        raw = path.read_bytes()
    except FileNotFoundError:
        return [], 0
    found: list[Change] = []
    sound = 0
    for line in raw.splitlines(keepends=True):
        try:
            change = Change.of_line(line)
        except ValueError:
            break
        if not line.endswith(b"\n") or (found and change.revision != found[-1].revision + 1):
            break
        found.append(change)
        sound += len(line)
    return found, sound


def _name_after(edit: Edit) -> str | None:
    """The name that a row has once an edit of it, or of its name, was made."""
    new = edit.new.get("name") if isinstance(edit.new, dict) else edit.new
    return new if isinstance(new, str) else None


def _leaves(edit: Edit) -> bool:
    """Whether a row no longer goes by its name after an edit."""
    if is_rename(edit):
        return bool(edit.new != edit.place[1])
    # What has no name of its own in it gets the one of its place.
    stays = isinstance(edit.new, dict) and edit.new.get("name", edit.place[1]) == edit.place[1]
    return len(edit.place) == 2 and not stays


def _inverses(before: Document, after: Document, edits: Sequence[Edit]) -> tuple[Edit, ...]:
    """What takes an outside change back, with the text of what it took away where it can be."""
    trial = Document(before.text)
    try:
        inverses = trial.apply_all(edits)
        if same(trial.data, after.data):
            back = Document(after.text)
            back.apply_all(inverses)
            if same(back.data, before.data):
                return tuple(inverses)
    except Conflict:
        pass
    return tuple(changes(after.data, before.data))


def _unsettled(clashes: Sequence[Clash], change: Change) -> tuple[Clash, ...]:
    """The places still to be asked about, once a change was made."""
    if change.kind == "outside":
        new = {clash.place: clash for clash in (*clashes, *change.clashes)}
        return tuple(new.values())

    def settled(place: Place) -> bool:
        return any(_within(place, edit.place) for edit in change.edits)

    return tuple(clash for clash in clashes if not settled(clash.place))


def _within(place: Place, other: Place) -> bool:
    shorter = min(len(place), len(other))
    return place[:shorter] == other[:shorter]
