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
    c, s = np.cos(boxes[:, None, 4]), np.sin(boxes[:, None, 4])
    mx = (segments[None, :, 0] + segments[None, :, 2]) / 2 - boxes[:, None, 0]
    my = (segments[None, :, 1] + segments[None, :, 3]) / 2 - boxes[:, None, 1]
    ex = (segments[None, :, 2] - segments[None, :, 0]) / 2
    ey = (segments[None, :, 3] - segments[None, :, 1]) / 2
    x, y = mx * c + my * s, my * c - mx * s
    ax, ay = np.abs(ex * c + ey * s), np.abs(ey * c - ex * s)
    hw, hh = boxes[:, None, 2], boxes[:, None, 3]
    meet = (np.abs(x) < hw + ax - 1e-9) & (np.abs(y) < hh + ay - 1e-9)
    rx, ry = ex * c + ey * s, ey * c - ex * s
    meet &= np.abs(x * ry - y * rx) < hw * ay + hh * ax + 1e-12
    return np.asarray(meet, dtype=bool)


def segments_cross(a: Floats, b: Floats) -> Bools:
    """Shape (len(a), len(b)): whether the segments properly cross."""
    if not len(a) or not len(b):
        return np.zeros((len(a), len(b)), dtype=bool)

    def side(p: Floats, x: Floats, y: Floats) -> Floats:
        return (p[..., 2] - p[..., 0]) * (y - p[..., 1]) - (p[..., 3] - p[..., 1]) * (x - p[..., 0])

    pa, pb = a[:, None], b[None]
    one = side(pa, pb[..., 0], pb[..., 1]) * side(pa, pb[..., 2], pb[..., 3])
    two = side(pb, pa[..., 0], pa[..., 1]) * side(pb, pa[..., 2], pa[..., 3])
    return np.asarray((one < 0) & (two < 0), dtype=bool)
