"""Shops made for tests: every size invented."""

from __future__ import annotations

from functools import lru_cache

from hypothesis import strategies as st

from kerfwind import checks
from kerfwind.checks import CheckedCart
from kerfwind.options import FORMS
from kerfwind.quantity import Draw
from kerfwind.shop import Shop, parse_shop

NOMINAL = Draw(1)

#: Loose fittings: two that hang by their smaller end, an elbow, and two alike at both ends.
FITTINGS = """
[[fittings]]
name = "stepped cone"
end_a = { inside = "57.2 mm", outside = "62.8 mm", length = "40 mm" }
end_b = { inside = "35.6 mm", outside = "39.8 mm", length = "35 mm" }
length = "110 mm"
[[fittings]]
name = "rubber sleeve"
kind = "coupling"
end_a = { inside = "63.0 mm", outside = "71 mm", length = "35 mm", material = "rubber" }
end_b = { inside = "63.0 mm", outside = "71 mm", length = "35 mm", material = "rubber" }
length = "75 mm"
count = 2
[[fittings]]
name = "black elbow"
kind = "elbow"
end_a = { inside = "57.0 mm", outside = "62.6 mm", length = "40 mm" }
end_b = { inside = "62.9 mm", outside = "68 mm", length = "40 mm" }
length = "140 mm"
[[fittings]]
name = "four-inch cone"
end_a = { inside = "102.9 mm", outside = "108 mm", length = "45 mm" }
end_b = { inside = "57.4 mm", outside = "63.2 mm", length = "45 mm" }
length = "150 mm"
"""


@lru_cache(maxsize=512)
def shop(
    vacuum: str = "",
    bucket: str = "",
    cyclone: str = "",
    sheet: str = "",
    wishes: str = "",
    units: str = "in",
    more: str = "",
) -> Shop:
    """A measured nine-gallon vacuum on a five-gallon bucket, with what is given instead."""
    tables = {
        "vacuum": (
            vacuum,
            {
                "shape": '"round"',
                "length": '"18 in"',
                "width": '"18 in"',
                "height": '"21 in"',
                "weight": '"17 lb"',
                "tank": '"9 US gal"',
                "headroom": '"11 in"',
                "inlet_height": '"13 in"',
                "amps": '"11 A"',
                "air_in_on": '"top"',
                "air_out_on": '"rear"',
            },
        ),
        "separator.bucket": (
            bucket,
            {
                "shape": '"tapered"',
                "top_diameter": '"11-5/16 in"',
                "bottom_diameter": '"10-3/8 in"',
                "height": '"14-1/2 in"',
                "rim_diameter": '"12 in"',
                "rim_drop": '"2-3/8 in"',
                "wall": '"2.1 mm"',
                "volume": '"5 US gal"',
                "weight": '"2.4 lb"',
            },
        ),
        "separator.cyclone": (
            cyclone,
            {
                "body_diameter": '"5-1/2 in"',
                "height": '"10-1/2 in"',
                "inlet_height": '"8 in"',
                "weight": '"1.6 lb"',
            },
        ),
        "wishes": (
            wishes,
            {
                "caster_height": '"4-1/8 in"',
                "caster_load": '"110 lb"',
                "measures": '"metric"' if units == "mm" else '"inch"',
            },
        ),
    }
    text = f'[about]\nunits = "{units}"\n'
    for name, (given, rows) in tables.items():
        taken = {line.split("=")[0].strip() for line in given.splitlines() if "=" in line}
        if '"box"' in given:
            taken |= {f"{level}_diameter" for level in ("top", "bottom", "rim")}
        text += f"[{name}]\n{given}\n"
        text += "".join(f"{k} = {v}\n" for k, v in rows.items() if k not in taken)
    text += "[[sheets]]\n" + (
        sheet
        or 'name = "2 x 4"\nthickness = "23/32 in"\nlength = "48 in"\nwidth = "24 in"\nprice = 28\n'
    )
    text += '[[hoses]]\nname = "link"\nuse = "link"\nbore = "57 mm"\nlength = "6 ft"\nsmallest_bend = "110 mm"\n'
    text += '[[hoses]]\nname = "tool hose"\nuse = "tool"\nbore = "57 mm"\nlength = "8 ft"\n'
    text += more + '[[tools]]\nname = "sander"\nhood = "pad holes"\n'
    return parse_shop(text).shop


#: Carts that were built, with the shop itself: what was assumed and what was given are equal.
_CARTS: dict[tuple[int, Draw, str], tuple[Shop, CheckedCart]] = {}


def cart_of(s: Shop, draw: Draw = NOMINAL, form: str = "") -> CheckedCart:
    """The cart of a shop from its first sheet, built once for all tests that ask for it.

    Of the form that is wished for, or of ``form``.
    """
    key = (id(s), draw, form)
    if key not in _CARTS:
        build = getattr(checks, form) if form else checks.build
        _CARTS[key] = s, build(s, s.sheets[0], draw)
    return _CARTS[key][1]


def as_laid_out(s: Shop, draw: Draw = NOMINAL, form: str = "") -> CheckedCart:
    """The smallest cart that carries, before anything is added that steadies it."""
    layout = FORMS[form or s.wishes.form](s, s.sheets[0], draw)
    return checks.check_cart(s, s.sheets[0], draw, layout)


