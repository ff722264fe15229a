"""The examples in docstrings and in the README's lines for a library run as they stand."""

import ast
import doctest
import importlib
import inspect
import re
import runpy
import subprocess
import sys
from pathlib import Path

import pytest

import kerfwind
from kerfwind import relations

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src"
#: A unit in a docstring, as in [m/s], or its absence.
UNIT = re.compile(r"\[[A-Za-zµΩ°][^\]]*\]|without unit|no unit|velocity pressures|0 to 1")


def with_examples() -> list[str]:
    """Modules whose text holds an example."""
    files = [f for f in SOURCE.rglob("*.py") if ">>> " in f.read_text(encoding="utf-8")]
    return sorted(".".join(f.relative_to(SOURCE).with_suffix("").parts) for f in files)


@pytest.fixture(autouse=True)
def _at_the_root(monkeypatch):
    monkeypatch.chdir(ROOT)


@pytest.mark.parametrize("name", with_examples())
def test_examples_of_a_module_run(name):
    module = importlib.import_module(name)
    finder = doctest.DocTestFinder(exclude_empty=True)
    runner = doctest.DocTestRunner()
    for test in finder.find(module, name):
        runner.run(test)
    assert runner.tries
    assert not runner.failures


@pytest.mark.parametrize("room", [kerfwind, relations])
def test_what_is_offered_tells_its_units_and_shows_an_example(room):
    assert set(room.__all__) <= set(dir(room))
    for name in room.__all__:
        if name == "relations":
            continue
        offered = getattr(room, name)
        doc = inspect.getdoc(offered) or ""
        assert ">>> " in doc, name
        assert UNIT.search(doc), name
        assert offered.__module__ in with_examples(), name


@pytest.mark.parametrize(
    "module", ["orifice", "friction", "losses", "properties", "face"], ids=lambda m: m
)
def test_the_airs_relations_show_an_example_each(module):
    text = (SOURCE / "kerfwind" / "air" / f"{module}.py").read_text(encoding="utf-8")
    functions = [
        node
        for node in ast.parse(text).body
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
    ]
    without = [f.name for f in functions if ">>> " not in (ast.get_docstring(f) or "")]
    # These take a whole room's air or tool, and are shown by what they are made of.
    assert set(without) <= {"room_air", "face_air"}


def test_nothing_else_is_offered():
    with pytest.raises(AttributeError, match="no attribute 'nests'"):
        kerfwind.nests  # noqa: B018


def test_relations_take_arrays_and_give_numbers_for_numbers():
    assert isinstance(relations.sudden_enlargement(0.05, 0.1), float)
    swept = relations.orifice_flow([[0.01], [0.02]], [1000.0, 2000.0, 3000.0])
    assert swept.shape == (2, 3)
    assert swept[1, 2] == relations.orifice_flow(0.02, 3000.0)
    # The square root of the suction, but for the coefficient and the air's expansion.
    assert swept[1, 1] / swept[1, 0] == pytest.approx(2**0.5, rel=0.01)


def test_importing_it_imports_nothing_heavy():
    code = "import sys, kerfwind; print(*sorted({m.split('.')[0] for m in sys.modules}))"
    loaded = subprocess.run(
        [sys.executable, "-c", code], check=True, capture_output=True, text=True
    ).stdout.split()
    assert not {"numpy", "scipy", "pydantic", "rich", "typer", "skfem", "typst"} & set(loaded)


def test_the_readmes_lines_for_a_library_run():
    import matplotlib

    matplotlib.use("agg")
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    [plot, *others] = re.findall(r"```python\n(.*?)```", text, flags=re.DOTALL)
    assert sum(bool(line.strip()) for line in plot.splitlines()) == 5
    from matplotlib import pyplot

    names: dict[str, object] = {}
    exec(plot, names)
    [axes] = pyplot.gcf().axes
    [line] = axes.lines
    suction = line.get_ydata()
    assert suction[0] > suction[-1] >= 0
    pyplot.close("all")
    for lines in others:
        exec(lines, names)


def test_the_readmes_pictures_are_those_that_are_made():
    made = runpy.run_path(str(ROOT / "docs" / "make_pictures.py"))
    names = {Path(name).stem for name in made["SHOWN"]}
    names |= {made["NAMES"].get(place, f"page-{place}") for place in made["PAGES"]}
    shown = re.findall(
        r"docs/pictures/([\w-]+)\.png", (ROOT / "README.md").read_text(encoding="utf-8")
    )
    assert set(shown) == names
