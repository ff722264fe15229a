"""Numbers behind the breathing room: dust, its sizes, limits, masks, noise, bucket, filter, fire."""

from __future__ import annotations

import math

from .kinds import Fact, Source, SourceStanding

_MG = 1e-6  # mg/m³ in kg/m³
_MICRON = 1e-6
_HOUR = 3600.0
_MIN = 60.0

SOURCES: tuple[Source, ...] = (
    Source("judged", "Judged for this program; no published value was found", "practice"),
    Source(
        "osha-z1",
        "29 CFR 1910.1000 table Z-1, particulates not otherwise regulated, as on OSHA's wood dust page",
    ),
    Source("niosh-pocket", "NIOSH Pocket Guide to Chemical Hazards, wood dust"),
    Source("acgih-tlv", "ACGIH threshold limit values, wood dust, as on OSHA's wood dust page"),
    Source("eu-2004-37", "Directive 2004/37/EC, Annex III as amended"),
    Source("hse-wood", "UK Health and Safety Executive, wood dust page"),
    Source("trgs-553", "TRGS 553, Holzstaub (2022)"),
    Source("coshh", "UK COSHH regulations, dust of any kind", "second-hand"),
    Source(
        "en-481",
        "EN 481 and ISO 7708, size fractions for measurement of airborne particles",
        "second-hand",
    ),
    Source(
        "thorpe-brown-1995",
        "Thorpe and Brown, Annals of Occupational Hygiene 39 (1995), opening and abstract",
    ),
    Source("ojima-2016", "Ojima, dust from sanding wood (2016), abstract"),
    Source("harper-2004", "Harper and others, airborne wood dust by size (2004)"),
    Source(
        "table-saw-2019",
        "European Journal of Wood and Wood Products 77 (2019), dust from a table saw, abstract",
    ),
    Source(
        "ockajova",
        "Očkajová and others, dust of belt and hand sanders; Technical University in Zvolen, abstracts",
    ),
    Source(
        "en-60335-2-69",
        "EN 60335-2-69, vacuum cleaners for dust hazardous to health, classes L, M, H",
        "second-hand",
    ),
    Source(
        "dembinski-2021",
        "Dembiński and others, Applied Sciences 11, 8965 (2021), abstract: cake of wood dust",
    ),
    Source(
        "nicas",
        "Nicas, near field and far field, Annals of Work Exposures and Health 68 (2024), abstract",
    ),
    Source("two-zone-usual", "Usual sizes and air of the near field in two-zone models", "memory"),
    Source(
        "hinds",
        "Hinds, Aerosol Technology: settling with slip and drag; breathing after ICRP 66, table 11.3",
        "second-hand",
    ),
    Source("schiller", "Drag of spheres after Schiller and Naumann (1935)", "memory"),
    Source("cdc-mmwr", "CDC, MMWR 43 RR-13, table S3-1, air changes and removal"),
    Source("osha-1910-134", "29 CFR 1910.134 table 1, assigned protection factors", "memory"),
    Source("niosh-1987", "NIOSH Respirator Decision Logic (1987)"),
    Source("hse-factors", "UK assigned protection factors, BS EN 529 and HSG53", "second-hand"),
    Source("hse-mask", "UK Health and Safety Executive, wood dust: masks"),
    Source("osha-1910-95", "29 CFR 1910.95, appendix A, occupational noise"),
    Source("niosh-98-126", "NIOSH 98-126, Occupational noise exposure, authors' abstract"),
    Source("osha-nrr", "29 CFR 1910.95 appendix B and its usual field derating", "second-hand"),
    Source("hse-noise", "UK Control of Noise at Work, as in HSE WIS13"),
    Source("hse-saws", "UK Health and Safety Executive, noise of woodworking machines: examples"),
    Source(
        "inverse-square",
        "A sound's level falls by 6 dB at twice the distance in the open",
        "memory",
    ),
    Source("hse-wis32", "HSE WIS32, explosion risk of wood dust", "second-hand"),
)


def _log_range(
    key: str,
    what: str,
    low: float,
    high: float,
    unit: str,
    source: str,
    where: str = "",
    note: str = "",
    standing: SourceStanding | None = None,
) -> Fact:
    """A fact that is known to a factor: its value is the middle by ratio."""
    middle = math.sqrt(low * high)
    return Fact(f"breathing.{key}", what, middle, unit, source, where, low, high, standing, note)


