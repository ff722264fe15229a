"""What is missing from a shop file, filled as a stated assumption.

Works on the plain data of the file, before it is checked, so that assumed values go
through the same checks as given ones. Wrong values are left for those checks to find.
"""

from __future__ import annotations

import math
import re
import tomllib
from functools import cache
from importlib.resources import files
from typing import Any

from ..facts import Amount, Name, Term, state
from .catalogue import generic
from .catalogue.hoods import HOODS
from .filler import Filled, Filler, Path, each_row, si_of
from .session_filling import fill_sessions


def fill(data: dict[str, Any]) -> dict[Path, Filled]:
    """Complete ``data`` in place.

    Returns
    -------
    dict
        For each path filled: why, and the source's key.
    """
    filler = Filler()
    metric = metric_file(data)
    filler.put(filler.table(data, "about"), ("about",), "page", "a4" if metric else "letter", None)
    if not metric and str(_get(data, "about", "language") or "en").lower() != "en-gb":
        _gallons(filler, data)
    for step in (
        _vacuum,
        _separator,
        _hoses,
        _tools,
        _branches,
        _fittings,
        _sheets,
        _rest,
        fill_sessions,
    ):
        step(filler, data, metric)
    return filler.made


#: A gallon without a country; with one, or in litres, it is left as it stands.
_GALLONS = re.compile(r"(.*\d)\s*-?\s*(?:gal|gallons?)\.?", re.IGNORECASE)


def _gallons(f: Filler, data: dict[str, Any]) -> None:
    """Gallons by which a vacuum or a bucket is called, in a file of inches: US gallons."""
    for path in (("vacuum", "tank"), ("separator", "bucket", "volume")):
        table = _get(data, *path[:-1])
        text = table.get(path[-1]) if isinstance(table, dict) else None
        found = _GALLONS.fullmatch(text.strip()) if isinstance(text, str) else None
        if found:
            table[path[-1]] = f"{found[1]} US gal"
            f.made[path] = Filled(state("assumed.us_gallon"))


def _get(data: Any, *path: str) -> Any:
    for key in path:
        data = data.get(key) if isinstance(data, dict) else None
    return data


_METRIC_UNITS = {
    "mm",
    "cm",
    "m",
    "kg",
    "g",
    "kPa",
    "Pa",
    "mbar",
    "L",
    "l",
    "m³/h",
    "m3/h",
    "L/s",
    "bar",
}
_INCH_UNITS = {"in", '"', "″", "inch", "inches", "ft", "'", "lb", "gal", "cfm", "inH2O", "lbs"}
_UNIT = re.compile(r"\d\s*(?:US )?([A-Za-z\"″'][\w³/]*)")


def metric_file(data: dict[str, Any]) -> bool:
    """Whether sizes are marked, and hardware is bought, by metric measures.

    As `wishes.measures` says; else as most sizes in the file are written; where it has none,
    as it is to be printed.
    """
    wishes, about = data.get("wishes"), data.get("about")
    said = wishes.get("measures") if isinstance(wishes, dict) else None
    if said in ("inch", "metric"):
        return bool(said == "metric")
    units = [m for text in _texts(data) for m in _UNIT.findall(text)]
    metric, inch = (sum(u in kind for u in units) for kind in (_METRIC_UNITS, _INCH_UNITS))
    if metric == inch:
        return isinstance(about, dict) and about.get("units") == "mm"
    return metric > inch


def _texts(data: Any) -> list[str]:
    """Every text in the file that may be a size, what is only for people left out."""
    if isinstance(data, str):
        return [data]
    if isinstance(data, dict):
        return [
            t for k, v in data.items() if k not in ("name", "notes", "about") for t in _texts(v)
        ]
    return [t for each in data for t in _texts(each)] if isinstance(data, list) else []


