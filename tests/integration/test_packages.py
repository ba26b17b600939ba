"""Procedures carried out as a zip with photos and figures, and taken in: all of it or nothing."""

import hashlib
import io
import json
import zipfile

import pytest
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from procedures import actions, editing
from procedures.engine.document import read
from procedures.engine.replay import replay
from procedures.models import Adaptation, Membership, Photo, Procedure
from procedures.photos import prepare
from procedures.report import report

from .authoring import words
from .showing import a_draft, a_hook, person, published, retitled

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    return tmp_path


def a_picture(size=(700, 500)) -> bytes:
    """A picture that comes out otherwise each time it is encoded, as photos do."""
    held = io.BytesIO()
    Image.radial_gradient("L").resize(size).convert("RGB").save(held, "PNG")
    return held.getvalue()


def with_photo(procedure):
    """The procedure with a photo at its second step."""
    prepared = prepare(SimpleUploadedFile("hook.jpg", a_picture()))
    actions.attach_photo(
        procedure=procedure,
        part="bar",
        step="s2",
        prepared=prepared,
        alt="The end.",
        caption="",
        by=procedure.owner,
    )
    procedure.refresh_from_db()
    return prepared.digest


def package_of(client, procedure, query="") -> dict[str, bytes]:
    response = client.get(reverse("procedures:package", args=[procedure.slug]) + query)
    assert response.status_code == 200
    assert response["Content-Type"] == "application/zip"
    return files_of(b"".join(response.streaming_content))


