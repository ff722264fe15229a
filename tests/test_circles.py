"""No modules import each other in a circle, at their top or inside a function."""

import ast
from collections.abc import Iterator
from pathlib import Path

SOURCE = Path(__file__).parents[1] / "src"


def nodes_that_run(node: ast.AST) -> Iterator[ast.AST]:
    """All nodes of a module but those that only a type checker reads."""
    for child in ast.iter_child_nodes(node):
        if not (isinstance(child, ast.If) and ast.unparse(child.test) == "TYPE_CHECKING"):
            yield child
            yield from nodes_that_run(child)


def imports_of(source: Path) -> dict[str, set[str]]:
    """Every module under a folder by its dotted name, with the modules that it imports."""
    files = {}
    for file in source.rglob("*.py"):
        parts = file.relative_to(source).with_suffix("").parts
        files[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = file
    imports: dict[str, set[str]] = {}
    for name, file in files.items():
        package = name.split(".") if file.stem == "__init__" else name.split(".")[:-1]
        imports[name] = set()
        for node in nodes_that_run(ast.parse(file.read_text(encoding="utf-8"))):
            targets: list[str] = []
            if isinstance(node, ast.Import):
                targets = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom):
                base = package[: len(package) - node.level + 1] if node.level else []
                stem = ".".join([*base, *([node.module] if node.module else [])])
                # What is imported from a package is one of its modules, or stands in it.
                whole = [f"{stem}.{alias.name}" for alias in node.names]
                targets = [each if each in files else stem for each in whole]
            imports[name] |= {each for each in targets if each in files and each != name}
    return imports


def a_circle(imports: dict[str, set[str]]) -> list[str]:
    """Modules that import one another, in order; empty where there are none."""
    done: set[str] = set()

    def follow(name: str, way: list[str]) -> list[str]:
        if name in way:
            return way[way.index(name) :]
        if name in done:
            return []
        for other in sorted(imports[name]):
            circle = follow(other, [*way, name])
            if circle:
                return circle
        done.add(name)
        return []

    return next((c for c in (follow(name, []) for name in sorted(imports)) if c), [])


def test_no_modules_import_each_other_in_a_circle() -> None:
    assert not a_circle(imports_of(SOURCE))


def test_a_circle_is_seen_even_inside_a_function(tmp_path: Path) -> None:
    (tmp_path / "p").mkdir()
    (tmp_path / "p" / "__init__.py").write_text("from .a import f\n")
    (tmp_path / "p" / "a.py").write_text("from .b import g\n")
    (tmp_path / "p" / "b.py").write_text("def g():\n    from . import a\n")
    assert a_circle(imports_of(tmp_path)) == ["p.a", "p.b"]
