"""One picture a step of assembly: what is new, which way it goes on, where the screws go."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from kerfwind.cart.model import Cart
from kerfwind.facts import Name
from kerfwind.joinery.aligned import HAIR_M
from kerfwind.joinery.model import HardwareItem, Pose, Step
from kerfwind.solids import Body
from kerfwind.words import Voice

from .model import Balloon, Drawing, Item, Label, Point, Polygon, Polyline
from .motion import Motion, motions, panels_box, shown_before
from .overlap import Floats
from .project import Picture, picture, picture_drawing
from .view import View, perspective
from .window import windowed

#: Parts that are screwed on are held off by this share of the picture.
_OFF = 0.085
#: Length and width of an arrow, and its distance from the part, as shares of the picture.
_ARROW, _ARROW_WIDTH, _ARROW_OFF = 0.1, 0.05, 0.02
#: A picture is cut down to its new parts where that makes them so many times larger.
_WORTH_CUTTING = 1.35
_SCREW_OUT_M = 0.03
_TURNS: dict[Pose, Floats] = {
    "upright": np.eye(3),
    # About the way from front to rear, so that the open front stays in front.
    "upside down": np.diag([-1.0, 1.0, -1.0]),
    # Front edges on the floor, shelf end towards the person.
    "front edges": np.array([[1.0, 0, 0], [0, 0, -1.0], [0, 1.0, 0]]),
    # Rear edges on the floor, shelf end towards the person.
    "rear edges": np.array([[-1.0, 0, 0], [0, 0, -1.0], [0, -1.0, 0]]),
}
_ELEVATION_DEG: dict[Pose, float] = {
    "upright": 22.0,
    "upside down": 30.0,
    "front edges": 32.0,
    "rear edges": 38.0,
}
_AZIMUTH_DEG = -35.0
#: What stands where there is room for it: nothing is measured for it.
_FREE = ("vacuum", "bucket", "cyclone")
_HIGH = ("right", "rear", "upper")


@dataclass(frozen=True)
class _Scene:
    """Bodies as they lie in this step, the new ones held off, in one view."""

    bodies: tuple[Body, ...]
    view: View
    turn: Floats
    offsets: dict[str, Floats]
    size: float


@dataclass(frozen=True)
class _Mark:
    """From an edge to where a part's side comes, and along that line, as it lies in the step."""

    points: Floats
    distance_m: float


def step_drawing(
    cart: Cart,
    step: Step,
    voice: Voice,
    bodies: Sequence[Body] | None = None,
    known: Mapping[str, Motion] | None = None,
) -> Drawing | None:
    """The picture of a step; None where it adds no part.

    New parts are dark and heavily outlined. Those that are screwed on are held a little off
    their place, with the screws' axes; an arrow shows which way a part goes. Panels are named
    by their letter, other parts by name, screws by number and length.

    Parameters
    ----------
    bodies, known
        Simpler bodies of the same names, and ``motions(cart)``, where they are at hand.
    """
    if not step.new:
        return None
    known = known if known is not None else motions(cart)
    shown = {b.name: b for b in (bodies if bodies is not None else cart.bodies)}
    scene = _scene(cart, step, shown, known)
    screws, texts = _screws(cart, step, scene, voice)
    arrows = [a for n in step.new if (a := _arrow(scene, n, known)) is not None]
    marks = _marks(cart, step, scene)
    window = _window(scene, step.new, screws, arrows, [p for m in marks for p in m.points])
    seen_bodies = _within(scene, window)
    seen = picture(seen_bodies, scene.view, emphasised=step.new, ways=screws, crease_deg=38.0)
    items: list[Item] = list(arrows)
    if window is not None:
        low, high = window
        seen = windowed(seen, low, high)
        low, high = _about_all(seen, arrows, low, high)
        frame = (low, (high[0], low[1]), high, (low[0], high[1]), low)
        items.append(Polyline(frame, "frame"))
    items += _names(cart, step, seen, voice)
    items += _screw_labels(seen, texts)
    items += _mark_items(scene, marks, voice)
    return picture_drawing(
        voice.word("drawing.step", number=step.number, title=step.title), seen, items
    )


