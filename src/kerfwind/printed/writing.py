"""Writing a plan to a folder."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Callable, Sequence
from importlib.resources import files
from pathlib import Path

from ..aside import handed
from ..cart import Cart, CartPanel
from ..hookup.reducer import Reducer
from ..plan import Plan, plan_record
from ..shop.writing import write_text
from .content import content
from .figures import Figures, draw_all
from .tables import air_csv, cuts_csv, panels_csv, shopping_csv, solids_csv
from .templates import templates_pdf
from .typeface import font_folder, wants_system


def write_all(
    plan: Plan,
    folder: Path,
    tell: Callable[[str], None] = lambda text: None,
    *,
    machine_files: bool = False,
    cart: Callable[[], Figures] | None = None,
    meanwhile: Callable[[list[Path]], None] = lambda written: None,
) -> list[Path]:
    """Write PDF, drawings, templates, tables and JSON; the paths written, PDF first.

    Drawings of an earlier plan in the same folder are replaced, and its files for machines
    taken away, since they no longer fit; other files are left alone.

    Parameters
    ----------
    machine_files
        Each panel as DXF, STL and 3MF, and the whole cart as GLB, as well.
    cart
        Gives the cart's own drawings, where they were begun before.
    meanwhile
        Called with the paths when all is written but the PDF, whose pages are being set on
        another core.
    """
    drawings = folder / "drawings"
    drawings.mkdir(parents=True, exist_ok=True)
    tell("drawing")
    figures = draw_all(plan, cart)
    tell("setting the pages")
    pages = handed(typeset, "plan.typ", content(plan, figures), figures.files, fork=False)
    written = [folder / "plan.pdf"]
    for old in drawings.glob("*.svg"):
        old.unlink()
    for name, text in figures.files.items():
        write_text(drawings / name, text)
        written.append(drawings / name)
    written += _write_templates(plan, folder)
    tables = {
        "panels.csv": panels_csv(plan),
        "cuts.csv": cuts_csv(plan),
        "shopping.csv": shopping_csv(plan),
        "air.csv": air_csv(plan),
        "plan.json": json.dumps(plan_record(plan), ensure_ascii=False) + "\n",
    }
    for name, text in tables.items():
        write_text(folder / name, text)
        written.append(folder / name)
    clear_machine_files(folder)
    if machine_files:
        tell("writing files for machines")
        if plan.cart is not None:
            written += write_machine_files(plan.cart, folder, plan.panels)
        written += _write_printed_parts(plan.hookups.printed, folder / "printed-parts")
    try:
        meanwhile(written)
    finally:
        # A reader who has seen enough must not cost the person the pages.
        write_bytes(written[0], pages())
    return written


def _write_printed_parts(reducers: Sequence[Reducer], folder: Path) -> list[Path]:
    """Each reducer as STL and 3MF, and its test rings as STL."""
    from ..hookup.mesh import solid, stl, three_mf
    from ..hookup.rings import test_rings

    written = []
    for number, reducer in enumerate(reducers, start=1):
        folder.mkdir(exist_ok=True)
        body = solid(reducer)
        files = {f"reducer-{number}.stl": stl(body), f"reducer-{number}.3mf": three_mf(body)}
        for ring in test_rings(reducer):
            end = "over" if ring.over else "into"
            size = f"{abs(1000 * ring.step_m):.1f}mm-{'wider' if ring.step_m > 0 else 'narrower'}"
            step = size if ring.step_m else "as-designed"
            files[f"reducer-{number}-ring-{end}-{ring.mates}-{step}.stl".replace(" ", "-")] = stl(
                solid(ring)
            )
        for name, data in files.items():
            write_bytes(folder / name, data)
            written.append(folder / name)
    return written


def _write_templates(plan: Plan, folder: Path) -> list[Path]:
    path = folder / "templates.pdf"
    templates = templates_pdf(plan)
    if templates is None:
        path.unlink(missing_ok=True)
        return []
    write_bytes(path, templates)
    return [path]


def clear_machine_files(folder: Path) -> None:
    """Take away the files for machines of an earlier plan."""
    for pattern in (
        "panels/*.dxf", "solids/*.stl", "solids/*.3mf", "solids/panels.csv", "solids/cart.glb",
        "printed-parts/*.*",
    ):  # fmt: skip
        for old in folder.glob(pattern):
            old.unlink()


def write_machine_files(
    cart: Cart, folder: Path, every: Sequence[CartPanel] | None = None
) -> list[Path]:
    """Write each panel as DXF, STL and 3MF, what they weigh, and the cart as GLB; the paths written.

    ``every`` are the panels to write, by default the cart's own.
    """
    from ..drawing.panel_dxf import panel_dxf
    from ..drawing.solid_files import cart_glb, panel_3mf, panel_stl

    panels, solids = folder / "panels", folder / "solids"
    panels.mkdir(parents=True, exist_ok=True)
    solids.mkdir(parents=True, exist_ok=True)
    written = []
    every = cart.panels if every is None else every
    for panel in every:
        stem = f"{panel.key}-{panel.name}".lower().replace(" ", "-")
        write_text(panels / f"{stem}.dxf", panel_dxf(panel))
        write_bytes(solids / f"{stem}.stl", panel_stl(panel))
        write_bytes(solids / f"{stem}.3mf", panel_3mf(panel))
        written += [panels / f"{stem}.dxf", solids / f"{stem}.stl", solids / f"{stem}.3mf"]
    write_text(solids / "panels.csv", solids_csv(every))
    write_bytes(solids / "cart.glb", cart_glb(cart))
    return [*written, solids / "panels.csv", solids / "cart.glb"]


def write_bytes(path: Path, data: bytes) -> None:
    """Write a whole file, or leave the old one."""
    temporary = path.with_name(f".{path.name}.new")
    try:
        temporary.write_bytes(data)
        temporary.replace(path)
    finally:
        temporary.unlink(missing_ok=True)


def typeset(template: str, data: object, drawings: dict[str, str]) -> bytes:
    """PDF bytes of one of the templates beside this module with its data and drawings.

    The same data and drawings give the same bytes, where the bundled typefaces have all their
    characters.
    """
    import typst

    here = files("kerfwind.printed")
    told = json.dumps(data, ensure_ascii=False)
    with tempfile.TemporaryDirectory(prefix="kerfwind-") as name:
        work = Path(name)
        for part in (template, "common.typ"):
            (work / part).write_bytes((here / part).read_bytes())
        (work / "data.json").write_text(told, encoding="utf-8")
        for file, text in drawings.items():
            (work / file).write_text(text, encoding="utf-8")
        result = typst.compile(
            str(work / template), root=name, font_paths=[font_folder()],
            ignore_system_fonts=not wants_system("".join([told, *drawings.values()])),
        )  # fmt: skip
    return bytes(result)
