"""Lists of panels as people write them, and what is said when they cannot be read."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.say import refused
from tests.say import text as said

from kerfwind.cutting import CutList, CuttingError, Panel, nest, read_cut_list
from kerfwind.cutting.reading import PLAN_COLUMNS, units_written
from kerfwind.faults import Faults


def written(folder: Path, text: str | bytes, name: str = "list.csv") -> Path:
    path = folder / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def test_quoted_commas(tmp_path: Path) -> None:
    made = read_cut_list(
        written(tmp_path, 'name,length,width,quantity\n"shelf, upper ""A""",600 mm,12-1/2 in,2\n')
    )
    assert made.panels[0].name == 'shelf, upper "A"'
    assert made.panels[0].length_m == pytest.approx(0.6)
    assert made.panels[0].width_m == pytest.approx(0.3175)
    assert made.panels[0].quantity == 2


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "utf-8", "cp1252"])
def test_semicolons_and_byte_order_marks(tmp_path: Path, encoding: str) -> None:
    text = "Name;Length (mm);Width (mm);Grain\r\nTür;600;300;along\r\n\r\n"
    made = read_cut_list(written(tmp_path, text.encode(encoding)))
    assert [(p.name, p.length_m, p.width_m, p.grain) for p in made.panels] == [
        ("Tür", 0.6, 0.3, "along")
    ]


def test_sheets_and_offcuts_in_rows(tmp_path: Path) -> None:
    made = read_cut_list(
        written(
            tmp_path,
            "kind,name,length,width,quantity,price,edges\n"
            "panel,side,30 in,20 in,2,,near far\n"
            "sheet,full,96 in,48 in,,80,\n"
            "offcut,left over,40 in,22 in,,,\n",
        )
    )
    assert made.panels[0].banded == ("near", "far")
    full, left = made.sheets
    assert (full.price, full.limit, full.offcut) == (80, None, False)
    assert (left.price, left.limit, left.offcut, left.trim) == (0, 1, True, False)


def test_toml(tmp_path: Path) -> None:
    made = read_cut_list(
        written(
            tmp_path,
            '[saw]\nkerf = "3 mm"\nkind = "track"\ncarry_length = "2 m"\ncarry_width = "1 m"\n'
            '[[panels]]\nname = "side"\nlength = "600 mm"\nwidth = "300 mm"\nquantity = 3\n'
            '[[sheets]]\nname = "full"\nlength = "2.5 m"\nwidth = "1.25 m"\nprice = 40\n',
            "list.toml",
        )
    )
    assert made.saw.kerf_m == pytest.approx(0.003)
    assert made.saw.kind == "track"
    assert made.saw.carry_m == (2.0, 1.0)
    assert made.panels[0].quantity == 3
    assert made.sheets[0].price == 40


def test_every_fault_at_once(tmp_path: Path) -> None:
    path = written(
        tmp_path,
        "name,length,width,quantity,grain\n"
        "a,600,300 mm,1,along\n"
        ",600 mm,-3 in,0,sideways\n"
        "c,600 mm,0 mm,1.5,free\n"
        "d,600 mm,300 mm,1,free,more\n",
    )
    with pytest.raises(Faults) as caught:
        read_cut_list(path)
    places = [(f.line, f.place) for f in caught.value.faults]
    assert places == [
        (5, ""),
        (2, "length"),
        (3, "name"),
        (3, "width"),
        (3, "quantity"),
        (3, "grain"),
        (4, "width"),
        (4, "quantity"),
    ]
    for fault in caught.value.faults:
        assert fault.file == "list.csv"
        said = refused(fault)
        assert said.found
        assert said.allowed
        assert said.mend


