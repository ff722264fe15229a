"""The rooms import only what the architecture allows them."""

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1] / "src" / "kerfwind"

GROUND = {"sources", "quantity", "fact_samples", "facts", "faults", "plaintext", "filenames"}
GROUND |= {"kept", "lifting", "limits", "rawfile", "textfile", "tomlfile", "wholefiles"}
FILES = {"disk", "ending", "facts", "faults"}
BELOW_SHOP = GROUND | {"finding", "shop"}
ROOMS = {"air", "hookup", "joinery", "cart", "options", "checks", "cutting", "power", "breathing"}
ALLOWED = {
    "kept": set(),
    "limits": set(),
    "rawfile": set(),
    "textfile": {"facts", "faults", "limits", "rawfile"},
    "tomlfile": {"facts", "faults", "limits"},
    "plaintext": set(),
    "memory": set(),
    "disk": set(),
    "ending": set(),
    "result_folder": FILES,
    "wholefiles": FILES | {"result_folder"},
    "sources": set(),
    "second_process": {"ending"},
    "stages": {"second_process"},
    "cautions": {"facts"},
    "faults": {"facts", "limits", "quantity"},
    "filenames": {"plaintext"},
    "screen": {"plaintext"},
    "facts": {"quantity"},
    "words": {"facts", "faults", "finding", "quantity"},
    "quantity": set(),
    "fact_samples": {"quantity", "sources"},
    "finding": {"facts", "quantity", "sources"},
    "shop": GROUND,
    "solids": {"quantity"},
    "air": BELOW_SHOP,
    "hookup": BELOW_SHOP | {"solids"},
    "joinery": BELOW_SHOP | {"solids"},
    "cart": BELOW_SHOP | {"solids", "joinery"},
    "options": BELOW_SHOP | {"solids", "joinery", "cart"},
    "checks": BELOW_SHOP | {"solids", "joinery", "cart", "options"},
    "cutting": GROUND | {"finding"},
    "power": BELOW_SHOP,
    "breathing": BELOW_SHOP,
    "lifting": {"sources"},
    "shopping": {"facts", "joinery", "cutting", "hookup", "shop", "sources"},
    "unit_steps": {"cart", "facts", "hookup", "joinery", "options", "shop"},
    "mesh_files": {"plaintext", "solids"},
    "plan_json": {"quantity", "solids"},
}
ALLOWED["search"] = BELOW_SHOP | {"solids", "stage_reads", "stages"} | ROOMS
ALLOWED["stage_reads"] = {"kept", "shop"}
ALLOWED["plan"] = (
    {"stage_reads", "memory"}
    | ALLOWED["search"]
    | {"second_process", "search", "plan_json", "shopping"}
)
ALLOWED["plan"] |= {"one_cart", "unit_steps"}
ALLOWED["one_cart"] = {"hookup", "quantity", "search", "second_process", "shop"}
ALLOWED["one_cart"] |= {"stage_reads", "stages"}
ALLOWED["view"] = (
    BELOW_SHOP | ROOMS | {"cautions", "drawing", "plan", "search", "shopping", "solids"}
)
ALLOWED["view"] |= {"words"}
ALLOWED["drawing"] = {"cart", "joinery", "cutting", "hookup", "quantity", "solids"}
ALLOWED["drawing"] |= {"facts", "mesh_files", "plaintext", "words"}
ALLOWED["printed"] = ALLOWED["plan"] | {"cautions", "drawing", "mesh_files", "plan"}
ALLOWED["printed"] |= {"result_folder", "view", "words"}
ALLOWED["terminal"] = {"facts", "faults", "finding", "plaintext", "plan", "screen", "search"}
ALLOWED["terminal"] |= {"shop", "sources", "view", "words"}
ALLOWED["answering"] = {"air", "disk", "facts", "faults", "plaintext", "screen", "words"}
ALLOWED["cli"] = {
    "answering",
    "cart",
    "checks",
    "cutting",
    "plan",
    "printed",
    "quantity",
    "search",
    "shop",
}
ALLOWED["cli"] |= {"faults", "filenames", "plaintext", "screen", "terminal", "wholefiles"}
ALLOWED["cli"] |= {"app", "facts", "one_cart", "result_folder", "view", "words"}
ALLOWED["app"] = (
    {"second_process"}
    | BELOW_SHOP
    | {"cart", "cutting", "disk", "drawing", "ending", "plan", "printed"}
)
ALLOWED["app"] |= {"joinery", "search", "stages", "view", "words"}
ALLOWED["library"] = {"hookup", "quantity", "shop"}
ALLOWED["relations"] = {"air", "breathing", "checks", "joinery", "lifting", "power"}
ALLOWED["__init__"] = {"cutting", "library", "plan", "relations", "shop"}
ALLOWED["__main__"] = {
    "answering",
    "ending",
    "second_process",
    "cli",
    "faults",
    "plan",
    "printed",
    "screen",
    "terminal",
}


def imported_rooms(file: Path) -> set[str]:
    """Rooms that a module imports, anywhere in it, its own left out."""
    package = ["kerfwind", *file.relative_to(ROOT).parts[:-1]]
    rooms = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        targets: list[str] = []
        if isinstance(node, ast.Import):
            targets = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            stem = ".".join([*base, *([node.module] if node.module else [])])
            targets = [f"{stem}.{alias.name}" for alias in node.names]
        for target in targets:
            parts = target.split(".")
            if parts[0] == "kerfwind" and len(parts) > 1 and parts[1] != "__version__":
                rooms.add(parts[1])
    return rooms


@pytest.mark.parametrize(
    "room", sorted({p.stem for p in ROOT.iterdir() if p.name != "__pycache__"})
)
def test_a_room_imports_only_what_it_may(room):
    assert room in ALLOWED, f"{room} has no row in the table of rooms"
    path = ROOT / room
    files = list(path.rglob("*.py")) if path.is_dir() else [ROOT / f"{room}.py"]
    for file in files:
        beyond = imported_rooms(file) - ALLOWED[room] - {room}
        assert not beyond, f"{file.relative_to(ROOT)} imports {sorted(beyond)}"


@pytest.mark.parametrize("module", ["document", "history", "merge", "spans"])
def test_the_open_file_is_kept_without_the_engine(module):
    allowed = {"disk", "faults", "limits", "textfile", "tomlfile", "wholefiles"}
    assert imported_rooms(ROOT / "app" / f"{module}.py") <= allowed | {"app"}


def test_the_check_sees_a_forbidden_import(tmp_path, monkeypatch):
    monkeypatch.setattr("tests.test_layers.ROOT", tmp_path)
    (tmp_path / "air").mkdir()
    module = tmp_path / "air" / "x.py"
    module.write_text("def f():\n    from ..cart import tower\n    import kerfwind.drawing.svg\n")
    assert imported_rooms(module) == {"cart", "drawing"}
