"""From a drawing on the site: described in the address, changed by buttons, made a draft, asked badly."""

import re
from urllib.parse import parse_qs, urlsplit

import pytest

from procedures.engine.document import read
from procedures.engine.replay import replay
from procedures.models import Procedure

pytestmark = pytest.mark.django_db

PAGE = "/new/from-a-drawing/"
MAKE = PAGE + "make/"
NAIL = {
    "title": "Nail",
    "bar": "10 sq",
    "kerf": "2",
    "fire": "coke",
    "f0": "stem",
    "f0-length": "60",
    "f1": "taper",
    "f1-length": "54",
    "f1-to": "point",
}
BAD = [
    "nan",
    "inf",
    "-5",
    "0",
    "1e999",
    "9" * 60,
    "twelve",
    "1; DROP TABLE x",
    "<script>alert(1)</script>",
    "🔨",
]


def text_of(response):
    return re.sub(r"\s+", " ", response.content.decode().replace("\u202f", " "))


def inputs(response):
    """The texts that stand in the form's inputs, by their names."""
    found = re.findall(r'<input type="text" name="([^"]+)"(?: value="([^"]*)")?', response.content.decode())
    return dict(found)


def test_anyone_sees_the_bar_that_an_example_takes(client):
    response = client.get(PAGE)
    assert response.status_code == 200
    assert "The part is an example" in text_of(response)
    assert "Sign in to make it your draft" in text_of(response)


def test_bar_marks_steps_and_sizes_are_told(client):
    response = client.get(PAGE, NAIL)
    text = text_of(response)
    assert response.status_code == 200
    assert "60 mm + 18 mm + 2 mm" in text  # a point takes a third of its length
    assert "□10 mm × 80 mm" in text
    assert "Centre-punch mark A at 60 mm" in text
    assert "Taper the piece from mark A to its end to point: it comes to 54 mm." in text


def test_inches_are_read_and_told_in_inches(client):
    client.cookies["units"] = "inch"
    asked = {
        **NAIL,
        "units": "inch",
        "bar": "3/8 sq",
        "kerf": "1/8",
        "f0-length": "2 1/2",
        "f1-length": "2 1/4",
    }
    response = client.get(PAGE, asked)
    assert response.context["form"].errors == {}
    assert response.context["form"].description.features[0].length == 63.5


def test_cut_wider_than_any_saw_is_refused_in_the_readers_units(client):
    response = client.get(PAGE, {**NAIL, "units": "inch", "kerf": "2"})
    assert "in." in str(response.context["form"].errors["kerf"])


def test_address_written_in_millimetres_means_them_to_a_reader_of_inches(client):
    client.cookies["units"] = "inch"
    assert client.get(PAGE, {**NAIL, "units": "metric"}).context["form"].description.bar.width == 10


def test_buttons_add_move_and_remove_and_lose_nothing_typed(client):
    typed = {**NAIL, "f0-length": "sixty"}
    added = client.get(PAGE, {**typed, "do": "add", "what": "scroll"})
    assert added.status_code == 302
    given = {key: one[0] for key, one in parse_qs(urlsplit(added["Location"]).query).items()}
    assert given["f2"] == "scroll"
    assert given["f0-length"] == "sixty"
    moved = client.get(PAGE, {**typed, "do": "up:1"})
    given = {key: one[0] for key, one in parse_qs(urlsplit(moved["Location"]).query).items()}
    assert (given["f0"], given["f0-to"], given["f1"], given["f1-length"]) == (
        "taper",
        "point",
        "stem",
        "sixty",
    )
    assert moved["Location"].endswith("#f0")
    removed = client.get(PAGE, {**typed, "do": "remove:0"})
    given = {key: one[0] for key, one in parse_qs(urlsplit(removed["Location"]).query).items()}
    assert (given["f0"], given["f0-length"]) == ("taper", "54")
    assert "f1" not in given


@pytest.mark.parametrize("do", ["", "up", "up:99999", "remove:-1", "down:x", "add", "<script>"])
def test_odd_buttons_do_no_harm(client, do):
    response = client.get(PAGE, {**NAIL, "do": do, "what": "nonsense"}, follow=True)
    assert response.status_code == 200


def test_no_more_features_than_are_reckoned_with(client):
    many = {f"f{n}": "stem" for n in range(60)}
    response = client.get(PAGE, {**many, "do": "add", "what": "stem"}, follow=True)
    assert len(response.context["form"].rows) == 24


@pytest.mark.parametrize("field", ["bar", "kerf", "f0-length", "f1-length", "f1-to"])
@pytest.mark.parametrize("bad", BAD)
def test_bad_sizes_are_told_beside_their_field_and_stay_as_typed(client, field, bad):
    if (field, bad) == ("kerf", "0"):
        return
    response = client.get(PAGE, {**NAIL, field: bad})
    assert response.status_code == 422
    assert response.context["form"].errors.get(field)
    assert "<script>alert" not in response.content.decode()
    assert response.context["form"][field].value() == bad


@pytest.mark.parametrize("bad", ["nan", "-1", "0", "9" * 30, "two"])
def test_bad_counts_are_told(client, bad):
    assert client.get(PAGE, {**NAIL, "quantity": bad}).context["form"].errors["quantity"]


def test_features_that_conflict_are_refused_beside_the_feature(client):
    eye = {"f2": "eye", "f2-inside_diameter": "20"}
    response = client.get(
        PAGE, {**NAIL, "f1": "scroll", "f1-inner": "7", "f1-outer": "30", "f1-turns": "1", **eye}
    )
    assert response.status_code == 422
    assert "One end cannot be both: an eye is made of it already." in text_of(response)


def test_hole_in_the_point_is_refused_at_its_size(client):
    hole = {"f2": "hole", "f2-distance": "50", "f2-size": "6"}
    response = client.get(PAGE, {**NAIL, **hole})
    assert "no wall is left" in str(response.context["form"].errors["f2-size"])


def test_update_brings_the_answer_and_every_place_for_faults(client):
    response = client.get(PAGE, {**NAIL, "f0-length": "x"}, headers={"HX-Request": "true"})
    html = response.content.decode()
    assert "<html" not in html
    assert 'id="after-f0-length"' in html
    assert "hx-swap-oob" in html
    assert "f0-length=x" in response["HX-Replace-Url"]


# -- making it one's own -----------------------------------------------------------------------------


def test_stranger_is_sent_to_sign_in_first(client):
    response = client.post(MAKE, NAIL)
    assert response.status_code == 302
    assert "login" in response["Location"]
    assert not Procedure.objects.exists()


def test_draft_becomes_ones_own_and_replays(alice):
    response = alice.post(MAKE, {**NAIL, "quantity": "6"})
    made = Procedure.objects.get()
    assert response.status_code == 302
    assert f"/p/{made.slug}/edit/" in response["Location"]
    assert made.owner == alice.user
    document = read(made.document)
    assert document.title == "Nail"
    assert document.parts[0].quantity == 6
    replayed = replay(document)
    assert replayed.is_complete
    assert replayed.parts[0].final.root.length == pytest.approx(60 + 54, abs=1e-6)


def test_bad_description_is_not_made(alice):
    response = alice.post(MAKE, {**NAIL, "f0-length": "nan"})
    assert response.status_code == 422
    assert not Procedure.objects.exists()
