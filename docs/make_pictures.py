"""Renders the README's pictures from the example shop: `make pictures`."""

from __future__ import annotations

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


def main() -> None:
    """Draw the example and keep the pictures that the README shows."""
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
