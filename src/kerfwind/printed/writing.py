"""Writing a plan to a folder."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

from ..aside import handed
from ..cart import Cart, CartPanel
from ..hookup.reducer import Reducer
from ..plan import Plan, plan_record
from ..result_folder import write_folder
from .content import content
from .figures import Figures, draw_all
from .tables import air_csv, cuts_csv, panels_csv, shopping_csv, solids_csv
from .templates import templates_pdf
from .typeface import font_folder, wants_system


@dataclass(frozen=True)
class Written:
    """The paths written, PDF first, and sentences about a person's files that were renamed."""

    paths: list[Path]
    kept: list[str]


def write_all(
    plan: Plan,
    folder: str | Path,
    tell: Callable[[str], None] = lambda text: None,
    *,
    machine_files: bool = False,
    cart: Callable[[], Figures] | None = None,
    meanwhile: Callable[[list[Path]], None] = lambda written: None,
) -> Written:
    """Write PDF, drawings, templates, tables and JSON.

    All that an earlier plan wrote in the same folder goes, since it no longer fits; a person's
    own files stay. Where not all can be written, the folder stays as it was.

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
    tell("drawing")
    figures = draw_all(plan, cart)
    tell("setting the pages")
    pages = handed(typeset, "plan.typ", content(plan, figures), figures.files, fork=False)
    files: dict[str, str | bytes] = {f"drawings/{n}": text for n, text in figures.files.items()}
    templates = templates_pdf(plan)
    if templates is not None:
        files["templates.pdf"] = templates
    files |= {
        "panels.csv": panels_csv(plan),
        "cuts.csv": cuts_csv(plan),
        "shopping.csv": shopping_csv(plan),
        "air.csv": air_csv(plan),
        "plan.json": json.dumps(plan_record(plan), ensure_ascii=False) + "\n",
    }
    if machine_files:
        tell("writing files for machines")
        if plan.cart is not None:
            files |= machine_files_of(plan.cart, plan.panels)
        files |= _printed_parts(plan.hookups.printed)
    written = [Path(folder) / name for name in ("plan.pdf", *files)]
    gone: OSError | None = None
    try:
        meanwhile(written)
    except OSError as error:
        # A reader who has seen enough must not cost the person the pages.
        gone = error
    files["plan.pdf"] = pages()
    kept = write_folder(folder, files, "plan")
    if gone is not None:
        raise gone
    return Written(written, kept)


def _printed_parts(reducers: Sequence[Reducer]) -> dict[str, bytes]:
    """Each reducer as STL and 3MF, and its test rings as STL."""
    from ..hookup.mesh import solid, stl, three_mf
    from ..hookup.rings import test_rings

    files: dict[str, bytes] = {}
    for number, reducer in enumerate(reducers, start=1):
        stem = f"printed-parts/reducer-{number}"
        body = solid(reducer)
        files |= {f"{stem}.stl": stl(body), f"{stem}.3mf": three_mf(body)}
        for ring in test_rings(reducer):
            end = "over" if ring.over else "into"
            size = f"{abs(1000 * ring.step_m):.1f}mm-{'wider' if ring.step_m > 0 else 'narrower'}"
            step = size if ring.step_m else "as-designed"
            name = f"{stem}-ring-{end}-{ring.mates}-{step}.stl".replace(" ", "-")
            files[name] = stl(solid(ring))
    return files


def machine_files_of(
    cart: Cart, every: Sequence[CartPanel] | None = None
) -> dict[str, str | bytes]:
    """By name: each panel as DXF, STL and 3MF, what they weigh, and the cart as GLB.

    ``every`` are the panels, by default the cart's own.
    """
    from ..drawing.panel_dxf import panel_dxf
    from ..drawing.solid_files import cart_glb, panel_3mf, panel_stl

    files: dict[str, str | bytes] = {}
    every = cart.panels if every is None else every
    for panel in every:
        stem = f"{panel.key}-{panel.name}".lower().replace(" ", "-")
        files[f"panels/{stem}.dxf"] = panel_dxf(panel)
        files[f"solids/{stem}.stl"] = panel_stl(panel)
        files[f"solids/{stem}.3mf"] = panel_3mf(panel)
    files["solids/panels.csv"] = solids_csv(every)
    files["solids/cart.glb"] = cart_glb(cart)
    return files


def typeset(template: str, data: object, drawings: dict[str, str]) -> bytes:
    """PDF bytes of one of the templates beside this module with its data and drawings.

    The same data and drawings give the same bytes, where the bundled typefaces have all their
    characters.
    """
    import typst

    here = files("kerfwind.printed")
    told = json.dumps(data, ensure_ascii=False)
    # All in memory: a run that is killed leaves nothing on the disk.
    parts = {file: text.encode("utf-8") for file, text in drawings.items()}
    parts |= {"main": (here / template).read_bytes(), "data.json": told.encode("utf-8")}
    parts["common.typ"] = (here / "common.typ").read_bytes()
    return bytes(
        # Its types leave out files in memory.
        typst.compile(  # type: ignore[call-overload]
            parts,
            font_paths=[font_folder()],
            ignore_system_fonts=not wants_system("".join([told, *drawings.values()])),
        )
    )