def _vacuum(f: Filler, data: dict[str, Any], metric: bool) -> None:
    vacuum = f.table(data, "vacuum")
    here: Path = ("vacuum",)
    f.put(vacuum, here, "tank", "8..14 US gal", state("assumed.middling_vacuum"))
    volume = si_of(vacuum, "tank", "volume") or 0.0416
    row = generic.vacuum_row(volume)
    f.put(vacuum, here, "shape", "round", state("assumed.round_dolly"))
    why = state("assumed.tank", tank=Amount(volume, "volume"))
    if isinstance(vacuum, dict) and "length" in vacuum and vacuum.get("shape") == "round":
        f.put(vacuum, here, "width", vacuum["length"], state("assumed.round_vacuum"))
    f.rows(vacuum, here, row.sizes, why)
    f.put(vacuum, here, "inlet_on", "side", state("assumed.usual_place"))
    f.put(vacuum, here, "air_in_on", "top", state("assumed.usual_place"))
    f.put(vacuum, here, "air_out_on", "rear", state("assumed.usual_place"))
    f.put(vacuum, here, "filter", "used", state("assumed.used_filter"))
    inlet = f.table(vacuum, "inlet")
    end(f, inlet, (*here, "inlet"), nominal=row.inlet)
    suction = f.table(vacuum, "suction")
    test = suction.get("home_test") if isinstance(suction, dict) else None
    f.put(test, (*here, "suction", "home_test"), "plate", "0.5..3 mm", state("assumed.thin_plate"))
    if isinstance(suction, dict):
        _known_from(f, suction, (*here, "suction"))
        asked = state("assumed.lower_reading") if suction.get("points") and not test else None
        f.put(suction, (*here, "suction"), "tap", "pipe", asked)
    if isinstance(suction, dict) and not suction.get("points") and not test:
        volts = si_of(data.get("circuit"), "volts", "voltage") or (230.0 if metric else 120.0)
        _suction(f, vacuum, suction, volts)
    elif isinstance(suction, dict):
        _label_from_readings(f, suction)


def _known_from(f: Filler, suction: dict[str, Any], here: Path) -> None:
    """Whose the figures are, where the file does not say.

    A spread says how far a figure may be off, not where it is from: two figures are taken for
    the label's, with a spread or without.
    """
    if suction.get("points") or suction.get("home_test"):
        f.put(suction, here, "known_from", "measured", None)
        return
    figures = [suction.get(key) for key in ("sealed", "open_airflow")]
    spread = any(isinstance(text, str) and ("±" in text or ".." in text) for text in figures)
    f.put(suction, here, "known_from", "label", state("assumed.label_figures") if spread else None)


def _label_from_readings(f: Filler, suction: dict[str, Any]) -> None:
    """Label figures that are not given, from the readings that stand instead of them.

    The curve rests on the readings; the bucket's wall and the exhaust ask for the greatest
    suction and airflow alone. Suction falls ever faster as airflow grows, so a straight line
    on from two readings is never too little.
    """
    here: Path = ("vacuum", "suction")
    read = sorted(_readings(suction))
    if len(read) > 1:
        (q0, s0), (q1, s1), (qn, sn) = read[0], read[1], read[-1]
    # Readings no curve can hold are answered where the curve is made.
    if len(read) > 1 and qn > max(q0, 1e-3) and s0 > max(sn, 1e3):
        top = s0 + max(s0 - s1, 0.0) / max(q1 - q0, 1e-6) * q0
        end = qn + sn * (qn - q0) / max(s0 - sn, 0.02 * s0)
        why = state("assumed.straight_to_no_airflow" if q0 else "assumed.greatest_suction")
        f.put(suction, here, "sealed", _span(s0 / 1000, min(top, 1.5 * s0) / 1000, "kPa"), why)
        f.put(
            suction,
            here,
            "open_airflow",
            _span(qn * 1000, min(end, 3 * qn) * 1000, "L/s"),
            state("assumed.straight_to_no_suction"),
        )
    f.put(suction, here, "sealed", "15..25 kPa", state("assumed.readings_silent"))
    f.put(suction, here, "open_airflow", "25..70 L/s", state("assumed.readings_silent"))


def _readings(suction: dict[str, Any]) -> list[tuple[float, float]]:
    """Airflow [m³/s] and suction [Pa] of each reading.

    A hole's airflow is roughly that of a thin plate, C A √(2 Δp / ρ): C about 0.6, air of
    1.2 kg/m³ (handbook values, from memory; `air.orifice` has the relation itself).
    """
    test = suction.get("home_test")
    found = []
    rows = test.get("readings") if isinstance(test, dict) else suction.get("points")
    for row in rows if isinstance(rows, list) else ():
        pull, hole = si_of(row, "suction", "pressure"), si_of(row, "hole", "length")
        flow = si_of(row, "airflow", "airflow")
        if hole is not None and pull is not None:
            flow = 0.6 * math.pi / 4 * hole**2 * math.sqrt(2 * max(pull, 0.0) / 1.2)
        if flow is not None and pull is not None:
            found.append((flow, pull))
    return found


