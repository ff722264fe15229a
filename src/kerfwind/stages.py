"""Pure stages cached by a digest of just their inputs."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable
from dataclasses import fields, is_dataclass
from typing import Any, TypeVar

import numpy as np

from .second_process import run_beside

T = TypeVar("T")


def digest(*values: Any) -> str:
    """A digest that is equal for equal plain data, dataclasses, models and arrays.

    Raises
    ------
    TypeError
        A value is of a kind whose content cannot be told.
    """
    return _digest(values, _feed_model)


Feed = Callable[[Any, Any], None]


def _digest(values: Iterable[Any], feed_model: Feed) -> str:
    state = hashlib.blake2b(digest_size=16)
    for value in values:
        _feed(state, value, feed_model)
    return state.hexdigest()


def _feed_model(state: Any, model: Any) -> None:
    for name in type(model).model_fields:
        _feed(state, getattr(model, name), _feed_model)


def _feed(state: Any, value: Any, feed_model: Feed) -> None:
    kind = type(value)
    if value is None or kind in _PLAIN or isinstance(value, (bool, int, float, str)):
        state.update(f"{kind.__name__}:{value!r};".encode())
    elif (names := _names(kind)) is not None:
        state.update(kind.__qualname__.encode() + b"(")
        for name in names:
            _feed(state, getattr(value, name), feed_model)
        state.update(b")")
    elif isinstance(value, bytes):
        state.update(b"b%d:" % len(value) + value)
    elif isinstance(value, np.ndarray):
        state.update(
            f"a{value.dtype}{value.shape}".encode() + np.ascontiguousarray(value).tobytes()
        )
    elif isinstance(value, np.generic):
        state.update(f"n{value!r};".encode())
    elif isinstance(value, (tuple, list)):
        state.update(b"[")
        for item in value:
            _feed(state, item, feed_model)
        state.update(b"]")
    elif isinstance(value, (set, frozenset)):
        _feed(state, sorted(value, key=repr), feed_model)
    elif isinstance(value, dict):
        state.update(b"{")
        for key, item in value.items():
            _feed(state, key, feed_model)
            _feed(state, item, feed_model)
        state.update(b"}")
    elif hasattr(kind, "model_fields"):
        state.update(kind.__qualname__.encode() + b"(")
        feed_model(state, value)
        state.update(b")")
    else:
        raise TypeError(f"no digest for {kind.__qualname__}")


_PLAIN = {bool, int, float, str}


_FIELDS: dict[type, tuple[str, ...] | None] = {}


def _names(kind: type) -> tuple[str, ...] | None:
    """The fields of a dataclass; None of any other kind."""
    if kind not in _FIELDS:
        _FIELDS[kind] = tuple(f.name for f in fields(kind)) if is_dataclass(kind) else None
    return _FIELDS[kind]


#: Of how many results of stages, and of how many parts of a shop, a digest is kept.
_KNOWN, _KNOWN_PARTS = 256, 8192
#: The last so many stages that ran are told.
_TOLD = 1000


class Stages:
    """Runs stages, and remembers the latest results of each.

    Keeps ``keep`` results a stage, so that going back and forth between two values of a
    field costs nothing, while memory stays bounded.
    """

    def __init__(self, keep: int = 8) -> None:
        self.keep = keep
        self.ran: list[str] = []
        self._kept: dict[str, dict[str, Any]] = {}
        self._most: dict[str, int] = {}
        self._results: dict[int, tuple[Any, str]] = {}
        self._parts: dict[int, tuple[Any, str]] = {}

    def keep_of(self, name: str, most: int) -> None:
        """Keep so many results of a stage that runs many times in a plan."""
        self._most[name] = max(self.keep, most)

    def start(self, name: str, stage: Callable[..., T], *inputs: Any) -> Callable[[], T]:
        """Begin a stage on another core; its result is had by calling what is returned."""
        key = self._key(inputs)
        if key in self._kept.get(name, {}):
            return lambda: self.run(name, stage, *inputs)
        begun = run_beside(stage, *inputs)
        return lambda: self.run(name, lambda *_: begun(), *inputs)

    def run(self, name: str, stage: Callable[..., T], *inputs: Any) -> T:
        """``stage(*inputs)``, or its remembered result for equal inputs."""
        kept = self._kept.setdefault(name, {})
        key = self._key(inputs)
        if key in kept:
            kept[key] = kept.pop(key)
            return kept[key]  # type: ignore[no-any-return]
        result = stage(*inputs)
        self.ran.append(name)
        kept[key] = result
        del self.ran[:-_TOLD]
        while len(kept) > self._most.get(name, self.keep):
            kept.pop(next(iter(kept)))
        return result

    def digest_of(self, value: Any) -> str:
        """The digest of something frozen, worked out once for as long as it lives here."""
        return self._known(value)

    def _key(self, inputs: Iterable[Any]) -> str:
        """A digest of inputs; what a stage gave before, such as a cart, is told by what it is."""
        known = (self._known(i) if is_dataclass(i) else i for i in inputs)
        return _digest(known, self._feed_known)

    def _feed_known(self, state: Any, model: Any) -> None:
        """A frozen model's digest in its place: many stages share one large shop."""
        state.update(self._known(model).encode())

    def _known(self, value: Any) -> str:
        """The digest of something frozen, worked out once for as long as it lives here."""
        result = is_dataclass(value)
        digests, most = (self._results, _KNOWN) if result else (self._parts, _KNOWN_PARTS)
        known = digests.get(id(value))
        if known is None or known[0] is not value:
            while len(digests) > most:
                digests.pop(next(iter(digests)))
            known = digests[id(value)] = (value, _digest((value,), self._feed_nested))
        return known[1]

    def _feed_nested(self, state: Any, model: Any) -> None:
        for name in type(model).model_fields:
            _feed(state, getattr(model, name), self._feed_known)
