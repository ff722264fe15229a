"""Printed parts as closed triangle meshes, and the files that printers' software reads.

Files are in millimetres, standing on the end that prints best: the wider one.
"""

from __future__ import annotations

import io
import struct
import zipfile
from html import escape

import numpy as np
from numpy.typing import NDArray

from ..plaintext import visible
from ..solids import Body
from .reducer import Points, Reducer
from .rings import TestRing

SEGMENTS = 256
_EPOCH = (1980, 1, 1, 0, 0, 0)

_TYPES = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" '
    'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>'
    "</Types>\n"
)
_RELATIONS = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    '<Relationship Target="/3D/3dmodel.model" Id="rel0" '
    'Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>'
    "</Relationships>\n"
)


def solid(part: Reducer | TestRing, segments: int = SEGMENTS) -> Body:
    """The part as a closed mesh [m], its axis upright, the wider end on the floor.

    Rings of vertices lie on the true radii, so that a caliper over the corners reads the
    true diameter; the flats between them are ``segments`` to the turn.
    """
    inner, outer = part.inner, part.outer
    if outer[0][1] < outer[-1][1]:
        length = outer[-1][0]
        inner, outer = (
            tuple((length - x, r) for x, r in reversed(line)) for line in (inner, outer)
        )
    return _shell(part.name, inner, outer, segments)


def _shell(name: str, inner: Points, outer: Points, segments: int) -> Body:
    section = np.array([*outer, *reversed(inner)])
    turn = 2 * np.pi * np.arange(segments) / segments
    x = section[:, 1, None] * np.cos(turn)
    y = section[:, 1, None] * np.sin(turn)
    z = np.broadcast_to(section[:, 0, None], x.shape)
    vertices = np.stack([x, y, z], axis=-1).reshape(-1, 3)
    i = np.arange(segments)
    j = np.roll(i, -1)
    triangles = []
    for k in range(len(section)):
        a, b = k * segments, (k + 1) % len(section) * segments
        triangles += [np.stack([a + i, a + j, b + j], 1), np.stack([a + i, b + j, b + i], 1)]
    return Body(name, "hardware", vertices, np.concatenate(triangles))


def stl(body: Body) -> bytes:
    """Binary STL in millimetres."""
    corners = (body.vertices * 1e3)[body.triangles].astype("<f4")
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    lengths = np.linalg.norm(normals, axis=1, keepdims=True)
    normals = normals / np.where(lengths > 0, lengths, 1)
    rows = np.zeros(
        len(corners), dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("spare", "<u2")]
    )
    rows["normal"], rows["corners"] = normals, corners
    return b"kerfwind, millimetres".ljust(80) + struct.pack("<I", len(rows)) + rows.tobytes()


def three_mf(body: Body) -> bytes:
    """A 3MF package in millimetres (3MF Core Specification 1.x: one object, one item)."""
    points = "".join(
        f'<vertex x="{x:.5f}" y="{y:.5f}" z="{z:.5f}"/>' for x, y, z in body.vertices * 1e3
    )
    faces = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in body.triangles)
    name = escape(visible(body.name))
    model = (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        '<model unit="millimeter" xml:lang="en-US" '
        'xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">'
        f'<resources><object id="1" type="model" name="{name}"><mesh>'
        f"<vertices>{points}</vertices><triangles>{faces}</triangles></mesh></object></resources>"
        '<build><item objectid="1"/></build></model>\n'
    )
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as package:
        for path, text in (
            ("[Content_Types].xml", _TYPES),
            ("_rels/.rels", _RELATIONS),
            ("3D/3dmodel.model", model),
        ):
            package.writestr(zipfile.ZipInfo(path, _EPOCH), text, zipfile.ZIP_DEFLATED)
    return held.getvalue()


def fault(body: Body) -> str:
    """What is wrong with a mesh, by manifold3d; empty where it is a sound solid."""
    import manifold3d

    vertices: NDArray[np.float64] = np.ascontiguousarray(body.vertices)
    mesh = manifold3d.Mesh64(vertices, np.ascontiguousarray(body.triangles.astype(np.uint64)))
    made = manifold3d.Manifold(mesh)
    status = made.status().name
    if status != "NoError":
        return str(status)
    return "" if made.volume() > 0 else "turned inside out"
