"""The record of an original: kept at the bench, on the page and on paper, and what it lets be published."""

import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from procedures import actions
from procedures.actions import Refused
from procedures.engine.document import read
from procedures.engine.document_text import parse
from procedures.management.commands.load_demo import DEMO
from tests.printing.reading import overflowing, pdf_of, text_of
from tests.printing.test_accessible import opened, tree

from .authoring import stored, the_form, words
from .conftest import at_the_browser
from .showing import a_draft, a_hook, published
from .test_reproductions import a_reproduction

pytestmark = pytest.mark.django_db

FACES = {
    "face_0": "upper",
    "depth_0": "0.5",
    "doubt_0": "0.3",
    "because_0": "Outdoors",
    "face_1": "lower",
    "depth_1": "0.25",
    "doubt_1": "0.6",
    "because_1": "Against wood",
}
SHANK = {
    "key": "m1",
    "what": "Shank",
    "value": 4.25,
    "uncertainty": 0.2,
    "tool": "pi_tape",
    "sources": ["s1"],
}
FACE = {"face": "all round", "depth": 0.75, "uncertainty": 0.21, "reason": "Sea air"}
LEAF = {"what": "Thickness of the leaf", "value": "4.25", "uncertainty": "0.2", "tool": "calipers", **FACES}
PERMIT = {"publish_answer": "yes", "publish_by": "The keeper of Orrell House", "publish_on": "2025-03-01"}


def record(procedure, more=""):
    return f"/p/{procedure.slug}/record/{more}"


def fields(client, address, form):
    return the_form(client.get(address).content.decode(), form).fields


def put(client, procedure, **more):
    return client.post(record(procedure, "measurements/"), {**LEAF, **more})


def test_the_piece_and_its_permissions_are_kept(alice):
    hook = a_draft()
    given = fields(alice, record(hook), "record-form")
    given |= {
        "what": "Latch",
        "owner": "Orrell House",
        "inventory": "X.12",
        "seen_on": "2025-03-09",
        **PERMIT,
    }
    assert alice.post(record(hook), given).status_code == 302
    original = stored(hook)["original"]
    assert original["inventory"] == "X.12"
    assert original["permits"]["publish"]["by"] == "The keeper of Orrell House"
    assert "Permitted by The keeper of Orrell House, 1 March 2025" in words(
        alice.get(f"/p/{hook.slug}/?draft")
    )
    emptied = dict.fromkeys(given, "") | {"base": fields(alice, record(hook), "record-form")["base"]}
    alice.post(record(hook), emptied)
    assert "original" not in stored(hook)


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"seen_on": "2999-01-01"}, "still to come"),
        ({"seen_on": "spring"}, "Enter a valid date"),
        ({"publish_on": "2999-01-01"}, "still to come"),
        ({"publish_answer": "yes", "publish_by": ""}, "Say who permitted it"),
        ({"publish_answer": "", "publish_terms": "none"}, "Say whether it was permitted"),
        ({"what": "x" * 201}, "at most 200"),
    ],
)
def test_what_cannot_be_of_the_piece_is_refused_and_kept(alice, more, said):
    hook = a_draft()
    given = fields(alice, record(hook), "record-form") | {"maker": "Unknown"} | more
    answer = alice.post(record(hook), given)
    assert answer.status_code == 422
    assert said in words(answer)
    assert 'value="Unknown"' in answer.content.decode()
    assert "original" not in stored(hook)


def test_a_measurement_is_corrected_changed_and_taken_off(alice):
    hook = a_draft()
    assert put(alice, hook).status_code == 302
    (kept,) = stored(hook)["original"]["measurements"]
    assert kept["faces"][1] == {"face": "lower", "depth": 0.25, "uncertainty": 0.6, "reason": "Against wood"}
    text = words(alice.get(record(hook))).replace("\N{NARROW NO-BREAK SPACE}", " ")
    assert "4.25 + 0.5 + 0.25 = 5; ± √(0.2² + 0.3² + 0.6²) = 0.7 mm" in text
    here = record(hook, "measurements/m1/")
    given = fields(alice, here, "entry-form")
    assert alice.post(here, given | {"opening": "on", "value": "13"}).status_code == 302
    assert "13 − 0.5 − 0.25 = 12.25" in words(alice.get(record(hook)))
    stale = alice.post(here, given | {"value": "14"})
    assert stale.status_code == 409
    assert 'value="14"' in stale.content.decode()
    assert alice.post(here, {"remove": "1"}).status_code == 302
    assert "original" not in stored(hook)
    assert alice.get(here).status_code == 404


