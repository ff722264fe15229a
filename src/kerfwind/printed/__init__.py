"""The printed plan, the drawings and the tables: everything that goes to a folder."""
