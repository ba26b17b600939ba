"""The page of choices, the addresses that hold them, and that they are remembered."""

import pytest

from procedures.printing import Contents, Sheet, SheetError, card
from procedures.printing.choices import Choices, choices_of
from tests.integration.showing import a_draft, a_hook, person, published
from tests.printing.reading import pdf_of, printed, text_of
from tests.unit.engine.documents import a_document, a_part, drawn_out

pytestmark = pytest.mark.django_db


def checked(html: str, name: str) -> list[str]:
    """The values of the choices of this name that are made on the page."""
    inputs = [one.split(">")[0] for one in html.split("<input")[1:]]
    return [
        one.split('value="')[1].split('"')[0] if 'value="' in one else "on"
        for one in inputs
        if f'name="{name}"' in one and "checked" in one
    ]


def two_parts():
    return a_document(a_part(drawn_out(side=12)), a_part(key="ring"), title="Two")


def test_page_offers_every_choice(client):
    html = client.get(f"/p/{published(two_parts()).slug}/print/").content.decode()
    for name in ("size", "orientation", "hand", "units", "part", "photos", "notes"):
        assert f'name="{name}"' in html
    assert checked(html, "size") == ["A4"]
    assert checked(html, "hand") == ["right"]
    assert checked(html, "photos") == []


def test_a_single_part_is_not_asked_for(client):
    assert 'name="part"' not in client.get(f"/p/{published().slug}/print/").content.decode()


def test_the_address_of_the_page_holds_its_choices(client):
    address = f"/p/{published().slug}/print/?size=half+letter&hand=left&units=inch&photos=yes"
    html = client.get(address).content.decode()
    assert checked(html, "size") == ["Half Letter"]
    assert checked(html, "hand") == ["left"]
    assert checked(html, "units") == ["inch"]
    assert checked(html, "photos") == ["on"]


def test_the_last_print_is_remembered(client):
    procedure = published()
    client.get(f"/p/{procedure.slug}/card.pdf?size=A5&orientation=portrait&hand=left&notes=yes")
    html = client.get(f"/p/{procedure.slug}/print/").content.decode()
    assert checked(html, "size") == ["A5"]
    assert checked(html, "orientation") == ["portrait"]
    assert checked(html, "hand") == ["left"]
    assert checked(html, "notes") == ["on"]


def test_the_part_is_not_remembered_for_another_procedure(client):
    client.get(f"/p/{published(two_parts()).slug}/card.pdf?size=A5&part=ring")
    assert client.get(f"/p/{published().slug}/print/").status_code == 200


@pytest.mark.parametrize("kept", ["size=A9", "nonsense", "hand=both&size=A5", "%00", "=&=&="])
def test_what_is_remembered_wrongly_is_forgotten(client, kept):
    client.cookies["print"] = kept
    response = client.get(f"/p/{published().slug}/print/")
    assert response.status_code == 200
    assert checked(response.content.decode(), "size") == ["A4"]


@pytest.mark.parametrize(
    ("query", "said"),
    [
        ("hand=both", "There is no hand"),
        ("units=cubits", "There is no system of units"),
        ("part=nothing", "There is no part"),
        ("photos=perhaps", "say yes or no"),
    ],
)
def test_other_choices_are_refused_with_what_there_is(client, query, said):
    for page in ("card.pdf", "print/"):
        response = client.get(f"/p/{published().slug}/{page}?{query}")
        assert response.status_code == 400
        assert said in response.content.decode()


def test_choices_survive_their_address():
    chosen = Choices(Sheet("Half Letter", "portrait", "left"), Contents("ring", True, False), "inch")
    given = dict(one.split("=") for one in chosen.query.replace("+", " ").split("&"))
    assert choices_of(given, ["ring"]) == chosen


def test_part_of_another_procedure_is_refused():
    with pytest.raises(SheetError, match="choose bar"):
        choices_of({"part": "ring"}, ["bar"])


def test_units_of_the_address_go_before_the_readers(client):
    procedure = published()
    assert " mm" not in text_of(printed(client, procedure, "?units=inch"))
    client.cookies["units"] = "inch"
    assert "300 mm" in text_of(printed(client, procedure, "?units=metric"))


def test_one_part_is_printed_alone_and_says_so(client):
    procedure = published(two_parts())
    text = text_of(printed(client, procedure, "?part=bar"))
    assert "This card is for one part: Bar" in text
    assert "Ring:" not in text


def test_notes_are_printed_when_asked_for(client):
    procedure = published()
    assert "Turn it" not in text_of(printed(client, procedure))
    assert "Turn it often" in text_of(printed(client, procedure, "?notes=yes"))


def test_left_hand_turns_the_drawings_and_says_so(client):
    procedure = published()
    text = text_of(printed(client, procedure, "?hand=left"))
    assert "Left-handed: hammer in the left hand" in text
    assert "turned, not mirrored" in text
    assert "Left-handed" not in text_of(printed(client, procedure))


def test_the_draft_is_printed_from_its_own_page(client):
    procedure = a_draft(a_hook())
    client.force_login(person())
    html = client.get(f"/p/{procedure.slug}/print/").content.decode()
    assert "Draft" in html
    assert "Draft" in text_of(pdf_of(client.get(f"/p/{procedure.slug}/card.pdf")))


def test_read_page_leads_to_the_choices(client):
    procedure = published()
    html = client.get(f"/p/{procedure.slug}/?view=nominal").content.decode()
    assert f"/p/{procedure.slug}/print/?view=nominal" in html
    assert (
        'name="view" value="nominal"'
        in client.get(f"/p/{procedure.slug}/print/?view=nominal").content.decode()
    )


def test_inches_keep_their_fraction_in_the_same_line():
    assert card._bound("1 1/2 × 5/16 to 12 3/64") == "1\u00a01/2 × 5/16 to 12\u00a03/64"
    assert card._bound("□12 to □4") == "□12 to □4"
