"""Pure stages cached by a digest of just their inputs."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields, is_dataclass
from typing import Any, TypeVar
from weakref import ReferenceType, ref

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
        held = [getattr(value, name) for name in names]
        if _all_plain(held):
            # As one text: most of what is told has only such fields.
            state.update(f"{kind.__qualname__}{held!r};".encode())
            return
        state.update(kind.__qualname__.encode() + b"(")
        for each in held:
            _feed(state, each, feed_model)
        state.update(b")")
    elif isinstance(value, bytes):
        state.update(b"b%d:" % len(value) + value)
    elif isinstance(value, np.ndarray):
        state.update(f"a{value.dtype.str}{value.shape}".encode())
        state.update(np.ascontiguousarray(value))
    elif isinstance(value, np.generic):
        state.update(f"n{value!r};".encode())
    elif isinstance(value, (tuple, list)):
        if _all_plain(value):
            state.update(f"[{tuple(value)!r};".encode())
            return
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
_PLAIN_OR_NONE = {*_PLAIN, type(None)}


def _all_plain(values: Iterable[Any]) -> bool:
    return _PLAIN_OR_NONE.issuperset(map(type, values))


_FIELDS: dict[type, tuple[str, ...] | None] = {}


def _names(kind: type) -> tuple[str, ...] | None:
    """The fields of a dataclass; None of any other kind."""
    if kind not in _FIELDS:
        _FIELDS[kind] = tuple(f.name for f in fields(kind)) if is_dataclass(kind) else None
    return _FIELDS[kind]


#: Of how many results of stages, and of how many parts of a shop, a digest is kept.
_KNOWN = 2048
#: So many stages are under way at most.
_BEGUN = 256
#: The last so many stages that ran are told.
_TOLD = 1000


class Stages:
    """Runs stages, and remembers the latest results of each.

    Keeps ``keep`` results a stage, so that going back and forth between two values of a
    field costs nothing, while memory stays bounded. Keeping none, for a plan that is made once,
    it does not ask what tells one input from another; only of the stages named in ``even_so`` so
    many results are kept, since a plan may come back to them.
    """

    def __init__(self, keep: int = 8, even_so: Mapping[str, int] | None = None) -> None:
        self.keep = keep
        self.ran: list[str] = []
        self._kept: dict[str, dict[str, Any]] = {}
        self._most: dict[str, int] = {} if keep else dict(even_so or {})
        self._begun: dict[tuple[str, str], Callable[[], Any]] = {}
        self._results: dict[int, tuple[ReferenceType[Any], str]] = {}
        self._parts: dict[int, tuple[Any, str]] = {}

    def missing(self, name: str) -> None:
        """Called where a stage has to run, its result not being kept."""

    def keep_of(self, name: str, most: int) -> None:
        """Keep so many results of a stage that runs many times in a plan."""
        if self.keep:
            self._most[name] = max(self.keep, most)

    def start(self, name: str, stage: Callable[..., T], *inputs: Any) -> Callable[[], T]:
        """Begin a stage on another core; its result is had by calling what is returned.

        Begun again before it was called for, it is the same run.
        """
        if not self.keep:
            self._tell(name)
            return run_beside(stage, *inputs)
        key = self._key(inputs)
        if key in self._kept.get(name, {}):
            return lambda: self._kept_or_run(name, key, stage, inputs)
        self.missing(name)
        under_way = self._begun.pop((name, key), None)
        begun: Callable[[], T] = under_way or run_beside(stage, *inputs)
        self._begun[name, key] = begun
        while len(self._begun) > _BEGUN:
            self._begun.pop(next(iter(self._begun)))

        def result() -> T:
            try:
                return self._kept_or_run(name, key, lambda *_: begun(), inputs)
            finally:
                self._begun.pop((name, key), None)

        return result

    def forget_begun(self) -> None:
        """Nothing that was begun is wanted any more."""
        self._begun.clear()

    def run(self, name: str, stage: Callable[..., T], *inputs: Any, told_by_key: bool = False) -> T:
        """``stage(*inputs)``, or its remembered result for equal inputs.

        Parameters
        ----------
        told_by_key
            Later stages tell the result by what it was made from, not by what it is: for a large
            result that is hardly ever the same for other inputs.
        """
        if not self._most.get(name, self.keep):
            self._tell(name)
            return stage(*inputs)
        key = self._key(inputs)
        result = self._kept_or_run(name, key, stage, inputs)
        if told_by_key:
            self._remember(result, f"{name} of {key}")
        return result

    def _kept_or_run(
        self, name: str, key: str, stage: Callable[..., T], inputs: tuple[Any, ...]
    ) -> T:
        kept = self._kept.setdefault(name, {})
        if key in kept:
            result = kept[key] = kept.pop(key)
        else:
            self.missing(name)
            result = kept[key] = stage(*inputs)
            self._tell(name)
        while len(kept) > self._most.get(name, self.keep):
            kept.pop(next(iter(kept)))
        return result  # type: ignore[no-any-return]

    def _tell(self, name: str) -> None:
        self.ran.append(name)
        del self.ran[:-_TOLD]

    def digest_of(self, value: Any) -> str:
        """The digest of something frozen, worked out once for as long as it lives here."""
        return self._known(value)

    def _key(self, inputs: Iterable[Any]) -> str:
        """A digest of inputs; what a stage gave before, such as a cart, is told by what it is."""
        return _digest((self._told(i) for i in inputs), self._feed_known)

    def _told(self, value: Any) -> Any:
        """An input, with the digest of each result in its place."""
        if is_dataclass(value):
            return self._known(value)
        if isinstance(value, (tuple, list)) and value and is_dataclass(value[0]):
            return [self._told(each) for each in value]
        if isinstance(value, dict):
            return {key: self._told(each) for key, each in value.items()}
        return value

    def _feed_known(self, state: Any, model: Any) -> None:
        """A frozen model's digest in its place: many stages share one large shop."""
        state.update(self._known(model).encode())

    def _known(self, value: Any) -> str:
        """The digest of something frozen, worked out once for as long as it lives here."""
        if is_dataclass(value):
            held = self._results.get(id(value))
            if held is not None and held[0]() is value:
                return held[1]
        else:
            known = self._parts.get(id(value))
            if known is not None and known[0] is value:
                return known[1]
        # A part's own fields are looked at; of a part within something else the digest is known.
        feed = self._feed_known if is_dataclass(value) else self._feed_nested
        return self._remember(value, _digest((value,), feed))

    def _remember(self, value: Any, told: str) -> str:
        if is_dataclass(value):
            # Results are large: they live only as long as somebody else keeps them.
            self._results.pop(id(value), None)
            self._results[id(value)] = ref(value), told
            if len(self._results) > _KNOWN:
                self._results.pop(next(iter(self._results)))
        else:
            self._parts.pop(id(value), None)
            self._parts[id(value)] = value, told
            if len(self._parts) > _KNOWN:
                self._parts.pop(next(iter(self._parts)))
        return told

    def _feed_nested(self, state: Any, model: Any) -> None:
        for name in type(model).model_fields:
            _feed(state, getattr(model, name), self._feed_known)
