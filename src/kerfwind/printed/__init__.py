"""The printed plan, the drawings and the tables: everything that goes to a folder."""

from .writing import pdf, write_all

__all__ = ["pdf", "write_all"]
