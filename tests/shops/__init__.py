"""Shop files for tests: the examples, and shops kept here because checks lean on their sizes."""

from pathlib import Path

EXAMPLES = Path(__file__).parents[2] / "examples"


def shop_path(name):
    """The file of an example, or of a shop that is kept beside this module."""
    kept = Path(__file__).parent / f"{name}.toml"
    return kept if kept.exists() else EXAMPLES / f"{name}.toml"
