"""The bench card: its tables reckoned by hand, on every paper, in both units, and read by a screen reader."""

from __future__ import annotations

import io
from math import pi

import pikepdf
import pytest

from calculators.bench_tables import bench_tables, draw_ratios, ring_stock, rivet_lengths
from calculators.wording import INCH, METRIC
from procedures.presenting.tables import shown_table
from procedures.printing.bench_card import PAPERS, bench_sheet
from procedures.printing.sheets import ORIENTATIONS
from tests.printing.reading import POINT, overflowing, pdf_of, text_of

ALL = [(size, way, units) for size in PAPERS for way in ORIENTATIONS for units in (METRIC, INCH)]


@pytest.mark.parametrize(("size", "way", "units"), ALL, ids=lambda one: getattr(one, "id", one))
def test_one_sheet_holds_every_table(client, db, size, way, units):
    response = client.get(f"/bench-card.pdf?size={size}&orientation={way}&units={units.id}")
    document = pdf_of(response)
    assert len(document) == 1
    assert overflowing(document) == []
    width, height = (one * POINT for one in document[0].get_size())
    assert (width, height) == pytest.approx(bench_sheet(size, way).sides, abs=0.1)
    text = "".join(text_of(document).split())
    for table in bench_tables(units):
        shown = shown_table(table, units)
        assert "".join(shown.title.split()) in text
        for row in shown.rows:
            for cell in row.cells:
                assert "".join(cell.split()).lower() in text.lower().replace("\N{FRACTION SLASH}", "/"), cell


def test_units_are_the_readers_unless_said(client, db):
    client.cookies["units"] = "inch"
    assert "Weight of a foot of bar" in text_of(pdf_of(client.get("/bench-card.pdf")))
    assert "Weight of a metre of bar" in text_of(pdf_of(client.get("/bench-card.pdf?units=metric")))


@pytest.mark.parametrize("query", ["size=A0", "orientation=slanted", "units=cubits", "size=<script>"])
def test_what_is_not_there_is_refused_with_what_is(client, db, query):
    response = client.get(f"/bench-card.pdf?{query}")
    assert response.status_code == 400
    assert "choose" in response.content.decode()
    assert "size=<script>" not in response.content.decode()


def test_screen_reader_finds_title_language_and_tables(client, db):
    pdf = pikepdf.open(io.BytesIO(client.get("/bench-card.pdf").content))
    assert str(pdf.Root.Lang).startswith("en")
    assert str(pdf.docinfo["/Title"]) == "Bench card"
    assert pdf.Root.MarkInfo.Marked


def test_card_is_found_from_the_list(client, db):
    html = client.get("/calculators/").content.decode()
    for size in PAPERS:
        assert f"/bench-card.pdf?size={size}&amp;" in html


# -- the numbers -------------------------------------------------------------------------------------


def cell(table, row: str, head: str, units=METRIC) -> str:
    shown = shown_table(table, units)
    column = [one.replace("\u202f", " ") for one in shown.heads].index(head)
    found = next(one for one in shown.rows if one.cells[0].replace("\u202f", " ") == row)
    return found.cells[column].replace("\u202f", " ")


def test_weights_are_density_by_area():
    bars = bench_tables(METRIC)[0]
    assert cell(bars, "20 mm", "Square") == f"{7850 * 20 * 20 * 1e-6:.2f} kg"
    assert cell(bars, "12 mm", "Round") == f"{7850 * pi / 4 * 12 * 12 * 1e-6:.3f} kg"
    foot = bench_tables(INCH)[0]
    # Ilgen, Forge Work, 1912, tables: 1 in square 3.40 lb, round 2.67 lb a foot
    assert float(cell(foot, "1 in", "Square", INCH).split()[0]) == pytest.approx(3.40, abs=0.005)
    assert float(cell(foot, "1 in", "Round", INCH).split()[0]) == pytest.approx(2.67, abs=0.005)


def test_rings_are_measured_on_the_middle_of_the_bar():
    assert cell(ring_stock(METRIC), "100 mm", "10 mm") == f"{pi * (100 + 10):.1f} mm"
    assert cell(ring_stock(INCH), "5 in", "1/2 in", INCH) == "17 1/4 in"  # π × 5.5 = 17.28


def test_rivets_are_grip_head_and_what_fills_the_hole():
    by_hand = 20 + 1.125 * 8 + 20 * ((8.5 / 8) ** 2 - 1)
    assert cell(rivet_lengths(METRIC), "20 mm", "8 mm") == f"{by_hand:.1f} mm"


def test_drawing_goes_by_the_squares_of_the_sizes():
    assert cell(draw_ratios(METRIC), "10 mm", "25 mm") == "× 6.25"
    assert cell(draw_ratios(METRIC), "16 mm", "12 mm") == "\N{EN DASH}"


def test_heat_lasts_as_the_cooling_of_hot_bar_has_it():
    bars = bench_tables(METRIC)[0]
    # 12.3 s for each mm of area over perimeter in air, 5 mm for 20 mm square; 0.7 of it at the anvil
    assert cell(bars, "20 mm", "In air") == "1 min 2 s"
    assert cell(bars, "20 mm", "At the anvil") == "43 s"
