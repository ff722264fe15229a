"""Names of files are names: whatever a person writes, never a path, a device or too long."""

from __future__ import annotations

import ast
import re
import unicodedata
from pathlib import Path, PurePosixPath, PureWindowsPath

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from kerfwind.filenames import MOST_BYTES, FileNames, file_stem
from kerfwind.plaintext import hidden

SOURCE = Path(__file__).parents[1] / "src" / "kerfwind"
DEVICES = re.compile(r"(con|prn|aux|nul|(com|lpt)[0-9¹²³]|conin\$|conout\$)(\..*)?", re.IGNORECASE)
NASTY = (
    "a/../../../../P",
    "3/4 belt",
    "..",
    ".",
    "/etc/passwd",
    "C:\\windows\\x",
    "-rf",
    "~root",
    "con",
    "NUL.txt",
    "com1",
    "COM¹",
    "lpt9.a.b",
    "x" * 300,
    "кромкофуговальный" * 12,
    "集塵機" * 40,
    "e\u0301" * 90,
    "a" + "\u0301" * 200,
    "\u0301",
    "\u202egpj.exe",
    "a\x00b\x1b[2J\nc",
    "trailing. . ",
    'a"b<c>d|e?f*g:h',
    "👩‍🔧",
    "",
    "   ",
)


def faults_of(name: str) -> list[str]:
    """What some system would not take, or take for something else."""
    return [
        what
        for what, wrong in {
            "empty": not name,
            "long": len(name.encode()) > MOST_BYTES,
            "a path": PurePosixPath(name).name != name or PureWindowsPath(name).name != name,
            "a device": DEVICES.fullmatch(name) is not None,
            "starts": name[:1] in (".", "-", " ", "~"),
            "ends": name[-1:] in (".", " "),
            "forbidden": bool(set(name) & set('<>:"/\\|?*')),
            "hidden": hidden(name) != [],
            "decomposed": unicodedata.normalize("NFC", name) != name,
        }.items()
        if wrong
    ]


@given(st.text(), st.sampled_from(["", "a-", "reducer-12-ring-into-"]), st.sampled_from(["", "-x"]))
def test_a_name_is_a_name_on_every_system(words: str, before: str, after: str) -> None:
    stem = file_stem(words, before=before, after=after, suffix=".json")
    assert faults_of(f"{stem}.json") == []
    assert faults_of(stem) == []
    assert stem.startswith(before)
    assert stem.endswith(after)


@pytest.mark.parametrize("words", NASTY)
def test_a_nasty_name_is_tamed(words: str) -> None:
    for suffix in ("", ".dxf"):
        assert faults_of(file_stem(words, suffix=suffix) + suffix) == []


@pytest.mark.parametrize(
    ("words", "stem"),
    [
        ("left side", "left side"),
        ("3/4 belt", "3-4 belt"),
        ("a/../../P", "a-P"),
        ("vacuum's own hose", "vacuums own hose"),
        ("Schreinerei Müller (neu)", "Schreinerei Müller (neu)"),
        ("v1.2", "v1.2"),
        ("木工房", "木工房"),
        ("प्लाई", "प्लाई"),
        ("עץ", "עץ"),
        ("con", "file-con"),
        ("...", "unnamed"),
    ],
)
def test_letters_of_every_script_are_kept(words: str, stem: str) -> None:
    assert file_stem(words) == stem


def test_a_name_is_cut_between_letters() -> None:
    long = "é" * 60
    assert file_stem(long, suffix=".dxf") == "é" * 38
    # Letters that have no form in one piece keep their marks with them.
    marked = "q\u0301" * 60
    assert file_stem(marked).endswith("q\u0301")
    assert len(file_stem(marked).encode()) <= MOST_BYTES


CLOSE = st.text(alphabet="aAäÄßſsSıiIİ\u0308\u0307kK /-.ﬁf", max_size=4)


@given(st.lists(CLOSE, max_size=12))
@example(["Side", "side", "SIDE", "s/ide", "s-ide"])
@example(["straße", "STRASSE", "strasse"])
@example(["a\u0308", "\u00e4", "Ä"])
@example(["x" * 200, "x" * 201, "X" * 90])
def test_no_two_files_of_a_folder_have_one_name(words: list[str]) -> None:
    names = FileNames(["panels"])
    stems = ["panels", *(names.stem(w, suffix=".dxf") for w in words)]
    # What drives do: take large for small letters, and put marks together or apart.
    for form in ("NFC", "NFD", "NFKC", "NFKD"):
        for case in (str.lower, str.upper, str.casefold):
            folded = [case(unicodedata.normalize(form, s)) for s in stems]
            assert len(set(folded)) == len(stems), (form, case)
    assert all(faults_of(f"{s}.dxf") == [] for s in stems)


SUFFIX = re.compile(r"\.(svg|pdf|csv|json|dxf|stl|3mf|glb|toml)$|-(plan|cuts|rest)$")


def unmade_paths(source: str) -> list[str]:
    """Texts that end as a file does and hold what was not made by `filenames`."""
    tree = ast.parse(source)
    made = {
        target.id
        for node in ast.walk(tree)
        if isinstance(node, ast.Assign) and _makes_name(node.value)
        for target in node.targets
        if isinstance(target, ast.Name)
    }
    found = []
    for node in ast.walk(tree):
        if not isinstance(node, ast.JoinedStr) or not node.values:
            continue
        last = node.values[-1]
        if not (isinstance(last, ast.Constant) and SUFFIX.search(str(last.value))):
            continue
        for value in node.values:
            if isinstance(value, ast.FormattedValue) and not _own(value.value, made):
                found.append(ast.unparse(value.value))
    return found


def _makes_name(node: ast.expr) -> bool:
    """A call of the one function, or a text of numbers alone."""
    if isinstance(node, ast.JoinedStr):
        return all(
            not isinstance(v, ast.FormattedValue) or _own(v.value, set()) for v in node.values
        )
    return isinstance(node, ast.Call) and (
        (isinstance(node.func, ast.Attribute) and node.func.attr == "stem")
        or (isinstance(node.func, ast.Name) and node.func.id == "file_stem")
    )


def _own(node: ast.expr, made: set[str]) -> bool:
    text = ast.unparse(node)
    return text in made or re.fullmatch(r"(\w+\.)?number|n|panel\.key\.lower\(\)", text) is not None


@pytest.mark.parametrize("file", sorted(SOURCE.rglob("*.py")), ids=lambda p: p.stem)
def test_no_path_is_made_of_words_but_by_the_one_function(file: Path) -> None:
    assert unmade_paths(file.read_text(encoding="utf-8")) == []


def test_the_check_sees_a_path_made_of_words() -> None:
    assert unmade_paths('x = f"panels/{panel.name}.dxf"') == ["panel.name"]
    assert unmade_paths('stem = f"{panel.name}"\nx = f"{stem}.dxf"') == ["stem"]
    assert unmade_paths('Path(f"{file.stem}-plan")') == ["file.stem"]
    assert unmade_paths('stem = names.stem(panel.name)\nx = f"{stem}.dxf"') == []
