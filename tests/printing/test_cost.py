"""The cost sheet on paper, as a screen reader finds it and as a grey printer makes it."""

import pytest

from tests.integration.showing import a_hook, published
from tests.printing.reading import overflowing, pdf_of
from tests.printing.test_accessible import opened, tree

pytestmark = pytest.mark.django_db
ASKED = "?pieces=1200&metal-0=1234.5&hour=99999&money=Schillings&for_whom=" + "A+long+name+" * 9


@pytest.fixture
def address():
    return f"/p/{published(a_hook()).slug}/cost/cost.pdf"


def test_it_is_tagged_with_its_heading_and_its_table(client, address):
    pdf = opened(client, address + "?hour=42")
    assert pdf.Root.MarkInfo.Marked
    assert str(pdf.docinfo["/Title"]) == "A hook, cost"
    kinds = [str(one.S) for one in tree(pdf)]
    assert kinds.count("/H1") == 1
    assert {"/TH", "/TD"} <= set(kinds)


def test_it_is_printed_without_any_colour_and_inside_its_sheet(client, address):
    document = pdf_of(client.get(address + ASKED))
    assert not overflowing(document)
    image = document[0].render(scale=1).to_pil().convert("RGB")
    assert all(red == green == blue for _, (red, green, blue) in image.getcolors(1 << 24))