def _span(low: float, high: float, unit: str) -> str:
    """A range as it is written in a shop file; one value where both ends print alike."""
    ends = dict.fromkeys((f"{low:.2f}", f"{high:.2f}"))
    return f"{'..'.join(ends)} {unit}"


def _suction(f: Filler, vacuum: Any, suction: dict[str, Any], volts: float) -> None:
    here: Path = ("vacuum", "suction")
    amps = si_of(vacuum, "amps", "current")
    sealed_pa = si_of(suction, "sealed", "pressure")
    open_m3_s = si_of(suction, "open_airflow", "airflow")
    if sealed_pa is None and open_m3_s and amps:
        low, high = generic.sealed_pa(amps * volts, open_m3_s)
        f.put(
            suction,
            here,
            "sealed",
            f"{low / 1000:.1f}..{high / 1000:.1f} kPa",
            state("assumed.input_power"),
        )
    f.put(suction, here, "sealed", "13..22 kPa", state("assumed.one_fan_stage"))
    if open_m3_s is None:
        power = (amps or 1080 / volts) * volts
        sealed = sealed_pa or 17_500.0
        low, high = generic.open_airflow_m3_s(power, sealed)
        f.put(
            suction,
            here,
            "open_airflow",
            f"{low * 1000:.0f}..{high * 1000:.0f} L/s",
            state("assumed.input_power"),
        )


def _separator(f: Filler, data: dict[str, Any], metric: bool) -> None:
    separator = f.table(data, "separator")
    bucket = f.table(separator, "bucket")
    here: Path = ("separator", "bucket")
    f.put(bucket, here, "shape", "tapered", state("assumed.tapered"))
    shape = str(bucket.get("shape")) if isinstance(bucket, dict) else "tapered"
    f.put(bucket, here, "made_of", "plastic", state("assumed.plastic"))
    f.put(bucket, here, "volume", *generic.bucket_volume(shape))
    volume = si_of(bucket, "volume", "volume") or 0.0189
    row = generic.bucket_row(volume, shape)
    what = shape if shape in ("drum", "box") else "bucket"
    if shape == "drum":
        _drum(f, bucket, here)
    f.rows(
        bucket,
        here,
        row.sizes,
        state("assumed.bucket", shape=what, volume=Amount(volume, "volume")),
    )
    if shape == "box":
        _box(f, bucket, here)
    cyclone = f.table(separator, "cyclone")
    here = ("separator", "cyclone")
    f.rows(cyclone, here, generic.cyclone_sizes(), state("assumed.small_cyclone"))
    for name in ("inlet", "outlet"):
        end(f, f.table(cyclone, name), (*here, name), nominal="2 in port")
    if isinstance(separator, dict) and separator.get("in_use") is False:
        # Nothing rests on a separator that is not there, so nothing about it is an assumption.
        for path in [p for p in f.made if p[0] == "separator"]:
            f.made[path] = Filled(None)


def _drum(f: Filler, drum: Any, here: Path) -> None:
    """Floor and rim of a drum, from its diameter under the rim where that is given."""
    top = si_of(drum, "top_diameter", "length")
    if top is None:
        return
    f.put(drum, here, "bottom_diameter", drum["top_diameter"], state("assumed.straight_drum"))
    if si_of(drum, "rim_drop", "length") == 0:
        f.put(drum, here, "rim_diameter", drum["top_diameter"], state("assumed.rimless"))
    low, high = (1000 * (top + more) for more in generic.DRUM_RIM)
    f.put(drum, here, "rim_diameter", f"{low:.1f}..{high:.1f} mm", state("assumed.drum_under_rim"))


