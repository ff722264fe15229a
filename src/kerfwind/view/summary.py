"""What a plan is in a few lines: its first sentences, its sizes, what it costs."""

from __future__ import annotations

from collections import Counter

from ..facts import Amount, Band, Fact, Listing, Name, Ref, Statement, Term, state
from ..plan import Plan
from ..shopping import rounded, total
from ..words import Voice


def intro_text(plan: Plan, voice: Voice) -> str:
    """What the unit carries, how far it reaches, what it is cut from; then the person's notes."""
    shop = plan.shop
    known = voice.word("view.intro.vacuum") in shop.vacuum.name
    what = voice.word(
        "view.intro",
        carried=state(
            "view.intro.carried",
            named="yes" if known else "no",
            vacuum=Ref("vacuum", shop.vacuum.name),
        ),
        separator="yes" if shop.separator.in_use else "no",
        bucket=Amount(shop.separator.bucket.volume.best_si, "volume", "short"),
        shape=shape if (shape := shop.separator.bucket.shape) in ("drum", "box") else "bucket",
        tools=state("view.intro.tools", count=len(shop.tools)),
    )
    cut = (
        voice.word("view.intro.no_cart")
        if plan.cart is None
        else voice.word("view.intro.cut_from", sheets=sheets_fact(plan))
    )
    said = [what, cut, *([shop.about.notes] if shop.about.notes else [])]
    return voice.text(Listing(tuple(map(Name, said)), "sentences"))


def sheets_fact(plan: Plan) -> Fact:
    """How many sheets of which kind."""
    counts = Counter(s.kind.key for s in plan.nest.sheets) if plan.nest else Counter[str]()
    return Listing(
        tuple(
            state("view.sheets", count=count, sheet=Ref("sheet", name))
            for name, count in counts.items()
        )
    )


def size_fact(plan: Plan) -> Statement | None:
    """Length × width × height of the unit with all that stands out from it; None without a cart."""
    if plan.cart is None:
        return None
    sizes = plan.cart.sizes
    sides = [(b.low[0], b.high[0]) for b in plan.cart.bodies]
    wide = max(high for _, high in sides) - min(low for low, _ in sides)
    return sizes_fact(sizes.length_over_hose_m, float(wide), sizes.height_over_hose_m)


def sizes_fact(length_m: float, width_m: float, height_m: float) -> Statement:
    """Three sizes [m] in one."""
    return state(
        "view.size",
        length=Amount(length_m, "length"),
        width=Amount(width_m, "length"),
        height=Amount(height_m, "length"),
    )


def bill_text(plan: Plan, voice: Voice) -> str:
    """What all there is to buy costs, and how many items have no price."""
    whole = total(plan.shopping)
    # No sum is finer than the guesses in it.
    guessed = any(line.standing == "about" for line in plan.shopping)
    price = Amount(rounded(whole) if guessed and whole else round(whole), "money")
    without = sum(line.price is None for line in plan.shopping)
    return voice.word("view.bill_and_more" if without else "view.bill", price=price, count=without)


def summary_rows(plan: Plan, voice: Voice) -> list[tuple[str, str]]:
    """The plan in numbers: what each is, and the number."""
    rows: list[tuple[str, str]] = []
    if plan.cart is not None and (size := size_fact(plan)) is not None:
        full = max((s.load for s in plan.cart.stands), key=lambda load: float(load.mass_kg.mean()))
        weight = "weight_full" if plan.shop.separator.in_use else "weight"
        rows += [
            (voice.word("view.summary.size"), voice.text(size)),
            (voice.word(f"view.summary.{weight}"), voice.text(Band.of(full.mass_kg, "mass"))),
            (voice.word("view.summary.sheets"), voice.text(sheets_fact(plan))),
        ]
    best = max(plan.air, key=lambda a: float(a.airflow_m3_s.mean()))
    airflow = best.told_airflow
    assumed = len(plan.file.assumptions)
    return [
        *rows,
        (voice.word("view.summary.to_buy"), bill_text(plan, voice)),
        (
            voice.word("view.summary.most_air"),
            voice.word("view.summary.at", airflow=airflow, tool=Ref("tool", best.tool)),
        ),
        (voice.word("view.summary.assumed"), voice.word("view.summary.values", count=assumed)),
    ]


def level_text(level: str, voice: Voice) -> str:
    """A finding's level in a word."""
    return voice.text(Term("level", level))
