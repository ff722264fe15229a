"""Pieces made to measure for two ends: printed, cut from a stepped cuff, or bored."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ..facts import Fact
from ..quantity import Quantity
from ..shop import End, Fitting
from ..sources import fact
from .loss import fitting_pa, step_pa
from .made_fitting import MadeFitting
from .model import Plate
from .reducer import Reducer, as_fitting, design


@dataclass(frozen=True)
class Made:
    """A piece made to measure. ``price`` is money and bother of making or buying it."""

    how: Literal["print", "cut", "plate"]
    price: float
    loss_pa: float
    length_m: float
    fitting: Fitting | None = None
    reducer: Reducer | None = None
    plate: Plate | None = None


def print_making(own_printer: bool) -> float:
    """What printing one part costs beside its material."""
    return fact("hookup.print_bother" if own_printer else "hookup.print_service").value


def printed(
    upstream: End, downstream: End, mates: tuple[Fact, Fact], own_printer: bool
) -> Made | None:
    """A printed reducer between two ends; None where none can be printed."""
    reducer = design(upstream, downstream, mates)
    if reducer is None:
        return None
    fitting = as_fitting(reducer)
    making = print_making(own_printer)
    loss = fitting_pa(fitting, False) + _mouths(upstream, fitting, downstream)
    return Made("print", making + reducer.material_price, loss, reducer.length, fitting, reducer)


def stepped_cuff(upstream: End, downstream: End, mates: tuple[Fact, Fact]) -> Made | None:
    """A stepped rubber cuff cut to go over two ends; None where it cannot."""
    if not (takes_cuff(upstream) and takes_cuff(downstream)):
        return None
    name = "stepped_cuff"
    path = f"cut[{name}]"
    ends = [_cuff_end(e, f"{path}.{n}") for e, n in ((upstream, "end_a"), (downstream, "end_b"))]
    bore = min(e.inside.best_si for e in (upstream, downstream))
    drop = abs(upstream.outside.best_si - downstream.outside.best_si)
    # Each step is as deep as a cuff's grip and about 6 mm wider than the last.
    length = 0.050 + 0.020 * max(0, round(drop / 0.006) - 1)
    fitting = MadeFitting.model_construct(
        name=name,
        how="cut",
        first=mates[0],
        last=mates[1],
        kind="reducer",
        end_a=ends[0],
        end_b=ends[1],
        count=1,
        bore=_size(bore, f"{path}.bore"),
        length=_size(length, f"{path}.length"),
        turn=Quantity(0.0, 0.0, 0.0, "angle", text="0 °", path=f"{path}.turn", standing="assumed"),
    )
    loss = fitting_pa(fitting, False) + _mouths(upstream, fitting, downstream)
    price = fact("hookup.stepped_cuff_price").value
    return Made("cut", price, loss, length, fitting)


def takes_cuff(end: End) -> bool:
    """Whether a stepped rubber cuff is sold for an end."""
    low, high = fact("hookup.stepped_cuff_low").value, fact("hookup.stepped_cuff_high").value
    return end.goes != "over" and low <= end.outside.best_si <= high


def plate(tool: str, downstream: End) -> Made | None:
    """Plywood with a hole bored for the hose's end; None where the end cannot go in."""
    if downstream.goes == "over":
        return None
    thick = fact("hookup.plate_least").value
    made = Plate(tool, downstream.outside.best_si)
    return Made("plate", fact("hookup.plate_price").value, 0.0, thick, plate=made)


def _mouths(upstream: End, fitting: Fitting, downstream: End) -> float:
    first = step_pa(upstream.inside.best_si, fitting.end_a.inside.best_si)
    return first + step_pa(fitting.end_b.inside.best_si, downstream.inside.best_si)


def _size(value: float, path: str) -> Quantity:
    return Quantity(
        value, value, value, "length", text=f"{value * 1e3:.1f} mm", path=path, standing="assumed"
    )


def _cuff_end(mate: End, path: str) -> End:
    inside = mate.outside.best_si * 0.99
    return End.model_construct(
        nominal=None,
        inside=_size(inside, f"{path}.inside"),
        outside=_size(inside + 0.006, f"{path}.outside"),
        length=_size(0.020, f"{path}.length"),
        taper=Quantity(
            0.0, 0.0, 0.0, "angle", text="0 °", path=f"{path}.taper", standing="assumed"
        ),
        material="rubber",
        joint="plain",
        goes="over",
    )
