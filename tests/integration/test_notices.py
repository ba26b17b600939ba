"""What is said about harm stands wherever a procedure is read or taken away, in the same words."""

import io
import zipfile

import pytest
from django.urls import reverse

from procedures import notices
from tests.printing.reading import pdf_of, text_of

from .authoring import words
from .showing import published

pytestmark = pytest.mark.django_db


def plain(text):
    return " ".join(text.replace("\u2019", "'").split())


def said(*which):
    return [plain(one) for one in which]


def test_notices_say_what_may_hurt_and_what_is_not_certified():
    for word in ("hurt", "lifting", "structures", "gas", "local codes", "certifies nothing"):
        assert word in notices.WHOLE
    assert notices.SHORT.startswith(notices.HOT_WORK)


@pytest.mark.parametrize("name", ["home", "safety", "terms", "list", "operations", "calculators"])
def test_every_page_says_it_at_its_foot(client, name):
    shown = plain(words(client.get(reverse(f"procedures:{name}"))))
    for one in said(notices.HOT_WORK, notices.RULES, notices.NUMBERS, notices.NOT_CERTIFIED):
        assert one in shown


def test_page_of_a_procedure_says_it_where_its_safety_is(client):
    page = plain(words(client.get(published().get_absolute_url())))
    for one in said(notices.HOT_WORK, notices.RULES, notices.NOT_CERTIFIED):
        assert page.count(one) == 2  # beside its hazards, and at the foot


def test_first_screen_at_the_anvil_says_it(client):
    hook = published()
    screen = client.get(reverse("procedures:follow_start", args=[hook.slug]), follow=True)
    kept = client.get(reverse("procedures:shop", args=[hook.slug, 1, "metric", "scale"]))
    for page in (screen, kept):
        for one in said(notices.HOT_WORK, notices.NOT_CERTIFIED):
            assert one in plain(words(page))


def test_card_and_handout_say_it(client):
    hook = published()
    card = plain(text_of(pdf_of(client.get(f"/p/{hook.slug}/card.pdf"))))
    for one in said(notices.HOT_WORK, notices.NOT_CERTIFIED):
        assert one in card
    handout = plain(text_of(pdf_of(client.get(f"/handout.pdf?p={hook.slug}&course=Hooks"))))
    for one in said(notices.HOT_WORK, notices.RULES, notices.NOT_CERTIFIED):
        assert one in handout


def test_bench_card_says_what_is_not_certified(client):
    assert plain(notices.NOT_CERTIFIED) in plain(text_of(pdf_of(client.get("/bench-card.pdf"))))


def test_api_says_it(client):
    hook = published()
    described = client.get("/api/1/openapi.json").json()["info"]["description"]
    assert notices.WHOLE in described
    assert plain(notices.HOT_WORK) in plain(words(client.get(reverse("procedures:api"))))
    assert client.get(f"/api/1/procedures/{hook.slug}").json()["notice"] == notices.SHORT


def test_package_says_it_in_its_readme(client):
    sent = client.get(reverse("procedures:package", args=[published().slug]))
    with zipfile.ZipFile(io.BytesIO(b"".join(sent))) as found:
        readme = next(one for one in found.namelist() if one.lower().endswith("readme.txt"))
        told = plain(found.read(readme).decode())
    assert plain(notices.WHOLE) in told
