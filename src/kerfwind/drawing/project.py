"""Pictures of bodies in space with hidden lines right: sides, isometric, perspective."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from kerfwind.solids import Body

from .lines import SeenLine, free_lines, seen_lines
from .mesh import Mesh, mesh_of
from .model import Drawing, Item, Point, Polygon, Polyline
from .overlap import Floats
from .view import View
from .visible import Screen, area_of, screen_of, visible_faces

Hidden = Literal["none", "dashed"]
#: Unit vector to the light in the drawing's own right, up, away: over the left shoulder.
_LIGHT = (-0.45, 0.7, -0.55)


@dataclass(frozen=True)
class SeenFace:
    """The visible part of a flat face; further loops are holes."""

    loops: tuple[tuple[Point, ...], ...]
    grey: float
    body: int


@dataclass(frozen=True)
class Picture:
    """What is seen of the bodies, in drawing units (metres where the view is true)."""

    view: View
    names: tuple[str, ...]
    faces: tuple[SeenFace, ...]
    lines: tuple[SeenLine, ...]

    def seen_at(self, name: str) -> Point | None:
        """A spot well inside the largest visible face of a body, for a leader to end on.

        None where nothing of it can be seen.
        """
        number = self.names.index(name)
        mine = [f for f in self.faces if f.body == number]
        if not mine:
            return None
        return _inner_point(max(mine, key=lambda f: abs(area_of(np.asarray(f.loops[0])))).loops)


def picture(
    bodies: Sequence[Body],
    view: View,
    *,
    emphasised: Collection[str] = (),
    hidden: Hidden = "none",
    shaded: bool = True,
    crease_deg: float = 28.0,
    ways: Floats | None = None,
) -> Picture:
    """Project closed bodies with hidden lines removed or dashed.

    Parameters
    ----------
    emphasised
        Names of the bodies that are new in this step: heavy outlines and darker faces,
        while all others step back. Empty: all alike.
    hidden
        Whether edges behind something are dashed.
    shaded
        Light greys by the fall of light; else all faces are white.
    crease_deg
        Faces that meet at a smaller angle are drawn as one round surface.
    ways
        Further lines in space, shape (k, 2, 3) [m], drawn thin where nothing hides them.

    Raises
    ------
    ValueError
        No bodies, a body without triangles, or one behind the eye of a perspective.
    """
    mesh = mesh_of(bodies, crease_deg)
    screen = screen_of(mesh, view.project(mesh.points))
    new = np.asarray([b.name in emphasised for b in bodies])
    tones = np.asarray([b.tone for b in bodies], dtype=float)
    faces = _faces(mesh, screen, view, tones, new, shaded)
    lines = seen_lines(mesh, screen, view, new, hidden == "dashed")
    if ways is not None and len(ways):
        lines += free_lines(mesh, screen, view.project(ways))
    return Picture(view, tuple(b.name for b in bodies), tuple(faces), tuple(lines))


def picture_drawing(title: str, seen: Picture, items: Sequence[Item] = ()) -> Drawing:
    """A picture as a drawing; ``items`` are dimensions, balloons and labels upon it."""
    painted: list[Item] = [Polygon(f.loops[0], None, f.grey, holes=f.loops[1:]) for f in seen.faces]
    order: dict[str, int] = {"hidden": 0, "old": 1, "edge": 2, "outline": 3, "new": 4}
    painted += [
        Polyline(line.points, line.line)
        for line in sorted(seen.lines, key=lambda s: order.get(s.line, 1))
    ]
    scaled: Literal["scale", "free"] = "scale" if seen.view.true_size else "free"
    return Drawing(title, (*painted, *items), scaled=scaled)


def _faces(
    mesh: Mesh,
    screen: Screen,
    view: View,
    tones: Floats,
    new: np.ndarray[tuple[int, ...], np.dtype[np.bool_]],
    shaded: bool,
) -> list[SeenFace]:
    light = np.asarray(_LIGHT) / np.linalg.norm(_LIGHT)
    axes = np.asarray((view.right, view.up, view.away), dtype=float)
    axes /= np.linalg.norm(axes, axis=1, keepdims=True)
    found = []
    lights = np.clip(mesh.normals @ (axes.T @ light), 0.0, 1.0).tolist()
    for number, loops in visible_faces(mesh, screen):
        body = int(mesh.body[number])
        lit = lights[number]
        tone = float(tones[body])
        if new.any():
            tone = 0.72 if new[body] else 0.5 + tone / 2
        tone = 0.3 + 0.7 * tone  # dark things too must leave their lines readable
        depth = 0.2 if not new.any() or new[body] else 0.09
        grey = tone - depth * (1.0 - lit) if shaded else 1.0
        found.append(SeenFace(_outer_first(loops), round(grey, 3), body))
    return found


def _outer_first(loops: list[Floats]) -> tuple[tuple[Point, ...], ...]:
    ranked = sorted(loops, key=lambda loop: -abs(area_of(loop))) if len(loops) > 1 else loops
    return tuple(tuple(map(tuple, loop.tolist())) for loop in ranked)


def _inner_point(loops: Sequence[Sequence[Point]]) -> Point:
    """The spot of a grid over the face that lies farthest from its outline."""
    edges = np.concatenate(
        [
            np.concatenate([np.asarray(loop), np.roll(np.asarray(loop), -1, axis=0)], axis=1)
            for loop in loops
        ]
    )
    low, high = edges[:, :2].min(axis=0), edges[:, :2].max(axis=0)
    steps = (np.arange(17) + 0.5) / 17
    xs, ys = (low[i] + steps * (high[i] - low[i]) for i in (0, 1))
    x, y = (v.ravel()[:, None] for v in np.meshgrid(xs, ys))
    across = (edges[:, 1] <= y) != (edges[:, 3] <= y)
    rise = np.where(edges[:, 3] != edges[:, 1], edges[:, 3] - edges[:, 1], 1.0)
    right = edges[:, 0] + (y - edges[:, 1]) / rise * (edges[:, 2] - edges[:, 0]) > x
    inside = np.sum(across & right, axis=1) % 2 == 1
    dx, dy = edges[:, 2] - edges[:, 0], edges[:, 3] - edges[:, 1]
    length2 = np.maximum(dx * dx + dy * dy, 1e-30)
    t = np.clip(((x - edges[:, 0]) * dx + (y - edges[:, 1]) * dy) / length2, 0.0, 1.0)
    off = np.hypot(edges[:, 0] + t * dx - x, edges[:, 1] + t * dy - y).min(axis=1)
    best = int(np.argmax(np.where(inside, off, -1.0)))
    return (float(x[best, 0]), float(y[best, 0]))
