"""What part of its dust an orbital sander's holes catch: on flat work, and at edges."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..facts import Amount, Ref, facts
from ..finding import Finding, finding
from ..quantity import Draw
from ..shop import Tool
from ..shop.catalogue.needs import need
from ..sources import fact

Array = NDArray[np.float64]

#: The hood whose capture was measured.
PAD = "pad holes"


@dataclass(frozen=True)
class Capture:
    """Part of the dust that is caught, 0 to 1, samples on the last axis."""

    flat: Array
    edge: Array


def sander_capture(tool: Tool, airflow_m3_s: Array, draw: Draw) -> Capture | None:
    """What an orbital sander catches at an airflow [m³/s]; None for any other tool.

    Capture rises about in proportion to airflow up to what the hood needs, and little beyond;
    at edges half of the holes draw from the open (Thorpe and Brown 1995).
    """
    if tool.hood != PAD:
        return None
    wanted = need(tool.hood, tool.operation).catch
    share = np.minimum(airflow_m3_s / draw.between(*wanted.span, wanted.key), 1.0)
    flat, edge = (
        draw.between(*fact(f"air.capture.{k}").span, f"air.capture.{k}") for k in ("flat", "edge")
    )
    least = fact("air.capture.edge_least").value
    return Capture(flat * share, least + (edge - least) * share)


def capture_finding(tool: Tool, capture: Capture | None) -> Finding | None:
    """What is said of both kinds of sanding; None for any other tool."""
    if capture is None:
        return None
    return finding(
        "air.sanding",
        "edges",
        "advice",
        Ref("tool", tool.name),
        facts=facts(
            flat_low=_share(capture.flat, 0.05),
            flat_high=_share(capture.flat, 0.95),
            edge_low=_share(capture.edge, 0.05),
            edge_high=_share(capture.edge, 0.95),
        ),
        sources=("air.capture.flat", "air.capture.edge"),
    )


def _share(samples: Array, level: float) -> Amount:
    return Amount(round(float(np.quantile(samples, level)), 2), "share")