def _scene(
    cart: Cart, step: Step, shown: Mapping[str, Body], known: Mapping[str, Motion]
) -> _Scene:
    turn = _TURNS[step.pose]
    names = [n for n in (*shown_before(cart, step), *step.new) if n in shown]
    every = np.concatenate([shown[n].vertices for n in names]) @ turn.T
    size = float(np.ptp(every, axis=0).max())
    offsets: dict[str, Floats] = {}
    for name in step.new:
        motion = known[name]
        start = offsets.get(motion.onto or "", np.zeros(3))
        held_off = _OFF * size if shown[name].kind in ("panel", "hardware") else 0.0
        offsets[name] = start + held_off * (turn @ motion.from_side)
    bodies = tuple(
        replace(b, vertices=b.vertices @ turn.T + offsets.get(n, 0.0))
        for n, b in ((n, shown[n]) for n in names)
    )
    points = np.concatenate([b.vertices for b in bodies])
    view = perspective(
        points, _azimuth_deg(step, known, shown), elevation_deg=_ELEVATION_DEG[step.pose]
    )
    return _Scene(bodies, view, turn, offsets, size)


def _azimuth_deg(step: Step, known: Mapping[str, Motion], shown: Mapping[str, Body]) -> float:
    """From the left front; from where the parts come, where they all come from one other side."""
    sides = {tuple(np.round(known[n].from_side[:2]).astype(int).tolist()) for n in step.new}
    sides |= {_hung_at(shown[n], shown) for n in step.new if shown[n].coiled}
    sides.discard((0, 0))
    if step.pose != "upright" or len(sides) != 1:
        return _AZIMUTH_DEG
    return {(1, 0): -_AZIMUTH_DEG, (0, 1): 180.0 + _AZIMUTH_DEG}.get(sides.pop(), _AZIMUTH_DEG)


def _hung_at(coil: Body, shown: Mapping[str, Body]) -> tuple[int, int]:
    """On which side of the panels a coil hangs."""
    low, high = panels_box(shown.values())
    off = ((coil.low + coil.high - low - high) / (high - low))[:2]
    axis = int(np.argmax(np.abs(off)))
    side = [0, 0]
    side[axis] = int(np.sign(off[axis]))
    return side[0], side[1]


def _screws(
    cart: Cart, step: Step, scene: _Scene, voice: Voice
) -> tuple[Floats, dict[str, list[Floats]]]:
    """Axes of the step's screws, shape (k, 2, 3), and where each kind of them begins."""
    hardware = {h.key: h for h in cart.hardware}
    placed = {p.name: p.key for p in cart.placed}
    found: list[tuple[Floats, Floats]] = []
    texts: dict[str, list[Floats]] = {}
    for joint in cart.joints:
        if joint.key not in step.joints:
            continue
        to = scene.offsets.get(joint.second, np.zeros(3))
        off = scene.offsets.get(joint.first, np.zeros(3))
        through = cart.panel(placed[joint.first]).thickness_m
        for screw in joint.screws:
            head, way = scene.turn @ screw.head_m, scene.turn @ screw.direction
            # Pocket screws sit in the second part and end in the first.
            pocket = float(np.dot(screw.direction, joint.way)) < 0
            begins, ends = (to, off) if pocket else (off, to)
            outside = head + begins - _SCREW_OUT_M * way
            found.append((outside, head + ends + through * way))
            text = _screw_length(hardware[screw.hardware], voice)
            texts.setdefault(text, []).append(outside)
    counted = {
        voice.word("drawing.step.screws", count=len(spots), length=Name(text)): spots
        for text, spots in texts.items()
    }
    counted |= _screwed_on(cart, step, scene, voice)
    return np.asarray(found, dtype=float).reshape(-1, 2, 3), counted


def _screwed_on(cart: Cart, step: Step, scene: _Scene, voice: Voice) -> dict[str, list[Floats]]:
    """How many screws hold each thing that is no panel, and where those things are."""
    driven = {s.hardware for j in cart.joints for s in j.screws}
    fixed = [b for b in scene.bodies if b.name in step.new and _fixed(b.name)]
    counts = {t.key: t.count for t in step.takes if t.key not in driven}
    found = {}
    for row in (h for h in cart.hardware if h.key in counts and h.kind == "screw" and fixed):
        text = voice.word(
            "drawing.step.screws_each",
            count=counts[row.key] // len(fixed),
            length=Name(_screw_length(row, voice)),
        )
        found[text] = [(b.low + b.high) / 2 for b in fixed]
    return found