def files_of(content: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def zipped(files: dict[str, bytes]) -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files.items():
            archive.writestr(name, content)
    return held.getvalue()


def told_anew(files: dict[str, bytes], **entry) -> dict[str, bytes]:
    """The files with a manifest that tells of them as they are, and says this of the first procedure."""
    manifest = json.loads(files["manifest.json"])
    manifest["procedures"][0].update(entry)
    manifest["files"] = {
        name: {"sha256": hashlib.sha256(content).hexdigest()}
        for name, content in files.items()
        if name != "manifest.json"
    }
    return files | {"manifest.json": json.dumps(manifest).encode()}


def take_in(client, content, follow=False):
    file = SimpleUploadedFile("package.zip", content, content_type="application/zip")
    return client.post(reverse("procedures:take_in"), {"file": file}, follow=follow)


def figures(document):
    return editing.digest(report(replay(read(document, draft=True))))


# -- out ---------------------------------------------------------------------------------------------


def test_reader_takes_the_revision_away_with_its_photos_and_figures(alice, client):
    hook = a_draft()
    digest = with_photo(hook)
    actions.publish(procedure=hook, by=hook.owner)
    hook.refresh_from_db()
    retitled(hook, "A better hook")
    files = package_of(client, hook)
    assert set(files) == {
        "manifest.json",
        "README.txt",
        "procedure.json",
        "figures.json",
        f"photos/{digest}.jpg",
    }
    assert json.loads(files["procedure.json"])["title"] == "A hook"
    assert hashlib.sha256(files[f"photos/{digest}.jpg"]).hexdigest() == digest
    manifest = json.loads(files["manifest.json"])
    entry = manifest["procedures"][0]
    assert (entry["licence"], entry["author"], entry["revision"]) == ("CC-BY-4.0", "alice", 1)
    assert entry["frames"] == hook.latest.frames_digest == editing.digest(json.loads(files["figures.json"]))
    assert manifest["files"].keys() == files.keys() - {"manifest.json"}
    assert b"SPDX: CC-BY-4.0" in files["README.txt"]
    assert "A better hook" not in str(files)


def test_owner_takes_the_draft_away_and_nobody_else_does(alice, charlie):
    hook = published()
    retitled(hook, "A better hook")
    entry = json.loads(package_of(alice, hook, "?draft")["manifest.json"])["procedures"][0]
    assert (entry["title"], entry["revision"]) == ("A better hook", None)
    assert b"better" not in package_of(charlie, hook, "?draft")["procedure.json"]


def test_draft_is_no_strangers(client, charlie):
    address = reverse("procedures:package", args=[a_draft().slug])
    assert client.get(address).status_code == charlie.get(address).status_code == 404


def test_earlier_revisions_go_along_on_wish_but_not_those_withdrawn(alice, client):
    hook = published()
    first = hook.latest
    for title in ("Second", "Third"):
        retitled(hook, title)
        actions.publish(procedure=hook, by=hook.owner)
        hook.refresh_from_db()
    actions.withdraw_revision(procedure=hook, revision=first, reason="Unsafe.", by=hook.owner)
    names = package_of(client, hook, "?revisions").keys()
    assert {one for one in names if one.startswith("revisions/")} == {"revisions/2.json"}
    names = package_of(alice, hook, "?draft&revisions").keys()
    assert {one for one in names if one.startswith("revisions/")} == {
        f"revisions/{n}.json" for n in (1, 2, 3)
    }


def test_package_of_the_same_is_the_same_and_answered_with_304(client):
    hook = published()
    address = reverse("procedures:package", args=[hook.slug])
    first = client.get(address)
    assert b"".join(first.streaming_content)
    assert package_of(client, hook) == package_of(client, hook)
    assert client.get(address, headers={"if-none-match": first["ETag"]}).status_code == 304


def test_own_procedures_go_out_in_one_zip_with_a_folder_each(alice, charlie):
    hooks = [a_draft(), published()]
    a_draft(owner="charlie")
    response = alice.get(reverse("procedures:own_package"))
    files = files_of(b"".join(response.streaming_content))
    assert {f"{one.slug}/procedure.json" for one in hooks} == {
        name for name in files if name.endswith("procedure.json")
    }
    assert f"{hooks[1].slug}/revisions/1.json" in files


def test_shelf_of_a_guild_goes_out_as_its_member_may_read_it(alice, charlie, client):
    guild = actions.found_guild(name="Saltgate smiths", by=alice.user)
    hook, draft = published(), a_draft(a_hook(title="A ring"))
    for one in (hook, draft):
        actions.put_on_shelf(procedure=one, guild=guild, by=alice.user)
    retitled(hook, "A better hook")
    address = reverse("procedures:guild_package", args=[guild.slug])
    assert charlie.get(address).status_code == 404
    assert client.get(address).status_code == 302
    Membership.objects.create(guild=guild, user=charlie.user)
    for member, titles in ((alice, {"A better hook", "A ring"}), (charlie, {"A hook"})):
        files = files_of(b"".join(member.get(address).streaming_content))
        told = json.loads(files["manifest.json"])["procedures"]
        assert {one["title"] for one in told} == titles


# -- in ----------------------------------------------------------------------------------------------


def test_package_comes_in_as_a_draft_with_photos_encoded_anew_and_the_same_figures(alice, charlie):
    hook = a_draft()
    digest = with_photo(hook)
    files = package_of(alice, hook)
    response = take_in(charlie, zipped(files), follow=True)
    twin = Procedure.objects.get(owner=charlie.user)
    assert "Every figure comes out here as in the file." in words(response)
    assert twin.status == "draft"
    assert figures(twin.document) == figures(hook.document)
    photo = twin.photos.get()
    assert photo.digest != digest
    assert twin.document["parts"][0]["steps"][1]["photos"][0]["digest"] == photo.digest
    assert all(default_storage.exists(photo.path(width)) for width in photo.widths)
    assert twin.document["credits"] == ["Says it is by alice: A hook"]
    assert not Adaptation.objects.exists()


def test_ones_own_package_comes_in_without_a_claim(alice):
    hook = a_draft()
    take_in(alice, zipped(package_of(alice, hook)))
    twin = Procedure.objects.exclude(pk=hook.pk).get()
    assert twin.document["credits"] == []


def test_package_of_several_makes_several_drafts_and_lists_them(alice, charlie):
    a_draft()
    a_draft(a_hook(title="A ring"))
    content = b"".join(alice.get(reverse("procedures:own_package")).streaming_content)
    response = take_in(charlie, content, follow=True)
    assert response.redirect_chain[0][0].startswith("/new/document/taken-in/?made=")
    assert "2 drafts of your own" in words(response)
    assert sorted(one.title for one in Procedure.objects.filter(owner=charlie.user)) == ["A hook", "A ring"]


def test_unfinished_draft_comes_in_unfinished_and_says_so(alice, charlie):
    document = a_hook()
    document["parts"][0]["steps"][1]["params"].pop("target")
    hook = a_draft(document)
    response = take_in(charlie, zipped(package_of(alice, hook)), follow=True)
    assert "It is a draft that is not finished" in words(response)
    assert Procedure.objects.filter(owner=charlie.user).count() == 1


def test_figures_that_come_out_otherwise_are_told_with_the_first(alice, charlie):
    files = package_of(alice, a_draft())
    other = json.loads(files["figures.json"])
    other["parts"][0]["steps"][1]["mass"] = 1.25
    files["figures.json"] = json.dumps(other).encode()
    response = take_in(charlie, zipped(told_anew(files, frames=editing.digest(other))), follow=True)
    assert (
        "One figure comes out otherwise here than where it was made; the first: part 1, step 2, mass was 1.25"
        in words(response)
    )


def test_figures_that_differ_by_their_digest_alone_are_told_too(alice, charlie):
    files = package_of(alice, a_draft())
    del files["figures.json"]
    response = take_in(charlie, zipped(told_anew(files, frames="0" * 64)), follow=True)
    assert "Something comes out otherwise here" in words(response)


def test_forged_lineage_stays_words_and_leads_nowhere(alice, charlie):
    original = published()
    forged = [
        {"title": "A hook", "revision": 1, "author": "alice", "licence": "CC0-1.0"},
        {"title": "<script>x</script>", "revision": 2, "author": "alice", "licence": "CC0-1.0"},
    ]
    files = told_anew(package_of(alice, a_draft(a_hook(title="Copy"))), lineage=forged, author="alice")
    take_in(charlie, zipped(files))
    copy = Procedure.objects.get(owner=charlie.user)
    assert copy.document["credits"] == [
        "Says it is by alice: Copy",
        "Says it was adapted from A hook, revision 1, by alice",
        "Says it was adapted from <script>x</script>, revision 2, by alice",
    ]
    assert not Adaptation.objects.exists()
    page = charlie.get(copy.get_absolute_url()).content.decode()
    assert "<script>x" not in page
    assert original.get_absolute_url() not in page


def test_loop_of_adaptations_ends_in_words(alice, charlie):
    round_and_round = [
        {"title": title, "revision": 1, "author": "alice", "licence": "CC0-1.0"} for title in ("A", "B") * 6
    ]
    files = told_anew(package_of(alice, a_draft()), lineage=round_and_round, author="")
    take_in(charlie, zipped(files))
    assert Procedure.objects.get(owner=charlie.user).document["credits"] == [
        "Says it was adapted from A, revision 1, by alice",
        "Says it was adapted from B, revision 1, by alice",
    ]


def test_claims_fill_the_room_for_credits_and_no_more(alice, charlie):
    full = a_draft(a_hook(credits=[f"Smith {n}" for n in range(40)]))
    response = take_in(charlie, zipped(package_of(alice, full)), follow=True)
    assert "40 credits already" in words(response)
    assert len(Procedure.objects.get(owner=charlie.user).document["credits"]) == 40


def test_photo_that_cannot_be_kept_takes_everything_back(alice, charlie, media, monkeypatch):
    hook = a_draft()
    with_photo(hook)
    files = package_of(alice, hook)
    save, saved = default_storage.save, []

    def failing(name, content, **more):
        if saved:
            raise OSError("the disk is full")
        saved.append(save(name, content, **more))
        return saved[-1]

    monkeypatch.setattr(default_storage, "save", failing)
    response = take_in(charlie, zipped(files))
    assert response.status_code == 422
    assert "nothing was taken in" in words(response)
    assert not Procedure.objects.filter(owner=charlie.user).exists()
    assert Photo.objects.count() == 1
    assert saved
    assert not default_storage.exists(saved[0])


def test_signed_in_alone_take_in(client, alice):
    assert take_in(client, zipped(package_of(alice, a_draft()))).status_code == 302
    assert Procedure.objects.count() == 1
    assert person() == Procedure.objects.get().owner
