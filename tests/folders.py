"""A result folder for tests: what an earlier run wrote, what is the person's, and how it looks."""

import os
from datetime import date

import pytest

from kerfwind import result_folder
from kerfwind.result_folder import LIST, write_folder

OLD = {
    "plan.pdf": b"%PDF old",
    "panels.csv": "old panels",
    "drawings/unit.svg": "<svg>old</svg>",
    "drawings/path.svg": "<svg>old path</svg>",
    "panels/a-side.dxf": "old side",
}
NEW = {
    "plan.pdf": b"%PDF new" * 1000,
    "panels.csv": "new panels",
    "drawings/unit.svg": "<svg>new</svg>",
    "solids/b-post.stl": "new post",
    "machine/saw.txt": "new saw",
}
#: What a person has put there, in every place, and where it is after a new plan.
MINE = {
    "notes.txt": "notes.txt",
    "drawings/mine.svg": "drawings/mine.svg",
    "panels/mine.dxf": "panels/mine.dxf",
    "photos/1.jpg": "photos/1.jpg",
    "photos/of saw/2.jpg": "photos/of saw/2.jpg",
    "solids/b-post.stl": "solids/b-post (yours, 2031-05-06).stl",
    "machine": "machine (yours, 2031-05-06)",
}
CHANGED = {
    "panels.csv": "panels (yours, 2031-05-06).csv",
    "drawings/path.svg": "drawings/path (yours, 2031-05-06).svg",
}


class _Day(date):
    @classmethod
    def today(cls):
        return cls(2031, 5, 6)


@pytest.fixture
def one_day(monkeypatch):
    """All happens on one day, whose date stands in names."""
    monkeypatch.setattr(result_folder, "date", _Day)


def seen(folder):
    """All that is in a folder: files by their content, links by where they lead."""
    found = {}
    for path in sorted(folder.rglob("*")):
        name = str(path.relative_to(folder))
        if path.is_symlink():
            found[name] = f"to {os.readlink(path)}"
        elif path.is_dir():
            found[name] = "a folder"
        else:
            found[name] = path.read_bytes()
    return found


def lived_in(folder):
    """A result folder with a person's own files and changes in every place of it."""
    write_folder(folder, OLD, "plan")
    for name in MINE:
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(f"my {name}")
    for name in CHANGED:
        (folder / name).write_text(f"my {name}")
    (folder / "photos" / "empty").mkdir()
    (folder / "to my saw").symlink_to("../saw")
    return seen(folder)


def lives_on(found):
    """Whether all of the person's is in a folder that holds `NEW`, and nothing of `OLD`."""
    moved = {**MINE, **CHANGED}
    want = {there: f"my {name}".encode() for name, there in moved.items()}
    want |= {n: d if isinstance(d, bytes) else d.encode() for n, d in NEW.items()}
    want |= {"to my saw": "to ../saw", LIST: found[LIST]}
    files = {name: what for name, what in found.items() if what != "a folder"}
    folders = {name for name, what in found.items() if what == "a folder"}
    return files == want and folders == {
        *("drawings", "panels", "photos", "photos/empty", "photos/of saw", "solids", "machine")
    }