@pytest.mark.parametrize(
    ("text", "name", "line"),
    [
        ("", "list.csv", 1),
        ("just words\nmore\n", "list.csv", 1),
        ('name,length,width\n"open,1 m,1 m\n', "list.csv", 0),
        ("name,length,width\n", "list.csv", 0),
        ("[[panels]\n", "list.toml", 1),
        ("panels = 3\n", "list.toml", 1),
        ('[[panels]]\nname = "a"\nlength = "1 m"\nwidth = "1 m"\nheight = "1 m"\n', "list.toml", 1),
        (b"\x00\x01\x02\x00", "list.csv", 0),
    ],
)
def test_broken_files(tmp_path: Path, text: str | bytes, name: str, line: int) -> None:
    with pytest.raises(Faults) as caught:
        read_cut_list(written(tmp_path, text, name))
    assert caught.value.faults[0].line == line


def test_no_file(tmp_path: Path) -> None:
    with pytest.raises(Faults) as caught:
        read_cut_list(tmp_path / "absent.csv")
    [fault] = caught.value.faults
    assert (fault.kind, fault.file) == ("cutting.list.no_file", "absent.csv")
    assert "No such file" in refused(fault).found


@pytest.mark.parametrize(
    ("text", "field", "mend"),
    [
        ("name,length,width,quanttiy\nA,60 cm,30 cm,3\n", "quanttiy", "`quantity`"),
        ("name,length,width\nA,10..90 cm,30 cm\n", "length", "one size"),
        ("name,length,width,thickness\nA,60 cm,30 cm,18 cm\n", "thickness", "unit"),
        ("name,length,width\nA,60 km,30 cm\n", "length", "not a unit"),
        ("name,length,width\n\x1b[2JA,60 cm,30 cm\n", "name", "U+001B"),
    ],
)
def test_what_would_be_cut_wrongly_is_refused(
    tmp_path: Path, text: str, field: str, mend: str
) -> None:
    with pytest.raises(Faults) as caught:
        read_cut_list(written(tmp_path, text))
    [fault] = caught.value.faults
    assert fault.place == field
    assert mend in refused(fault).mend


def test_the_nearest_key_is_offered(tmp_path: Path) -> None:
    text = '[sawe]\n[[panels]]\nname = "A"\nlength = "6 cm"\nwidth = "3 cm"\nquantty = 2\n'
    with pytest.raises(Faults) as caught:
        read_cut_list(written(tmp_path, text, "list.toml"))
    assert [refused(f).mend for f in caught.value.faults] == [
        "Did you mean `saw`?",
        "Did you mean `quantity`?",
    ]


def test_panels_of_one_name_are_told_apart(tmp_path: Path) -> None:
    rows = "".join(f"{name},60 cm,30 cm\n" for name in ("A", "A (2)", "A", "A"))
    made = read_cut_list(written(tmp_path, f"name,length,width\n{rows}"))
    assert [p.name for p in made.panels] == ["A", "A (2)", "A (3)", "A (4)"]


_LIST = """
[saw]
kerf = "3 mm"
largest_rip = "600 mm"
carry_length = "2 m"
carry_width = "1 m"
[[panels]]
name = "a"
length = "600 mm"
width = "300 mm"
thickness = "18 mm"
quantity = 3
[[sheets]]
name = "s"
length = "2440 mm"
width = "1220 mm"
"""
_ODD = [
    '""',
    '"nan mm"',
    '"-1 mm"',
    '"0 mm"',
    '"1..1e308 m"',
    '"1e300 mm"',
    '"5 mm ± 200 %"',
    '"1/0 in"',
    "inf",
    "nan",
    "-1",
    "1e300",
    "true",
    "[]",
    "{}",
    "[{}]",
    "2020-01-01",
    '"\\u0007"',
    '"x"',
]


@given(at=st.integers(0, 10), odd=st.sampled_from(_ODD))
def test_any_odd_value_is_answered(
    tmp_path_factory: pytest.TempPathFactory, at: int, odd: str
) -> None:
    lines = _LIST.splitlines()
    rows = [i for i, line in enumerate(lines) if " = " in line]
    row = rows[at % len(rows)]
    lines[row] = f"{lines[row].partition(' = ')[0]} = {odd}"
    path = written(tmp_path_factory.mktemp("odd"), "\n".join(lines), "list.toml")
    try:
        made = read_cut_list(path)
        nest(list(made.panels), list(made.sheets), made.saw, budget=1, seed=1)
    except Faults as error:
        said = [refused(f) for f in error.faults]
        assert all(s.found and s.allowed and s.mend for s in said)
    except CuttingError as error:
        assert all(refused(why).mend for why in error.problems)