def _fixed(name: str) -> bool:
    """Whether a part that is no panel is screwed on."""
    return name.split()[-1] in ("caster", "loop", "anchor")


def _screw_length(row: HardwareItem, voice: Voice) -> str:
    return voice.plain().length(row.length_m or 0.0, 16)


def _arrow(scene: _Scene, name: str, known: Mapping[str, Motion]) -> Polygon | None:
    """A flat arrow beyond the part, pointing the way that the part goes."""
    body = next(b for b in scene.bodies if b.name == name)
    carries = any(known[b.name].onto == name for b in scene.bodies if not b.part_of)
    if body.part_of or carries:
        return None
    side = scene.turn @ known[name].from_side
    if not side.any():
        return None
    middle = (body.low + body.high) / 2
    face = middle + side * (np.abs(side) @ (body.high - body.low)) / 2
    tip = np.asarray(scene.view.at(face + side * _ARROW_OFF * scene.size))
    tail = np.asarray(scene.view.at(face + side * (_ARROW_OFF + _ARROW) * scene.size))
    way = tip - tail
    length = float(np.hypot(*way))
    if length < 0.3 * _ARROW * scene.size:
        return None
    u = way / length
    v = np.array([-u[1], u[0]]) * _ARROW_WIDTH * scene.size / 2
    neck = tip - u * min(0.55 * length, 1.3 * float(np.hypot(*v)))
    shape = (
        tip,
        neck + v,
        neck + 0.42 * v,
        tail + 0.42 * v,
        tail - 0.42 * v,
        neck - 0.42 * v,
        neck - v,
    )
    return Polygon(tuple((float(x), float(y)) for x, y in shape), "edge", 0.98)


def _marks(cart: Cart, step: Step, scene: _Scene) -> list[_Mark]:
    """Distances to measure before a part is set, each once though several parts share it."""
    shown = {b.name for b in scene.bodies}
    found: dict[tuple[str, str, int], _Mark] = {}
    for row in step.aligned:
        if row.how != "marked" or abs(row.offset_m) < HAIR_M:
            continue
        if row.part in _FREE or not {row.part, row.to} <= shown:
            continue
        axis = "xyz".index(row.axis)
        part, to = cart.body(row.part), cart.body(row.to)
        carrier, edge_side = (part, row.side) if row.carrier == row.part else (to, row.to_side)
        edge = float((carrier.high if edge_side in _HIGH else carrier.low)[axis])
        sign = -1.0 if row.carrier == row.part else 1.0
        low, high = np.maximum(part.low, to.low), np.minimum(part.high, to.high)
        normal = int(np.argmin(np.where(np.arange(3) == axis, np.inf, high - low)))
        other = 3 - axis - normal
        line = np.empty((4, 3))
        line[:, normal] = (low[normal] + high[normal]) / 2
        # The distance is drawn at the end of the mark that is nearer to whoever looks.
        ends = sorted((low[other], high[other]), key=lambda v: _nearness(scene, other, v))
        line[:, other] = (ends[1], ends[1], ends[0], ends[1])
        line[:, axis] = edge + sign * row.offset_m
        line[0, axis] = edge
        points = line @ scene.turn.T + scene.offsets.get(carrier.name, np.zeros(3))
        key = (carrier.name, row.axis, round(abs(row.offset_m) * 1e4))
        found.setdefault(key, _Mark(points, abs(row.offset_m)))
    return list(found.values())


def _nearness(scene: _Scene, axis: int, value: float) -> float:
    """How near the viewer a place along one way of the cart is."""
    way = np.zeros(3)
    way[axis] = value
    return -float(np.asarray(scene.view.away, dtype=float) @ (scene.turn @ way))


def _mark_items(scene: _Scene, marks: Sequence[_Mark], voice: Voice) -> list[Item]:
    items: list[Item] = []
    for mark in marks:
        edge, at, far, _ = [scene.view.at(p) for p in mark.points]
        tick = 0.012 * scene.size
        items.append(Polyline((at, far), "cut"))
        items.append(Polyline((edge, at), "measure"))
        for x, y in (edge, at):
            items.append(Polyline(((x - tick, y - tick), (x + tick, y + tick)), "measure"))
        middle = ((edge[0] + at[0]) / 2, (edge[1] + at[1]) / 2)
        items.append(
            Label(middle, voice.plain().length(mark.distance_m, 32), "leader", size="small")
        )
    return items


