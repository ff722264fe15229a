"""Where each key of a TOML text stands, so that an error can name its line.

TOML readers check the text and give its values, but not their lines. This walks a
text that one of them has already accepted and notes the line of every key.
"""

from __future__ import annotations

from functools import cached_property
from typing import Any

Path = tuple[str | int, ...]


class _Walker:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.lines: dict[Path, int] = {(): 1}
        self._line = 1
        self._counted = 0
        self._counts: dict[Path, int] = {}

    def line(self) -> int:
        self._line += self.text.count("\n", self._counted, self.at)
        self._counted = self.at
        return self._line

    def peek(self) -> str:
        return self.text[self.at : self.at + 1]

    def skip_blank(self, newlines: bool) -> None:
        while self.at < len(self.text):
            char = self.text[self.at]
            if char == "#":
                end = self.text.find("\n", self.at)
                self.at = len(self.text) if end < 0 else end
            elif char in " \t\r" or (newlines and char == "\n"):
                self.at += 1
            else:
                return

    def string(self) -> str:
        quote = self.peek()
        triple = self.text[self.at : self.at + 3] == quote * 3
        mark = quote * 3 if triple else quote
        self.at += len(mark)
        start = self.at
        while self.text[self.at : self.at + len(mark)] != mark:
            self.at += 2 if quote == '"' and self.peek() == "\\" else 1
            if self.at > len(self.text):
                break
        found = self.text[start : self.at]
        self.at += len(mark)
        if triple:
            while self.peek() == quote:
                self.at += 1
        return found

    def key(self) -> list[str]:
        parts: list[str] = []
        while True:
            self.skip_blank(False)
            if self.peek() in ("'", '"'):
                parts.append(self.string())
            else:
                start = self.at
                while self.peek() and (self.peek().isalnum() or self.peek() in "-_"):
                    self.at += 1
                parts.append(self.text[start : self.at])
            self.skip_blank(False)
            if self.peek() != ".":
                return parts
            self.at += 1

    def note(self, path: Path) -> None:
        self.lines.setdefault(path, self.line())

    def value(self, path: Path) -> None:
        self.note(path)
        char = self.peek()
        if char in ("'", '"') and char:
            self.string()
        elif char == "[":
            self.at += 1
            index = 0
            while True:
                self.skip_blank(True)
                if self.peek() in ("]", ""):
                    self.at += 1
                    return
                self.value((*path, index))
                index += 1
                self.skip_blank(True)
                if self.peek() == ",":
                    self.at += 1
        elif char == "{":
            self.at += 1
            while True:
                self.skip_blank(True)
                if self.peek() in ("}", ""):
                    self.at += 1
                    return
                self.pair(path)
                self.skip_blank(True)
                if self.peek() == ",":
                    self.at += 1
        else:
            while self.peek() and self.peek() not in ",]}\n#":
                self.at += 1

    def pair(self, prefix: Path) -> None:
        self.line()
        start = self.at
        path = prefix
        for part in self.key():
            path = (*path, part)
            self.note(path)
        if self.peek() == "=":
            self.at += 1
        self.skip_blank(False)
        self.value(path)
        if self.at == start:
            self.at += 1

    def header(self) -> Path:
        double = self.text.startswith("[[", self.at)
        self.at += 2 if double else 1
        parts = self.key()
        path: Path = ()
        for i, part in enumerate(parts):
            path = (*path, part)
            self.note(path)
            last = i == len(parts) - 1
            if double and last:
                self._counts[path] = self._counts.get(path, -1) + 1
            if path in self._counts:
                path = (*path, self._counts[path])
                self.note(path)
        self.at += 2 if double else 1
        return path

    def walk(self) -> dict[Path, int]:
        prefix: Path = ()
        while True:
            self.skip_blank(True)
            if self.at >= len(self.text):
                return self.lines
            if self.peek() == "[":
                prefix = self.header()
            else:
                self.pair(prefix)


class KeyLines:
    """Where the keys of a text stand: looked for when a fault is first to be told."""

    def __init__(self, text: str) -> None:
        self._text = text

    @cached_property
    def every(self) -> dict[Path, int]:
        """Line number (from 1) of each key path; list items by their index."""
        return _Walker(self._text.replace("\r\n", "\n")).walk()

    def __contains__(self, path: tuple[Any, ...]) -> bool:
        """Whether anything stands at a path."""
        return path in self.every

    def of(self, path: tuple[Any, ...]) -> int:
        """The line of ``path``, or of the nearest part of it that stands in the text."""
        for cut in range(len(path), -1, -1):
            if path[:cut] in self.every:
                return self.every[path[:cut]]
        return 1


def path_text(path: tuple[Any, ...], data: Any) -> str:
    """A path as people read it: list items by their name, ``tools[Planer].port.inside``."""
    text = ""
    here = data
    for part in path:
        if isinstance(part, int):
            item = here[part] if isinstance(here, (list, tuple)) and part < len(here) else None
            label = item.get("name") if isinstance(item, dict) else None
            text += f"[{label if isinstance(label, str) else part + 1}]"
            here = item
        else:
            text += f".{part}" if text else str(part)
            here = here.get(part) if isinstance(here, dict) else None
    return text


def value_at(data: Any, path: tuple[Any, ...]) -> Any:
    """What stands at a path; None where nothing does."""
    for part in path:
        try:
            data = data[part]
        except (KeyError, IndexError, TypeError):
            return None
    return data
