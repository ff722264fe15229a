"""A folder of results is written whole or not at all, and a person's own files stay in it.

The new folder is built beside the old one, in a folder whose name begins with
`disk.UNFINISHED`:

- ``unfinished/NAME`` while it is being built: results, and the person's own files by a second
  name (a hard link);
- ``whole-NUMBER/NAME`` once all of it is on the disk. It then changes names with the old one in
  one step, so that here is the old folder from then on. The number is the new folder's own,
  which tells which of them it is;
- ``old/NAME``, only where the system or the disk knows no such step: there the old folder is
  put away first and the new one put in its place after that. While there is an ``old`` and no
  folder in its place, the old one is put back.

What a dead run leaves is cleared up by the next run in the same parent folder, by the same rule
as after every run: a file that kerfwind wrote and no one changed goes, and so does one that is in
the result folder already. Any other is a person's, and is moved there.
"""

from __future__ import annotations

import hashlib
import json
import os
import stat
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path, PurePosixPath

from . import disk
from .ending import put_off
from .facts import Name, Statement, state
from .faults import Faults, Refusal, refusal

#: The list of what was written, in the folder itself.
LIST = "written-by-kerfwind.json"
#: What systems put into a folder that someone has looked at.
_OF_THE_SYSTEM = {".DS_Store", ".directory", "Thumbs.db", "desktop.ini"}
#: Where the system tells what is mounted, if it does.
_MOUNTS = Path("/proc/self/mountinfo")
#: Where a folder stands, as told above.
_UNFINISHED, _WHOLE, _OLD = "unfinished", "whole-", "old"
#: In the name of a person's file that had to give way.
_YOURS = "(yours, "
#: A link between folders on Windows that Python takes for a folder.
_MOUNT_POINT = 0xA0000003


@dataclass
class _Listed:
    """What an earlier run wrote: the command, and each file's digest by its name."""

    command: str = ""
    digests: dict[str, str] = field(default_factory=dict)

    @property
    def folders(self) -> set[str]:
        return _folders(self.digests)


def check_folder(folder: str | Path, command: str, names: Iterable[str] = ()) -> Path:
    """The folder that results of a command can go to, by its full path.

    Parameters
    ----------
    command
        Such as ``plan``: results of another command are not replaced.
    names
        Files to be written, where they are known already.

    Raises
    ------
    Faults
        It is another's, or nothing can be written there whole.
    """
    asked = os.fspath(folder)
    refuse = _Refuse(asked or '""')
    earlier = Name(command)
    if not asked:
        raise refuse(refusal("folder.no_name", command=earlier))
    if os.path.islink(asked.rstrip("/" + os.sep) or asked):
        leads = Name(os.readlink(asked.rstrip("/" + os.sep)))
        raise refuse(refusal("folder.link", to=leads, command=earlier))
    place = Path(os.path.realpath(asked))
    within = Name(str(place / f"{command}-results"))
    if _is_current(place):
        raise refuse(refusal("folder.current", command=earlier))
    parent = place.parent
    while not parent.exists():
        parent = parent.parent
    above = Name(str(parent))
    if not parent.is_dir():
        raise refuse(refusal("folder.parent_is_file", parent=above, command=earlier))
    if not os.access(parent, os.W_OK | os.X_OK):
        raise refuse(refusal("folder.closed_parent", parent=above, command=earlier))
    if not place.exists():
        return place
    if not place.is_dir():
        raise refuse(refusal("folder.is_file", command=earlier))
    if place.is_mount() or str(place) in _mounted():
        raise refuse(refusal("folder.mounted", within=within, command=earlier))
    if not os.access(place, os.R_OK | os.W_OK | os.X_OK):
        raise refuse(refusal("folder.closed", command=earlier))
    try:
        listed = _read_list(place)
    except ValueError:
        raise refuse(refusal("folder.list_unread", command=earlier), LIST) from None
    if not listed.command:
        others = sorted({e.name for e in os.scandir(place)} - _OF_THE_SYSTEM)
        if others:
            raise refuse(
                refusal(
                    "folder.others",
                    count=len(others),
                    first=Name(others[0]),
                    within=within,
                    command=earlier,
                )
            )
    elif listed.command != command:
        raise refuse(
            refusal(
                "folder.other_command",
                found=Name(listed.command),
                beside=Name(f"{place}-{command}"),
                command=earlier,
            )
        )
    _check_inside(place, {LIST, *names, *listed.digests}, refuse, earlier)
    return place