def _range(
    key: str,
    what: str,
    low: float,
    high: float,
    unit: str,
    source: str,
    where: str = "",
    note: str = "",
    standing: SourceStanding | None = None,
) -> Fact:
    middle = (low + high) / 2
    return Fact(f"breathing.{key}", what, middle, unit, source, where, low, high, standing, note)


def _value(
    key: str,
    what: str,
    value: float,
    unit: str,
    source: str,
    where: str = "",
    note: str = "",
    standing: SourceStanding | None = None,
) -> Fact:
    return Fact(f"breathing.{key}", what, value, unit, source, where, standing=standing, note=note)


_NO_RATE = "no published rate was found; weigh the bucket and the sweepings"
_NO_SIZE = "no published distribution of the whole dust was found"

#: Hood: part of its dust that it catches where it has all the air it needs.
_CAPTURE: tuple[tuple[str, float, float, str, str], ...] = (
    ("pad holes", 0.80, 0.92, "thorpe-brown-1995", "about 0.9 on the flat; field studies spread"),
    ("belt shroud", 0.60, 0.90, "judged", "NIOSH found over 0.75 with an air jet"),
    ("disc table", 0.60, 0.90, "judged", ""),
    ("saw shroud", 0.60, 0.92, "judged", ""),
    ("mitre boot", 0.20, 0.65, "judged", "its dust is thrown past the boot"),
    ("band saw port", 0.45, 0.85, "judged", ""),
    ("saw cabinet", 0.55, 0.90, "judged", "what the blade throws over the table is not caught"),
    ("blade guard", 0.50, 0.88, "judged", ""),
    ("router fence", 0.55, 0.90, "judged", ""),
    ("router base", 0.50, 0.90, "judged", ""),
    ("planer hood", 0.80, 0.98, "judged", ""),
    ("jointer chute", 0.70, 0.95, "judged", ""),
    ("drill fence", 0.20, 0.70, "judged", ""),
    ("lathe hood", 0.10, 0.50, "judged", ""),
    ("floor nozzle", 0.80, 0.98, "judged", ""),
    ("hood box", 0.30, 0.80, "judged", ""),
    ("bench nozzle", 0.10, 0.60, "judged", ""),
)

#: Operation: part of the mass that is fine, and median [µm] of its coarse part.
_FINE: tuple[tuple[str, float, float, float, float, str], ...] = (
    ("sanding", 0.85, 1.0, 80, 150, "over 0.9 of it at or under 80 µm (Očkajová and others)"),
    ("sawing", 0.004, 0.06, 250, 900, _NO_SIZE),
    ("routing", 0.004, 0.06, 300, 1500, _NO_SIZE),
    ("planing", 0.001, 0.02, 1000, 4000, _NO_SIZE),
    ("drilling", 0.003, 0.05, 500, 3000, _NO_SIZE),
    ("turning", 0.002, 0.03, 1000, 5000, _NO_SIZE),
)

#: Mass taken off by a minute of contact [g/min].
_REMOVAL: tuple[tuple[str, str, float, float], ...] = (
    ("pad holes", "An orbital sander with 120 grit", 0.3, 3.0),
    ("belt shroud", "A belt sander with 120 grit", 3.0, 30.0),
    ("disc table", "A disc or belt sander on a stand with 120 grit", 3.0, 30.0),
    ("hand", "Sanding by hand with 120 grit", 0.1, 1.0),
    ("lathe", "Turning on a small lathe", 5.0, 80.0),
)

#: Wood: specific gravity at about 12 % moisture, least and greatest of the species so called.
_GRAVITY: tuple[tuple[str, float, float], ...] = (
    ("ash", 0.49, 0.60),
    ("beech", 0.62, 0.66),
    ("birch", 0.55, 0.65),
    ("cherry", 0.48, 0.52),
    ("mahogany", 0.45, 0.63),
    ("maple", 0.47, 0.63),
    ("oak", 0.59, 0.72),
    ("poplar", 0.37, 0.43),
    ("teak", 0.55, 0.65),
    ("walnut", 0.53, 0.57),
    ("cedar", 0.31, 0.47),
    ("fir", 0.39, 0.52),
    ("pine", 0.35, 0.59),
    ("spruce", 0.36, 0.42),
)
_PANELS: tuple[tuple[str, str, float, float], ...] = (
    ("mdf", "fibreboard of middling density", 650, 800),
    ("particle board", "particle board", 600, 720),
    ("plywood", "plywood, whatever its veneers", 450, 720),
    ("unknown", "wood of which nothing is said", 330, 950),
)

