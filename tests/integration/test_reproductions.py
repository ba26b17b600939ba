"""What is said of an original: typed at the bench and in the details, shown on the page and the card."""

import pytest
from pypdfium2 import PdfDocument

from procedures import editing

from .authoring import bench_of, stored, typed, words
from .showing import a_draft, a_hook, published

pytestmark = pytest.mark.django_db

EVIDENCE = {"standing": "inferred", "reason": "The fibre runs round the eye."}


def a_reproduction():
    document = a_hook(original={"identity": "Latch 12, Orrell House", "permission": "Of its keeper, 2025"})
    document["parts"][0]["steps"][1] |= {"evidence": EVIDENCE, "deviation": "Drilled for punched."}
    return document


def test_page_and_card_say_it(client):
    hook = published(a_reproduction())
    html = client.get(f"/p/{hook.slug}/").content.decode()
    for said in ("Inferred: The fibre runs round the eye.", "Drilled for punched.", "Latch 12, Orrell House"):
        assert said in html
    pdf = PdfDocument(client.get(f"/p/{hook.slug}/card.pdf").content)
    text = " ".join("".join(page.get_textpage().get_text_range() for page in pdf).split())
    for said in ("Inferred: The fibre runs round the eye.", "Drilled for punched.", "Latch 12, Orrell House"):
        assert said in text


def test_a_step_is_recorded_and_the_record_taken_away(alice):
    hook = a_draft()
    assert "If an original is reproduced" in bench_of(alice, hook, "s2")
    typed(alice, hook, "s2", standing="seen", reason="Chisel marks", deviation="Gas fire")
    saved = stored(hook, "s2")
    assert saved["evidence"] == {"standing": "seen", "reason": "Chisel marks"}
    assert saved["deviation"] == "Gas fire"
    typed(alice, hook, "s2", tongs="other tongs")
    assert stored(hook, "s2")["evidence"] == saved["evidence"]
    typed(alice, hook, "s2", standing="", reason="", deviation="")
    assert {"evidence", "deviation"}.isdisjoint(stored(hook, "s2"))


def test_a_reason_without_a_standing_is_asked_about(alice):
    hook = a_draft()
    answer = typed(alice, hook, "s2", reason="Chisel marks")
    assert "seen, inferred or guessed" in words(answer)
    assert "Chisel marks" in answer.content.decode()
    assert "evidence" not in stored(hook, "s2")


def test_details_leave_the_record_alone(alice):
    hook = a_draft(a_reproduction())
    address = f"/p/{hook.slug}/settings/"
    given = {
        "base": editing.details_digest(hook.document),
        "title": "Another hook",
        "level": "beginner",
        "licence": "CC-BY-4.0",
        "fire": "average",
    }
    assert alice.post(address, given).status_code == 302
    assert stored(hook)["original"] == hook.document["original"]
    assert f"/p/{hook.slug}/record/" in alice.get(address).content.decode()
