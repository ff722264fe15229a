"""A run that edits a shop file is killed at random moments; what it acknowledged must be there.

    python -m tests.app.killed FILE STATE ROUNDS SEED

Each round is a process of its own that edits, undoes, redoes and saves until it is killed. The
same is done with a copy by a process that nobody kills, which says what ought to be there.
"""

import os
import random
import shutil
import signal
import sys
import time
from pathlib import Path

from kerfwind.app.document import Edit
from kerfwind.app.history import History
from kerfwind.shop.reading import parse_shop


def some_edit(chance, document):
    """A change that keeps the file one that can be planned."""
    tools = [tool["name"] for tool in document.data["tools"]]
    tool = chance.choice(tools)
    way = chance.choice(
        ["bends", "bends", "port", "title", "add", "drop", "rename", "move", "notes"]
    )
    if way == "bends":
        place = ("tools", tool, "bends")
        return Edit(place, document.value(place), chance.choice([None, 0, 1, 2, 3, 4]))
    if way == "port":
        place = ("tools", tool, "port")
        inside = {"inside": f"{chance.randint(30, 90)} mm", "length": "30 mm"}
        return Edit(place, document.value(place), chance.choice([None, inside]))
    if way == "add" or (way == "drop" and len(tools) < 3):
        name = f"tool {chance.randint(0, 10**9)}"
        new = {"name": name, "hood": "pad holes"}
        return Edit(("tools", name), None, new, chance.randint(0, len(tools)))
    if way == "drop":
        return Edit(("tools", tool), document.value(("tools", tool)), None)
    if way == "rename":
        return Edit(("tools", tool, "name"), tool, f"tool {chance.randint(0, 10**9)}")
    if way == "move":
        return Edit(("tools", tool), {}, {}, chance.randint(0, len(tools) - 1))
    place = ("about", "name") if way == "title" else ("room", "notes")
    place = ("about", "author") if way == "notes" else place
    return Edit(place, document.value(place), f"shop {chance.randint(0, 99)}")


def step(chance, history, client, number):
    """One thing that a person does."""
    way = chance.random()
    if way < 0.15:
        return history.undo(client, number)
    if way < 0.22:
        return history.redo(client, number)
    return history.take(client, number, [some_edit(chance, history.document)])


def be_killed(file, state, seed, said):
    """Edit until the end, and tell what was acknowledged."""
    history = History(file, state)
    chance, saving = random.Random(seed), random.Random(seed)
    os.write(said, b"\0")
    number = 0
    while True:
        number += 1
        step(chance, history, f"client {seed}", number)
        os.write(said, b".")
        if saving.random() < 0.3:
            history.save()


def one_round(file, state, mirror, seed, patience):
    hearing, said = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            be_killed(file, state, seed, said)
        except BaseException as error:
            print(repr(error), file=sys.stderr)
        finally:
            os._exit(1)
    os.close(said)
    begun = b"" if patience < 0.02 else os.read(hearing, 1)
    time.sleep(patience)
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status), "it ended by itself"
    with os.fdopen(hearing, "rb") as pipe:
        acknowledged = (begun + pipe.read()).count(b".")
    parse_shop(file.read_text(encoding="utf-8"))
    chance = random.Random(seed)
    last = None
    for number in range(1, acknowledged + 1):
        last = step(chance, mirror, f"client {seed}", number)
    with History(file, state) as history:
        if history.text != mirror.text:
            # One more may have been kept before it could be told.
            step(chance, mirror, f"client {seed}", acknowledged + 1)
        assert history.text == mirror.text, f"{acknowledged} acknowledged in round {seed}"
        if last is not None:
            # What is sent again is acknowledged again, and not made twice.
            assert history.take(f"client {seed}", acknowledged, []).again
            assert history.text == mirror.text
        if chance.random() < 0.5:
            history.save()
            assert file.read_text(encoding="utf-8") == history.text
    return acknowledged


def main(file, state, rounds, seed):
    copy = file.with_name("copy.toml")
    shutil.copy(file, copy)
    told = 0
    chance = random.Random(seed)
    with History(copy, state.with_name("mirror")) as mirror:
        for number in range(rounds):
            told += one_round(file, state, mirror, seed * 10_000 + number, chance.uniform(0, 0.12))
    print(told)


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]), int(sys.argv[3]), int(sys.argv[4]))