#: Rules: name, limit [mg/m³], fraction, averaging [h], source.
_LIMITS: tuple[tuple[str, str, float, float, str, SourceStanding | None], ...] = (
    ("us.osha_total", "OSHA limit, total dust", 15.0, 8.0, "osha-z1", None),
    ("us.osha_respirable", "OSHA limit, respirable dust", 5.0, 8.0, "osha-z1", None),
    ("us.niosh_total", "NIOSH recommended limit, total wood dust", 1.0, 10.0, "niosh-pocket", None),
    ("us.acgih_inhalable", "ACGIH guide value, inhalable wood dust", 1.0, 8.0, "acgih-tlv", None),
    (
        "us.acgih_cedar",
        "ACGIH guide value, inhalable dust of western red cedar",
        0.5,
        8.0,
        "acgih-tlv",
        None,
    ),
    ("uk.hardwood", "UK limit, inhalable hardwood dust and mixtures", 3.0, 8.0, "hse-wood", None),
    ("uk.softwood", "UK limit, inhalable softwood dust", 5.0, 8.0, "hse-wood", None),
    ("uk.respirable", "UK limit, respirable dust of any kind", 4.0, 8.0, "coshh", None),
    ("eu.hardwood", "EU limit, inhalable hardwood dust and mixtures", 2.0, 8.0, "eu-2004-37", None),
    ("germany.inhalable", "German limit, inhalable wood dust", 2.0, 8.0, "trgs-553", None),
)

_MASKS_US: tuple[tuple[str, str, float, str], ...] = (
    ("disposable", "a disposable mask, fit tested", 10.0, "osha-1910-134"),
    ("half mask", "a half mask with particle filters, fit tested", 10.0, "osha-1910-134"),
    ("full face", "a full-face mask with particle filters, fit tested", 50.0, "osha-1910-134"),
    ("powered hood", "a loose hood with a blower", 25.0, "osha-1910-134"),
    ("untested", "a close mask without a quantitative fit test", 5.0, "niosh-1987"),
)
_MASKS_UK: tuple[tuple[str, str, float, str], ...] = (
    ("FFP2", "a disposable mask of class FFP2", 10.0, "hse-factors"),
    ("FFP3", "a disposable mask of class FFP3", 20.0, "hse-factors"),
    ("half mask", "a half mask with P3 filters", 20.0, "hse-factors"),
    ("full face", "a full-face mask with P3 filters", 40.0, "hse-factors"),
    ("powered hood", "a loose hood with a blower, TH2", 20.0, "hse-factors"),
)

#: Level at the worker's ear [dB(A)].
_NOISE: tuple[tuple[str, str, float, float, str, str], ...] = (
    ("vacuum", "A shop vacuum two metres away", 72, 90, "judged", ""),
    ("sawing", "A saw", 88, 104, "hse-saws", "circular saws 97 to 102; small ones spread lower"),
    ("planing", "A planer or jointer", 90, 105, "hse-saws", "planers to 105"),
    ("routing", "A router", 88, 102, "hse-saws", "spindle moulders 95 to 100"),
    ("sanding", "A sander", 78, 97, "judged", ""),
    ("drilling", "A drill press", 70, 88, "judged", ""),
    ("turning", "A lathe", 72, 90, "judged", ""),
    ("sweeping", "A floor nozzle", 70, 85, "judged", "beside the vacuum itself"),
    ("hand", "Sanding by hand", 60, 75, "judged", ""),
)

