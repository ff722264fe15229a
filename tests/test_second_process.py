"""A call made in a second process answers as one made here."""

import os
import signal
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor

import pytest

from kerfwind import second_process
from kerfwind.second_process import Worker, run_beside


def _square(x):
    return x * x


def _fail(word):
    raise ValueError(word)


def _vanish(home):
    if os.getpid() != home:
        os._exit(1)
    return "made here"


class _Peculiar(Exception):
    """An error that cannot be read back once pickled."""

    def __init__(self, one, two):
        super().__init__(f"{one} {two}")


def _fail_peculiarly():
    raise _Peculiar("so", "it goes")


@pytest.fixture
def worker():
    begun = Worker("json", "no_such_module")
    yield begun
    begun.end()


def test_each_call_is_answered_in_any_order(worker):
    large = [worker.run(bytes, n) for n in (3_000_000, 5, 2_000_000)]
    assert [len(wanted()) for wanted in reversed(large)] == [2_000_000, 5, 3_000_000]


def test_it_runs_elsewhere_and_an_error_is_raised_here(worker):
    wanted = worker.run(os.getpid)
    while not wanted.args[0].done():
        time.sleep(0.01)
    assert wanted() != os.getpid()
    with pytest.raises(ValueError, match="so it goes"):
        worker.run(_fail, "so it goes")()
    with pytest.raises(_Peculiar, match="so it goes"):
        worker.run(_fail_peculiarly)()


def test_a_lost_process_is_made_up_for(worker):
    assert worker.run(_vanish, os.getpid())() == "made here"
    assert worker.run(_square, 3)() == 9


def test_what_was_not_begun_when_it_ends_is_made_here(worker):
    begun = [worker.run(_square, n) for n in range(20)]
    worker.end()
    assert [wanted() for wanted in begun] == [n * n for n in range(20)]
    assert worker.run(_square, 3)() == 9


def test_without_one_the_call_is_made_here(monkeypatch):
    monkeypatch.setattr(second_process, "_worker", None)
    assert run_beside(os.getpid)() == os.getpid()


def test_threads_that_share_it_each_get_their_own_answer(worker):
    def ask(thread):
        return [worker.run(_square, 1000 * thread + n)() for n in range(500)]

    with ThreadPoolExecutor(8) as threads:
        answers = list(threads.map(ask, range(8)))
    assert answers == [[(1000 * t + n) ** 2 for n in range(500)] for t in range(8)]


_FIRST = """
import os, sys, time
from kerfwind.second_process import end_worker, run_beside, start_worker
if __name__ == "__main__":
    if sys.argv[1] == "threads":
        import threading
        threading.Thread(target=time.sleep, args=(60,), daemon=True).start()
    start_worker("json")
    wanted = run_beside(os.getpid)
    while not wanted.args[0].done():
        time.sleep(0.01)
    try:
        print(os.getpid(), wanted(), flush=True)
        time.sleep(60)
    except KeyboardInterrupt:
        print("answer", run_beside(max, 1, 2)(), flush=True)
        end_worker()
        os._exit(130)
"""


def _alive(pid):
    """Whether a process runs: one that ended and nobody asked after counts as gone."""
    try:
        with open(f"/proc/{pid}/stat") as stat:
            return stat.read().rpartition(")")[2].split()[0] != "Z"
    except FileNotFoundError:
        return False


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="looks into /proc")
@pytest.mark.skipif((os.cpu_count() or 1) < 2, reason="one core has no second process")
@pytest.mark.parametrize("already", ["nothing", "threads"])
@pytest.mark.parametrize("sent", [signal.SIGKILL, signal.SIGTERM, signal.SIGINT])
def test_it_ends_with_the_first_process(tmp_path, already, sent):
    script = tmp_path / "first.py"
    script.write_text(_FIRST)
    errors = tmp_path / "errors"
    with (
        errors.open("w") as stream,
        subprocess.Popen(
            [sys.executable, str(script), already],
            stdout=subprocess.PIPE,
            stderr=stream,
            text=True,
            start_new_session=True,
        ) as first,
    ):
        own, other = map(int, first.stdout.readline().split())
        assert own == first.pid
        assert _alive(other)
        # Ctrl-C goes to both, as a terminal sends it.
        (os.killpg if sent == signal.SIGINT else os.kill)(own, sent)
        rest = first.stdout.read()
        assert first.wait() == (130 if sent == signal.SIGINT else -sent)
    assert rest == ("answer 2\n" if sent == signal.SIGINT else "")
    for _ in range(1000):
        if not _alive(other):
            break
        time.sleep(0.01)
    assert not _alive(other)
    # Python's own tidier tells what it gave back for a process that could not.
    assert all("resource_tracker" in line for line in errors.read_text().splitlines()[::2])
    assert not errors.read_text() or (already == "threads" and sent != signal.SIGINT)
