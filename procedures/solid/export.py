"""Solids written as files: glTF 2.0 in one binary file, and binary STL."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import trimesh
from trimesh.exchange.gltf import export_glb
from trimesh.exchange.stl import export_stl
from trimesh.visual import TextureVisuals
from trimesh.visual.material import PBRMaterial

from calculators.glow import glow

from .bodies import Body
from .contours import Array
from .shading import shaded

MM = 0.001  # glTF is in metres
_STL_HEADER = 80  # bytes
_COLD = (0.21, 0.215, 0.225)  # linear: the grey of oxidised steel
_METAL, _ROUGH = 0.3, 0.5
_GLOW = 0.8  # of the light that a hot face gives off by itself: the rest is shaded, so that its form shows


def glb(
    bodies: Sequence[Body],
    temperature: float | None = None,
    *,
    copyright: str = "",
    extras: Mapping[str, str | int | float] | None = None,
) -> bytes:
    """Return solids as a glTF 2.0 binary file: metres, Y up, a node for each body by its name.

    What is hot glows as iron does at the temperature [°C]. `copyright` and `extras` go on the asset.
    """
    scene = trimesh.Scene()
    materials = {False: _cold(), True: _hot(temperature) if temperature is not None else _cold()}
    for number, body in enumerate(bodies, start=1):
        for is_hot in (False, True):
            faces = body.faces[body.hot == is_hot]
            if not len(faces):
                continue
            points, ways, faces = shaded(body.points, faces)
            mesh = trimesh.Trimesh(_upright(points) * MM, faces, vertex_normals=_upright(ways), process=False)
            mesh.visual = TextureVisuals(material=materials[is_hot])  # type: ignore[no-untyped-call]
            name = f"{body.name} (hot)" if is_hot else body.name
            scene.add_geometry(mesh, node_name=name, geom_name=f"{number}-{'hot' if is_hot else 'cold'}")

    def signed(tree: dict[str, Any]) -> None:
        tree["asset"] = {"version": "2.0", "generator": "forgesite"}
        if copyright:
            tree["asset"]["copyright"] = copyright
        if extras:
            tree["asset"]["extras"] = dict(extras)

    written = export_glb(scene, include_normals=True, tree_postprocessor=signed)  # type: ignore[no-untyped-call]
    return bytes(written)


def stl(bodies: Sequence[Body], told: str = "") -> bytes:
    """Return solids as one binary STL: millimetres, Z up; what there is room for of `told` is its header."""
    meshes = [trimesh.Trimesh(one.points, one.faces, process=False) for one in bodies]
    made = bytes(export_stl(trimesh.util.concatenate(meshes)))
    header = f"STL. {told}".encode("ascii", "replace")[:_STL_HEADER]  # never "solid": that begins a text
    return header.ljust(_STL_HEADER, b"\0") + made[_STL_HEADER:]


def _upright(points: Array) -> Array:
    """Return points with Y up, as glTF has it: our Z becomes Y, and our Y goes into the screen."""
    return np.column_stack([points[:, 0], points[:, 2], -points[:, 1]])


def _cold() -> PBRMaterial:
    return PBRMaterial(  # type: ignore[no-untyped-call]
        name="cold steel",
        baseColorFactor=[*_COLD, 1.0],
        metallicFactor=_METAL,
        roughnessFactor=_ROUGH,
    )


def _hot(temperature: float) -> PBRMaterial:
    color = [_linear(one / 255) for one in glow(temperature)]
    return PBRMaterial(  # type: ignore[no-untyped-call]
        name=f"steel at {temperature:.0f} °C",
        baseColorFactor=[*(one * (1 - _GLOW) for one in color), 1.0],
        emissiveFactor=[one * _GLOW for one in color],
        metallicFactor=0.0,
        roughnessFactor=0.9,
    )


def _linear(encoded: float) -> float:
    """Return a share of sRGB as linear light."""
    return encoded / 12.92 if encoded <= 0.04045 else float(((encoded + 0.055) / 1.055) ** 2.4)
