"""The cart: turned about, pulled apart, built step by step."""

from __future__ import annotations

import htpy as h

from ...drawing import Paper
from ...plan import Plan
from ...view.cart import (
    StepRow,
    cart_intro,
    hardware_rows,
    panel_rows,
    range_rows,
    step_rows,
    work_text,
)
from ...view.cart_figures import cover_figure, exploded_figure, plainer, step_figures
from ...view.figures import hose_step_figures
from ...view.summary import summary_rows
from ..asking import Parts
from ..looking import Looking, laid, on_paper, part, table
from .about import asked

#: A step's picture, its letters large enough to be read at the bench.
_STEP = Paper(112.0, 84.0)


def parts(look: Looking) -> Parts:
    """The answer, the model, panels, steps, what else it carries."""
    plan, voice = look.plan, look.voice
    if plan is None or plan.build is None or plan.cart is None or plan.work is None:
        return [
            part("cart-answer", h.p(".answer-line")[look.label("cart.none")]),
            asked(look, "cart", ("cart", "cutting")),
        ]
    cart, build = plan.cart, plan.build
    panel_heads = [
        voice.word(f"page.column.{c}")
        for c in ("mark", "panel", "number", "length", "width", "thick", "grain")
    ]
    steps = step_rows(cart, plan.steps, voice)
    found = [
        part(
            "cart-answer",
            h.p(".answer-line")[cart_intro(plan.shop, cart, (), voice)],
            h.dl(".summary")[((h.dt[a], h.dd[b]) for a, b in summary_rows(plan, voice))],
        ),
        part(
            "cart-model",
            h.div(
                "#model.model",
                data_scene=look.stages.digest_of(cart),
                data_steps=str(len(steps)),
                role="img",
                aria_label=look.label("model"),
            )[
                h.div(".model-flat")[
                    look.drawn("cover", lambda: cover_figure(plainer(cart.bodies), voice), cart),
                    look.drawn(
                        "exploded", lambda: exploded_figure(cart, plainer(cart.bodies), voice), cart
                    )
                    if look.settled
                    else None,
                ],
            ],
            h.div(".model-tools")[
                h.label[
                    look.label("model.apart"),
                    h.input("#apart", type="range", min="0", max="100", value="0"),
                ],
                h.label[
                    look.label("model.step"),
                    h.input(
                        "#step", type="range", min="0", max=str(len(steps)), value=str(len(steps))
                    ),
                    h.output("#step-shown"),
                ],
            ],
        ),
        part(
            "cart-panels",
            h.h2[voice.word("page.panels")],
            table(
                panel_heads,
                [
                    (
                        h.button(".mark", type="button", data_panel=p.name, data_marks=p.mark)[
                            p.mark
                        ],
                        p.name,
                        p.count,
                        p.length,
                        p.width,
                        p.thickness,
                        p.grain,
                    )
                    for p in panel_rows(plan, voice)
                ],
                numbers=(2, 3, 4, 5),
            ),
        ),
    ]
    pictures = step_pictures(look, plan) if look.settled else {}
    found.append(
        part(
            "cart-steps",
            h.h2[voice.word("page.steps")],
            h.ol(".steps")[
                (
                    h.li(value=str(s.number), id=f"step-{s.number}")[
                        h.h3[s.title], on_paper(pictures.get(s.number, "")), step_text(s)
                    ]
                    for s in steps
                )
            ],
        )
    )
    found.append(
        part(
            "cart-hardware",
            h.h2[voice.word("page.hardware")],
            table(
                [voice.word(f"page.column.{c}") for c in ("number", "what", "where")],
                [(r.count, r.what, r.where) for r in hardware_rows(build, voice)],
                numbers=(0,),
            ),
        )
    )
    work = work_text(plan.work, voice)
    found.append(
        part(
            "cart-work",
            h.h2[voice.word("page.finish")],
            h.p[work.text],
            table(
                [voice.word(f"page.column.{c}") for c in ("work", "hours")],
                [(t.name, t.hours) for t in work.tasks],
                numbers=(1,),
            ),
        )
    )
    if plan.fits is not None:
        found.append(
            part(
                "cart-carries",
                h.h2[voice.word("page.carries")],
                h.dl(".summary")[
                    ((h.dt[r.what], h.dd[r.span]) for r in range_rows(plan.fits, voice))
                ],
            )
        )
    found.append(asked(look, "cart", ("cart",)))
    return found


def step_text(row: StepRow) -> h.Node:
    """What to do in a step, where its parts go, what it takes, what to mind."""
    return [
        h.p(".how")[row.text],
        h.ul(".places")[(h.li[p] for p in row.places)] if row.places else None,
        h.ul(".takes")[(h.li[p] for p in row.parts)] if row.parts else None,
        (h.p(".caution")[h.strong[c.title], " ", c.text] for c in row.cautions),
    ]


def step_pictures(look: Looking, plan: Plan) -> dict[int, str]:
    """The pictures of the steps, by their numbers: of the cart's, and of the hoses on it."""
    voice, cart = look.voice, plan.cart
    if cart is None:
        return {}
    hoses = {
        number: laid(figure.drawing, voice, _STEP)
        for number, figure in hose_step_figures(plan, voice, _STEP.width).items()
    }
    return hoses | look.stages.run(
        "drawing steps",
        lambda *_: {
            f.number: laid(f.figure.drawing, voice, _STEP)
            for f in step_figures(cart, plainer(cart.bodies), voice)
        },
        cart,
        voice.units,
        voice.language,
    )
