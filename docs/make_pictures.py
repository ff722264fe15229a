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
            browser = play.chromium.launch(
                executable_path=shutil.which("chromium"), args=["--no-sandbox"]
            )
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
    with tempfile.TemporaryDirectory() as folder:
        work = Path(folder)
        example = HERE.parent / "examples" / "garage.toml"
        command = [sys.executable, "-m", "kerfwind", "plan", str(example), "--out", str(work)]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
        for name, width in SHOWN.items():
            page = work / "page.typ"
            page.write_text(
                f"#set page(width: {width}, height: auto, margin: 2mm)\n"
                f'#image("drawings/{name}", width: 100%)\n'
            )
            target = HERE / "pictures" / f"{Path(name).stem}.png"
            typst.compile(
                str(page), output=str(target), format="png", ppi=150, font_paths=[str(FONTS)]
            )
            print(target)


if __name__ == "__main__":
    main()
