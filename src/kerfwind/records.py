"""Frozen dataclasses, made several times quicker than the standard library makes them.

A command defines some three hundred of them before it begins to work, and that was a tenth
of its life. `fields`, `replace` and `asdict` of the standard library hold for these too.
"""

from __future__ import annotations

import dataclasses
import inspect
from collections.abc import Callable
from dataclasses import Field, FrozenInstanceError
from operator import attrgetter
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass
else:

    def dataclass(cls=None, /, **how):
        """As `dataclasses.dataclass`; only frozen ones without `field()` are made here."""

        def made(cls):
            own = inspect.get_annotations(cls)
            if (
                not how.get("frozen")
                or how.keys() - {"frozen", "eq"}
                or any(isinstance(cls.__dict__.get(n), Field) for n in own)
            ):
                return dataclasses.dataclass(cls, **how)
            return _frozen(cls, own, how.get("eq", True))

        return made if cls is None else made(cls)


@dataclasses.dataclass(frozen=True)
class _Pattern:
    x: int


_FIELD_KIND = dataclasses.fields(_Pattern)[0]._field_type  # type: ignore[attr-defined]
_PARAMS = _Pattern.__dataclass_params__  # type: ignore[attr-defined]


def _frozen(cls: Any, own: dict[str, Any], eq: bool) -> Any:
    known: dict[str, Any] = {}
    for base in cls.__mro__[-1:0:-1]:
        known.update(base.__dict__.get("__dataclass_fields__", {}))
    for name, kind in own.items():
        if str(kind).removeprefix("typing.").startswith("ClassVar"):
            continue
        default = cls.__dict__.get(name, dataclasses.MISSING)
        field = dataclasses.field(default=default)
        field.name, field.type, field._field_type = name, kind, _FIELD_KIND
        known[name] = field
    cls.__dataclass_fields__ = known
    cls.__dataclass_params__ = _PARAMS
    made: dict[str, Any] = {}
    defaults = {
        f"_{n}": f.default for n, f in known.items() if f.default is not dataclasses.MISSING
    }
    exec(_source(known, defaults, hasattr(cls, "__post_init__")), defaults, made)
    defined = cls.__dict__
    cls.__init__ = made["__init__"]
    cls.__setattr__, cls.__delattr__ = _no_change, _no_change
    if "__repr__" not in defined:
        cls.__repr__ = _text
    if eq and "__eq__" not in defined:
        cls.__eq__, hashed = _comparison(tuple(known))
        if defined.get("__hash__") is None:
            cls.__hash__ = hashed
    return cls


def _comparison(names: tuple[str, ...]) -> tuple[Any, Any]:
    """``__eq__`` and ``__hash__`` over these fields; nothing is compiled for them."""
    values: Callable[[Any], Any]
    if len(names) > 1:
        values = attrgetter(*names)
    else:

        def values(record: Any) -> Any:
            return tuple(getattr(record, n) for n in names)

    def alike(self: Any, other: Any) -> Any:
        if other.__class__ is not self.__class__:
            return NotImplemented
        return values(self) == values(other)

    def hashed(self: Any) -> int:
        return hash(values(self))

    return alike, hashed


def _source(known: dict[str, Any], defaults: dict[str, Any], more: bool) -> str:
    asked = ", ".join(f"{n}=_{n}" if f"_{n}" in defaults else n for n in known)
    kept = "".join(f"\n d[{n!r}] = {n}" for n in known)
    after = "\n self.__post_init__()" if more else ""
    return f"def __init__(self, {asked}):\n d = self.__dict__{kept}{after}\n"


def _no_change(self: Any, name: str, *_: Any) -> None:
    raise FrozenInstanceError(f"cannot assign to or delete field {name!r}")


def _text(self: Any) -> str:
    parts = ", ".join(f"{n}={getattr(self, n)!r}" for n in self.__dataclass_fields__)
    return f"{type(self).__qualname__}({parts})"
