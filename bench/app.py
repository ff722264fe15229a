"""The page and its plans after an edit: processor time of plans, and a browser's own clock."""

from __future__ import annotations

import json
import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from bench.calibration import workload
from bench.edits import KINDS, Kind
from kerfwind.app.document import Document, Edit
from kerfwind.plan import make_plan
from kerfwind.shop import ShopReader
from kerfwind.stages import Stages

EXAMPLE = Path(__file__).parents[1] / "examples" / "garage.toml"
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "msedge")
_FLAGS = ("--no-sandbox", "--disable-background-networking", "--use-gl=angle")
_FLAGS += ("--use-angle=swiftshader", "--enable-unsafe-swiftshader")
#: The place that is open: the one with every field.
_PLACE = "shop"
#: Edits of the test of memory.
_MANY = 1000
#: Edits before memory is counted: caches fill, and allocators settle.
_SETTLED = 150


def rows(full: bool, cal_seconds: float) -> list[dict[str, Any]]:
    """Plans again after each kind of edit; the page's redraws; with ``full`` memory too."""
    found = [*_plans()]
    if _browser() is None:
        print(
            "No Chromium was found, so the page is not timed (on Debian: apt-get install chromium)."
        )
    else:
        found += _page()
    if full:
        found.append(_row("app.memory_1000", _memory(), "at most 20 MB more over 1000 edits", "MB"))
    return found


def _row(name: str, value: float, reference: str, unit: str = "cal") -> dict[str, Any]:
    return {"name": name, "value": round(value, 4), "unit": unit, "reference": reference}


def _cpu(call: Callable[[], Any]) -> float:
    start = time.process_time()
    call()
    return time.process_time() - start


def _plans() -> Iterator[dict[str, Any]]:
    """Processor time of a whole plan after an edit, over that of the workload beside it."""
    text = EXAMPLE.read_text(encoding="utf-8")
    ratios = []
    for kind in KINDS:
        stages, reader = Stages(), ShopReader()
        make_plan(reader.read(text), stages=stages)
        changed = kind.of(text)
        cal = _cpu(workload)

        def again(
            changed: str = changed, reader: ShopReader = reader, stages: Stages = stages
        ) -> None:
            file = reader.read(changed)
            make_plan(file, stages=stages, first=True)
            make_plan(file, stages=stages)

        ratios.append(_cpu(again) / cal)
    what = "a plan again after each of the 22 kinds of edit, processor time in one process"
    yield _row("plan.warm_median", statistics.median(ratios), f"{what}; at most 0.2")
    yield _row("plan.warm_max", max(ratios), "the slowest of them; at most 0.6")


#: Makes an edit as a button of the page does, and tells when the first and the whole answer were on screen [ms].
_TIMED = """
(edit) => new Promise((done) => {
  const start = performance.now(), at = { first: null };
  const drawn = (then) => requestAnimationFrame(() => requestAnimationFrame(then));
  const seen = new MutationObserver(() => {
    const { revision, checking } = document.body.dataset;
    if (revision === before) return;
    if (at.first === null) {
      at.first = 0;
      drawn(() => { at.first = performance.now() - start; finish(); });
    }
    if (checking === "no" && at.whole === undefined) {
      at.whole = null;
      drawn(() => { at.whole = performance.now() - start; finish(); });
    }
  });
  const finish = () => { if (at.first && at.whole) { seen.disconnect(); done(at); } };
  const before = document.body.dataset.revision;
  seen.observe(document.body, { attributes: true, attributeFilter: ["data-revision", "data-checking"] });
  const button = document.createElement("button");
  const { place, old, new: fresh } = edit;
  Object.assign(button.dataset, { do: "set", place: JSON.stringify(place) });
  Object.assign(button.dataset, { old: JSON.stringify(old), new: JSON.stringify(fresh) });
  document.body.append(button);
  button.click();
  button.remove();
})
"""


