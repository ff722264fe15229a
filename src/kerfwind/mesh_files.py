"""Bodies as files for machines: STL and 3MF for printers and mills, GLB (binary glTF 2.0) to look at.

The same bodies give the same bytes every time.
"""

from __future__ import annotations

import io
import struct
import zipfile
from collections.abc import Sequence
from html import escape
from typing import Any

import numpy as np

from .plaintext import visible
from .solids import Body

#: glTF has y up and z towards the viewer; ours is z up and y away (glTF 2.0, section 3.4).
_TO_GLTF = np.array([[1.0, 0, 0], [0, 0, 1.0], [0, -1.0, 0]])


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


def glb(bodies: Sequence[Body], title: str) -> bytes:
    """GLB: metres, y up, one named node for each body, plain greys.

    Parameters
    ----------
    title
        Name of the node that holds all others.
    """
    import trimesh

    scene = trimesh.Scene(base_frame=title)
    for body in bodies:
        scene.add_geometry(_mesh(body), node_name=body.name, geom_name=body.name)
    return bytes(scene.export(file_type="glb"))


def _mesh(body: Body) -> Any:
    import trimesh
    from trimesh.visual import TextureVisuals
    from trimesh.visual.material import PBRMaterial

    grey = round(255 * body.tone)
    material = PBRMaterial(
        name=f"grey {grey}",
        baseColorFactor=(grey, grey, grey, 255),
        metallicFactor=0.0,
        roughnessFactor=0.9,
    )
    return trimesh.Trimesh(
        body.vertices @ _TO_GLTF.T,
        body.triangles,
        process=False,
        visual=TextureVisuals(material=material),
    )
