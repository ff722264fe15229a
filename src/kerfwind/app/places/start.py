"""The guided start: vacuum, bucket, tools; each a drawing whose dimension lines are the fields."""

from __future__ import annotations

import htpy as h

from ...facts import Term
from ...shop.filler import each_row
from ...shop.model import Bucket, Suction, Vacuum
from ..asking import Parts
from ..looking import Looking, part
from ..paths import coded, free_name
from ..trade_names import HOOD_OF, tool_name
from .measuring import bucket_drawing, is_box, vacuum_drawing
from .shop import the_form


def parts(look: Looking) -> Parts:
    """Three questions, each with what may be left out."""
    form, label = the_form(look), look.label
    ways = ("length", "width") if is_box(look) else ("diameter",)
    return [
        part("start-answer", h.p(".answer-line")[label("start.answer")]),
        part(
            "start-vacuum",
            h.h2["1  ", label("start.vacuum")],
            h.div(".measuring")[
                vacuum_drawing(look),
                h.div(".fields")[
                    form.only(
                        Vacuum, ("vacuum",), "name", "height", "length", "width", "tank", "amps"
                    ),
                    form.only(Suction, ("vacuum", "suction"), "sealed", "open_airflow"),
                ],
            ],
            h.p(".quiet")[label("start.unknown")],
        ),
        part(
            "start-bucket",
            h.h2["2  ", label("start.bucket")],
            h.div(".measuring")[
                bucket_drawing(look),
                h.div(".fields")[
                    form.only(
                        Bucket,
                        ("separator", "bucket"),
                        "volume",
                        "height",
                        *(f"{level}_{way}" for way in ways for level in ("top", "bottom", "rim")),
                    )
                ],
            ],
        ),
        part(
            "start-tools",
            h.h2["3  ", label("start.tools")],
            h.p(".quiet")[label("start.tools.how")],
            h.ul(".kinds")[
                (
                    h.li[
                        h.button(
                            type="button",
                            data_do="add",
                            data_place=coded(("tools",)),
                            data_new=_tool(free_name(tool_name(key, look.voice), look.given), hood),
                        )[
                            _first_large(tool_name(key, look.voice)),
                            h.small[look.voice.text(Term("hood", hood))],
                        ]
                    ]
                    for key, hood in HOOD_OF.items()
                )
            ],
            h.form(".named", data_tool_named="")[
                h.label[label("tool"), h.input("#new-tool", name="tool", autocomplete="off")],
                h.button(type="submit")[label("tool.add")],
            ],
            h.ul(".have")[
                (
                    h.li[h.strong[str(r.get("name", ""))], form.remove(("tools", n))]
                    for n, r in each_row(look.given, "tools")
                )
            ],
        ),
        part("start-done", h.a(".go", href="#air")[label("start.done")]),
        part(
            "start-other",
            h.h2[label("begin")],
            h.div(".buttons")[
                (
                    h.button(type="button", data_begin=what, data_sure=label("begin.sure"))[
                        label(f"begin.{what}")
                    ]
                    for what in ("nothing", "example")
                ),
                h.label(".bring")[
                    label("begin.file"), h.input("#bring", type="file", accept=".toml")
                ],
            ],
            h.p(".quiet")[label("begin.drop")],
        ),
    ]


def _tool(name: str, hood: str) -> str:
    import json

    return json.dumps({"name": name, "hood": hood}, ensure_ascii=False)


def _first_large(text: str) -> str:
    return text[:1].upper() + text[1:]
