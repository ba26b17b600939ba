"""Every published revision is read, listed and cited at its own address; what is withdrawn leaves a stone."""

import json

import pytest
from django.urls import reverse

from procedures import actions, editing, frozen
from procedures.models import FrozenReport
from procedures.presenting.citing import Citation

from .authoring import stored, typed, words
from .showing import a_draft, published, retitled

pytestmark = pytest.mark.django_db


def twice_published(alice):
    """A hook whose target was 12 mm in revision 1 and is 10 mm in revision 2."""
    hook = published()
    typed(alice, hook, "s2", param__target="10 sq")
    actions.publish(procedure=hook, note="Thinner: it bent too easily.", by=alice.user)
    hook.refresh_from_db()
    return hook


def page(hook, number=1, name="revision"):
    return reverse(f"procedures:{name}", args=[hook.slug, number])


def withdraw(client, hook, number, reason="The eye tears."):
    return client.post(page(hook, number, "withdraw"), {"reason": reason})


def test_earlier_revision_stays_readable_at_its_address(alice, client):
    hook = twice_published(alice)
    first = words(client.get(page(hook, 1)))
    assert "□12" in first
    assert "Revision 1," in first
    assert "The latest is revision 2" in first
    assert "□10" in words(client.get(page(hook, 2)))
    assert "The latest is" not in words(client.get(page(hook, 2)))
    assert client.get(page(hook, 3)).status_code == 404


@pytest.mark.parametrize(
    "address",
    [
        "follow/bar/2/?revision={}",
        "stages/bar/2/?revision={}",
        "print/?revision={}",
        "full-size/?revision={}",
        "card.pdf?revision={}",
        "document.json?revision={}",
        "steps/bar/2/solid.stl?revision={}",
        "drawings/bar/0/?narrow&revision={}",
    ],
)
def test_everything_of_a_revision_works_by_that_revision(alice, client, address):
    hook = twice_published(alice)
    part = {"HX-Request": "true"} if address.startswith("drawings") else {}
    found = [client.get(f"/p/{hook.slug}/{address.format(number)}", headers=part) for number in (1, 2)]
    assert [one.status_code for one in found] == [200, 200]
    assert found[0].content != found[1].content
    assert client.get(f"/p/{hook.slug}/{address.format(7)}").status_code == 404
    assert client.get(f"/p/{hook.slug}/{address.format('x')}").status_code == 404


def test_links_of_a_revision_keep_to_it(alice, client):
    hook = twice_published(alice)
    html = client.get(page(hook, 1)).content.decode()
    for path in ("follow/", "print/", "full-size/"):
        assert f'href="/p/{hook.slug}/{path}?revision=1"' in html
    assert f'hx-get="/p/{hook.slug}/drawings/bar/0/?narrow&amp;revision=1"' in html
    assert client.get(f"/p/{hook.slug}/?revision=1").url == page(hook, 1)
    followed = client.get(f"/p/{hook.slug}/follow/?revision=1")
    assert followed.url.endswith("follow/bar/0/?revision=1")


def test_list_tells_what_changed(alice, client):
    hook = twice_published(alice)
    text = words(client.get(reverse("procedures:revisions", args=[hook.slug])))
    assert "Revision 2" in text
    assert "Thinner: it bent too easily." in text
    assert "the latest" in text
    assert "Withdraw" not in text


def test_what_changed_is_typed_when_publishing(alice):
    hook = published()
    retitled(hook, "Another hook")
    address = reverse("procedures:publish", args=[hook.slug])
    assert "What changed" in words(alice.get(address))
    assert alice.post(address, {"note": "x" * 1001}).status_code == 422
    assert hook.revisions.count() == 1
    alice.post(address, {"note": "A better name."})
    hook.refresh_from_db()
    assert hook.latest.note == "A better name."


# -- withdrawn ---------------------------------------------------------------------------------------


def test_withdrawn_revision_leaves_a_stone_with_the_reason(alice, client):
    hook = twice_published(alice)
    assert withdraw(alice, hook, 1).status_code == 302
    for address in (page(hook, 1), f"/p/{hook.slug}/card.pdf?revision=1", page(hook, 1, "bibtex")):
        gone = client.get(address)
        assert gone.status_code == 410
        assert "The eye tears." in words(gone)
        assert "□12" not in words(gone)
    assert client.get(f"/shop/{hook.slug}/1/metric/scale/").status_code == 404
    assert client.get(page(hook, 2)).status_code == 200
    assert "which you withdrew" in words(alice.get(page(hook, 1)))
    assert "The eye tears." in words(client.get(reverse("procedures:revisions", args=[hook.slug])))


def test_withdrawing_the_latest_gives_the_one_before_back(alice, client):
    hook = twice_published(alice)
    withdraw(alice, hook, 2)
    assert "□12" in words(client.get(f"/p/{hook.slug}/"))
    hook.refresh_from_db()
    retitled(hook, "The third")
    assert actions.publish(procedure=hook, by=alice.user).number == 3


def test_withdrawing_the_only_one_withdraws_the_procedure(alice, client):
    hook = published()
    retitled(hook, "A secret draft")
    withdraw(alice, hook, 1)
    for address in (f"/p/{hook.slug}/", page(hook, 1), f"/p/{hook.slug}/follow/bar/0/"):
        gone = client.get(address)
        assert gone.status_code == 410
        assert "The eye tears." in words(gone)
        assert "secret" not in words(gone)
    assert "“A hook”" in words(client.get(f"/p/{hook.slug}/"))
    assert alice.get(f"/p/{hook.slug}/").status_code == 200