def _box(f: Filler, box: Any, here: Path) -> None:
    """Floor, rim and corners of a box, from its size under the rim where that is given."""
    f.rows(box, here, generic.BOX_REST, state("assumed.storage_box"))
    rimless = si_of(box, "rim_drop", "length") == 0
    for level, (less, more) in generic.BOX_FROM_TOP.items():
        for way in ("length", "width"):
            top = si_of(box, f"top_{way}", "length")
            if top is None:
                continue
            if level == "rim" and rimless:
                f.put(box, here, f"rim_{way}", box[f"top_{way}"], state("assumed.rimless"))
                continue
            low, high = 1000 * max(top + less, 0.5 * top), 1000 * (top + more)
            f.put(
                box,
                here,
                f"{level}_{way}",
                f"{low:.1f}..{high:.1f} mm",
                state("assumed.box_under_rim"),
            )


def _hoses(f: Filler, data: dict[str, Any], metric: bool) -> None:
    if "hoses" not in data:
        data["hoses"] = usual_hoses()
        for i in range(len(data["hoses"])):
            for key in ("bore", "length"):
                f.made[("hoses", i, key)] = Filled(state("assumed.no_hose_listed"))
    for i, hose in each_row(data, "hoses"):
        here: Path = ("hoses", i)
        f.put(hose, here, "wall", "ribbed", state("assumed.ribbed"))
        bore = si_of(hose, "bore", "length") or 0.057
        f.put(
            hose,
            here,
            "smallest_bend",
            f"{1.5 * bore * 1000:.0f}..{3 * bore * 1000:.0f} mm",
            state("assumed.bend_in_bores"),
        )
        for name in ("tool_end", "unit_end"):
            table = f.table(hose, name)
            if isinstance(table, dict) and not {"nominal", "inside", "outside"} & set(table):
                wide = bore * 1000
                f.put(
                    table,
                    (*here, name),
                    "outside",
                    f"{wide:.0f}..{wide + 8:.0f} mm",
                    state("assumed.cuff_over_bore"),
                )
            end(f, table, (*here, name))


def _tools(f: Filler, data: dict[str, Any], metric: bool) -> None:
    for i, tool in each_row(data, "tools"):
        here: Path = ("tools", i)
        f.put(tool.get("place"), (*here, "place"), "turn", "0 °", None)
        if tool.get("made") is not None and "port" not in tool:
            tool["port"] = {"nominal": "none"}
        hood = HOODS.get(str(tool.get("hood")))
        if hood:
            usual = None
            if len(hood.operations) > 1:
                usual = state("assumed.usual_with", hood=Term("hood", hood.key))
            f.put(tool, here, "operation", hood.operations[0], usual)
            table = f.table(tool, "port")
            if isinstance(table, dict) and not {"nominal", "inside", "outside"} & set(table):
                nominal = (
                    "4 in"
                    if hood.made_for == "duct"
                    else ("1-1/4 in" if hood.duct_m < 0.05 else "2-1/2 in")
                )
                f.put(
                    table,
                    (*here, "port"),
                    "nominal",
                    nominal,
                    state("assumed.usual_on", hood=Term("hood", hood.key)),
                )
            end(f, table, (*here, "port"))
        else:
            f.put(tool, here, "operation", "sawing", None)
            end(f, f.table(tool, "port"), (*here, "port"))
        f.put(tool, here, "amps", generic.TOOL_AMPS, state("assumed.home_tools"))
        f.put(tool, here, "bends", 2, state("assumed.curve_or_two"))
        f.put(tool, here, "rise", "0..3 ft", state("assumed.bench_or_floor"))


def _branches(f: Filler, data: dict[str, Any], metric: bool) -> None:
    for i, branch in each_row(data, "branches"):
        f.put(branch, ("branches", i), "angle", "45 °", state("assumed.usual_wye"))


def _fittings(f: Filler, data: dict[str, Any], metric: bool) -> None:
    for i, fitting in each_row(data, "fittings"):
        here: Path = ("fittings", i)
        bores: list[float] = []
        for name in ("end_a", "end_b"):
            table = fitting.get(name)
            end(f, table, (*here, name))
            inside = si_of(table, "inside", "length")
            if inside:
                bores.append(inside)
        if bores:
            f.put(fitting, here, "bore", f"{min(bores) * 1000:.1f} mm", None)
        else:
            f.put(fitting, here, "bore", "20..100 mm", None)
        f.put(fitting, here, "length", "60..140 mm", state("assumed.loose_fitting"))
        elbow = fitting.get("kind") == "elbow"
        f.put(
            fitting,
            here,
            "turn",
            "90 °" if elbow else "0 °",
            state("assumed.elbow") if elbow else None,
        )