def write_folder(
    folder: str | Path, files: Mapping[str, str | bytes], command: str
) -> list[Statement]:
    """Write results by their names within a folder, in place of those of an earlier run.

    Whatever fails, or ends the run before, leaves the folder as it was.

    Returns
    -------
    list[Statement]
        A person's files that have another name now: one that stood where a result goes, or a
        result of an earlier run that was changed since.
    """
    place = check_folder(folder, command, files)
    raw = {n: d.encode("utf-8") if isinstance(d, str) else d for n, d in files.items()}
    digests = {name: hashlib.sha256(data).hexdigest() for name, data in raw.items()}
    about = {"command": command, "sha256": digests}
    raw[LIST] = (json.dumps(about, ensure_ascii=False, indent=1) + "\n").encode("utf-8")
    told: list[Statement] = []
    bench = made = None
    try:
        with put_off() as stop_if_asked:
            made = _make_parents(place.parent)
            try:
                with disk.locked(place.parent, stop_if_asked) as unfinished:
                    told += clear_up(unfinished)
                    # Another run may have been there meanwhile.
                    check_folder(folder, command, files)
                    bench = disk.mkdtemp(place.parent)
                    try:
                        whole, kept = _build(place, bench, raw, stop_if_asked)
                        _put_in_place(place, whole, bench / _OLD)
                        told += kept
                    finally:
                        told += _clear_up_bench(bench)
            except BaseException:
                for each in reversed(made):
                    with suppress(OSError):
                        disk.rmdir(each)
                raise
    except OSError as error:
        # The person knows nothing of the folder beside theirs.
        name = Path(os.fsdecode(error.filename or place))
        if bench is not None and name.is_relative_to(bench):
            name = place.joinpath(*name.relative_to(bench).parts[2:])
        error.filename, error.filename2 = str(name), None
        raise
    return told


def clear_up(unfinished: Iterable[Path]) -> list[Statement]:
    """Put back, and take away, what dead runs left unfinished; it returns as `write_folder`.

    Only while the lock of the folder that holds it is held.
    """
    told: list[Statement] = []
    for path in unfinished:
        # What cannot be cleared up now, such as another person's, must not keep this run.
        with suppress(OSError):
            if path.is_dir() and not path.is_symlink():
                told += _clear_up_bench(path)
            else:
                disk.unlink(path)
    return told


class _Refuse:
    """Says of which folder, or of what in it, a refusal is."""

    def __init__(self, place: str) -> None:
        self.place = place

    def __call__(self, found: Refusal, within: str = "") -> Faults:
        file = os.path.join(self.place, within) if within else self.place
        return Faults([replace(found, place="--out", file=file)])


def _is_current(place: Path) -> bool:
    with suppress(FileNotFoundError):
        return Path(os.path.realpath(os.getcwd())).is_relative_to(place)
    return False


def _read_list(place: Path) -> _Listed:
    """What an earlier run wrote there; nothing where there is no list.

    Raises
    ------
    ValueError
        The list is not as it was written.
    """
    try:
        if not stat.S_ISREG((place / LIST).lstat().st_mode):
            raise ValueError(LIST)
        about = json.loads((place / LIST).read_text(encoding="utf-8"))
        command, digests = about["command"], about["sha256"]
        if not isinstance(command, str) or not command:
            raise TypeError
        return _Listed(command, {str(name): str(digest) for name, digest in digests.items()})
    except FileNotFoundError:
        return _Listed()
    except (TypeError, KeyError, AttributeError, RecursionError) as error:
        raise ValueError(LIST) from error


def _folders(names: Iterable[str]) -> set[str]:
    """The folders that files lie in, by their names."""
    return {str(p) for name in names for p in PurePosixPath(name).parents} - {"."}


def _check_inside(place: Path, names: set[str], refuse: _Refuse, command: Name) -> None:
    mounted = _mounted()
    ours = names | _folders(names)
    for path in _walk(place):
        name = path.relative_to(place).as_posix()
        about = path.lstat()
        if _leads_away(about):
            if name in ours or not stat.S_ISLNK(about.st_mode):
                raise refuse(refusal("folder.link_inside", command=command), name)
        elif stat.S_ISDIR(about.st_mode):
            if path.is_mount() or str(path) in mounted:
                mounted_folder = refusal("folder.mounted_inside", what="folder", command=command)
                raise refuse(mounted_folder, name)
            if not os.access(path, os.R_OK | os.W_OK | os.X_OK):
                raise refuse(refusal("folder.closed_inside", command=command), name)
        elif str(path) in mounted:
            mounted_file = refusal("folder.mounted_inside", what="file", command=command)
            raise refuse(mounted_file, name)


