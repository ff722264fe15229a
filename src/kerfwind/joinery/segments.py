"""Screws and bores as straight pieces, and how far they pass each other."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

#: A screw or a bore: where it begins and ends in space, and its radius [m].
Line = tuple[np.ndarray, np.ndarray, float]
#: Wood left between two screws [m].
BETWEEN_M = 0.002


def ends_of(lines: Sequence[Line]) -> tuple[np.ndarray, np.ndarray]:
    """Where each line begins and where it ends [m], shapes (k, 3); k may be zero."""
    starts = np.array([start for start, _, _ in lines]).reshape(-1, 3)
    return starts, np.array([end for _, end, _ in lines]).reshape(-1, 3)


def segments_apart_m(
    start: np.ndarray, end: np.ndarray, starts: np.ndarray, ends: np.ndarray
) -> np.ndarray:
    """Least distance from one straight piece to each of others, shape (k,) [m].

    ``starts`` and ``ends`` have the shape (k, 3). The nearest points of two lines, held to the
    pieces (C. Ericson, Real-Time Collision Detection, 5.1.9, from memory).
    """
    one, two, between = end - start, ends - starts, start - starts
    a, e = float(one @ one), np.einsum("ij,ij->i", two, two)
    b, c, f = two @ one, between @ one, np.einsum("ij,ij->i", two, between)
    skew = a * e - b * b
    s = np.where(skew > 1e-15, (b * f - c * e) / np.where(skew > 1e-15, skew, 1.0), 0.0)
    s = np.clip(s, 0.0, 1.0)
    t = (b * s + f) / e
    s = np.where(t < 0, np.clip(-c / a, 0, 1), np.where(t > 1, np.clip((b - c) / a, 0, 1), s))
    t = np.clip(t, 0.0, 1.0)
    apart: np.ndarray = np.linalg.norm(between + s[:, None] * one - t[:, None] * two, axis=1)
    return apart