FACTS: tuple[Fact, ...] = (
    # Dust made
    *(
        _range(
            f"density.{wood}",
            f"Density of {wood} at about 12 % moisture",
            low * 1120 * 0.94,
            high * 1120 * 1.06,
            "kg/m³",
            "wood-handbook",
            "specific gravity at 12 % moisture, times 1.12",
            "boards of one species differ by a sixteenth and more",
        )
        for wood, low, high in _GRAVITY
    ),
    *(
        _range(f"density.{key}", f"Density of {what}", low, high, "kg/m³", "practice")
        for key, what, low, high in _PANELS
    ),
    *(
        _log_range(
            f"removal.{key}",
            f"{what}: mass taken off by a minute at work",
            low * 1e-3 / _MIN,
            high * 1e-3 / _MIN,
            "kg/s",
            "judged",
            note=_NO_RATE,
        )
        for key, what, low, high in _REMOVAL
    ),
    _range(
        "removal.grit_power",
        "Power of 120 over the grit by which coarser paper takes off more",
        0.4,
        1.0,
        "",
        "judged",
    ),
    _range(
        "fine.grit_power",
        "Power of the grit over 120 by which finer paper makes more airborne dust of the same mass",
        0.15,
        0.60,
        "",
        "ockajova",
        "P120 over P80 16 to 32 % more, P240 over P40 48 % more",
    ),
    # Sizes
    *(
        _log_range(
            f"fine.{key}",
            f"Part of the dust of {key} that is fine enough to float",
            low,
            high,
            "",
            "ockajova" if key == "sanding" else "judged",
            note=note,
        )
        for key, low, high, _, _, note in _FINE
    ),
    *(
        _log_range(
            f"coarse.{key}",
            f"Median size by mass of the coarse dust of {key}",
            low * _MICRON,
            high * _MICRON,
            "m",
            "judged",
        )
        for key, _, _, low, high, _ in _FINE
    ),
    _range("coarse.spread", "Geometric deviation of coarse dust", 1.6, 2.4, "", "judged"),
    _log_range(
        "floating.sanding",
        "Aerodynamic median by mass of floating sanding dust",
        9 * _MICRON,
        40 * _MICRON,
        "m",
        "ojima-2016",
        "9 to 10 µm by hand with fine paper",
        "airborne mass mostly 10 to 70 µm (Harper and others 2004)",
    ),
    _log_range(
        "floating.cutting",
        "Aerodynamic median by mass of floating dust of saws and cutters",
        12 * _MICRON,
        36 * _MICRON,
        "m",
        "table-saw-2019",
        "under 10 µm: 29 % of airborne mass of hardwoods, 10 % of fir",
    ),
    _range("floating.spread", "Geometric deviation of floating dust", 1.8, 2.4, "", "judged"),
    _log_range(
        "rises",
        "Part of the fine dust past the hood that rises into the air; the rest lies about the work",
        0.1,
        0.7,
        "",
        "judged",
    ),
    _log_range(
        "sweeping.rises",
        "Part of the fine dust on the floor that a broom throws up, or a nozzle that it escapes",
        0.003,
        0.1,
        "",
        "judged",
        note="no published figure for sweeping a workshop was read",
    ),
    _range(
        "swept",
        "Part of the dust on floor and bench that a broom or a nozzle gets at",
        0.5,
        1.0,
        "",
        "judged",
    ),
    _range(
        "total",
        "What a sampler of total dust catches of the inhalable",
        0.25,
        1.0,
        "",
        "judged",
        note="no source read converts one to the other",
    ),
    # Capture
    *(
        _range(
            f"capture.{hood}",
            f"Part of its dust that {hood} catch with all the air needed"
            if hood.endswith("s")
            else f"Part of its dust that a {hood} catches with all the air it needs",
            low,
            high,
            "",
            source,
            note=note or "no published figure for a home workshop",
        )
        for hood, low, high, source, note in _CAPTURE
    ),
    _range(
        "capture.power.pad",
        "Power of the airflow by which a sander's pad catches less below its need",
        0.8,
        1.2,
        "",
        "thorpe-brown-1995",
        "about in proportion",
    ),
    _range(
        "capture.power.other",
        "The same of all other hoods",
        0.35,
        1.0,
        "",
        "judged",
        note="chips fly into a hood by themselves",
    ),
    _range(
        "capture.edges",
        "What a sander's pad catches on an edge, as a part of what it catches on the flat",
        0.40,
        0.65,
        "",
        "thorpe-brown-1995",
        "about 0.5 on edges with a vacuum, about 0.9 on the flat",
    ),
    # Separator and filter
    _log_range(
        "cut.spread",
        "A small cyclone's cut size against the relation, either way",
        0.5,
        2.0,
        "",
        "judged",
        note="no measured cut of a cyclone on a bucket was found",
    ),
    _log_range("filter.H", "What a class H filter lets pass", 5e-6, 5e-5, "", "en-60335-2-69"),
    _log_range("filter.M", "What a class M filter lets pass", 1e-4, 1e-3, "", "en-60335-2-69"),
    _log_range("filter.L", "What a class L filter lets pass", 1e-3, 1e-2, "", "en-60335-2-69"),
    _log_range(
        "filter.unknown",
        "What a vacuum's filter of no known class lets pass",
        1e-3,
        0.15,
        "",
        "judged",
    ),
    _value(
        "filter.size",
        "Size from which a filter lets less pass, by the square",
        5 * _MICRON,
        "m",
        "judged",
        note="the classes' test dust is 75 % under 5 µm",
    ),
    _log_range(
        "filter.seal",
        "What goes past a vacuum's filter by its seal",
        1e-4,
        1e-2,
        "",
        "judged",
        note="the class of a filter says nothing of its seal",
    ),
    _log_range(
        "filter.cake",
        "Resistance of a cake of wood dust, of its mass on the square of the area",
        6_507.0,
        29_729.0,
        "1/s",
        "dembinski-2021",
        "6,507 new bags; 10,208 and 29,729 after months",
    ),
    _log_range(
        "filter.stays",
        "Part of the dust that reaches a filter and stays on it as a cake",
        0.15,
        1.0,
        "",
        "judged",
        note="the rest falls into the tank",
    ),
    # Bucket
    _range(
        "bucket.passes",
        "Part of a bucket's volume at which its separator begins to pass chips",
        0.65,
        0.95,
        "",
        "judged",
    ),
    _range(
        "bucket.full_keeps",
        "Part of the dust that a separator on a full bucket still keeps",
        0.0,
        0.6,
        "",
        "judged",
    ),
    _range(
        "packing.shavings",
        "Loose shavings take this many times the volume of the solid wood",
        3.6,
        5.0,
        "",
        "briggs",
        "chapter 7: 4.00",
    ),
    _range(
        "lift.height",
        "Height of the hands when a bucket is lifted off a cart",
        0.6,
        1.1,
        "m",
        "judged",
    ),
    _range("lift.travel", "How far a full bucket is let down", 0.3, 0.9, "m", "judged"),
    # Room
    _log_range(
        "near.radius",
        "Radius of the half sphere of air round the worker",
        0.8,
        1.0,
        "m",
        "two-zone-usual",
    ),
    _log_range(
        "near.airflow",
        "Air that passes between that half sphere and the room",
        3.0 / 60,
        30.0 / 60,
        "m³/s",
        "two-zone-usual",
    ),
    _range(
        "mixing",
        "Part of the fresh air that mixes with the room's",
        0.3,
        1.0,
        "",
        "judged",
        note="poor mixing makes removal up to ten times slower (CDC, table S3-1)",
    ),
    _log_range(
        "door.open", "Air changes an hour that an open garage door adds", 3.0, 30.0, "1/h", "judged"
    ),
    _range(
        "cleaner.label",
        "Clean air from a room's air cleaner, as a part of the given",
        0.5,
        1.0,
        "",
        "judged",
    ),
    _range(
        "breath",
        "Air breathed at light to heavier work",
        1.25 / 3600,
        2.2 / 3600,
        "m³/s",
        "hinds",
        "table 11.3: light 1.25 to 1.5, heavy 2.7 to 3.0 m³/h",
    ),
    _log_range(
        "emptying.released",
        "Part of the fine dust in a bucket that rises when it is emptied",
        1e-4,
        1e-2,
        "",
        "judged",
    ),
    _value("emptying.time", "Time that emptying takes", 300.0, "s", "judged"),
    _value("slip", "Mean free path of air at 20 °C", 0.066 * _MICRON, "m", "hinds"),
    _value("en481.inhalable", "Slope of the inhalable convention", 0.06, "1/µm", "en-481"),
    _value(
        "en481.thoracic",
        "Median of the thoracic convention",
        11.64,
        "µm",
        "en-481",
        standing="memory",
    ),
    _value("en481.respirable", "Median of the respirable convention", 4.25, "µm", "en-481"),
    _value("en481.spread", "Geometric deviation of both conventions", 1.5, "", "en-481"),
    # Limits
    *(
        _value(f"limit.{key}", what, mg * _MG, "kg/m³", source, standing=standing)
        for key, what, mg, _, source, standing in _LIMITS
    ),
    *(
        _value(f"averaging.{key}", f"{what}: time of averaging", hours * _HOUR, "s", source)
        for key, what, _, hours, source, _ in _LIMITS
    ),
    _value(
        "clear",
        "Part of the lowest limit below which the mask may come off",
        0.1,
        "",
        "judged",
        note="a tenth leaves room for what the model does not know; it is no safe level",
    ),
    # Masks
    *(
        _value(f"mask.us.{key}", f"US protection factor: {what}", factor, "", source)
        for key, what, factor, source in _MASKS_US
    ),
    *(
        _value(f"mask.uk.{key}", f"UK protection factor: {what}", factor, "", source)
        for key, what, factor, source in _MASKS_UK
    ),
    _value(
        "mask.uk.least",
        "Protection factor asked for at sanding, portable tools and changing bags",
        20.0,
        "",
        "hse-mask",
    ),
    # Noise
    *(
        _range(f"noise.{key}", f"{what}: level at the ear", low, high, "dB(A)", source, note=note)
        for key, what, low, high, source, note in _NOISE
    ),
    _value("noise.niosh_level", "NIOSH recommended level over 8 h", 85.0, "dB(A)", "niosh-98-126"),
    _value("noise.niosh_rate", "NIOSH exchange rate", 3.0, "dB", "niosh-98-126"),
    _value("noise.osha_level", "OSHA permitted level over 8 h", 90.0, "dB(A)", "osha-1910-95"),
    _value("noise.osha_rate", "OSHA exchange rate", 5.0, "dB", "osha-1910-95"),
    _value(
        "noise.threshold", "Level below which sound is not counted", 80.0, "dB(A)", "osha-1910-95"
    ),
    _value("noise.uk_lower", "UK lower action value over the day", 80.0, "dB(A)", "hse-noise"),
    _value("noise.uk_upper", "UK upper action value over the day", 85.0, "dB(A)", "hse-noise"),
    _value(
        "noise.uk_limit", "UK limit over the day, under the protector", 87.0, "dB(A)", "hse-noise"
    ),
    _value("noise.muffs", "NIOSH: part of a rating that muffs keep", 0.75, "", "niosh-98-126"),
    _value(
        "noise.foam plugs",
        "NIOSH: part of a rating that formable plugs keep",
        0.50,
        "",
        "niosh-98-126",
    ),
    _value(
        "noise.other plugs",
        "NIOSH: part of a rating that other plugs keep",
        0.30,
        "",
        "niosh-98-126",
    ),
    _value("noise.weighting", "Taken off a rating for A-weighted levels", 7.0, "dB", "osha-nrr"),
    _value("noise.field", "OSHA: part of a rating counted in the field", 0.5, "", "osha-nrr"),
    _range(
        "noise.farther",
        "What a vacuum twice as far away is quieter at the ear",
        3.0,
        6.0,
        "dB",
        "inverse-square",
        note="6 in the open; walls give some back",
    ),
    _range(
        "noise.baffle",
        "What a baffle that leaves the air free takes off a vacuum's level",
        3.0,
        8.0,
        "dB",
        "judged",
    ),
    _value(
        "motor.warmer",
        "How much warmer a vacuum's cooling air may be made by a box round it",
        15.0,
        "K",
        "judged",
    ),
    _value(
        "air.heat",
        "Specific heat of air at constant pressure",
        1005.0,
        "J/(kg K)",
        "hinds",
        standing="memory",
    ),
    # Fire
    _value(
        "fire.fine",
        "Size under which wood dust counts as fine for explosions",
        80 * _MICRON,
        "m",
        "hse-wis32",
    ),
    _value(
        "fire.share",
        "Part of fine dust from which it is taken as explosible",
        0.10,
        "",
        "hse-wis32",
    ),
)

#: Fraction that each limit is about, as it is named there.
FRACTIONS: dict[str, str] = {
    key: "total" if "total" in key else "respirable" if "respirable" in key else "inhalable"
    for key, *_ in _LIMITS
}
