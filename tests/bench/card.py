"""The shop card: what forgesite adds to the print engine's own time, and the card asked for again."""

from collections.abc import Iterator

import pypdfium2
from django.core.cache import cache

from procedures.engine.document import read
from procedures.presenting import present
from procedures.printing import Imprint, card_html, pdf_of, sheet_of
from tests.bench import Row
from tests.bench._sample import a_demo, signed_in
from tests.bench._timing import ratio, seconds, with_bare_pages

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
    yield Row("pages", pages, "")
    engine = seconds(lambda: pdf_of(html, sheet), repeat=3)
    yield Row("the print engine on the same HTML", engine * 1000, "ms")
    made = ratio(lambda: (cache.clear(), client.get(address)), lambda: pdf_of(html, sheet), repeat=5)
    yield Row("card / the print engine", made, "x", aim=1.5)
    with with_bare_pages():
        again = ratio(lambda: client.get(address), lambda: client.get("/empty/"))
        yield Row("card asked for again / empty page", again, "x", aim=3)
