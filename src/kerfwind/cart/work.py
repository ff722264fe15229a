"""The work of building it: what to paint and seal, how long it takes, which tools it needs."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

import numpy as np

from ..facts import Statement, Term, state
from ..shop import Shop
from ..solids import contact_area_m2
from ..sources import fact
from .model import Cart


@dataclass(frozen=True)
class Estimate:
    """An estimate: the least it is, what is likely, and the most it is."""

    low: float
    likely: float
    high: float

    def __add__(self, other: Estimate) -> Estimate:
        return Estimate(self.low + other.low, self.likely + other.likely, self.high + other.high)

    def times(self, many: float) -> Estimate:
        """The estimate for so many pieces of what this one is for."""
        return Estimate(self.low * many, self.likely * many, self.high * many)


@dataclass(frozen=True)
class Finish:
    """Areas to paint and to seal [m²], and what to buy of it [L].

    ``faces_m2`` leaves out what a joint hides; ``edges_m2`` are the plies that show, sealed
    before paint.
    """

    faces_m2: float
    edges_m2: float
    paint_l: Estimate


@dataclass(frozen=True)
class Task:
    """One kind of work and the hours it takes a person who does it now and then [h]."""

    what: Term
    hours: Estimate


@dataclass(frozen=True)
class Work:
    """All the work of building a cart.

    ``waiting_h`` is the time for glue and paint to dry, which comes on top of ``hours``. The
    message of each tool has two attributes besides its name: its ``use``, and what to do
    ``otherwise``, without it.
    """

    finish: Finish
    tasks: tuple[Task, ...]
    waiting_h: Estimate
    tools: tuple[Statement, ...]

    @property
    def hours(self) -> Estimate:
        """Time with tools in hand, drying left out [h]."""
        total = Estimate(0.0, 0.0, 0.0)
        for task in self.tasks:
            total = total + task.hours
        return total


def _estimate(key: str, per: float = 1.0) -> Estimate:
    row = fact(key)
    low, high = row.span
    return Estimate(low / per, row.value / per, high / per)


def surfaces(cart: Cart) -> tuple[float, float]:
    """Faces and edges left open to the air once all is joined [m²]."""
    faces = edges = 0.0
    for placed in cart.placed:
        plate = cart.panel(placed.key).plate
        faces += 2 * plate.area_m2
        around = 2 * (plate.length_m + plate.width_m)
        around += sum(_rim(o.length_m, o.width_m, o.radius_m) for o in plate.openings)
        around -= sum((2 - 2**0.5) * leg for _, leg in plate.chamfers)
        edges += around * plate.thickness_m
    at = {p.name: p for p in cart.placed}
    for joint in cart.joints:
        a, b = at[joint.first], at[joint.second]
        if joint.in_groove:
            first, second = cart.body(a.name), cart.body(b.name)
            box = np.minimum(first.high, second.high) - np.maximum(first.low, second.low)
            sink = float(box[int(np.argmax(np.abs(joint.way)))])
            area = float(np.prod(box)) / sink
            # The groove's mouth and the end that fills it, and both sides of what goes in.
            faces -= area + 2 * sink * float(np.max(box))
            edges -= area
            continue
        hidden = contact_area_m2(cart.panel(a.key).plate, a.at, cart.panel(b.key).plate, b.at)
        face_to_face = joint.face_to_face
        faces -= hidden * (2 if face_to_face else 1)
        edges -= 0 if face_to_face else hidden
    return faces, max(edges, 0.0)


def _rim(length_m: float, width_m: float, radius_m: float) -> float:
    """Length around an opening with rounded corners [m]."""
    return 2 * (length_m + width_m) - (8 - 2 * pi) * radius_m


def work(shop: Shop, cart: Cart) -> Work:
    """What it takes to build a cart.

    Times are common practice and wide: they add up to an estimate, no promise.
    """
    faces, edges = surfaces(cart)
    return Work(
        _finish(faces, edges), _tasks(cart, faces + edges), _waiting(cart), _tools(shop, cart)
    )


def _finish(faces: float, edges: float) -> Finish:
    coats, coverage = fact("cart.finish.coats").value, _estimate("cart.finish.coverage")
    soak = _estimate("cart.finish.edge_soak")
    paint = Estimate(
        coats * (faces + edges * soak.low) / coverage.high,
        coats * (faces + edges * soak.likely) / coverage.likely,
        coats * (faces + edges * soak.high) / coverage.low,
    )
    return Finish(faces, edges, paint)


def _tasks(cart: Cart, area_m2: float) -> tuple[Task, ...]:
    copies = sum(p.quantity for p in cart.panels)
    openings = sum((len(p.openings) + len(p.chamfers)) * p.quantity for p in cart.panels)
    screws = sum(h.quantity for h in cart.hardware if h.kind == "screw")
    pockets = sum(len(p.pockets) * p.quantity for p in cart.panels)
    grooves = sum(len(p.grooves) * p.quantity for p in cart.panels)
    hour = 3600.0
    special = (
        *(
            (Task(Term("task", "pockets"), _estimate("cart.time.pocket", hour).times(pockets)),)
            if pockets
            else ()
        ),
        *(
            (Task(Term("task", "grooves"), _estimate("cart.time.groove", hour).times(grooves)),)
            if grooves
            else ()
        ),
    )
    tasks = (
        # Edge-to-edge cutting frees each piece with about two cuts of its own.
        Task(Term("task", "sawing"), _estimate("cart.time.cut", hour).times(2 * copies)),
        Task(Term("task", "openings"), _estimate("cart.time.opening", hour).times(openings)),
        *special,
        Task(Term("task", "sanding"), _estimate("cart.time.sand", hour).times(area_m2)),
        Task(Term("task", "joining"), _estimate("cart.time.joint", hour).times(len(cart.joints))),
        Task(Term("task", "screwing"), _estimate("cart.time.screw", hour).times(screws)),
        Task(
            Term("task", "painting"),
            _estimate("cart.time.coat", hour).times(area_m2 * fact("cart.finish.coats").value),
        ),
    )
    return tuple(task for task in tasks if task.hours.high > 0)


def _waiting(cart: Cart) -> Estimate:
    """Drying: one clamping for each step that glues, a day's cure, and between coats [h]."""
    gluing = sum(1 for step in cart.steps if step.joints)
    hour = 3600.0
    wait = _estimate("cart.finish.glue_clamp", hour).times(gluing)
    wait = wait + _estimate("cart.finish.recoat", hour).times(fact("cart.finish.coats").value + 1)
    return wait + _estimate("cart.finish.glue_full", hour)


def _tools(shop: Shop, cart: Cart) -> tuple[Statement, ...]:
    needs = [
        state("cart.tool.saw", saw=shop.saw.kind),
        state("cart.tool.drill"),
        state("cart.tool.countersink"),
        state("cart.tool.square"),
        state("cart.tool.clamps"),
    ]
    shelf = [o for p in cart.panels if p.name == "shelf" for o in p.openings]
    if shelf:
        shape = "round" if any(o.round for o in shelf) else "square"
        needs.append(state("cart.tool.jigsaw", opening=shape))
    if any(not o.round for p in cart.panels if p.name != "shelf" for o in p.openings):
        needs.append(state("cart.tool.hole_saw"))
    if any(p.pockets for p in cart.panels):
        needs += [state("cart.tool.pocket_guide"), state("cart.tool.face_clamp")]
    elif any(p.grooves for p in cart.panels):
        needs += [state("cart.tool.router"), state("cart.tool.chisel")]
    return tuple(needs)
