"""The timetable on paper, as a screen reader finds it and as a grey printer makes it."""

import pytest

from tests.integration.showing import a_hook, published
from tests.printing.reading import pdf_of
from tests.printing.test_accessible import opened, tree

pytestmark = pytest.mark.django_db


@pytest.fixture
def address():
    return f"/p/{published(a_hook()).slug}/timetable/timetable.pdf"


def test_it_is_tagged_with_its_headings_in_order_and_its_chart_in_words(client, address):
    pdf = opened(client, address)
    assert pdf.Root.MarkInfo.Marked
    assert str(pdf.docinfo["/Title"]) == "A hook, class timetable"
    found = tree(pdf)
    levels = [int(str(one.S)[2:]) for one in found if str(one.S)[1:] in {"H1", "H2", "H3"}]
    assert levels[0] == 1
    assert set(levels[1:]) == {2}
    figures = [str(one.Alt) for one in found if one.S == "/Figure"]
    assert any("Timetable, a row for each student. 8 students" in one for one in figures)
    assert all(figures)
    assert "/TH" in {str(one.S) for one in found}


def test_it_is_printed_without_any_colour(client, address):
    image = pdf_of(client.get(address))[0].render(scale=1).to_pil().convert("RGB")
    assert all(red == green == blue for _, (red, green, blue) in image.getcolors(1 << 24))
