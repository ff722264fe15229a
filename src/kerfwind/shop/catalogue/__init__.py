"""Generic parts: what things of a kind usually measure. Ranges, never one product."""
