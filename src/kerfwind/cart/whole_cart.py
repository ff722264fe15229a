"""From panels in place to a whole cart: bodies, hose, loads, findings, hardware."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Literal

import numpy as np

from ..fact_samples import Samples
from ..facts import Amount, Fact, Term, state
from ..joinery.aligned import Parts, aligned
from ..joinery.fasteners import INCH_LENGTHS, METRIC_LENGTHS
from ..joinery.model import HardwareItem, Step, Taken
from ..joinery.workbench import Workbench
from ..quantity import Draw, middle
from ..shop import Hose, Sheet, Shop
from ..solids import Body
from ..sources import fact
from . import carried_bodies, hosepath
from .fitted import Fitted
from .loads import StandingPoints, loads_carried, plywood
from .model import Cart, HeldBucket, HosePath, Load, Sizes, SupportedPlate
from .straps import PAN_INCH, PAN_METRIC, anchor_hardware, strap_bodies, strap_hardware

#: What stands where there is room for it.
_FREE = ("vacuum", "bucket", "cyclone")
_CORNERS = ("front left", "front right", "rear left", "rear right")


@dataclass(frozen=True)
class Places:
    """What a form says about the things it carries.

    ``where.casters_xy`` runs front left, front right, rear left, rear right;
    ``front_of_hose_m`` is the foremost wood that the link hose passes in front of, and
    ``hose_over_m`` the height of what it passes over; ``hands_on`` the sides at which one
    stands to push. ``clear_m`` is the height of the vacuum's way out, over the draw.
    ``under_bucket_m`` is from the shelf's top down to the bottom, where a bucket hangs over
    that and not over the vacuum; None elsewhere. ``anchor_m`` is where the tool hose is tied low, on
    the outer face of what stands at the right.
    """

    spot: carried_bodies.VacuumPlace
    where: StandingPoints
    held: HeldBucket | None
    front_of_hose_m: float
    caster_plate_m: tuple[float, float]
    breathing_gaps_m: dict[str, float]
    clear_m: Samples | float
    out_of_way: Literal["front", "up"]
    shelf: SupportedPlate | None = None
    hands_on: tuple[str, ...] = ("rear",)
    hose_over_m: float = 0.0
    under_bucket_m: float | None = None
    anchor_m: tuple[float, float, float] = (0.0, 0.0, 0.0)


@dataclass(frozen=True)
class CartLayout:
    """A form laid out: panels in place and sizes, before anything is judged.

    ``join`` makes the joints on a bench of this form, and gives the steps; most
    layouts are only weighed, and joints weigh nothing. ``tied`` says that the tool hose is tied
    low; ``made`` are the steps where the joints are made already. ``fitted`` is what the options
    add.
    """

    form: str
    bench: Workbench
    sizes: Sizes
    places: Places
    join: Callable[[Workbench, HeldBucket | None, bool], tuple[Step, ...]]
    tied: bool
    made: tuple[Step, ...] | None = None
    fitted: Fitted = field(default_factory=Fitted)

    @cached_property
    def joined(self) -> CartLayout:
        """The same with its joints made and its steps, on a bench of its own."""
        if self.made is not None:
            return self
        bench = self.bench.copied()
        return replace(self, bench=bench, made=self.join(bench, self.places.held, self.tied))

    @property
    def steps(self) -> tuple[Step, ...]:
        """Steps of assembly, with the joints that they make."""
        return self.joined.made or ()

    @property
    def told(self) -> tuple[object, ...]:
        """Everything about it as data: how it is joined goes by its form."""
        return self.form, self.bench, self.sizes, self.places, self.tied, self.made, self.fitted


def _glued(steps: Sequence[Step], linked: bool) -> tuple[Step, ...]:
    """The steps, the bottle of glue opened in the first that joins panels.

    Nothing is cut to length where there is no link hose.
    """
    first = next(s.number for s in steps if s.joints)
    return tuple(
        replace(
            s,
            takes=(
                *(t for t in s.takes if linked or t.key != "link-hose"),
                *((Taken("glue", 1),) if s.number == first else ()),
            ),
        )
        for s in steps
    )


def carried_bodies_of(
    shop: Shop, layout: CartLayout, wood: Sequence[Body] | None = None
) -> tuple[list[Body], HosePath | None]:
    """All that a form carries besides its options, and the way of its link hose.

    ``wood`` are its panels, where they are there already.
    """
    places = layout.places
    held, where = places.held, places.where
    bodies = [
        carried_bodies.caster_body(
            f"{corner} caster",
            x,
            y,
            where.caster_height_m,
            shop.wishes.caster_diameter.best_si,
            places.caster_plate_m,
        )
        for corner, (x, y) in zip(_CORNERS, where.casters_xy, strict=True)
    ]
    bodies += carried_bodies.vacuum_bodies(shop.vacuum, places.spot)
    if where.ballast is not None:
        bodies.append(carried_bodies.ballast_body(where.ballast))
    if shop.wishes.hose_anchor == "low":
        bodies.append(carried_bodies.anchor_body(places.anchor_m))
    path: HosePath | None = None
    if held is not None and where.bucket_xy is not None:
        bodies += _separator(shop, where, middle(held.depth_m))
        if shop.link is not None:
            wood = layout.bench.bodies() if wood is None else wood
            path = _link(shop, places, middle(held.depth_m), [*wood, *bodies])
            bodies.append(carried_bodies.hose_body(path))
        if held.hold == "standing":
            foot = (*where.bucket_xy, where.shelf_top_m)
            cleat = layout.bench.thickness_of("front cleat")
            bodies += strap_bodies(shop.separator.bucket, held, foot, cleat)
    return bodies, path


def assemble(shop: Shop, sheet: Sheet, layout: CartLayout) -> Cart:
    """The whole cart of a layout: bodies, hose, hardware and steps, nothing weighed or judged yet."""
    layout = layout.joined
    sizes, places = layout.sizes, layout.places
    drafted = layout.steps
    bench = layout.bench.fewer_kinds()
    wood = bench.bodies()
    things, path = carried_bodies_of(shop, layout, wood)
    bodies = [*wood, *things, *layout.fitted.bodies]
    if path is not None:
        hose = next(b for b in things if b.name == "link hose")
        rear = max(float(b.high[1]) for b in bodies if b.kind == "panel")
        long = max(sizes.length_m, rear - float(hose.low[1]))
        sizes = replace(sizes, length_over_hose_m=long, hose_top_m=float(hose.high[2]))
    names = {b.name for b in bodies}
    # Straps run over the lid, and what hangs on an option has its number there.
    hung = {name for name, _ in layout.fitted.called} | {"front strap", "rear strap"}
    steps = aligned(
        [replace(s, new=tuple(n for n in s.new if n in names)) for s in drafted],
        Parts.of(
            [b for b in bodies if b.name not in hung and not b.coiled],
            bench.panels.values(),
            bench.placed.values(),
            bench.joints,
            _FREE,
        ),
    )
    steps = _glued(steps, path is not None)
    hardware = (*_hardware(shop, bench, places, path), *layout.fitted.hardware)
    laid = tuple(Taken(h.key, h.quantity) for h in hardware if h.key == "ballast")
    steps = tuple(replace(s, takes=(*s.takes, *laid)) if "ballast" in s.new else s for s in steps)
    return Cart(
        form=layout.form,
        sheet=sheet.name,
        thickness_m=bench.thickness_m,
        panels=tuple(bench.panels.values()),
        placed=tuple(bench.placed.values()),
        joints=tuple(bench.joints),
        hardware=hardware,
        steps=steps,
        bodies=tuple(bodies),
        hose=path,
        bucket=places.held,
        sizes=sizes,
        shelf=places.shelf,
        homes=layout.fitted.homes,
        called=dict(layout.fitted.called),
        casters_xy=places.where.casters_xy,
    )


def _separator(shop: Shop, where: StandingPoints, hang: float) -> list[Body]:
    assert where.bucket_xy is not None
    foot = (*where.bucket_xy, where.shelf_top_m - hang)
    lid = (*where.bucket_xy, foot[2] + shop.separator.bucket.height.best_si)
    return [
        carried_bodies.bucket_body(shop.separator.bucket, foot),
        *carried_bodies.cyclone_bodies(shop.separator.cyclone, lid),
    ]


def _link(shop: Shop, places: Places, hang: float, bodies: Sequence[Body]) -> HosePath:
    hose = shop.link
    where = places.where
    assert hose is not None
    assert where.bucket_xy is not None
    separator = shop.separator
    top = (
        where.shelf_top_m
        - hang
        + separator.bucket.height.best_si
        + separator.cyclone.height.best_si
    )
    mouth = carried_bodies.inlet_mouth(shop.vacuum, places.spot)
    push = min(separator.cyclone.outlet.length.best_si, 0.05) + min(
        shop.vacuum.inlet.length.best_si, 0.05
    )
    return hosepath.over_the_front(
        (*where.bucket_xy, top),
        mouth,
        places.front_of_hose_m,
        shop.vacuum.inlet_on == "side",
        hose,
        push,
        places.hose_over_m,
        _edges(shop, mouth, hose, bodies),
    )


def _edges(
    shop: Shop, mouth: np.ndarray, hose: Hose, bodies: Sequence[Body]
) -> list[hosepath.Edge]:
    """What stands across the plane in which the link hose falls: it keeps in front of that.

    The bucket is among it, so that the hose does not hang in its way out; of the vacuum, what
    is above the last bend.
    """
    outside, own = hosepath.outside_m(hose), ("vacuum", "vacuum inlet", "cyclone", "cyclone inlet")
    edges = [
        (float(b.low[1]), float(b.low[2]), float(b.high[2]))
        for b in bodies
        if b.name not in own and b.low[0] < mouth[0] + outside and b.high[0] > mouth[0] - outside
    ]
    if shop.vacuum.inlet_on == "side":
        vacuum = next(b for b in bodies if b.name == "vacuum")
        last = float(mouth[2]) + hosepath.bend_m(hose)
        edges.append((float(vacuum.low[1]), last, max(last, float(vacuum.high[2]))))
    return edges


def parts_of(shop: Shop, layout: CartLayout, draw: Draw) -> dict[str, Load]:
    bench, held = layout.bench, layout.places.held
    wood = plywood([(c, *bench.plate(c)) for c in bench.placed], draw)
    hang = held.depth_m if held is not None else np.zeros(draw.count)
    more = {load.name: load for load in layout.fitted.loads}
    return {"plywood": wood, **loads_carried(shop, layout.places.where, hang, draw), **more}


def _hardware(
    shop: Shop, bench: Workbench, places: Places, path: HosePath | None
) -> tuple[HardwareItem, ...]:
    rule, held = bench.rule, places.held
    rows = sorted(bench.screws.values(), key=lambda s: -(s.length_m or 0.0))
    lengths = METRIC_LENGTHS if bench.metric else INCH_LENGTHS
    # Beyond the bottom there is nothing over an outrigger but air.
    layers = 1 if "front outrigger" in bench.placed else 2
    if layers == 1:
        lengths = PAN_METRIC if bench.metric else PAN_INCH
    most = layers * bench.thickness_m - fact("cart.screw.point").value + 0.0015
    caster_screw = [x for x in lengths if x <= most][-1]
    wheel = shop.wishes.caster_diameter.best_si
    size: Fact = rule.amount(0.005) if bench.metric else state("joinery.screw.gauge", number=12)
    rows += [
        HardwareItem(
            "caster",
            state(
                "cart.hardware.caster",
                wheel=rule.amount(wheel),
                long=rule.amount(fact("cart.caster.plate_length").value),
                wide=rule.amount(fact("cart.caster.plate_width").value),
            ),
            4,
            (Term("use", "under the blocks"),),
            length_m=None,
            diameter_m=wheel,
            kind="caster",
        ),
        HardwareItem(
            "caster-screw",
            state("cart.hardware.pan_head", size=size, length=rule.amount(caster_screw)),
            16,
            (
                Term("use", "caster plates"),
                *((Term("use", "through the blocks"),) if layers > 1 else ()),
            ),
            caster_screw,
            0.005 if bench.metric else 0.216 * 0.0254,
            None,
            0.003 if bench.metric else 1 / 8 * 0.0254,
            kind="screw",
        ),
        HardwareItem(
            "glue", state("cart.hardware.glue"), 1, (Term("use", "all joints"),), kind="glue"
        ),
    ]
    floor = next(
        (p.thickness_m for p in bench.panels.values() if p.name == "shelf"), bench.thickness_m
    )
    rows += _lid_hardware(bench) if held is not None else []
    rows += strap_hardware(shop.separator, held, floor, rule)
    if places.where.ballast is not None:
        lot = fact("cart.ballast.lot_metric" if bench.metric else "cart.ballast.lot_inch").value
        rows.append(
            HardwareItem(
                "ballast",
                state(
                    "cart.hardware.ballast",
                    lot=Amount(lot, "mass", "short"),
                    of="iron" if places.where.ballast.iron else "slabs",
                ),
                math.ceil(places.where.ballast.mass_kg / lot - 1e-6),
                (Term("use", "ballast tray"),),
                kind="iron" if places.where.ballast.iron else "ballast",
            )
        )
    if shop.wishes.hose_anchor == "low":
        rows += anchor_hardware(bench.thickness_m, rule)
    if path is not None:
        rows.append(
            HardwareItem(
                "link-hose",
                state(
                    "cart.hardware.link_hose",
                    bore=Amount(path.bore_m, "length"),
                    cut=Amount(path.cut_m, "length"),
                ),
                1,
                (Term("use", "separator to vacuum"),),
                path.cut_m,
                path.bore_m,
                kind="hose",
            )
        )
    return tuple(rows)


def _lid_hardware(bench: Workbench) -> list[HardwareItem]:
    """What holds the cyclone on the bucket's lid, and what keeps air out between them."""
    size: Fact = bench.rule.amount(0.005) if bench.metric else state("cart.hardware.bolt_inch")
    length = 0.025 if bench.metric else 0.0254
    return [
        HardwareItem(
            "cyclone-bolt",
            state("cart.hardware.bolt", size=size, length=bench.rule.amount(length)),
            4,
            (Term("use", "flange of the cyclone"),),
            length,
            kind="bolt",
        ),
        HardwareItem(
            "lid-seal",
            state("cart.hardware.seal"),
            1,
            (Term("use", "between lid and cyclone"),),
            kind="foam",
        ),
    ]