def _window(
    scene: _Scene,
    new: Sequence[str],
    screws: Floats,
    arrows: Sequence[Polygon],
    marked: Sequence[Floats],
) -> tuple[Point, Point] | None:
    """Corners of the part of the picture worth showing; None for all of it."""
    every = np.concatenate([scene.view.project(b.vertices)[:, :2] for b in scene.bodies])
    mine = [scene.view.project(b.vertices)[:, :2] for b in scene.bodies if b.name in new]
    mine += [scene.view.project(screws)[..., :2].reshape(-1, 2)] if len(screws) else []
    mine += [np.asarray(a.points) for a in arrows]
    mine += [np.asarray([scene.view.at(p) for p in marked])] if marked else []
    near = np.concatenate(mine)
    every = np.concatenate([every, near])
    all_low, all_high = every.min(axis=0), every.max(axis=0)
    longest = int(np.argmax(all_high - all_low))
    # Cut across the long way only, so that both sides of the work stay in the picture; both
    # ways, with more about them, round parts too small for that.
    for margin, kept in ((0.12, 1 - longest), (0.3, None)):
        low, high = near.min(axis=0), near.max(axis=0)
        about = margin * float((high - low).max())
        low, high = np.maximum(low - about, all_low), np.minimum(high + about, all_high)
        if kept is not None:
            if float((all_high - all_low).max() / (high - low).max()) < _WORTH_CUTTING:
                return None
            low[kept], high[kept] = all_low[kept], all_high[kept]
        gap = 0.02 * float((high - low).max())
        low, high = low - gap * (low <= all_low), high + gap * (high >= all_high)
        if float((all_high - all_low).max() / (high - low).max()) >= _WORTH_CUTTING:
            return ((float(low[0]), float(low[1])), (float(high[0]), float(high[1])))
    return None


def _about_all(
    seen: Picture, arrows: Sequence[Polygon], low: Point, high: Point
) -> tuple[Point, Point]:
    """The window without the blank at its sides."""
    points = [p for f in seen.faces for loop in f.loops for p in loop]
    points += [p for line in seen.lines for p in line.points]
    points += [p for arrow in arrows for p in arrow.points]
    drawn = np.asarray(points)
    gap = 0.02 * max(high[0] - low[0], high[1] - low[1])
    low = np.maximum(low, drawn.min(axis=0) - gap)
    high = np.minimum(high, drawn.max(axis=0) + gap)
    return (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))


def _within(scene: _Scene, window: tuple[Point, Point] | None) -> tuple[Body, ...]:
    if window is None:
        return scene.bodies
    low, high = window
    kept = []
    for body in scene.bodies:
        spots = scene.view.project(body.vertices)[:, :2]
        if np.all(spots.max(axis=0) > low) and np.all(spots.min(axis=0) < high):
            kept.append(body)
    return tuple(kept)


def _names(cart: Cart, step: Step, seen: Picture, voice: Voice) -> list[Item]:
    letters = {p.name: p.key for p in cart.placed}
    items: list[Item] = []
    named: set[str] = set()
    for name in step.new:
        spot = seen.seen_at(name) if name in seen.names else None
        if spot is None or cart.body(name).part_of:
            continue
        if name in letters:
            items.append(Balloon(spot, letters[name]))
            continue
        word = voice.text(cart.what(name))
        if word not in named:
            items.append(Label(spot, word, "leader", size="small"))
        named.add(word)
    return items


def _screw_labels(seen: Picture, texts: Mapping[str, Sequence[Floats]]) -> list[Item]:
    """A label for each kind of screw, at the nearest of its axes that can be seen."""
    shown = [np.asarray(line.points) for line in seen.lines if line.body < 0]
    items: list[Item] = []
    for text, spots in texts.items():
        flat = np.array([seen.view.at(s) for s in spots])
        near = [p for p in flat if any(np.hypot(*(line - p).T).min() < 2e-3 for line in shown)]
        tip = min(near or flat, key=lambda p: float(p[1]))
        items.append(Label((float(tip[0]), float(tip[1])), text, "leader", size="small"))
    return items
