"""A plan from the cache is the plan made anew, and a stage reads only what is in its key."""

from __future__ import annotations

import random
from collections import defaultdict
from pathlib import Path

import pytest

from kerfwind.app.document import Document, Edit
from kerfwind.faults import Faults
from kerfwind.plan import make_plan, plan_record
from kerfwind.shop import ShopReader, parse_shop
from kerfwind.shop.model import Part
from kerfwind.stages import Stages, digest

EXAMPLES = sorted((Path(__file__).parents[1] / "examples").glob("*.toml"))
SAMPLES = 48
EDITS, SEED = 40, 1

#: Places of the garage and what they may become.
CHOICES = {
    ("about", "name"): ("A", "B"),
    ("about", "units"): ("in", "mm", "both"),
    ("vacuum", "height"): ("24-1/2 in", "25 in", "26 in"),
    ("vacuum", "weight"): ("23 lb ± 1", "25 lb"),
    ("vacuum", "width"): ("20-1/2 in", "19 in"),
    ("vacuum", "filter"): ("used", "clean"),
    ("vacuum", "amps"): ("10.8 A", "9 A"),
    ("vacuum", "name"): ("big one", "old one"),
    ("vacuum", "filter_class"): ("L", "M", None),
    ("vacuum", "filter_area"): ("0.5 m²", None),
    ("vacuum", "noise"): ("80 dB", None),
    ("vacuum", "suction", "sealed"): ("82 inH2O", "75 inH2O", "60 inH2O"),
    ("vacuum", "suction", "open_airflow"): ("160 cfm", "120 cfm"),
    ("vacuum", "suction", "known_from"): ("label", "measured"),
    ("separator", "in_use"): (True, False),
    ("separator", "valve"): ("40 inH2O", None),
    ("separator", "rings"): (0, 1),
    ("separator", "backed_lid"): (True, False),
    ("separator", "bucket", "top_diameter"): ("11-1/4 in ± 1/16", "11-3/8 in"),
    ("separator", "bucket", "wall"): ("2.3 mm ± 0.2", "1.8 mm"),
    ("separator", "bucket", "made_of"): ("plastic", "fibre", "steel"),
    ("separator", "cyclone", "height"): ("11-1/2 in", "12 in"),
    ("separator", "cyclone", "body_diameter"): ("6-1/4 in", "6 in"),
    ("hoses", "slim hose", "length"): ("13 ft", "11 ft"),
    ("hoses", "slim hose", "wall"): ("smooth", "ribbed"),
    ("hoses", "wide hose", "length"): ("10 ft", "8 ft"),
    ("hoses", "wide hose", "bore"): ("57 mm ± 1", "60 mm"),
    ("hoses", "joining hose", "length"): ("6 ft", "8 ft"),
    ("hoses", "joining hose", "smallest_bend"): ("5 in", None),
    ("tools", "band saw", "amps"): ("8 A", "6 A"),
    ("tools", "band saw", "noise"): ("88 dB", None),
    ("tools", "band saw", "bends"): (3, 1),
    ("tools", "spindle sander", "port", "inside"): ("36.8 mm ± 0.4", "40 mm"),
    ("tools", "palm sander", "rise"): ("0 ft", "1 ft"),
    ("tools", "drill press", "place", "x"): ("17 ft", "12 ft"),
    ("tools", "drill press", "made"): ("plate", None),
    ("tools", "jigsaw", "needs_airflow"): ("60 cfm", None),
    ("tools", "lathe", "measured_suction"): ("3 inH2O", None),
    ("fittings", "wide cone", "count"): (1, 2),
    ("fittings", "soft cuff", "length"): ("68 mm", "80 mm"),
    ("sheets", "18 mm birch plywood, 5 x 2-1/2 ft", "price"): (52.0, 30.0, 99.0),
    ("sheets", "18 mm birch plywood, 5 x 2-1/2 ft", "count"): (1, None),
    ("sheets", "18 mm birch plywood, 5 x 2-1/2 ft", "thickness"): ("17.8 mm ± 0.3", "18.3 mm"),
    ("saw", "kerf"): ("5/64 in", "1/8 in"),
    ("saw", "kind"): ("track saw", "table saw"),
    ("room", "altitude"): ("300..500 ft", "2000 ft"),
    ("room", "temperature"): ("50..85 °F", "70 °F"),
    ("room", "length"): ("21 ft", "24 ft"),
    ("room", "height"): ("8 ft 3 in", "7 ft"),
    ("room", "air_changes"): ("2", None),
    ("room", "door"): ("open", "closed"),
    ("circuit", "breaker"): ("20 A", "15 A"),
    ("circuit", "other_loads"): ("0.5 A", "2 A"),
    ("circuit", "cord"): ("25 ft", None),
    ("wishes", "printer"): (True, False),
    ("wishes", "narrowest_door"): ("31 in", "33 in"),
    ("wishes", "caster_load"): ("120 lb", "60 lb"),
    ("wishes", "largest_length"): ("30 in", "26 in"),
    ("wishes", "form"): ("low", "tower"),
    ("wishes", "caster_diameter"): ("3 in", "2-1/2 in"),
    ("wishes", "hold_bucket"): ("rim", "standing"),
    ("wishes", "joint"): ("screwed butt", "glue"),
    ("wishes", "options"): ([], ["hose holder"], ["cord wrap", "handle"], ["fitting rack"]),
    ("wishes", "hose_anchor"): ("low", "port"),
    ("weights", "air"): (4.0, 1.0),
    ("about", "rules"): ("us", "eu"),
    ("sessions", "stool day", "mask"): ("half mask", "none"),
}


