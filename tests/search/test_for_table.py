"""One cart for a table of sizes, against every subset tried one by one."""

import itertools
from pathlib import Path

import pytest

from kerfwind.cart import CannotBuild, with_entries
from kerfwind.checks import build, fit_range_of
from kerfwind.checks.fit_range import BucketSize, VacuumSize, shop_for_most
from kerfwind.checks.sizes_table import read_sizes
from kerfwind.facts import Term
from kerfwind.faults import Faults, Refusal
from kerfwind.quantity import Draw
from kerfwind.search.for_table import (
    ForTable,
    NoneFits,
    any_form_for_table,
    cart_for_table,
    changes,
    missed,
)
from kerfwind.search.sheet_choice import second_group, sheet_groups
from kerfwind.shop import Shop

from ..cart.proofs import prove
from ..cart.shops import cart_of, shop
from ..say import refused

VACUUMS = [
    VacuumSize("small", 0.36, 0.36, 0.43, 5.0),
    VacuumSize("middle", 0.46, 0.46, 0.53, 8.0),
    VacuumSize("long", 0.56, 0.40, 0.50, 9.0),
    VacuumSize("giant", 0.70, 0.62, 0.85, 21.0),
]
BUCKETS = [
    BucketSize("usual", 0.287, 0.304, 0.308),
    BucketSize("shallow", 0.285, 0.306, 0.20),
    BucketSize("deep", 0.287, 0.304, 0.62),
]
HIGH = 'greatest_height = "66 in"\nnarrowest_door = "32 in"\n'


def found(s: Shop, vacuums: list[VacuumSize], buckets: list[BucketSize]) -> ForTable:
    answer = cart_for_table(s, sheet_groups(s), vacuums, buckets, Draw(1))
    assert isinstance(answer, ForTable)
    return answer


def most_of_every_subset(s: Shop) -> int:
    best = 0
    for n, m in itertools.product(range(1, len(VACUUMS) + 1), range(1, len(BUCKETS) + 1)):
        for some, few in itertools.product(
            itertools.combinations(VACUUMS, n), itertools.combinations(BUCKETS, m)
        ):
            changed, held, hung = shop_for_most(s, some, few)
            if len(held) < n or len(hung) < m:
                continue
            light = {"vacuum.weight": f"{min(v.weight_kg for v in some):.2f} kg"}
            changed, sheet = with_entries(changed, changed.sheets[0], light)
            try:
                cart = build(changed, sheet, Draw(1))
            except CannotBuild:
                continue
            if any(f.level == "stop" for f in cart.findings):
                continue
            ranges = fit_range_of(changed, cart)
            best = max(best, sum(missed(row, ranges) is None for row in (*VACUUMS, *BUCKETS)))
    return best


def test_no_subset_does_better() -> None:
    s = shop(wishes=HIGH)
    answer = found(s, VACUUMS, BUCKETS)
    assert answer.sure
    assert answer.count == most_of_every_subset(s)
    prove(answer.cart)
    names = {*answer.vacuums, *answer.buckets, *(m.name for m in answer.missed)}
    assert names == {row.name for row in (*VACUUMS, *BUCKETS)}
    for each in answer.missed:
        assert each.value is not None
        assert each.limit is not None
        assert abs(each.value - each.limit) > 1e-6


def test_what_it_says_to_write_plans_the_same_cart() -> None:
    s = shop(wishes=HIGH)
    answer = found(s, VACUUMS, BUCKETS)
    places = dict(changes(answer))
    again = build(*with_entries(s, s.sheets[0], places), Draw(1))
    assert again.sizes == answer.cart.sizes


BIG = 'name = "big"\nthickness = "18 mm"\nlength = "2440 mm"\nwidth = "1220 mm"\nprice = 70\n'
BOXES = [
    BucketSize("box a", 0.300, 0.325, 0.30, 0.400, 0.425),
    BucketSize("box b", 0.302, 0.328, 0.28, 0.408, 0.427),
    BucketSize("box c", 0.301, 0.327, 0.25, 0.405, 0.426),
]
ROOMY = (
    'greatest_height = "66 in"\nnarrowest_door = "36 in"\nlargest_length = "40 in"\n'
    'largest_width = "40 in"\n'
)


def test_boxes_and_round_buckets_are_tried_by_themselves() -> None:
    """Three boxes against one round bucket; then two boxes against three round ones."""
    s = shop(wishes=ROOMY, sheet=BIG)
    answer = found(s, VACUUMS[:1], [BUCKETS[0], *BOXES])
    assert answer.buckets == ("box a", "box b", "box c")
    assert [m.name for m in answer.missed] == ["usual"]
    assert answer.missed[0].value is None
    prove(answer.cart)
    # As a person writes it into the file.
    rows = [(place.rsplit(".", 1), text) for place, text in changes(answer)]
    parts = {
        part: "".join(f'{key} = "{text}"\n' for (at, key), text in rows if at == part)
        for part in ("vacuum", "separator.bucket", "wishes")
    }
    written = shop(
        parts["vacuum"], parts["separator.bucket"], sheet=BIG, wishes=ROOMY + parts["wishes"]
    )
    assert cart_of(written).sizes == answer.cart.sizes
    other = BucketSize("other", 0.286, 0.305, 0.25)
    answer = found(s, VACUUMS[:1], [*BUCKETS[:2], other, *BOXES[:2]])
    assert answer.buckets == ("usual", "shallow", "other")
    assert [m.what for m in answer.missed] == [Term("missed", "box")] * 2


