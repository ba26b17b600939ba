"""A step in the round as files: who may have them, what they hold, and that they are kept by content."""

from __future__ import annotations

import io

import pygltflib
import pytest
import trimesh

from procedures.engine.replay import replay
from procedures.views import solids
from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out

from .showing import a_draft, a_hook, person, published

pytestmark = pytest.mark.django_db


def glb_of(client, procedure, number: int = 2, query: str = "") -> pygltflib.GLTF2:
    """The file as a reader of glTF that had no part in making it understands it."""
    response = client.get(f"/p/{procedure.slug}/steps/bar/{number}/solid.glb{query}")
    assert response.status_code == 200
    assert response["Content-Type"] == "model/gltf-binary"
    return pygltflib.GLTF2.load_from_bytes(response.content)


def stl_of(client, procedure, number: int = 2, query: str = "") -> trimesh.Trimesh:
    response = client.get(f"/p/{procedure.slug}/steps/bar/{number}/solid.stl{query}")
    assert response.status_code == 200
    assert response["Content-Type"] == "model/stl"
    return trimesh.load(io.BytesIO(response.content), file_type="stl")


def test_gltf_is_version_two_in_metres_with_y_up(client):
    made = glb_of(client, published())
    assert made.asset.version == "2.0"
    highs = [made.accessors[mesh.primitives[0].attributes.POSITION].max for mesh in made.meshes]
    lows = [made.accessors[mesh.primitives[0].attributes.POSITION].min for mesh in made.meshes]
    long, high, wide = (max(one[axis] for one in highs) - min(one[axis] for one in lows) for axis in range(3))
    frame = replay(published(a_hook(title="Another")).read()).parts[0].frames[1]
    assert long == pytest.approx(frame.after.root.length / 1000, rel=1e-5)
    assert high == pytest.approx(wide)


def test_gltf_names_its_parts_and_glows_where_the_step_heats(client):
    made = glb_of(client, published())
    assert [one.name for one in made.nodes] == ["bar", "bar (hot)"]
    cold, hot = made.materials
    assert cold.name == "cold steel"
    assert not any(cold.emissiveFactor or ())
    assert hot.name == "steel at 1100 °C"
    red, green, blue = hot.emissiveFactor
    assert red > green > blue


def test_gltf_says_whose_it_is_and_what_it_shows(client):
    stored = a_hook() | {"credits": ["After a hook by Mara Feld"], "licence": "CC-BY-SA-4.0"}
    made = glb_of(client, published(stored))
    assert (
        made.asset.copyright
        == "alice, After a hook by Mara Feld. Creative Commons Attribution-ShareAlike 4.0 (CC-BY-SA-4.0)"
    )
    told = made.asset.extras
    assert (told["title"], told["revision"], told["step"]) == ("A hook", "Revision 1", 2)
    assert (told["licence"], told["operation"], told["part"]) == ("CC-BY-SA-4.0", "Draw out", "Bar")


def test_cold_step_and_bar_as_it_comes_are_grey(client):
    hook = published()
    for number in (0, 1):
        made = glb_of(client, hook, number)
        assert [one.name for one in made.materials] == ["cold steel"]
    assert glb_of(client, hook, 0).asset.extras["operation"] == "The bar as it comes"


def test_stl_is_closed_in_millimetres_and_weighs_what_the_ledger_says(client):
    hook = published()
    for query, nominal in (("", False), ("?view=nominal", True)):
        made = stl_of(client, hook, query=query)
        after = replay(hook.read(), nominal=nominal).parts[0].frames[1].after
        assert made.is_watertight
        assert made.volume == pytest.approx(after.volume, rel=0.005)
        assert made.extents[0] == pytest.approx(after.root.length, abs=0.01)


def test_trimesh_reads_the_gltf_with_the_same_volume_as_the_stl(client):
    hook = published()
    content = client.get(f"/p/{hook.slug}/steps/bar/0/solid.glb").content
    scene = trimesh.load(io.BytesIO(content), file_type="glb")
    (body,) = scene.geometry.values()
    body.merge_vertices(merge_norm=True)
    assert body.volume * 1e9 == pytest.approx(stl_of(client, hook, 0).volume, rel=1e-4)


def test_file_is_named_after_version_part_and_step(client):
    hook = published()
    response = client.get(f"/p/{hook.slug}/steps/bar/2/solid.stl")
    assert response["Content-Disposition"] == f'attachment; filename="{hook.slug}-revision-1-bar-step-2.stl"'


def test_draft_is_for_its_owner_alone(client):
    draft = a_draft()
    address = f"/p/{draft.slug}/steps/bar/2/solid.glb"
    assert client.get(address).status_code == 404
    client.force_login(person("bob"))
    assert client.get(address).status_code == 404
    client.force_login(draft.owner)
    assert glb_of(client, draft).asset.extras["revision"] == "Draft"


@pytest.mark.parametrize("place", ["bar/3", "none/1"])
def test_step_that_is_not_there_is_not_found(client, place):
    assert client.get(f"/p/{published().slug}/steps/{place}/solid.glb").status_code == 404


def test_step_that_the_work_does_not_come_to_is_not_found(client):
    thicker = drawn_out(side=30, length=60)
    hook = a_draft(a_document(a_part(thicker, a_step("mark_out", marks=[]))))
    client.force_login(hook.owner)
    assert client.get(f"/p/{hook.slug}/steps/bar/1/solid.glb").status_code == 404
    assert client.get(f"/p/{hook.slug}/steps/bar/0/solid.glb").status_code == 200


@pytest.mark.parametrize("kind", ["glb", "stl"])
def test_file_is_made_once_and_not_sent_again_to_who_has_it(client, kind, monkeypatch):
    address = f"/p/{published().slug}/steps/bar/2/solid.{kind}"
    first = client.get(address)
    monkeypatch.setattr(solids, "_made", None)  # no other is made
    second = client.get(address)
    assert second.content == first.content
    third = client.get(address, headers={"If-None-Match": first["ETag"]})
    assert (third.status_code, third.content) == (304, b"")
    assert third["ETag"] == first["ETag"]


def test_read_page_offers_the_solid_of_every_step_that_comes_about(client):
    hook = published()
    html = client.get(f"/p/{hook.slug}/?view=nominal").content.decode()
    for number in (1, 2):
        for kind in ("glb", "stl"):
            assert f'href="/p/{hook.slug}/steps/bar/{number}/solid.{kind}?view=nominal"' in html
    assert "Turn it in the round" in html
    assert "The files open in any viewer of solids." in html  # for who runs no script
