"""Renders the README's pictures from the example shop: `make pictures`."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import typst

from kerfwind.plan import make_plan
from kerfwind.printed.figures import draw_all
from kerfwind.shop import read_shop

HERE = Path(__file__).parent
FONTS = HERE.parent / "src" / "kerfwind" / "drawing" / "fonts"
SHOWN = {
    "unit.svg": "70mm",
    "three-sides.svg": "120mm",
    "sheet-1.svg": "150mm",
    "suction.svg": "150mm",
    "hookup-1.svg": "150mm",
    "step-6.svg": "60mm",
    "session-1-air.svg": "150mm",
    "session-1-flow.svg": "150mm",
}
#: Places of the page, and how wide and high they are shown.
PAGES = {"air": (1280, 860), "shop": (1280, 860), "bench": (390, 844)}
NAMES = {"bench": "page-phone"}


def pages() -> None:
    """Take pictures of the page with the example in it."""
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "garage.toml"
        shutil.copy(HERE.parent / "examples" / "garage.toml", file)
        with (
            subprocess.Popen(
                [sys.executable, "-m", "kerfwind", "open", str(file), "--no-browser"],
                env={**os.environ, "XDG_STATE_HOME": folder, "PYTHONUNBUFFERED": "1"},
                stdout=subprocess.PIPE,
                text=True,
            ) as server,
            sync_playwright() as play,
        ):
            assert server.stdout is not None
            address = re.findall(r"http://\S+", server.stdout.readline())[0]
            browser = play.chromium.launch(executable_path=shutil.which("chromium"))
            for place, (width, height) in PAGES.items():
                page = browser.new_page(viewport={"width": width, "height": height})
                page.goto(f"{address}#{place}")
                page.wait_for_selector(
                    f"body[data-checking=no] main[data-shown={place}] section", timeout=120_000
                )
                if place == "bench":
                    for _ in range(10):
                        page.click(".screen:not([hidden]) .tick")
                        page.click(".screen:not([hidden]) [data-turn='1']")
                    page.wait_for_selector(".answer-line[data-done='10']", timeout=120_000)
                target = HERE / "pictures" / f"{NAMES.get(place, f'page-{place}')}.png"
                page.screenshot(path=target)
                print(target)
            browser.close()
            server.terminate()


def main() -> None:
    """Draw the example and keep the pictures that the README shows."""
    pages()
    figures = draw_all(make_plan(read_shop(HERE.parent / "examples" / "garage.toml")))
    for name, width in SHOWN.items():
        with tempfile.TemporaryDirectory() as folder:
            work = Path(folder)
            (work / name).write_text(figures.files[name], encoding="utf-8")
            page = work / "page.typ"
            page.write_text(
                f'#set page(width: {width}, height: auto, margin: 2mm)\n#image("{name}", width: 100%)\n'
            )
            target = HERE / "pictures" / f"{Path(name).stem}.png"
            typst.compile(
                str(page), output=str(target), format="png", ppi=150, font_paths=[str(FONTS)]
            )
            print(target)


if __name__ == "__main__":
    main()