PLAN_ROW = 'A,side,2,887.4125,298.45,18.2563,"34-15/16 in (887.4 mm)",11-3/4 in,23/32 in,along'


def test_the_panel_list_of_a_plan(tmp_path: Path) -> None:
    head = ",".join(PLAN_COLUMNS)
    made = read_cut_list(written(tmp_path, f"{head}\n{PLAN_ROW}\n"))
    assert made.panels == (
        Panel("side", 0.8874125, 0.29845, 2, thickness_m=0.0182563, grain="along"),
    )
    assert "cutting.assumed.columns" not in [taken.kind for taken in made.assumed]
    # A person adds what to cut it from.
    sheet = ",full,,2438.4,1219.2,18.2563,,,,along,sheet,60"
    made = read_cut_list(written(tmp_path, f"{head},kind,price\n{PLAN_ROW},,\n{sheet}\n"))
    assert [(s.key, s.price) for s in made.sheets] == [("full", 60)]
    assert nest(made.panels, made.sheets, made.saw, budget=0).sheets_bought == 1


def test_a_plan_s_size_changed_in_one_place_only_is_refused(tmp_path: Path) -> None:
    row = PLAN_ROW.replace("11-3/4 in", "12-3/4 in")
    with pytest.raises(Faults) as raised:
        read_cut_list(written(tmp_path, f"{','.join(PLAN_COLUMNS)}\n{row}\n"))
    [fault] = raised.value.faults
    assert (fault.line, fault.place) == (2, "width")
    assert refused(fault).found == "`298.45 mm, and 12-3/4 in`"


def listed(tmp_path: Path, text: str, name: str = "panels.csv") -> CutList:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return read_cut_list(path)


@pytest.mark.parametrize(
    ("text", "sizes"),
    [
        ("name;length (mm);width (mm)\nA;600,5;300\n", (0.6005, 0.3)),
        ("name;length;width\nA;600,5 mm;1,2 m\n", (0.6005, 1.2)),
        ("Part,L (in),W (in),Qty\nA,24-1/2,12,3\n", (0.6223, 0.3048)),
        ("part\tl\tw\nA\t24 in\t1 ft\n", (0.6096, 0.3048)),
    ],
)
def test_lists_as_people_have_them(tmp_path: Path, text: str, sizes: tuple[float, float]) -> None:
    (panel,) = listed(tmp_path, text).panels
    assert (panel.length_m, panel.width_m) == pytest.approx(sizes)
    assert panel.name == "A"
    assert panel.quantity == (3 if "Qty" in text else 1)


def test_a_comma_that_may_part_thousands_is_still_asked_about(tmp_path: Path) -> None:
    with pytest.raises(Faults):
        listed(tmp_path, "name;length;width\nA;1,200 mm;300 mm\n")


@pytest.mark.parametrize(
    ("price", "worth"),
    [("$62.50", 62.5), ("62,50 €", 62.5), ("£1,062.50", 1062.5), ("1,062", 1062.0), ("7", 7.0)],
)
def test_prices_with_a_sign(tmp_path: Path, price: str, worth: float) -> None:
    text = f'kind,name,length,width,price\nsheet,full,8 ft,4 ft,"{price}"\npanel,A,1 ft,1 ft,\n'
    (sheet,) = listed(tmp_path, text).sheets
    assert sheet.price == worth


def test_a_whole_number_from_a_spreadsheet(tmp_path: Path) -> None:
    text = "name,length,width,quantity\nA,1 ft,1 ft,4.0\n"
    assert listed(tmp_path, text).panels[0].quantity == 4
    with pytest.raises(Faults):
        listed(tmp_path, text.replace("4.0", "4.5"))