@st.composite
def shops(
    draw: st.DrawFn,
    harsh: bool = False,
    kinds: tuple[str, ...] = ("round", "round", "drum", "box"),
    joint: str | None = "screwed butt",
) -> Shop:
    """Any vacuum, bucket and sheet that could be on sale; ``harsh`` adds wishes that clash."""

    def mm(low: float, high: float) -> str:
        return f'"{draw(st.integers(round(low), round(high)))} mm"'

    shape = draw(st.sampled_from(["round", "oblong"]))
    width = draw(st.integers(260, 600))
    length = (
        width if shape == "round" and draw(st.booleans()) else draw(st.integers(width, width + 80))
    )
    height = draw(st.integers(max(300, round(0.9 * width)), 780))
    top = draw(st.integers(200, 420))
    taper = draw(st.integers(0, 40))
    tall = draw(st.integers(220, 500))
    rim_drop = draw(st.integers(0, 90))
    sides = st.sampled_from(["top", "top", "front", "rear", "left", "right"])
    vacuum = (
        f'shape = "{shape}"\nwidth = "{width} mm"\nlength = "{length} mm"\nheight = "{height} mm"\n'
        f'inlet_height = {mm(0.35 * height, 0.7 * height)}\nweight = "{draw(st.integers(4, 25))} kg"\n'
        f'inlet_on = "{draw(st.sampled_from(["side", "side", "top"]))}"\n'
        f'air_in_on = "{draw(sides)}"\nair_out_on = "{draw(sides)}"\n'
    )
    kind = draw(st.sampled_from(kinds))
    over = draw(st.integers(0 if harsh else 12, 30))
    if kind == "drum":
        top, taper, tall = draw(st.integers(330, 510)), 0, draw(st.integers(450, 800))
    if kind == "box":
        deep = draw(st.integers(220, 520))
        # A box may taper one way only, and a rim may be missing where it stands.
        less = draw(st.sampled_from([0, taper]))
        bucket = (
            f'shape = "box"\ntop_width = "{top} mm"\ntop_length = "{deep} mm"\n'
            f'bottom_width = "{top - taper} mm"\nbottom_length = "{deep - less} mm"\n'
            f'rim_width = "{top + over} mm"\nrim_length = "{deep + over} mm"\n'
            f'corner = "{draw(st.sampled_from([0, 3, 15, 40, 70]))} mm"\n'
        )
        round_volume = top * deep * tall * 0.9e-6
    else:
        shape = "drum" if kind == "drum" else "tapered" if taper > 8 else "straight"
        bucket = (
            f'shape = "{shape}"\ntop_diameter = "{top} mm"\n'
            f'bottom_diameter = "{top - taper} mm"\nrim_diameter = "{top + over} mm"\n'
        )
        round_volume = 3.14 * (top / 200) ** 2 * tall / 100 * 0.9
    heavy = draw(st.integers(3, 12)) if kind == "drum" else draw(st.integers(1, 3))
    bucket += (
        f'height = "{tall} mm"\nrim_drop = "{rim_drop} mm"\n'
        f'volume = "{max(1, round(round_volume))} L"\nweight = "{heavy} kg"\n'
    )
    thick = [12.0, 15.0, 18.0, 18.26, 21.0, 25.0]
    t = draw(st.sampled_from([9.0, 34.0, *thick] if harsh else thick))
    big = width > 400 or length > 440 or top > 340 or height + tall > 950 or kind == "box"
    long, wide = draw(
        st.sampled_from(
            [(2440, 1220), (1525, 1525)]
            if big and not harsh
            else [(1220, 610), (1219, 1219), (2440, 1220), (1525, 1525)]
        )
    )
    sheet = f'name = "sheet"\nthickness = "{t} mm"\nlength = "{long} mm"\nwidth = "{wide} mm"\nprice = 30\n'
    second = ""
    if draw(st.booleans()):
        other = draw(st.sampled_from([9.0, *thick] if harsh else thick))
        side = draw(st.sampled_from([wide, 300])) if harsh else wide
        sheet += (
            f'[[sheets]]\nname = "other"\nthickness = "{other} mm"\nlength = "{long} mm"\n'
            f'width = "{side} mm"\nprice = 20\n'
        )
        roles = draw(st.sets(st.sampled_from(["lipping", "cleat", "rail", "shelf"]), min_size=1))
        named = ", ".join(f'"{r}"' for r in sorted(roles))
        second = f'second_sheet = "other"\nsecond_panels = [{named}]\n'
    holds = ["rim", "standing", "taper"] if harsh or taper > 8 else ["rim", "standing"]
    kind_of_joint = joint or draw(st.sampled_from(["screwed butt", "pocket hole", "dado", "glue"]))
    wishes = f'joint = "{kind_of_joint}"\n'
    wishes += f'hold_bucket = "{draw(st.sampled_from(holds))}"\nclearance = {mm(4, 25)}\n'
    wheel = draw(st.sampled_from([50, 75, 100]))
    wishes += f'caster_diameter = "{wheel} mm"\ncaster_height = "{wheel + 27} mm"\n'
    if draw(st.booleans()):
        wishes += f"extra_width = {mm(0, 80)}\nextra_depth = {mm(0, 80)}\n"
    wishes += second
    if harsh:
        wishes += f"greatest_height = {mm(900, 1900)}\nlargest_length = {mm(400, 800)}\n"
        wishes += f"largest_width = {mm(400, 800)}\nnarrowest_door = {mm(450, 800)}\n"
    else:
        wishes += f'greatest_height = "{2500 if kind == "drum" else 2100} mm"\n'
        wishes += 'largest_length = "1300 mm"\nlargest_width = "1300 mm"\n'
        wishes += f'narrowest_door = "{900 if kind == "drum" else 800} mm"\n'
    return shop(
        vacuum, bucket, sheet=sheet, wishes=wishes, units=draw(st.sampled_from(["in", "mm"]))
    )
