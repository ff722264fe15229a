"""`python -m kerfwind`."""

from .cli import main

main()