def _mounted() -> set[str]:
    """Where disks and folders are mounted, as far as the system tells."""
    try:
        lines = _MOUNTS.read_bytes().splitlines()
    except OSError:
        return set()
    # Blanks and the like are written as `\040`.
    return {
        os.fsdecode(line.split()[4].decode("unicode_escape").encode("latin-1")) for line in lines
    }


def _leads_away(about: os.stat_result) -> bool:
    return stat.S_ISLNK(about.st_mode) or getattr(about, "st_reparse_tag", 0) == _MOUNT_POINT


def _is_folder(path: Path) -> bool:
    """Whether it is a folder itself, and no link to one."""
    try:
        about = path.lstat()
    except (FileNotFoundError, NotADirectoryError):
        return False
    return stat.S_ISDIR(about.st_mode) and not _leads_away(about)


def _walk(folder: Path) -> Iterator[Path]:
    """All that is in a folder, each folder before what is in it; no link is followed."""
    for path in sorted(folder.iterdir()):
        yield path
        if _is_folder(path) and os.access(path, os.R_OK | os.X_OK):
            yield from _walk(path)


def _make_parents(parent: Path) -> list[Path]:
    """Make the folders that are missing; those, the outermost first."""
    missing = []
    while not parent.exists():
        missing.append(parent)
        parent = parent.parent
    missing.reverse()
    for each in missing:
        disk.mkdir(each)
    return missing


def _build(
    place: Path, bench: Path, raw: Mapping[str, bytes], stop_if_asked: Callable[[], None]
) -> tuple[Path, list[Statement]]:
    """Build the new folder, with the person's files of the old one, and see it on the disk."""
    new = bench / _UNFINISHED / place.name
    disk.mkdir(new.parent)
    disk.mkdir(new)
    for name in sorted(_folders(raw)):
        disk.mkdir(new / name)
    for name, data in raw.items():
        stop_if_asked()
        disk.write_new(new / name, data)
    told = _carry_over(place, new, stop_if_asked) if place.exists() else []
    for path in _walk(new):
        if _is_folder(path):
            disk.settle(path)
    disk.settle(new)
    stop_if_asked()
    whole = bench / f"{_WHOLE}{new.stat().st_ino}"
    disk.mkdir(whole)
    disk.rename(new, whole / place.name)
    disk.settle(whole)
    disk.settle(bench)
    return whole / place.name, told


def _carry_over(place: Path, new: Path, stop_if_asked: Callable[[], None]) -> list[Statement]:
    """Give what is the person's in the old folder a second name in the new one."""
    listed = _read_list(place)
    told: list[Statement] = []
    #: Where each folder of the old one goes; those of ours are made when one is wanted.
    target_of = {place: new}
    for path in _walk(place):
        stop_if_asked()
        name = path.relative_to(place).as_posix()
        folder = target_of[path.parent]
        target = folder / path.name
        if _is_folder(path):
            if os.path.lexists(target) and not _is_folder(target):
                target = _name_aside(target)
                told.append(_stood_in_the_way(name, target))
            target_of[path] = target
            if name not in listed.folders:
                _make_folders(target, new)
            continue
        ours = name in listed.digests or name == LIST
        if name == LIST or (ours and _is_as_written(path, listed.digests[name])):
            continue
        _make_folders(folder, new)
        if ours:
            target = _name_aside(target)
            told.append(state("folder.kept.changed", name=Name(name), now=Name(target.name)))
        elif os.path.lexists(target):
            target = _name_aside(target)
            told.append(_stood_in_the_way(name, target))
        _double(path, target)
    ours_too = {place, *(place / name for name in listed.folders)}
    for old, target in reversed(target_of.items()):
        if target.is_dir():
            disk.liken(target, old.stat(), old, new=old in ours_too)
    return told


def _stood_in_the_way(name: str, target: Path) -> Statement:
    return state("folder.kept.in_the_way", name=Name(name), now=Name(target.name))


def _make_folders(folder: Path, top: Path) -> None:
    if folder != top and not folder.exists():
        _make_folders(folder.parent, top)
        disk.mkdir(folder)


