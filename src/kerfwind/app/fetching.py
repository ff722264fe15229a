"""Files for the page and for the person: the cart's solids, the plan as PDF, all of it in a zip."""

from __future__ import annotations

import io
import json
import tempfile
import zipfile
from pathlib import Path

import numpy as np

from ..plan import Plan
from .asking import Fetch, Fetched

#: What takes seconds to set.
PRINTED = ("pages", "plan.pdf", "everything.zip")


def fetched(fetch: Fetch, plan: Plan | None) -> Fetched:
    """One file; without a plan there is none but the shop file itself."""
    if fetch.what == "shop.toml":
        content = fetch.text.encode("utf-8")
        return Fetched(fetch.number, content, "application/toml", "shop.toml")
    if plan is None:
        return Fetched(fetch.number, None)
    if fetch.what.endswith("-sheet.pdf"):
        from ..printed.sheets import measure_sheet_pdf, test_sheet_pdf

        own = fetch.what == "test-sheet.pdf"
        page = test_sheet_pdf(plan.shop) if own else measure_sheet_pdf(plan.shop.about.page)
        return Fetched(fetch.number, page, "application/pdf", fetch.what)
    if fetch.what == "pages":
        from ..printed.writing import plan_pages

        pages = json.dumps([page.decode("utf-8") for page in plan_pages(plan)])
        return Fetched(fetch.number, pages.encode("utf-8"), "application/json", "pages.json")
    if fetch.what == "scene":
        return Fetched(fetch.number, scene(plan), "application/json", "scene.json")
    with tempfile.TemporaryDirectory() as folder:
        from ..printed.writing import write_all

        out = Path(folder) / "plan"
        write_all(plan, out, machine_files=fetch.what == "everything.zip")
        if fetch.what == "plan.pdf":
            content = (out / "plan.pdf").read_bytes()
            return Fetched(fetch.number, content, "application/pdf", "plan.pdf")
        held = io.BytesIO()
        with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as package:
            for file in sorted(p for p in out.rglob("*") if p.is_file()):
                if not file.name.startswith("."):
                    package.write(file, file.relative_to(out).as_posix())
            package.writestr("shop.toml", fetch.text)
    return Fetched(fetch.number, held.getvalue(), "application/zip", "everything.zip")


def scene(plan: Plan) -> bytes:
    """The cart's bodies in millimetres, z up, with the step that each is added in."""
    cart = plan.cart
    if cart is None:
        return b'{"bodies":[]}'
    step_of = {name: step.number for step in cart.steps for name in step.new}
    marks = {each.name: each.key for each in cart.placed}
    bodies = []
    for body in cart.bodies:
        bodies.append(
            {
                "name": body.name,
                "kind": body.kind,
                "tone": round(body.tone, 3),
                "step": step_of.get(body.name, step_of.get(body.part_of, 0)),
                "part_of": body.part_of,
                "mark": marks.get(body.name, marks.get(body.part_of, "")),
                "points": np.round(body.vertices * 1e3, 2).ravel().tolist(),
                "faces": body.triangles.ravel().tolist(),
            }
        )
    return json.dumps({"bodies": bodies}, separators=(",", ":")).encode()
