"""Ten tabs that all change the file at once: no change is lost, and all see the same in the end."""

from __future__ import annotations

import json
import threading
import tomllib

from websockets.sync.client import connect

from tests.app.conftest import PATIENCE_MS

FIELDS = ["height", "length", "width", "headroom", "inlet_height", "exhaust_height", "weight"]
FIELDS += ["amps", "tank", "name"]
UNITS = {"weight": "lb", "amps": "A", "tank": "US gal", "name": "vacuum"}
CHANGES = 12


def test_ten_tabs_lose_nothing(own_server):
    origin = f"http://127.0.0.1:{own_server.port}"
    failed, seen = [], []
    all_changed = threading.Barrier(10)

    def show_all(socket) -> str:
        """What a tab shows of the last change when it is checked."""
        shown, revision, checking = {}, 0, True
        socket.send(json.dumps({"t": "go", "place": "air"}))
        while revision < 10 * CHANGES or checking or not shown:
            heard = json.loads(socket.recv(PATIENCE_MS / 1000))
            if heard["t"] == "parts" and heard["of"] == "air":
                for each in heard["places"]:
                    shown |= each["parts"] if each["place"] == "air" else {}
                revision, checking = heard["revision"], heard["checking"]
        return json.dumps(shown, sort_keys=True)

    def tab(number: int) -> None:
        name = FIELDS[number]
        try:
            with connect(
                f"ws://127.0.0.1:{own_server.port}/live",
                origin=origin,
                open_timeout=PATIENCE_MS / 1000,
                ping_timeout=None,
            ) as socket:
                socket.send(json.dumps({"t": "hello", "client": str(number), "place": "shop"}))
                for seq in range(1, CHANGES + 1):
                    new = f"{seq + 7} {UNITS.get(name, 'in')}"
                    edit = {"place": ["vacuum", name], "old": None, "new": new, "free": True}
                    message = {"t": "edit", "client": str(number), "seq": seq, "edits": [edit]}
                    # What is sent twice, as after a lost link, counts once.
                    for _ in range(2):
                        socket.send(json.dumps(message))
                    for _ in range(2):
                        while (heard := json.loads(socket.recv(PATIENCE_MS / 1000)))["t"] != "ack":
                            assert heard["t"] in ("parts", "state", "doing", "phone"), heard
                all_changed.wait(PATIENCE_MS / 1000)
                seen.append(show_all(socket))
        except Exception as error:
            all_changed.abort()
            failed.append(f"{name}: {error!r}")

    tabs = [threading.Thread(target=tab, args=(n,)) for n in range(10)]
    for each in tabs:
        each.start()
    for each in tabs:
        each.join()
    assert not failed
    assert len(seen) == 10
    assert len(set(seen)) == 1
    own_server.end()
    vacuum = tomllib.loads(own_server.file.read_text())["vacuum"]
    for name in FIELDS:
        assert vacuum[name] == f"{CHANGES + 7} {UNITS.get(name, 'in')}"
    (journal,) = own_server.state.rglob("journal.jsonl")
    kept = [json.loads(line) for line in journal.read_text().splitlines()]
    assert len(kept) == 10 * CHANGES
    assert len({(k["client"], k["sequence"]) for k in kept}) == 10 * CHANGES
