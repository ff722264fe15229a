"""What the computing rooms can state, read from their code."""

import ast
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2] / "src" / "kerfwind"
#: Rooms and modules that know neither language nor units of display.
COMPUTING = (
    "air",
    "breathing",
    "cart",
    "cautions",
    "checks",
    "cutting",
    "hookup",
    "joinery",
    "options",
    "plan",
    "power",
)
COMPUTING += ("search", "shopping", "unit_steps")
COMPUTING += ("disk", "faults", "limits", "plaintext", "quantity", "rawfile", "result_folder")
COMPUTING += ("shop", "textfile", "tomlfile", "wholefiles")
COMPUTING += ("app/document", "app/history", "app/merge", "app/spans")
#: Rooms and modules that show things, and hand every word of it to a voice.
SHOWING = ("answering", "cli", "drawing", "printed", "terminal", "view")
#: Calls that state something, and which of their arguments names its kind.
_STATES = {"state", "judge", "finding", "refusal", "QuantityError"}
#: What every refusal of a quantity knows, whether its message says it or not.
_OF_QUANTITY = frozenset({"given", "wanted", "examples"})


@dataclass(frozen=True)
class Stated:
    """One call that states something: its kinds, outcomes and the facts it gives."""

    where: str
    kinds: tuple[str, ...]
    outcomes: tuple[str, ...]
    facts: frozenset[str]
    #: Facts that it has besides, which no message must use.
    besides: frozenset[str]
    finding: bool
    refusal: bool


def modules(rooms: Sequence[str] = COMPUTING) -> Iterator[tuple[Path, ast.Module]]:
    """Every module of the rooms, those that compute by default, parsed."""
    for room in rooms:
        path = ROOT / room
        for file in sorted(path.rglob("*.py")) if path.is_dir() else [path.with_suffix(".py")]:
            yield file, ast.parse(file.read_text(encoding="utf-8"))


def literals(node: ast.expr | None) -> tuple[str, ...] | None:
    """The texts that an expression can be; None where the code does not say."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return (node.value,)
    if isinstance(node, ast.IfExp):
        one, other = literals(node.body), literals(node.orelse)
        return None if one is None or other is None else (*one, *other)
    return None


def all_stated() -> list[Stated]:
    """Every statement that the computing rooms can make.

    Raises
    ------
    AssertionError
        A kind or an outcome is put together while the program runs, so that nobody can tell
        whether a message says it.
    """
    found = []
    for file, tree in modules():
        for node in ast.walk(tree):
            if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name)):
                continue
            if node.func.id not in _STATES:
                continue
            where = f"{file.relative_to(ROOT)}:{node.lineno}"
            named = {k.arg: k.value for k in node.keywords if k.arg}
            first = named.get("key") or (node.args[0] if node.args else None)
            kinds = literals(first)
            assert kinds, f"{where}: write the kind out, so that a test can find its message"
            is_finding = node.func.id in ("judge", "finding")
            outcomes: tuple[str, ...] = ()
            if is_finding:
                given = named.get("outcome") or (node.args[1] if len(node.args) > 1 else None)
                told = literals(given)
                assert told, f"{where}: write the outcome out"
                outcomes = (*told, "good") if node.func.id == "judge" else told
            of_quantity = node.func.id == "QuantityError"
            refused = node.func.id == "refusal" or of_quantity
            stated = _facts(node, named, where)
            besides = _OF_QUANTITY if of_quantity else frozenset[str]()
            found.append(Stated(where, kinds, outcomes, stated, besides, is_finding, refused))
    return found


def _facts(node: ast.Call, named: dict[str, ast.expr], where: str) -> frozenset[str]:
    own = {"key", "about", "place", "fixes", "file", "line"}
    if node.func.id in ("state", "refusal", "QuantityError"):  # type: ignore[attr-defined]
        assert all(k.arg for k in node.keywords), f"{where}: name each fact"
        return frozenset(named) - (own if node.func.id == "refusal" else set())  # type: ignore[attr-defined]
    given = named.get("facts")
    if given is None:
        return frozenset()
    assert isinstance(given, ast.Call), f"{where}: write facts(...) in the call itself"
    assert all(k.arg for k in given.keywords), f"{where}: name each fact"
    return frozenset(k.arg for k in given.keywords if k.arg)
