"""Shop files as people might write them, and changes of them, at random."""

import copy

from hypothesis import strategies as st

from kerfwind.app.document import ROWS, Document, Edit

_KEYS = ("inside", "outside", "length", "x", "y", "kind", "odd key", "größe")
_NAMES = ("planer", "band saw", "odd [1].x", "Säge", 'the "big" one', "it's", "a", "b")
_TABLES = ("about", "vacuum", "saw", "room", "wishes", "circuit")

words = st.text(st.sampled_from("ab1 ä½±\"'#[]{}=,.\\\t"), max_size=12)
plain = st.one_of(
    words, st.integers(-9, 99), st.booleans(), st.sampled_from([0.5, 31.0, -2.25, 1e300])
)
tables = st.dictionaries(st.sampled_from(_KEYS), plain, min_size=1, max_size=3)
values = st.one_of(plain, st.lists(plain, max_size=3), tables, st.lists(tables, max_size=3))
rows = st.dictionaries(st.sampled_from(_KEYS), values, max_size=4)


def _key(key):
    return key if key.isascii() and key.isalnum() else f'"{key}"'


def _text(draw, text):
    """A text in one of the four ways in which TOML lets it stand."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"').replace("\t", "\\t")
    ways = [f'"{escaped}"', f'"""{escaped}"""', f'"""\\\n   {escaped}"""']
    if text[:1] == " ":
        ways.pop()
    if "'" not in text:
        ways += [f"'{text}'", f"'''{text}'''", f"'''\n{text}'''"]
    return draw(st.sampled_from(ways))


def _written(draw, value):
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return _text(draw, value)
    if isinstance(value, dict):
        space = draw(st.sampled_from(["", " "]))
        members = [f"{_key(k)} = {_written(draw, v)}" for k, v in value.items()]
        return "{" + space + f",{space}".join(members) + space + "}"
    if isinstance(value, list):
        members = [_written(draw, v) for v in value]
        if members and draw(st.booleans()):
            remark = draw(st.sampled_from(["", "  # a, b ]", " #"]))
            last = draw(st.sampled_from([",", "", f",{remark}", remark]))
            return f"[\n    # why\n  {f',{remark}{chr(10)}  '.join(members)}{last}\n]"
        return f"[{', '.join(members)}]"
    return repr(value)


def _between(draw):
    return draw(st.sampled_from(["", "", "", "\n", "# a remark\n", "\n# by itself\n\n", "  \n"]))


def _lines(draw, table, below=()):
    """The keys of a table, some of them dotted, ``below`` those that have headers."""
    lines = []
    for key, value in table.items():
        if key in below:
            continue
        if isinstance(value, dict) and value and draw(st.integers(0, 3)) == 0:
            lines += [f"{_key(key)}.{_key(k)} = {_written(draw, v)}" for k, v in value.items()]
        else:
            equals = draw(st.sampled_from([" = ", "=", "   = "]))
            lines.append(f"{_key(key)}{equals}{_written(draw, value)}")
    ends = ["", "", "   # measured", " #"]
    return "".join(f"{line}{draw(st.sampled_from(ends))}\n{_between(draw)}" for line in lines)


def _headed(draw, header, table, double=False):
    below = [
        k for k, v in table.items() if isinstance(v, dict) and v and draw(st.integers(0, 3)) < 1
    ]
    text = f"[[{header}]]" if double else f"[{header}]"
    text += draw(st.sampled_from(["", "  # what it is"])) + "\n" + _lines(draw, table, below)
    for key in below:
        text += f"{_between(draw)}[{header}.{_key(key)}]\n" + _lines(draw, table[key])
    return text


@st.composite
def shop_texts(draw):
    """A text, and nothing that the document makes of it."""
    text = draw(st.sampled_from(["", "# A shop.\n\n", "# A shop.\n", "\n"]))
    stems = draw(st.permutations([*_TABLES, *ROWS[:4]]))[: draw(st.integers(0, 6))]
    text += _lines(draw, draw(st.dictionaries(st.sampled_from(["note", "n"]), plain)))
    for stem in stems:
        text += _between(draw)
        if stem in ROWS:
            names = draw(st.lists(st.sampled_from(_NAMES), unique=True, min_size=1, max_size=4))
            for name in names:
                text += _between(draw)
                text += _headed(draw, stem, {"name": name, **draw(rows)}, double=True)
        else:
            text += _headed(draw, stem, draw(rows))
    text += draw(st.sampled_from(["", "\n", "# the end\n"]))
    if draw(st.booleans()):
        text = text.rstrip("\n")
    if draw(st.booleans()):
        text = text.replace("\n", "\r\n")
    return text


def places(data, place=()):
    """Every place in the data, rows by their name."""
    members = []
    if isinstance(data, dict):
        members = [(k, v) for k, v in data.items()]
    elif isinstance(data, list):
        by_name = len(place) == 1 and place[0] in ROWS
        members = [(r["name"] if by_name else n, r) for n, r in enumerate(data)]
    for key, value in members:
        yield (*place, key), value
        yield from places(value, (*place, key))


@st.composite
def edits(draw, document):
    """A change that can be made now."""
    data = copy.deepcopy(document.data)
    there = [p for p in places(data) if not (len(p[0]) == 3 and p[0][2] == "name")]
    named = [p for p in there if len(p[0]) == 2 and p[0][0] in ROWS]
    held = [p[0] for p in there if isinstance(p[1], dict)]
    ways = ["table", "row"]
    ways += ["set", "set", "take"] * bool(there) + ["move", "rename", "drop"] * bool(named)
    ways += ["add", "add"] * bool(held)
    way = draw(st.sampled_from(ways))
    if way in ("set", "take"):
        place, old = draw(st.sampled_from(there))
        if way == "take":
            return Edit(place, old, None)
        if place in [p for p, _ in named]:
            return Edit(place, old, {"name": place[1], **draw(rows)})
        if len(place) == 1:
            place, old = (place[0], "new"), document.value((place[0], "new"))
            if not isinstance(document.value(place[:1]), dict):
                return Edit(place[:1], document.value(place[:1]), None)
        return Edit(place, old, draw(values.filter(lambda v: v is not None)))
    if way == "add":
        place = (*draw(st.sampled_from(held)), draw(st.sampled_from(_KEYS)))
        if draw(st.booleans()):
            place += (draw(st.sampled_from(_KEYS)),)
            if not isinstance(document.value(place[:-1]), (dict, type(None))):
                place = place[:-1]
        return Edit(place, document.value(place), draw(values))
    if way == "table":
        place = (draw(st.sampled_from(_TABLES)), draw(st.sampled_from(_KEYS)))
        return Edit(place, document.value(place), draw(values))
    if way == "row":
        stem = draw(st.sampled_from(ROWS))
        name = draw(st.sampled_from([*_NAMES, "new"]))
        if document.value((stem, name)) is None:
            at = draw(st.one_of(st.none(), st.integers(0, len(data.get(stem, ())))))
            return Edit((stem, name), None, {"name": name, **draw(rows)}, at)
        return Edit((stem, name), document.value((stem, name)), None)
    place, old = draw(st.sampled_from(named))
    if way == "drop":
        return Edit(place, old, None)
    if way == "move":
        return Edit(place, {}, {}, draw(st.integers(0, len(data[place[0]]) - 1)))
    name = draw(st.sampled_from([*_NAMES, "new"]))
    if document.value((place[0], name)) is not None:
        name = place[1]
    return Edit((*place, "name"), place[1], name)


def changed(data, edit):
    """Plain data as it should be after an edit: tables made where wanted, none left empty."""
    data = copy.deepcopy(data)
    place = list(edit.place)
    if place[0] in ROWS and len(place) > 1:
        listed = data.setdefault(place[0], [])
        numbers = [n for n, row in enumerate(listed) if row["name"] == place[1]]
        if len(place) == 2 and edit.moves:
            row = listed.pop(numbers[0])
            listed.insert(edit.at, row)
            return data
        if len(place) == 2 and not numbers:
            listed.insert(len(listed) if edit.at is None else edit.at, copy.deepcopy(edit.new))
            return data
        place[1] = numbers[0]
    trail = [data]
    for key in place[:-1]:
        here = trail[-1]
        here = here.setdefault(key, {}) if isinstance(here, dict) else here[key]
        trail.append(here)
    if edit.new is not None and edit.old is None and isinstance(place[-1], int):
        trail[-1].insert(place[-1], copy.deepcopy(edit.new))
        return data
    if edit.new is not None:
        trail[-1][place[-1]] = copy.deepcopy(edit.new)
        return data
    del trail[-1][place[-1]]
    for depth in range(len(place) - 1, 0, -1):
        if trail[depth] or isinstance(place[depth - 1], int):
            break
        del trail[depth - 1][place[depth - 1]]
    return data


def opened(text):
    """A document, the text of which is as it was."""
    document = Document(text)
    assert document.text == text
    return document