def test_a_box_too_long_is_told_by_its_length() -> None:
    long = BucketSize("long", 0.300, 0.325, 0.30, 0.500, 0.525)
    answer = found(shop(wishes=ROOMY, sheet=BIG), VACUUMS[:1], [*BOXES, long])
    assert [(m.name, m.what) for m in answer.missed] == [("long", Term("missed", "length under"))]


def test_vacuums_alone_leave_a_standing_bucket_standing() -> None:
    s = shop(wishes=ROOMY + 'hold_bucket = "standing"\n', sheet=BIG)
    answer = found(s, VACUUMS[:2], [])
    assert answer.cart.bucket is not None
    assert answer.cart.bucket.hold == "standing"
    assert "wishes.hold_bucket" not in dict(changes(answer))


def test_a_vacuum_alone_needs_no_bucket() -> None:
    answer = found(shop(), VACUUMS[:2], [])
    assert answer.vacuums == ("small", "middle")
    assert answer.buckets == ()
    assert not [place for place, _ in changes(answer) if "bucket." in place]


def test_where_nothing_fits_the_wishes_are_named() -> None:
    s = shop(wishes='greatest_height = "30 in"\n')
    answer = cart_for_table(s, sheet_groups(s), VACUUMS, BUCKETS, Draw(1))
    assert isinstance(answer, NoneFits)
    assert "wishes.greatest_height" in [u.place for u in answer.unmet]


def test_it_ends_when_told_and_says_so() -> None:
    s = shop(wishes=HIGH)
    groups = sheet_groups(s)
    answer = cart_for_table(s, groups, VACUUMS, BUCKETS, Draw(1), go_on=lambda tried: tried < 1)
    assert isinstance(answer, NoneFits) or not answer.sure


TABLE = """\ufeffKind;Name;Length;Width;Height;Weight;Top diameter;Rim diameter;Rim drop
vacuum;"grey; round";46..47 cm;46 cm;53 cm;8 kg;;;

bucket;usual;;;14-1/2 in;;11-5/16 in;12 in;2-3/8 in
"""


def test_a_csv_from_any_spreadsheet(tmp_path: Path) -> None:
    file = tmp_path / "sizes.csv"
    file.write_text(TABLE, encoding="utf-8")
    vacuums, buckets = read_sizes(file)
    assert vacuums[0].name == "grey; round"
    # Of a range, the end that is harder to carry.
    assert vacuums[0].length_m == pytest.approx(0.47)
    assert (vacuums[0].width_m, vacuums[0].weight_kg) == pytest.approx((0.46, 8.0))
    assert buckets[0].name == "usual"
    assert buckets[0].side_m == pytest.approx((14.5 - 2.375) * 0.0254)


def test_a_box_in_a_table(tmp_path: Path) -> None:
    file = tmp_path / "sizes.csv"
    file.write_text(BOXED + "bucket,b,340 mm,20 mm,,,300 mm,400 mm,325 mm,425..427 mm\n")
    (_, (b,)) = read_sizes(file)
    assert b.ways == [(0.3, 0.325, 0.3), (0.4, 0.425, 0.4)]
    assert b.side_m == pytest.approx(0.32)


def test_a_toml_table(tmp_path: Path) -> None:
    file = tmp_path / "sizes.toml"
    file.write_text(
        '[[vacuums]]\nname = "a"\nlength = "40 cm"\nwidth = "40 cm"\nheight = "50 cm"\n'
        'weight = "7 kg"\n[[buckets]]\nname = "b"\ntop_diameter = "287 mm"\n'
        'rim_diameter = "304 mm"\nheight = "368 mm"\nrim_drop = "60 mm"\n'
    )
    vacuums, buckets = read_sizes(file)
    assert [v.name for v in vacuums] == ["a"]
    (b,) = buckets
    assert (b.top_diameter_m, b.rim_diameter_m, b.side_m) == pytest.approx((0.287, 0.304, 0.308))


BOXED = "kind,name,height,rim_drop,top_diameter,rim_diameter,top_width,top_length,rim_width,rim_length\n"
HEAD = "kind,name,length,width,height,weight,top_diameter,rim_diameter,rim_drop\n"


