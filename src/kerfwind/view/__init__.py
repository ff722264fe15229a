"""A plan as people see it, before any medium sets it: rows, sections, what to do first."""
