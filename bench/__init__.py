"""Benchmarks: every time is a ratio, or in units of a calibration workload run beside it."""