def _name_aside(path: Path) -> Path:
    """A free name beside a path that says whose the file is."""
    today, number = date.today().isoformat(), 1
    while True:
        again = "" if number == 1 else f", {number}"
        name = path.with_name(f"{path.stem} {_YOURS}{today}{again}){path.suffix}")
        if not os.path.lexists(name):
            return name
        number += 1


def _double(path: Path, name: Path) -> None:
    """Give a file a second name; where the disk knows no such thing, a copy."""
    about = path.lstat()
    if stat.S_ISLNK(about.st_mode):
        disk.symlink(os.readlink(path), name)
        return
    try:
        disk.link(path, name)
    except OSError:
        if not stat.S_ISREG(about.st_mode):
            raise
        disk.copy(path, name)
        disk.liken(name, about)


def _is_as_written(path: Path, digest: str) -> bool:
    about = path.lstat()
    return stat.S_ISREG(about.st_mode) and _content(path) == digest


def _content(path: Path) -> str:
    """What tells one content from another; a link's is where it leads."""
    if path.is_symlink():
        return f"to {os.readlink(path)}"
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


def _put_in_place(place: Path, whole: Path, old: Path) -> None:
    if not place.exists():
        disk.rename(whole, place)
    elif not disk.exchange(whole, place):
        disk.mkdir(old)
        disk.rename(place, old / place.name)
        disk.settle(old)
        disk.rename(whole, place)
    disk.settle(place.parent)
    disk.settle(whole.parent)


def _clear_up_bench(bench: Path) -> list[Statement]:
    told: list[Statement] = []
    # The old one is put back before the new one goes.
    for stage in sorted(bench.iterdir()):
        for tree in stage.iterdir():
            place = bench.parent / tree.name
            if stage.name == _OLD and not os.path.lexists(place):
                disk.rename(tree, place)
                disk.settle(bench.parent)
            elif stage.name in (_UNFINISHED, f"{_WHOLE}{tree.stat().st_ino}"):
                disk.remove_tree(tree)
            else:
                told += _clear_up_tree(tree, place)
        disk.rmdir(stage)
    disk.rmdir(bench)
    return told


def _clear_up_tree(tree: Path, place: Path) -> list[Statement]:
    """Take a folder away that is not the result folder; what is only there is moved over."""
    told: list[Statement] = []
    try:
        listed = _read_list(tree)
    except ValueError:
        listed = _Listed()
    there = _Held(place)
    for path in [p for p in _walk(tree) if not _is_folder(p)]:
        name = path.relative_to(tree).as_posix()
        if name == LIST:
            continue
        ours = name in listed.digests
        if (ours and _is_as_written(path, listed.digests[name])) or path in there:
            disk.unlink(path)
            continue
        target = place / name
        between = [place, *(place / p for p in _folders([name]))]
        if any(os.path.lexists(p) and not _is_folder(p) for p in between):
            # Something else has the folder's place now.
            target = _name_aside(place) / path.name
        elif ours or os.path.lexists(target):
            target = _name_aside(target)
        _make_folders(target.parent, place.parent)
        disk.rename(path, target)
        told.append(state("folder.kept.saved_meanwhile", name=Name(name), now=Name(str(target))))
    folders = [p for p in _walk(tree) if _is_folder(p)]
    for folder in folders:
        name = folder.relative_to(tree).as_posix()
        there_too = place / name
        if (
            name not in listed.folders
            and _is_folder(there_too.parent)
            and not os.path.lexists(there_too)
        ):
            disk.mkdir(there_too)
    for folder in reversed(folders):
        disk.rmdir(folder)
    # The list goes last, since without it nothing in the folder is known for ours.
    with suppress(FileNotFoundError):
        disk.unlink(tree / LIST)
    disk.rmdir(tree)
    return told


class _Held:
    """The files of a folder, to be asked whether it holds one already."""

    def __init__(self, folder: Path) -> None:
        files = [p for p in _walk(folder) if not _is_folder(p)] if _is_folder(folder) else []
        self._files = [(path, path.lstat()) for path in files]
        self._same = {(about.st_dev, about.st_ino) for _, about in self._files}

    def __contains__(self, path: Path) -> bool:
        about = path.lstat()
        if (about.st_dev, about.st_ino) in self._same:
            return True
        aside = f"{path.stem} {_YOURS}"
        return any(
            (other.name == path.name or other.name.startswith(aside))
            and size.st_size == about.st_size
            and _content(other) == _content(path)
            for other, size in self._files
        )