def test_capitals_make_no_other_material(tmp_path: Path) -> None:
    text = "name,length,width,material\nA,1 ft,1 ft,Birch\nB,1 ft,1 ft,birch\n"
    found = listed(tmp_path, text)
    assert {p.material for p in found.panels} == {"Birch"}
    assert len(found.sheets) == 1


def test_edges_and_grain_in_other_words(tmp_path: Path) -> None:
    text = "part,l,w,grain,banding\nA,2 ft,1 ft,Length,long\nB,2 ft,1 ft,none,all\n"
    a, b = listed(tmp_path, text).panels
    assert (a.grain, b.grain) == ("along", "free")
    assert a.banded == ("near", "far")
    assert len(b.banded) == 4


def test_what_guides_a_cut_and_what_is_not_used(tmp_path: Path) -> None:
    text = """[saw]
kind = "track"
track = "1.4 m"
carry_length = "1.5 m"
order = "settings"
[[panels]]
name = "A"
length = "1 m"
width = "30 cm"
"""
    found = listed(tmp_path, text, "panels.toml")
    assert found.saw.track_m == pytest.approx(1.4)
    assert found.saw.carry_m is None
    assert found.saw.order == "settings"
    alone = [a for a in found.assumed if a.kind == "cutting.assumed.alone"]
    assert [said(a) for a in alone] == ["`carry_length` is not used without `carry_width`"]


def test_banding_is_taken_off_the_size_to_cut(tmp_path: Path) -> None:
    text = (
        "part,L (mm),W (mm),thickness,edges,banding thickness\n"
        "door,600,400,19 mm,all,1 mm\nside,700,500,19 mm,near,1.5 mm\nback,700,500,19 mm,,\n"
    )
    door, side, back = listed(tmp_path, text).panels
    assert (door.length_m, door.width_m) == pytest.approx((0.598, 0.398))
    assert (side.length_m, side.width_m) == pytest.approx((0.7, 0.4985))
    assert (back.length_m, back.width_m) == pytest.approx((0.7, 0.5))
    assert door.finished_m == pytest.approx((0.6, 0.4))
    assert side.finished_m == pytest.approx((0.7, 0.5))


@pytest.mark.parametrize(
    ("edges", "band", "place"),
    [
        ("", "1 mm", "edges"),
        ("all", "40 mm", "band_thickness"),
        ("long", "16 mm", "band_thickness"),
    ],
)
def test_banding_that_cannot_be_taken_off(
    tmp_path: Path, edges: str, band: str, place: str
) -> None:
    text = f"part,L (mm),W (mm),edges,band thickness\nslat,700,32,{edges},{band}\n"
    with pytest.raises(Faults) as caught:
        listed(tmp_path, text)
    [fault] = caught.value.faults
    assert fault.place == place
    assert refused(fault).mend


@pytest.mark.parametrize(
    ("text", "units"),
    [
        ("name,length,width\na,600 mm,400 mm\n", "mm"),
        ("name,length (in),width (in)\na,24,12\n", "in"),
        ('"name","length (mm)","width (mm)"\n"a","600","400"\n', "mm"),
        ('name,length,width\na,"23 1/2""",12"\n', "in"),
        (
            '[[panels]]\nname = "in 4"\nlength = "24 in"\nwidth = "1 ft"\nthickness = "18 mm"\n',
            "in",
        ),
        ("name;length mm;width mm\na;600,5;200\n", "mm"),
        ("no list", "mm"),
    ],
)
def test_a_list_is_answered_in_its_own_units(tmp_path: Path, text: str, units: str) -> None:
    assert units_written(written(tmp_path, text)) == units


def test_money_is_told_with_the_sign_it_is_written_with(tmp_path: Path) -> None:
    text = "kind,name,length,width,price\nsheet,full,8 ft,4 ft,£80\npanel,A,1 ft,1 ft,\n"
    assert listed(tmp_path, text).currency == "£"
    assert listed(tmp_path, text.replace("£", "")).currency == ""