def garage() -> str:
    return next(e for e in EXAMPLES if e.stem == "garage").read_text(encoding="utf-8")


def edited(document: Document, rng: random.Random) -> bool:
    """Make a random edit that leaves a file that can be planned; whether there was one."""
    place = rng.choice(list(CHOICES))
    old = document.value(place)
    new = rng.choice([v for v in CHOICES[place] if v != old])
    mark = document.mark()
    document.apply(Edit(place, old, new))
    try:
        parse_shop(document.text)
    except Faults:
        document.back_to(mark)
        return False
    return True


def differing(cached, fresh, path="") -> str:
    """Where two records differ first; empty where they do not."""
    if isinstance(cached, dict) and isinstance(fresh, dict):
        if list(cached) != list(fresh):
            return f"{path}: {list(cached)} {list(fresh)}"
        return next((d for k in cached if (d := differing(cached[k], fresh[k], f"{path}.{k}"))), "")
    if isinstance(cached, list) and isinstance(fresh, list) and len(cached) == len(fresh):
        pairs = enumerate(zip(cached, fresh, strict=True))
        return next((d for n, (a, b) in pairs if (d := differing(a, b, f"{path}[{n}]"))), "")
    same = cached == fresh or (cached != cached and fresh != fresh)
    return "" if same else f"{path}: {cached!r} {fresh!r}"[:300]


def test_a_plan_of_kept_stages_is_the_plan_made_anew():
    rng = random.Random(SEED)
    document, stages = Document(garage()), Stages()
    reader = ShopReader()
    make_plan(reader.read(document.text), samples=SAMPLES, stages=stages)
    done = 0
    while done < EDITS:
        if not edited(document, rng):
            continue
        done += 1
        file = reader.read(document.text)
        make_plan(file, samples=SAMPLES, stages=stages, first=True)
        cached = plan_record(make_plan(file, samples=SAMPLES, stages=stages))
        fresh = plan_record(make_plan(parse_shop(document.text), samples=SAMPLES))
        assert not differing(cached, fresh), document.text


class Tracer:
    """Notes of each stage the fields of the whole shop that it reads."""

    def __init__(self) -> None:
        self.reads: dict[str, set[str]] = defaultdict(set)
        self.keys: dict[str, set[str]] = defaultdict(set)
        self.stage = ""
        self._paths: dict[int, str] = {}
        self._held: list[Part] = []

    def know(self, part: object, path: str = "") -> None:
        """Every part within has its place."""
        if isinstance(part, Part):
            self._paths[id(part)] = path
            self._held.append(part)
            for name in type(part).model_fields:
                self.know(part.__dict__[name], f"{path}.{name}")
        elif isinstance(part, tuple):
            for row in part:
                self.know(row, f"{path}[]")

    def copied(self, old: Part, new: Part) -> None:
        """A copy stands where its original does."""
        if id(old) in self._paths:
            self._paths[id(new)] = self._paths[id(old)]
            self._held.append(new)

    def read(self, part: Part, name: str) -> None:
        """A stage has read a field."""
        if self.stage and (path := self._paths.get(id(part))) is not None:
            self.reads[self.stage].add(f"{path}.{name}")


@pytest.fixture
def tracer(monkeypatch):
    """Notes what is read within stages."""
    tracing = Tracer()
    run, copy, read = Stages._kept_or_run, Part.model_copy, object.__getattribute__
    key_of = Stages._key

    def untraced_key(self, inputs):
        # A stage within a stage: its key is made from what the outer one was given.
        before, tracing.stage = tracing.stage, ""
        try:
            return key_of(self, inputs)
        finally:
            tracing.stage = before

    def traced_run(self, name, key, stage, inputs):
        def traced(*given):
            before, tracing.stage = tracing.stage, name
            try:
                return stage(*given)
            finally:
                tracing.stage = before

        return run(self, name, key, traced, inputs)

    def traced_copy(self, **options):
        before, tracing.stage = tracing.stage, ""
        new = copy(self, **options)
        tracing.copied(self, new)
        tracing.stage = before
        return new

    def traced_read(self, name):
        if name in type(self).__pydantic_fields__:
            tracing.read(self, name)
        return read(self, name)

    monkeypatch.setattr(Stages, "_key", untraced_key)
    monkeypatch.setattr(Stages, "_kept_or_run", traced_run)
    monkeypatch.setattr(Part, "model_copy", traced_copy)
    monkeypatch.setattr(Part, "__getattribute__", traced_read, raising=False)
    return tracing


