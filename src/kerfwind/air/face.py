"""Air at the open face of a hood box: its speed there, and how far in front it still draws."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..shop import Tool
from ..shop.catalogue.hoods import BOX
from ..shop.catalogue.needs import need
from ..sources import fact
from .tool import ToolAir

Array = NDArray[np.float64]


@dataclass(frozen=True)
class FaceAir:
    """Air at one face; arrays have samples on the last axis.

    Attributes
    ----------
    speed_m_s
        Through the face, over its whole area.
    wanted_m_s
        Ends of the range that draws in dust made in the face.
    reach_m
        Distance in front of the face at which the air still moves at the lower end; 0
        where it does not even in the face.
    largest_m2
        Face through which the same airflow moves at the lower end (median).
    """

    tool: str
    face_m2: float
    speed_m_s: Array
    wanted_m_s: tuple[float, float]
    reach_m: Array
    largest_m2: float


def reach(airflow_m3_s: Array | float, face_m2: Array | float, speed_m_s: Array | float) -> Array:
    """Distance [m] in front of an open face at which the air moves at ``speed_m_s``.

    Dalla Valle: V = Q / (10 x² + A), for an unflanged opening, on its axis, x up to about
    one and a half times its width. 0 where the speed is not reached at all.

    Parameters
    ----------
    airflow_m3_s
        Drawn in [m³/s].
    face_m2
        Open area [m²].
    speed_m_s
        Speed that is wanted [m/s].

    Examples
    --------
    >>> round(float(reach(0.05, 0.02, 0.5)), 4)
    0.0894
    """
    beyond = np.asarray(airflow_m3_s, dtype=float) / speed_m_s - face_m2
    distance: Array = np.sqrt(np.maximum(beyond, 0.0) / fact("air.dalla_valle").value)
    return distance


def face_air(tool: Tool, air: ToolAir) -> FaceAir | None:
    """The face of a hood box; None for a tool that has none."""
    if tool.opening is None or tool.hood != BOX:
        return None
    area = tool.opening.length.best_si * tool.opening.width.best_si
    wanted = need(tool.hood, tool.operation).catch.span
    flow = air.airflow_m3_s
    return FaceAir(
        tool.name,
        area,
        flow / area,
        wanted,
        reach(flow, area, wanted[0]),
        float(np.median(flow)) / wanted[0],
    )
