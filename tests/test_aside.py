"""A call made on another core answers as one made here."""

import os

import pytest

from kerfwind.aside import Mate, aside


def _square(x):
    return x * x


def _fail(word):
    raise ValueError(word)


def _vanish(home):
    if os.getpid() != home:
        os._exit(1)
    return "made here"


def test_results_and_errors_come_back():
    begun = [aside(_square, n) for n in range(5)]
    assert [wanted() for wanted in begun] == [0, 1, 4, 9, 16]
    with pytest.raises(ValueError, match="so it goes"):
        aside(_fail, "so it goes")()


def test_a_lost_process_is_made_up_for():
    assert aside(_vanish, os.getpid())() == "made here"


def test_it_runs_elsewhere_where_it_can():
    pid = aside(os.getpid)()
    assert (pid != os.getpid()) == (os.name == "posix" and (os.cpu_count() or 1) > 1)


@pytest.fixture
def mate():
    if not hasattr(os, "memfd_create"):
        return None
    return Mate(["json"])


def test_a_mate_answers_each_call_in_turn(mate):
    if mate is None:
        return
    large = [mate.ask(bytes, n) for n in (3_000_000, 5, 2_000_000)]
    assert [len(wanted()) for wanted in reversed(large)] == [2_000_000, 5, 3_000_000]
    with pytest.raises(ValueError, match="so it goes"):
        mate.ask(_fail, "so it goes")()
    assert mate.ask(os.getpid)() != os.getpid()


def test_a_lost_mate_is_made_up_for(mate):
    if mate is None:
        return
    assert mate.ask(_vanish, os.getpid())() == "made here"
    assert mate.ask(_square, 3)() == 9