def _page() -> Iterator[dict[str, Any]]:
    """Seconds until the answer to an edit was drawn in a browser, over the workload's beside it."""
    first, whole, empty, paint = [], [], [], []
    text = EXAMPLE.read_text(encoding="utf-8")
    edits = [(kind.name, *_both(kind, text)) for kind in KINDS if kind.place]
    with _opened(text) as (page, address):
        for _ in range(3):
            cal = _wall(workload)
            start = time.perf_counter()
            page.goto("about:blank")
            page.goto(f"{address}#{_PLACE}")
            page.wait_for_selector(f"main[data-shown={_PLACE}] section")
            paint.append((time.perf_counter() - start) / cal)
        _settled(page)
        for _, there, back in edits:
            cal = _wall(workload)
            took = page.evaluate(_TIMED, there)
            first.append(took["first"] / 1000 / cal)
            whole.append(took["whole"] / 1000 / cal)
            page.evaluate(_TIMED, back)
        for number in range(10):
            cal = _wall(workload)
            was = "A. Maker" if number == 0 else f"Maker {number - 1}"
            edit = {"place": ["about", "author"], "old": was, "new": f"Maker {number}"}
            took = page.evaluate(_TIMED, edit)
            empty.append(took["first"] / 1000 / cal)
    yield _row("app.redraw_median", statistics.median(first), "first answer; at most 0.15")
    yield _row("app.redraw_p95", _p95(first), "first answer; at most 0.4")
    yield _row("app.redraw_whole_p95", _p95(whole), "the whole answer; at most 0.8")
    yield _row("app.empty_edit", statistics.median(empty), "nothing is read; at most 0.08")
    yield _row("app.first_paint", statistics.median(paint), "a page opened; at most 0.5")


def _both(kind: Kind, text: str) -> tuple[dict[str, Any], dict[str, Any]]:
    """An edit as the page sends it, and the one that takes it back."""
    document = Document(text)
    old = document.value(kind.place)
    moved = kind.place
    if moved[-1] == "name" and len(moved) == 3:
        moved = (moved[0], kind.new, "name")

    def edit(place: tuple[str | int, ...], before: Any, after: Any) -> dict[str, Any]:
        return {"place": list(place), "old": before, "new": after}

    return edit(kind.place, old, kind.new), edit(moved, kind.new, old)


def _p95(values: list[float]) -> float:
    return sorted(values)[max(0, round(0.95 * len(values)) - 1)]


def _wall(call: Callable[[], Any]) -> float:
    start = time.perf_counter()
    call()
    return time.perf_counter() - start


def _settled(page: Any) -> None:
    page.wait_for_selector("body[data-checking=no] main[data-shown] section")


def _browser() -> str | None:
    return next((p for name in BROWSERS if (p := shutil.which(name))), None)


@contextmanager
def _opened(text: str) -> Iterator[tuple[Any, str]]:
    """The page of a shop file in a browser."""
    from playwright.sync_api import sync_playwright

    browser_path = _browser()
    assert browser_path is not None
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "shop.toml"
        file.write_text(text, encoding="utf-8")
        server = subprocess.Popen(
            [sys.executable, "-m", "kerfwind", "open", "--no-browser", str(file)],
            env={**os.environ, "XDG_STATE_HOME": folder, "PYTHONUNBUFFERED": "1"},
            stdout=subprocess.PIPE,
            text=True,
        )
        try:
            assert server.stdout is not None
            said = ""
            while "http://" not in said:
                line = server.stdout.readline()
                assert line, said
                said += line
            found = re.search(r"http://\S+", said)
            assert found is not None
            with sync_playwright() as play:
                browser = play.chromium.launch(executable_path=browser_path, args=list(_FLAGS))
                page = browser.new_page()
                page.set_default_timeout(180_000)
                page.goto(f"{found[0]}#{_PLACE}")
                _settled(page)
                yield page, found[0]
                browser.close()
        finally:
            server.terminate()
            server.wait(20)


_GROWING = """
import json, resource, sys
from kerfwind.app.document import Document, Edit
from kerfwind.app.engine import Ask
from kerfwind.app.planner import Planner
text, edits, settled = json.load(sys.stdin)

def held():
    with open("/proc/self/statm") as file:
        return int(file.read().split()[1]) * resource.getpagesize() / 1e6

planner = Planner()
for number, each in enumerate(edits):
    for _ in planner.show(Ask(number, number, ("air",), each, "shop.toml"), lambda: None):
        pass
    if number == settled:
        before = held()
print(held() - before)
"""


def _memory() -> float:
    """Megabytes that the engine holds more after a thousand edits, renames letter by letter among them."""
    text = EXAMPLE.read_text(encoding="utf-8")
    document = Document(text)
    texts = []
    name = "jigsaw"
    for number in range(_MANY):
        kind = KINDS[number % len(KINDS)]
        if number % 2:
            # With every letter that is typed it has a new name.
            new = f"saw {number}"
            document.apply(Edit(("tools", name, "name"), name, new))
            name = new
            texts.append(document.text)
        else:
            texts.append(kind.of(document.text))
    run = subprocess.run(
        [sys.executable, "-c", _GROWING],
        input=json.dumps([text, texts, _SETTLED]),
        capture_output=True,
        text=True,
        check=True,
    )
    return float(run.stdout)
