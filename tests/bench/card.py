"""The shop card: what forgesite adds to the print engine's own time, and the card asked for again."""

from collections.abc import Iterator

import pypdfium2
from django.core.cache import cache

from procedures.engine.document import read
from procedures.presenting import present
from procedures.printing import Imprint, card_html, pdf_of, sheet_of
from tests.bench import Row
from tests.bench._sample import a_demo, signed_in
from tests.bench._timing import empty_page_seconds, seconds

TITLE = "Shop card of a hook, A4 portrait"
QUERY = "?size=A4&orientation=portrait"


def run() -> Iterator[Row]:
    procedure, owner = a_demo("coat_hook")
    client = signed_in(owner)
    address = f"{procedure.get_absolute_url()}card.pdf{QUERY}"
    sheet = sheet_of("A4", "portrait")
    shown = present(read(procedure.document), room=sheet.room)
    html = card_html(shown, sheet, Imprint("Revision 1", "today", "alice", f"http://testserver{address}"))
    pages = len(pypdfium2.PdfDocument(pdf_of(html, sheet)))
    engine = seconds(lambda: pdf_of(html, sheet), repeat=5)
    made = seconds(lambda: (cache.clear(), client.get(address)), repeat=5)
    again = seconds(lambda: client.get(address))
    yield Row("pages", pages, "")
    yield Row("the print engine on the same HTML", engine * 1000, "ms")
    yield Row("card / the print engine", made / engine, "x", aim=1.5)
    yield Row("card asked for again / empty page", again / empty_page_seconds(client), "x", aim=3)