@cache
def _usual() -> dict[str, Any]:
    return tomllib.loads((files("kerfwind.shop") / "usual.toml").read_text(encoding="utf-8"))


def usual_hoses() -> list[dict[str, Any]]:
    """The hoses of a file that lists none."""
    return [dict(row) for row in _usual()["hoses"]]


def usual_sheets(metric: bool) -> list[dict[str, Any]]:
    """The sheets of a file that lists none."""
    return [dict(row) for row in _usual()["metric_sheets" if metric else "sheets"]]


def _sheets(f: Filler, data: dict[str, Any], metric: bool) -> None:
    if "sheets" not in data:
        data["sheets"] = usual_sheets(metric)
        for i in range(len(data["sheets"])):
            for key in ("thickness", "length", "width", "price"):
                f.made[("sheets", i, key)] = Filled(state("assumed.no_sheet_listed"))


def _rest(f: Filler, data: dict[str, Any], metric: bool) -> None:
    wishes = f.table(data, "wishes")
    f.put(wishes, ("wishes",), "measures", "metric" if metric else "inch", None)
    if isinstance(wishes, dict) and wishes.get("form") == "low":
        *widths, why = generic.LOW_WIDTH
        f.put(wishes, ("wishes",), "largest_width", widths[int(metric)], why)
    for name, rows in generic.REST.items():
        table = f.table(data, name)
        for key, (inches, millimetres, why) in rows.items():
            f.put(table, (name,), key, millimetres if metric else inches, why)
    if isinstance(wishes, dict):
        bucket = (
            data.get("separator", {}).get("bucket", {})
            if isinstance(data.get("separator"), dict)
            else {}
        )
        shape = bucket.get("shape") if isinstance(bucket, dict) else None
        hold, why = {
            "straight": ("rim", state("assumed.hangs_by_rim")),
            "drum": ("standing", state("assumed.heavy_drum")),
            "box": ("standing", state("assumed.box_stands")),
        }.get(str(shape), ("rim", state("assumed.rim_holds")))
        f.put(wishes, ("wishes",), "hold_bucket", hold, why)


def end(f: Filler, table: Any, path: Path, *, nominal: str | None = None) -> None:
    """Complete one end: what its nominal size could be, or one diameter from the other."""
    if not isinstance(table, dict):
        return
    if str(table.get("nominal", "")).strip().lower() == "none":
        # There is no end here: these stand in its place and are never met.
        f.rows(
            table,
            path,
            {"inside": "40 mm", "outside": "45 mm", "length": "30 mm", "taper": "0 °"},
            None,
        )
        return
    if nominal and not {"nominal", "inside", "outside"} & set(table):
        f.put(table, path, "nominal", nominal, state("assumed.usual_end"))
    row = generic.nominal_row(str(table.get("nominal", "")))
    if row:
        why = state("assumed.nominal", nominal=Name(row.key))
        if "outside" not in table and "inside" not in table:
            f.rows(table, path, {"outside": row.outside, "inside": row.inside}, why)
    outside, inside = si_of(table, "outside", "length"), si_of(table, "inside", "length")
    if outside and inside is None:
        low, high = outside - 0.007, outside - 0.003
        f.put(
            table,
            path,
            "inside",
            f"{low * 1000:.1f}..{high * 1000:.1f} mm",
            state("assumed.end_walls"),
        )
    elif inside and outside is None:
        low, high = inside + 0.003, inside + 0.007
        f.put(
            table,
            path,
            "outside",
            f"{low * 1000:.1f}..{high * 1000:.1f} mm",
            state("assumed.end_walls"),
        )
    elif inside is None:
        f.rows(
            table,
            path,
            {"outside": "30..110 mm", "inside": "27..105 mm"},
            state("assumed.unknown_end"),
        )
    f.put(table, path, "length", "25..50 mm", state("assumed.push_fit"))
    f.put(table, path, "taper", "0..3 °", state("assumed.moulded_taper"))
