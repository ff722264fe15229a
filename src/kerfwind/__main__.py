"""The command's entry: a second process is begun before anything large is imported."""

import gc
import os
import sys
from contextlib import suppress

from .aside import prepare


def main() -> None:
    """Run the command."""
    # One command is one short life: collecting cycles early, and taking everything down
    # piece by piece at the end, would cost a tenth of it each.
    gc.set_threshold(100_000, 50, 50)
    # Its matrices are small, and the second core has work of its own.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    if sys.argv[1:2] == ["plan"]:
        prepare("skfem", "kerfwind.plan", "kerfwind.printed.cart_figures")
    from .cli import app

    status: object = 0
    try:
        app()
    except SystemExit as end:
        status = end.code
    with suppress(BrokenPipeError):
        sys.stdout.flush()
        sys.stderr.flush()
    os._exit(status if isinstance(status, int) else 0 if status is None else 1)


if __name__ == "__main__":
    main()
