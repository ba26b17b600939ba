"""The files as others read them: glTF by pygltflib and trimesh, STL by trimesh."""

from __future__ import annotations

import io

import numpy as np
import pygltflib
import pytest
import trimesh

from procedures.solid.bodies import bodies_of
from procedures.solid.export import glb, stl
from procedures.solid.glowing import glowing, temperature_of

from .every_piece import DEMOS, demo, of_operation

PIECES = [*DEMOS, "twist", "weld_ring", "collar", "wrap", "dish", "weld_jump"]


def frames_of(name):
    if name in DEMOS:
        return [part.frames[-1] for part in demo(name).parts]
    return [frame for _, frame in of_operation(name)]


def made(frame) -> bytes:
    return glb(bodies_of(frame.after, glowing(frame)), temperature_of(frame))


def numbers(file: pygltflib.GLTF2, index: int) -> np.ndarray:
    """The numbers of an accessor, as the specification says to find them."""
    accessor = file.accessors[index]
    view = file.bufferViews[accessor.bufferView]
    kind, each = {5126: ("<f4", 3), 5125: ("<u4", 1)}[accessor.componentType]
    begin = view.byteOffset + (accessor.byteOffset or 0)
    found = np.frombuffer(file.binary_blob(), kind, accessor.count * each, begin)
    return found.reshape(-1, each)


@pytest.mark.parametrize("name", PIECES)
def test_gltf_is_sound(name):
    for frame in frames_of(name):
        file = pygltflib.GLTF2.load_from_bytes(made(frame))
        assert file.asset.version == "2.0"
        named = {one.name.removesuffix(" (hot)") for one in file.nodes}
        assert named >= {one.name for one in frame.after.branches}
        for mesh in file.meshes:
            (primitive,) = mesh.primitives
            spots = numbers(file, primitive.attributes.POSITION)
            ways = numbers(file, primitive.attributes.NORMAL)
            corners = numbers(file, primitive.indices)
            told = file.accessors[primitive.attributes.POSITION]
            assert spots.min(axis=0).tolist() == told.min
            assert spots.max(axis=0).tolist() == told.max
            assert len(spots) == len(ways) == corners.max() + 1
            assert np.linalg.norm(ways, axis=1) == pytest.approx(np.ones(len(ways)), abs=1e-5)
            assert len(corners) % 3 == 0


@pytest.mark.parametrize("name", PIECES)
def test_gltf_and_stl_hold_the_metal_of_the_ledger(name):
    for frame in frames_of(name):
        scene = trimesh.load(io.BytesIO(made(frame)), file_type="glb")
        assert sum(_volume(one) for one in scene.geometry.values()) * 1e9 == pytest.approx(
            frame.after.volume, rel=0.005
        )
        solid = trimesh.load(io.BytesIO(stl(bodies_of(frame.after))), file_type="stl")
        assert solid.volume == pytest.approx(frame.after.volume, rel=0.005)


def _volume(mesh: trimesh.Trimesh) -> float:
    """The share of a mesh in the volume about the origin: the sum is right though the hot part is open."""
    corners = mesh.triangles
    return float(np.einsum("ij,ij->", corners[:, 0], np.cross(corners[:, 1], corners[:, 2]))) / 6


@pytest.mark.parametrize("name", ["draw_out", "taper", "bend", "punch", "flatten", "twist", "head", "upset"])
def test_every_solid_is_watertight_as_trimesh_sees_it(name):
    for title, frame in of_operation(name):
        for body in bodies_of(frame.after):
            mesh = trimesh.load(io.BytesIO(stl([body])), file_type="stl")
            assert mesh.is_watertight, f"{title}: {body.name}"
            assert mesh.is_winding_consistent, f"{title}: {body.name}"


def test_file_is_the_same_each_time():
    (frame,) = (part.frames[-1] for part in demo("hat_bracket").parts)
    assert made(frame) == made(frame)
    assert stl(bodies_of(frame.after)) == stl(bodies_of(frame.after))
