"""Writing a plan to a folder."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from ..cart import Cart
from ..facts import Statement, state
from ..filenames import FileNames
from ..hookup.reducer import Reducer
from ..joinery import CutPanel
from ..plaintext import json_text
from ..plan import OnStage, Plan, plan_record
from ..result_folder import write_folder
from ..second_process import run_beside
from ..view.findings import voice_of
from ..words import Voice
from .cart_figures import begin_cart
from .content import content
from .figure_files import Figures
from .figures import draw_beside_cart
from .tables import air_csv, cuts_csv, panels_csv, shopping_csv, solids_csv
from .templates import templates_content
from .typesetting import as_told, pages_as_svg, set_pages, typeset


@dataclass(frozen=True)
class Written:
    """The paths written, PDF first, and sentences about a person's files that were renamed."""

    paths: list[Path]
    kept: list[Statement]


def write_all(
    plan: Plan,
    folder: str | Path,
    on_stage: OnStage = lambda stage: None,
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
    on_stage(state("plan.stage.drawing"))
    if cart is None and plan.build is not None:
        cart = begin_cart(plan.shop, plan.build, voice_of(plan))
    figures = draw_beside_cart(plan)
    on_stage(state("plan.stage.pages"))
    told = as_told(content(plan, figures, cart))
    pages = run_beside(set_pages, "plan.typ", told, figures.files)
    files: dict[str, str | bytes] = {f"drawings/{n}": text for n, text in figures.files.items()}
    templates = templates_pdf(plan)
    if templates is not None:
        files["templates.pdf"] = templates
    files |= {
        "panels.csv": panels_csv(plan),
        "cuts.csv": cuts_csv(plan),
        "shopping.csv": shopping_csv(plan),
        "air.csv": air_csv(plan),
        "plan.json": json_text(plan_record(plan)) + "\n",
    }
    if machine_files:
        on_stage(state("plan.stage.files"))
        if plan.cart is not None:
            files |= machine_files_of(plan.cart, plan.panels, voice_of(plan))
        files |= _printed_parts(plan.hookups.printed, voice_of(plan))
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


def _printed_parts(reducers: Sequence[Reducer], voice: Voice) -> dict[str, bytes]:
    """Each reducer as STL and 3MF, and its test rings as STL."""
    from ..hookup.mesh import solid
    from ..hookup.rings import test_rings
    from ..mesh_files import stl, three_mf

    files: dict[str, bytes] = {}
    names = FileNames()
    for number, reducer in enumerate(reducers, start=1):
        stem = f"reducer-{number}"
        body = solid(reducer, voice.text(reducer.called))
        files[f"printed-parts/{stem}.stl"] = stl(body)
        files[f"printed-parts/{stem}.3mf"] = three_mf(body)
        for ring in test_rings(reducer):
            end = "over" if ring.over else "into"
            size = f"{abs(1000 * ring.step_m):.1f}mm-{'wider' if ring.step_m > 0 else 'narrower'}"
            step = size if ring.step_m else "as-designed"
            name = names.stem(
                "-".join(voice.text(ring.mates).split()),
                before=f"{stem}-ring-{end}-",
                after=f"-{step}",
                suffix=".stl",
            )
            files[f"printed-parts/{name}.stl"] = stl(solid(ring, voice.text(ring.called)))
    return files


def machine_files_of(cart: Cart, every: Sequence[CutPanel], voice: Voice) -> dict[str, str | bytes]:
    """By name: each panel as DXF, STL and 3MF, what they weigh, and the cart as GLB.

    ``every`` are the panels, those of plates and boxes among them.
    """
    from ..drawing.panel_dxf import panel_dxf
    from ..drawing.solid_files import cart_glb, panel_3mf, panel_stl

    files: dict[str, str | bytes] = {}
    names = FileNames()
    for panel in every:
        stem = names.stem(
            "-".join(panel.name.lower().split()), before=f"{panel.key.lower()}-", suffix=".dxf"
        )
        files[f"panels/{stem}.dxf"] = panel_dxf(panel)
        files[f"solids/{stem}.stl"] = panel_stl(panel)
        files[f"solids/{stem}.3mf"] = panel_3mf(panel)
    files["solids/panels.csv"] = solids_csv(every, voice)
    files["solids/cart.glb"] = cart_glb(cart)
    return files


def templates_pdf(plan: Plan) -> bytes | None:
    """The templates as PDF bytes at true size; None where there is nothing to cut out."""
    found = templates_content(plan)
    return None if found is None else typeset("templates.typ", *found)


def plan_pages(plan: Plan) -> list[bytes]:
    """Each page of the plan as it prints, as SVG."""
    cart = None
    if plan.build is not None:
        cart = begin_cart(plan.shop, plan.build, voice_of(plan))
    figures = draw_beside_cart(plan)
    return pages_as_svg("plan.typ", as_told(content(plan, figures, cart)), figures.files)
