"""Which boxes meet which boxes and segments: separating axes, all pairs at once.

A box is a row (centre x, centre y, half width, half height, turn in radians); a segment
is a row (x0, y0, x1, y1).
"""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Floats: TypeAlias = NDArray[np.float64]
Bools: TypeAlias = NDArray[np.bool_]


def boxes_meet_boxes(a: Floats, b: Floats) -> Bools:
    """Shape (len(a), len(b)): whether the boxes share more than a touching edge."""
    if not len(a) or not len(b):
        return np.zeros((len(a), len(b)), dtype=bool)
    dx = b[None, :, 0] - a[:, None, 0]
    dy = b[None, :, 1] - a[:, None, 1]
    if not (a[:, 4].any() or b[:, 4].any()):
        meet = np.abs(dx) < a[:, None, 2] + b[None, :, 2] - 1e-9
        meet &= np.abs(dy) < a[:, None, 3] + b[None, :, 3] - 1e-9
        return np.asarray(meet, dtype=bool)
    turn = b[None, :, 4] - a[:, None, 4]
    c, s = np.abs(np.cos(turn)), np.abs(np.sin(turn))
    meet = np.ones(dx.shape, dtype=bool)
    for frame, other in ((a[:, None], b[None]), (b[None], a[:, None])):
        fc, fs = np.cos(frame[..., 4]), np.sin(frame[..., 4])
        along = np.abs(dx * fc + dy * fs)
        across = np.abs(dy * fc - dx * fs)
        meet &= along < frame[..., 2] + other[..., 2] * c + other[..., 3] * s - 1e-9
        meet &= across < frame[..., 3] + other[..., 2] * s + other[..., 3] * c - 1e-9
    return meet


def boxes_meet_segments(boxes: Floats, segments: Floats) -> Bools:
    """Shape (len(boxes), len(segments)): whether the segment passes through the box."""
    if not len(boxes) or not len(segments):
        return np.zeros((len(boxes), len(segments)), dtype=bool)
    middle = (segments[:, :2] + segments[:, 2:]) / 2
    half = (segments[:, 2:] - segments[:, :2]) / 2
    # Boxes upright around turned ones first: few pairs are left for the exact test.
    wide, high = boxes[:, 2], boxes[:, 3]
    turned = bool(boxes[:, 4].any())
    if turned:
        c, s = np.abs(np.cos(boxes[:, 4])), np.abs(np.sin(boxes[:, 4]))
        wide, high = wide * c + high * s, wide * s + high * c
    meet = np.abs(middle[None, :, 0] - boxes[:, None, 0]) < wide[:, None] + np.abs(half[:, 0])
    meet &= np.abs(middle[None, :, 1] - boxes[:, None, 1]) < high[:, None] + np.abs(half[:, 1])
    i, j = np.nonzero(meet)
    if not len(i):
        return np.asarray(meet, dtype=bool)
    b, m, e = boxes[i], middle[j] - boxes[i, :2], half[j]
    x, y, rx, ry = m[:, 0], m[:, 1], e[:, 0], e[:, 1]
    if turned:
        c, s = np.cos(b[:, 4]), np.sin(b[:, 4])
        x, y = x * c + y * s, y * c - x * s
        rx, ry = rx * c + ry * s, ry * c - rx * s
    ax, ay, hw, hh = np.abs(rx), np.abs(ry), b[:, 2], b[:, 3]
    real = (np.abs(x) < hw + ax - 1e-9) & (np.abs(y) < hh + ay - 1e-9)
    real &= np.abs(x * ry - y * rx) < hw * ay + hh * ax + 1e-12
    meet[i, j] = real
    return np.asarray(meet, dtype=bool)


def segments_cross(a: Floats, b: Floats) -> Bools:
    """Shape (len(a), len(b)): whether the segments properly cross."""
    if not len(a) or not len(b):
        return np.zeros((len(a), len(b)), dtype=bool)

    low_a, high_a = np.minimum(a[:, :2], a[:, 2:]), np.maximum(a[:, :2], a[:, 2:])
    low_b, high_b = np.minimum(b[:, :2], b[:, 2:]), np.maximum(b[:, :2], b[:, 2:])
    cross = low_a[:, None, 0] <= high_b[None, :, 0]
    cross &= high_a[:, None, 0] >= low_b[None, :, 0]
    cross &= low_a[:, None, 1] <= high_b[None, :, 1]
    cross &= high_a[:, None, 1] >= low_b[None, :, 1]
    i, j = np.nonzero(cross)

    def side(p: Floats, x: Floats, y: Floats) -> Floats:
        return (p[:, 2] - p[:, 0]) * (y - p[:, 1]) - (p[:, 3] - p[:, 1]) * (x - p[:, 0])

    p, q = a[i], b[j]
    one = side(p, q[:, 0], q[:, 1]) * side(p, q[:, 2], q[:, 3])
    two = side(q, p[:, 0], p[:, 1]) * side(q, p[:, 2], p[:, 3])
    cross[i, j] = (one < 0) & (two < 0)
    return np.asarray(cross, dtype=bool)