class Held(Stages):
    """Stages that note what of the shop each is given, by whether it is left out."""

    def __init__(self) -> None:
        super().__init__()
        self.given: dict[str, list] = defaultdict(list)

    def _key(self, inputs):
        inputs = tuple(inputs)
        self.last = inputs
        return super()._key(inputs)

    def _kept_or_run(self, name, key, stage, inputs):
        self.given[name].append(inputs)
        return super()._kept_or_run(name, key, stage, inputs)


def parts_in(value) -> list[Part]:
    """All parts of a shop within a stage's inputs."""
    if isinstance(value, Part):
        return [value, *(p for n in type(value).model_fields for p in parts_in(value.__dict__[n]))]
    if isinstance(value, (tuple, list)):
        return [p for row in value for p in parts_in(row)]
    if isinstance(value, dict):
        return parts_in(list(value.values()))
    if hasattr(value, "__dataclass_fields__"):
        return [p for n in value.__dataclass_fields__ for p in parts_in(getattr(value, n))]
    return []


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_stages_read_only_what_is_in_their_keys(example, tracer):
    file = parse_shop(example.read_text(encoding="utf-8"))
    tracer.know(file.shop)
    stages = Held()
    make_plan(file, samples=SAMPLES, stages=stages)
    assert {"hookup", "air", "floor map"} <= set(tracer.reads)
    for name, reads in tracer.reads.items():
        held: set[str] = set()
        for part in parts_in(stages.given[name]):
            path = tracer._paths.get(id(part))
            if path is not None:
                held |= {
                    f"{path}.{n}"
                    for n in type(part).model_fields
                    if part.__dict__[n] is not None or whole(file.shop, f"{path}.{n}") is None
                }
        assert reads <= held, f"{name} reads {sorted(reads - held)}"


def whole(shop, path):
    """What stands at a place of the whole shop; None where no row has anything."""
    here = [shop]
    for step in path.strip(".").split("."):
        rows, step = step.endswith("[]"), step.removesuffix("[]")
        here = [p.__dict__[step] for p in here if p is not None]
        if rows:
            here = [row for each in here if each is not None for row in each]
    return next((each for each in here if each is not None), None)


def test_a_cart_is_one_key_whatever_its_maker_is_called():
    text = garage()
    stages = Stages()
    reader = ShopReader()
    file = reader.read(text)
    make_plan(file, samples=SAMPLES, stages=stages)
    stages.ran.clear()
    other = reader.read(text.replace("A. Maker", "B. Maker"))
    assert other.shop.tools is file.shop.tools
    make_plan(other, samples=SAMPLES, stages=stages)
    assert stages.ran == []


@pytest.mark.parametrize(
    ("was", "now"),
    [
        ("price = 52.0", "price = 52.5"),
        ('narrowest_door = "31 in"', 'narrowest_door = "31-1/2 in"'),
        ('caster_load = "120 lb"', 'caster_load = "125 lb"'),
        ('sealed = "82 inH2O"', 'sealed = "82.5 inH2O"'),
    ],
)
def test_what_its_wood_does_not_hang_on_leaves_it_and_its_cuts_alone(was, now):
    text = garage()
    assert was in text
    stages = Stages()
    first = make_plan(parse_shop(text), samples=SAMPLES, stages=stages)
    stages.ran.clear()
    other = make_plan(parse_shop(text.replace(was, now)), samples=SAMPLES, stages=stages)
    assert "steadied" in stages.ran
    assert "wood" not in stages.ran
    assert other.panels == first.panels
    if "price" in was:
        assert other.cart is first.cart


def test_equal_parts_of_two_readings_are_the_same():
    reader = ShopReader()
    file = reader.read(garage())
    other = reader.read(garage().replace('length = "13 ft"', 'length = "12 ft"'))
    assert other.shop.vacuum is file.shop.vacuum
    assert other.shop.hoses[0] is file.shop.hoses[0]
    assert other.shop.hoses[1] is not file.shop.hoses[1]
    assert other.shop.hoses[1].bore is file.shop.hoses[1].bore
    assert digest(other.shop) == digest(parse_shop(other.text).shop) != digest(file.shop)
