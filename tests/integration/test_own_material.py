"""A material of the author's own, filled in at the bench and with a new procedure."""

import pytest
from django.urls import reverse

from procedures.models import Procedure

from .authoring import HTMX, bench_of, stored, the_form, words
from .showing import a_draft, a_hook, published

pytestmark = pytest.mark.django_db

OWN = {
    "material": "own",
    "own_title": "Spring steel",
    "own_density": "7800",
    "own_carbon": "0.55",
    "own_forging_from": "850",
    "own_forging_to": "1050",
    "own_welding_from": "",
    "own_welding_to": "",
    "own_burns_at": "1180",
    "own_note": "From an old leaf spring.",
}
STORED = {
    "title": "Spring steel",
    "density": 7800,
    "carbon": 0.55,
    "forging": [850, 1050],
    "welding": None,
    "burns_at": 1180,
    "note": "From an old leaf spring.",
}


def sent(client, draft, fields):
    form = the_form(bench_of(client, draft), "part-form")
    return client.post(form.action, form.fields | fields, headers=HTMX)


def test_it_is_filled_in_at_the_bench_and_shown_again(alice):
    draft = a_draft(a_hook())
    assert sent(alice, draft, OWN).status_code == 200
    assert stored(draft)["parts"][0]["material"] == STORED
    page = bench_of(alice, draft)
    shown = the_form(page, "part-form").fields
    assert {key: shown[key] for key in OWN} == OWN
    assert "Spring steel" in words(page)


def test_sending_the_form_again_changes_nothing(alice):
    draft = a_draft(a_hook())
    sent(alice, draft, OWN)
    sent(alice, draft, {"quantity": "2"})
    assert stored(draft)["parts"][0]["material"] == STORED
    sent(alice, draft, {"material": "mild_steel"})
    assert stored(draft)["parts"][0].get("material", "mild_steel") == "mild_steel"


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ({"own_title": ""}, "This is needed for a material of your own."),
        ({"own_density": "12"}, "at least 1000"),
        ({"own_carbon": "3.5"}, "at most 2"),
        ({"own_forging_to": "800"}, "above 850"),
        ({"own_welding_from": "1100"}, "This is needed for a material of your own."),
        ({"own_burns_at": "1000"}, "above its forging heat"),
        ({"own_burns_at": "hot"}, "hot"),
    ],
)
def test_a_fault_is_told_at_its_field_and_nothing_is_saved(alice, fields, told):
    draft = a_draft(a_hook())
    answer = sent(alice, draft, OWN | fields)
    assert answer.status_code == 422
    assert told in words(answer)
    assert "under “Own material”" in words(answer)
    assert stored(draft)["parts"][0].get("material", "mild_steel") == "mild_steel"


def test_figures_that_are_not_chosen_are_not_looked_at(alice):
    draft = a_draft(a_hook())
    assert sent(alice, draft, {"own_burns_at": "5", "own_title": ""}).status_code == 200
    assert stored(draft)["parts"][0].get("material", "mild_steel") == "mild_steel"


def test_a_new_procedure_and_a_new_part_take_it(alice):
    fields = {"title": "Spring", "part": "Leaf", "section": "50 x 6", "length": "400", **OWN}
    assert alice.post(reverse("procedures:new"), fields).status_code == 302
    made = Procedure.objects.latest("pk")
    assert stored(made)["parts"][0]["material"] == STORED
    fields = {"name": "Pin", "section": "8 rd", "length": "60", **OWN}
    assert alice.post(reverse("procedures:add_part", args=[made.slug]), fields).status_code == 302
    assert stored(made)["parts"][1]["material"] == STORED


def test_its_heats_are_shown_and_what_it_forbids(alice):
    draft = a_draft(a_hook())
    sent(alice, draft, OWN)
    told = words(bench_of(alice, draft))
    assert "850–1050 °C" in told
    assert "fire welding" in told
    assert "As the author of the procedure gives it" in told


def test_readers_see_the_heats_of_an_own_material_only(alice, client):
    hook = a_hook()
    hook["parts"][0]["material"] = STORED
    own, known = published(hook), published(a_hook(title="Another"))
    seen = [words(client.get(reverse("procedures:read", args=[one.slug]))) for one in (own, known)]
    assert ["Forged at" in one for one in seen] == [True, False]
    assert "From an old leaf spring." in seen[0]


def test_its_faults_and_its_magnetic_point_are_in_the_readers_degrees(alice):
    draft = a_draft(a_hook())
    alice.cookies["units"] = "inch"
    heats = {"own_forging_from": "1560", "own_forging_to": "1920", "own_burns_at": "1800"}
    refused = sent(alice, draft, OWN | heats)
    assert refused.status_code == 422
    assert "It burns at 1800 °F" in words(refused)
    assert "°C" not in words(refused)
    assert (
        sent(alice, draft, OWN | heats | {"own_burns_at": "2150", "own_magnetic_to": "1373"}).status_code
        == 200
    )
    kept = stored(draft)["parts"][0]["material"]["magnetic_to"]
    assert kept == pytest.approx((1373 - 32) / 1.8)
    # sent again as it is shown, it stays to the last digit
    sent(alice, draft, {"quantity": "2"})
    assert stored(draft)["parts"][0]["material"]["magnetic_to"] == kept