def test_published_again_it_is_read_again(alice, client):
    hook = twice_published(alice)
    alice.post(reverse("procedures:unpublish", args=[hook.slug]), {"reason": "For a while."})
    assert client.get(page(hook, 1)).status_code == 410
    alice.post(reverse("procedures:publish", args=[hook.slug]))
    assert [client.get(page(hook, one)).status_code for one in (1, 2)] == [200, 200]


def test_withdrawing_wants_a_reason_and_is_done_once(alice, charlie, client):
    hook = twice_published(alice)
    assert withdraw(alice, hook, 1, "").status_code == 422
    assert withdraw(charlie, hook, 1).status_code == 404
    assert client.post(page(hook, 1, "withdraw")).url.startswith("/accounts/login/")
    withdraw(alice, hook, 1)
    again = withdraw(alice, hook, 1)
    assert again.status_code == 422
    assert "withdrawn already" in words(again)


def test_draft_that_was_never_published_leaves_no_trace(client):
    hook = a_draft()
    for address in (f"/p/{hook.slug}/", page(hook, 1), reverse("procedures:revisions", args=[hook.slug])):
        assert client.get(address).status_code == 404


# -- cited -------------------------------------------------------------------------------------------


def test_short_address_leads_to_the_revision(alice, client):
    hook = twice_published(alice)
    first = hook.revisions.get(number=1)
    address = reverse("procedures:cited", args=[first.code])
    assert len(address) == len("/r/12345678/")
    assert client.get(address).url == page(hook, 1)
    assert f"http://testserver{address}" in words(client.get(page(hook, 1)))
    alice.post(reverse("procedures:unpublish", args=[hook.slug]), {"reason": "For a while."})
    assert client.get(address, follow=True).status_code == 410
    assert client.get("/r/nothing2/").status_code == 404


def test_short_address_of_what_is_not_public_leads_nowhere(client):
    hook = published()
    type(hook).objects.filter(pk=hook.pk).update(status="draft", withdrawn=None)
    assert client.get(reverse("procedures:cited", args=[hook.latest.code])).status_code == 404


def test_citation_files(client):
    hook = published()
    hook.latest.refresh_from_db()
    item = json.loads(client.get(page(hook, 1, "csl")).content)[0]
    assert (item["title"], item["author"]) == ("A hook", [{"literal": "alice"}])
    assert item["version"] == "1"
    assert item["URL"].endswith(f"/r/{hook.latest.code}/")
    assert len(item["issued"]["date-parts"][0]) == 3
    bibtex = client.get(page(hook, 1, "bibtex")).content.decode()
    assert bibtex.startswith(f"@misc{{alice{hook.latest.published_at.year}-{hook.latest.code},\n")
    assert "revision 1" in bibtex
    assert "Creative Commons Attribution 4.0 (CC-BY-4.0)" in bibtex


def test_bibtex_keeps_signs_of_tex_as_signs():
    from datetime import date

    title = r"100 % {hook} \input{x} & _y_"
    made = Citation(
        title,
        "a_b",
        ["Ada"],
        "CC-BY-4.0",
        1,
        "abcdefgh",
        date(2024, 2, 3),
        "https://forge.example/r/abcdefgh/",
    ).bibtex()
    assert r"title = {{100 \% \{hook\} \textbackslash{}input\{x\} \& \_y\_}}" in made
    assert r"author = {{a\_b}}" in made
    assert "month = feb" in made
    assert made.count("{") - made.count(r"\{") == made.count("}") - made.count(r"\}")


# -- the figures frozen ------------------------------------------------------------------------------


def test_figures_are_frozen_when_published(client):
    hook = published()
    held = frozen.unpack(hook.latest.frozen.packed)
    assert editing.digest(held) == hook.latest.frames_digest
    assert held["parts"][0]["steps"][1]["status"] == "done"
    assert "The same." in words(client.get(page(hook, 1, "figures")))


def test_figure_that_comes_out_otherwise_is_shown(client):
    hook = published()
    held = frozen.unpack(hook.latest.frozen.packed)
    held["parts"][0]["steps"][1]["mass"] = 99.5
    held["parts"][0]["steps"][1]["instruction"] = "Otherwise worded."
    FrozenReport.objects.update(packed=frozen.pack(held))
    type(hook.latest).objects.update(frames_digest=editing.digest(held))
    text = words(client.get(page(hook, 1, "figures")))
    assert "parts.0.steps.1.mass" in text
    assert "99.5" in text
    assert "1 sentence of it is worded otherwise" in text


def test_revision_from_before_figures_were_kept_says_so(client):
    hook = published()
    FrozenReport.objects.all().delete()
    assert "The same." in words(client.get(page(hook, 1, "figures")))
    type(hook.latest).objects.update(frames_digest="0" * 64)
    assert "older than the keeping" in words(client.get(page(hook, 1, "figures")))


def test_photo_of_an_earlier_revision_stays(alice, client):
    from procedures.queries import is_photo_published

    hook = published()
    step = stored(hook, "s2")
    assert not is_photo_published(hook, "0" * 64)
    shown = {**step, "photos": [{"digest": "0" * 64, "alt": "A hook"}]}
    document = editing.with_step(hook.latest.document, "bar", "s2", lambda _: shown)
    type(hook.latest).objects.filter(pk=hook.latest.pk).update(document=document)
    retitled(hook, "Another hook")
    actions.publish(procedure=hook, by=alice.user)
    hook.refresh_from_db()
    assert is_photo_published(hook, "0" * 64)