@pytest.mark.parametrize(
    ("text", "line", "column", "says"),
    [
        ("", 0, "", "no row"),
        ("kind,name,colour\n", 1, "colour", "`colour`"),
        ("name,length\n", 1, "kind", "no such column"),
        (HEAD + "broom,a,1 m,1 m,1 m,1 kg,,,\n", 2, "kind", "`broom`"),
        (HEAD + "vacuum,a,18,18 in,20 in,8 kg,,,\n", 2, "length", "18"),
        (HEAD + "vacuum,a,18 in,,20 in,8 kg,,,\n", 2, "width", "nothing"),
        (HEAD + "vacuum,a,18 in,18 in,20 in,8 in,,,\n", 2, "weight", "8 in"),
        (HEAD + "vacuum,a,18 m,18 in,20 in,8 kg,,,\n", 2, "length", "`18 m`"),
        (HEAD + "vacuum,a,-1 in,18 in,20 in,8 kg,,,\n", 2, "length", "-1 in"),
        (HEAD + "vacuum,,18 in,18 in,20 in,8 kg,,,\n", 2, "name", "nothing"),
        (HEAD + "bucket,b,,,14 in,,12 in,11 in,2 in\n", 2, "rim_diameter", "on a body"),
        (HEAD + "bucket,b,,,2 in,,11 in,12 in,2 in\n", 2, "rim_drop", "on a height"),
        (BOXED + "bucket,b,14 in,2 in,,,12 in,,13 in,14 in\n", 2, "top_length", "nothing"),
        (BOXED + "bucket,b,14 in,2 in,,,12 in,15 in,13 in,14 in\n", 2, "rim_length", "on a body"),
        (BOXED + "bucket,b,14 in,2 in,9 in,,12 in,12 in,13 in,14 in\n", 2, "top_diameter", "and"),
        (HEAD + 'vacuum,"a,18 in\n', 2, "", "unexpected end"),
        (HEAD + "vacuum,a,1 m,1 m,1 m,1 kg,,,,more\n", 2, "", "10 cells"),
    ],
)
def test_wrong_tables_are_answered(
    tmp_path: Path, text: str, line: int, column: str, says: str
) -> None:
    file = tmp_path / "sizes.csv"
    file.write_text(text)
    with pytest.raises(Faults) as wrong:
        read_sizes(file)
    first = wrong.value.faults[0]
    assert isinstance(first, Refusal)
    assert (first.file, first.line, first.place) == ("sizes.csv", line, column)
    said = refused(first)
    assert says in said.found
    assert said.allowed
    assert said.mend


def test_two_of_one_name_and_a_missing_file(tmp_path: Path) -> None:
    file = tmp_path / "sizes.csv"
    file.write_text(HEAD + "vacuum,a,18 in,18 in,20 in,8 kg,,,\n" * 2)
    with pytest.raises(Faults, match=r"sizes\.named_twice"):
        read_sizes(file)
    with pytest.raises(Faults, match=r"sizes\.no_file"):
        read_sizes(tmp_path / "none.csv")
    broken = tmp_path / "sizes.toml"
    broken.write_text("[[vacuums]]\nname = a\n")
    with pytest.raises(Faults) as wrong:
        read_sizes(broken)
    assert wrong.value.faults[0].line == 2


def test_a_second_sheet_is_cut_as_well() -> None:
    s = shop(
        wishes=HIGH + 'sheet = "main"\nsecond_sheet = "thin"\n',
        units="mm",
        sheet='name = "main"\nthickness = "18 mm"\nlength = "2440 mm"\nwidth = "1220 mm"\n'
        'price = 30\n[[sheets]]\nname = "thin"\nthickness = "12 mm"\nlength = "1220 mm"\n'
        'width = "610 mm"\nprice = 12\n',
    )
    answer = cart_for_table(
        s, sheet_groups(s), VACUUMS[:1], BUCKETS[:1], Draw(1), second=second_group(s)
    )
    assert isinstance(answer, ForTable)
    assert {p.kind.key for p in answer.nest.sheets} == {"main", "thin"}


def test_a_form_that_carries_more_is_answered_and_written() -> None:
    """Under a low bench no bucket hangs over a vacuum; beside it one does."""
    s = shop(
        wishes='form = "tower"\ngreatest_height = "40 in"\nlargest_length = "30 in"\n'
        'narrowest_door = "32 in"\n',
        sheet='name = "s"\nthickness = "18 mm"\nlength = "8 ft"\nwidth = "4 ft"\nprice = 60\n',
    )
    own = cart_for_table(s, sheet_groups(s), VACUUMS[:2], BUCKETS[:1], Draw(1))
    answer = any_form_for_table(s, sheet_groups(s), VACUUMS[:2], BUCKETS[:1], Draw(1))
    assert isinstance(answer, ForTable)
    assert answer.count > (own.count if isinstance(own, ForTable) else 0)
    assert dict(changes(answer))["wishes.form"] == answer.cart.form != "tower"
    again, sheet = with_entries(s, answer.sheets[0], dict(changes(answer)))
    assert build(again, sheet, Draw(1)).form == answer.cart.form


def test_the_wished_form_is_kept_where_no_other_carries_more() -> None:
    s = shop(wishes=HIGH)
    answer = any_form_for_table(s, sheet_groups(s), VACUUMS[:2], [], Draw(1))
    assert isinstance(answer, ForTable)
    assert answer.cart.form == s.wishes.form
    assert not answer.also