@pytest.mark.parametrize(
    "more",
    [
        {"depth_0": "-0.5"},
        {"depth_0": "nan"},
        {"depth_0": "1e999"},
        {"depth_0": "3", "depth_1": "1.25"},
        {"depth_0": "9" * 60},
        {"because_0": ""},
        {"value": ""},
        {"value": "-4"},
        {"value": "thick"},
        {"uncertainty": ""},
        {"uncertainty": "5"},
        {"tool": "eye"},
        {"size": "bar/length:nowhere"},
        {"sources": "S 1; <b>"},
    ],
)
def test_a_measurement_that_cannot_be_is_refused_and_what_was_typed_stays(alice, more):
    hook = a_draft()
    answer = put(alice, hook, **more)
    assert answer.status_code == 422
    assert "This needs mending first" in words(answer)
    assert 'value="Thickness of the leaf"' in answer.content.decode()
    assert "original" not in stored(hook)


def test_inches_are_read_and_shown(alice):
    hook = a_draft()
    alice.post("/units/", {"units": "in"})
    alice.cookies["units"] = "in"
    put(alice, hook, value="0.25 in", uncertainty="0.01 in", **dict.fromkeys(FACES, ""))
    (kept,) = stored(hook)["original"]["measurements"]
    assert kept["value"] == pytest.approx(6.35)


def test_sources_are_cited_by_their_keys(alice):
    hook = a_draft()
    alice.post(record(hook, "sources/"), {"kind": "book", "text": "Marl, Latches, 1911, plate 3"})
    put(alice, hook, sources="S1, s9")
    assert stored(hook)["original"]["measurements"][0]["sources"] == ["s1", "s9"]
    assert "[S1, S9 (not in the list)]" in words(alice.get(record(hook)))


def test_who_may_keep_and_read_it(client, alice):
    draft = a_draft()
    other = at_the_browser("charlie")
    for page in ("", "measurements/", "sources/"):
        assert alice.get(record(draft, page)).status_code == 200
        assert other.get(record(draft, page)).status_code == 404
        assert client.get(record(draft, page)).status_code == 302
        assert other.post(record(draft, page), LEAF).status_code == 404
    assert other.get(f"/p/{draft.slug}/record.pdf").status_code == 404
    assert client.get(f"/p/{published().slug}/record.pdf").status_code == 200


def with_photo_of(permits):
    document = a_hook(original={"what": "A latch", **({"permits": permits} if permits else {})})
    photo = {"digest": "0" * 64, "alt": "The latch", "credit": "Ida Marl", "of_original": True}
    document["parts"][0]["steps"][1]["photos"] = [photo]
    return a_draft(document)


@pytest.mark.parametrize("answer", ["", "asked", "no"])
def test_photos_of_the_original_are_published_only_when_permitted(alice, answer):
    hook = with_photo_of({"publish": {"answer": answer}} if answer else {})
    with pytest.raises(Refused, match="step 2"):
        actions.publish(procedure=hook, by=hook.owner)
    said = alice.post(f"/p/{hook.slug}/publish/", {"status": "public"})
    assert said.status_code == 422
    assert "may be published" in words(said)
    hook.refresh_from_db()
    assert not hook.is_published


def test_permitted_photos_are_published():
    hook = with_photo_of({"publish": {"answer": "yes", "by": "Its keeper"}})
    assert actions.publish(procedure=hook, by=hook.owner).number == 1


def test_the_record_sheet_says_all_of_it(client):
    document = a_reproduction()
    document["original"] |= {
        "owner": "Orrell House",
        "permits": {"publish": {"answer": "no", "by": "Its keeper", "terms": "Not before 2030"}},
        "references": [{"key": "s1", "kind": "x_ray", "text": "Plate 3"}],
        "measurements": [{**SHANK, "faces": [FACE]}],
    }
    hook = published(document)
    for size in ("A4", "Letter"):
        paper = pdf_of(client.get(f"/p/{hook.slug}/record.pdf?size={size}"))
        assert not overflowing(paper)
        text = text_of(paper)
        for said in (
            "Record of the original",
            "Orrell House",
            "Not permitted by Its keeper. Not before 2030",
            "Pi tape",
            "4.25 + 0.75 = 5; ± √(0.2² + 0.21²) = 0.29 mm",
            "X-ray. Plate 3",
            "Inferred: The fibre runs round the eye.",
            "Drilled for punched.",
            "How much is seen, inferred and guessed",
            "CC-BY-4.0",
            f"/r/{hook.latest.code}/",
        ):
            assert said in text, said
    assert client.get(f"/p/{hook.slug}/record.pdf?size=A9").status_code == 400


