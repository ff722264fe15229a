"""Frozen records behave as the standard library's dataclasses."""

import dataclasses
import pickle
from dataclasses import asdict, fields, replace
from functools import cached_property
from typing import ClassVar

import pytest

from kerfwind.records import dataclass


@dataclass(frozen=True)
class Ours:
    a: int
    b: tuple[int, ...] = ()
    known: ClassVar[str] = "class"

    def __post_init__(self):
        if self.a < 0:
            raise ValueError("below zero")

    @cached_property
    def twice(self):
        return 2 * self.a


@dataclass(frozen=True)
class Further(Ours):
    c: str = "c"


@dataclasses.dataclass(frozen=True)
class Theirs:
    a: int
    b: tuple[int, ...] = ()


def test_made_and_compared_as_the_standard_ones():
    one, two = Ours(1, b=(2,)), Theirs(1, b=(2,))
    assert [f.name for f in fields(one)] == [f.name for f in fields(two)]
    assert [f.type for f in fields(one)] == [f.type for f in fields(two)]
    assert asdict(one) == asdict(two)
    assert repr(one).removeprefix("Ours") == repr(two).removeprefix("Theirs")
    assert hash(one) == hash(two)
    assert one == Ours(1, (2,)) != two
    assert replace(one, a=5) == Ours(5, (2,))
    with pytest.raises(TypeError):
        Ours()
    with pytest.raises(ValueError, match="below zero"):
        replace(one, a=-1)


def test_nothing_can_be_changed_but_what_is_worked_out_once():
    one = Ours(3)
    with pytest.raises(dataclasses.FrozenInstanceError):
        one.a = 4
    with pytest.raises(dataclasses.FrozenInstanceError):
        del one.a
    assert one.twice == 6 == one.__dict__["twice"]
    assert one == Ours(3)


def test_a_record_may_build_upon_another():
    far = Further(1, c="d")
    assert (far.a, far.b, far.c) == (1, (), "d")
    assert far != Ours(1)
    assert pickle.loads(pickle.dumps(far)) == far


def test_what_needs_the_standard_library_still_gets_it():
    @dataclass(frozen=True)
    class Listed:
        items: list[int] = dataclasses.field(default_factory=list)

    assert Listed() == Listed([])
