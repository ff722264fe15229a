"""The command's entry."""

import gc
import os
import sys
from contextlib import suppress


def main() -> None:
    """Run the command."""
    # One command is one short life: collecting cycles early, and taking everything down
    # piece by piece at the end, would cost a tenth of it each.
    gc.set_threshold(100_000, 50, 50)
    # Its matrices are small, and the second core has work of its own.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from .cli import app

    if sys.argv[1:2] == ["plan"]:
        # What both processes need is imported once, what one needs by that one.
        from . import plan, printed, terminal  # noqa: F401
        from .aside import prepare

        prepare("skfem")

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