def test_shares_are_of_steps_and_of_metal_worked(client):
    # Step 1 marks out and works no metal; step 2 draws some: half of the steps, all of the metal worked.
    html = words(client.get(f"/p/{published(a_reproduction()).slug}/"))
    row = html[html.index("How much is seen") :]
    assert "Inferred 1 50" in row.replace("\N{NARROW NO-BREAK SPACE}", " ")


def hook_measured_long():
    """A hook whose bar was 500 mm long as found, with 2 mm lost at each end."""
    document = a_hook(original={"what": "A hook"})
    end = {"depth": 2, "uncertainty": 3, "reason": "Pitted"}
    length = {"key": "m1", "what": "Length over all", "value": 500, "uncertainty": 4, "tool": "tape"}
    length |= {
        "faces": [{"face": "tip", **end}, {"face": "root", **end}],
        "part": "bar",
        "size": "length:bar",
    }
    document["original"]["measurements"] = [length, {**length, "key": "m2", "size": "length:gone"}]
    return published(document)


def test_corrected_measurements_are_targets_of_the_stock_page(client):
    # 500 + 2 + 2 = 504, give or take the root of 16 + 9 + 9 = 34: 5.83; so 498.17, 504, 509.83
    hook = hook_measured_long()
    html = client.get(f"/p/{hook.slug}/stock/").content.decode()
    for size in ("498.17", "504", "509.83"):
        assert f"want=length%3Abar&amp;size={size}&amp;find=length&amp;measured=m1" in html
    assert "measured=m2" not in html
    asked = {"part": "bar", "want": "length:bar", "size": "504", "find": "length", "measured": "m1"}
    answer = client.get(f"/p/{hook.slug}/stock/", asked)
    text = words(answer)
    rows = text[text.index("From low to high of the measurement") :]
    takes = [float(one) for one in re.findall(r"(?:Low|Typical|High) [\d.]+ mm ([\d.]+) mm", rows)]
    assert len(takes) == 3
    # The bar is drawn to one section on a fixed run, so what is longer after is as much longer before.
    assert takes[1] - takes[0] == pytest.approx(5.83, abs=0.3)
    assert takes[2] - takes[1] == pytest.approx(5.83, abs=0.3)
    assert "From low to high" not in words(client.get(f"/p/{hook.slug}/stock/", {**asked, "size": "300"}))


@pytest.mark.parametrize("measured", ["nothing", "<script>", "9" * 300])
def test_a_measurement_that_is_not_there_is_no_matter(client, measured):
    hook = hook_measured_long()
    asked = {"part": "bar", "want": "length:bar", "size": "504", "find": "length", "measured": measured}
    answer = client.get(f"/p/{hook.slug}/stock/", asked)
    assert answer.status_code == 200
    assert "<script>" not in answer.content.decode()


def test_the_sheet_is_tagged_for_who_listens(client):
    paper = opened(client, f"/p/{published(a_reproduction()).slug}/record.pdf")
    with paper.open_metadata() as said:
        assert said["{http://www.aiim.org/pdfua/ns/id/}part"] == "1"
    kinds = [str(one.S) for one in tree(paper)]
    assert kinds.count("/H1") == 1
    assert {"/H2", "/Table", "/TH"} <= set(kinds)
    assert all(len(str(one.Alt)) > 10 for one in tree(paper) if one.S == "/Figure")


def test_it_leaves_and_comes_in_with_the_procedure(alice, charlie, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    document = parse((DEMO / "door_hinge.json").read_bytes())
    hinge = published(document)
    response = alice.get(f"/p/{hinge.slug}/document.json")
    file = SimpleUploadedFile("hinge.json", response.content, content_type="application/json")
    assert charlie.post("/new/document/", {"file": file}).status_code in (200, 302)
    twin = charlie.user.procedures.get()
    assert twin.document["original"] == document["original"]
    assert read(twin.document).parts[0].steps[3].evidence.sources == ("s1", "s2")
