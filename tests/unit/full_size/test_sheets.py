"""Sheets of paper: how many, which way round, what joins what, and what is refused."""

import pytest

from procedures.full_size import PAPERS, FullSizeError, Paper, laying_of, page_svg, paper_of, sheets_of
from procedures.full_size.paper import OVERLAP
from procedures.full_size.pattern import Line, Pattern
from procedures.full_size.tiles import label

from .laying import demo, laid_out, marked


def box(width: float, height: float, key: str = "box") -> Pattern:
    spots = ((0, 0), (width, 0), (width, height), (0, height))
    return Pattern(key, key.capitalize(), "", (Line("outline", spots, closed=True),))


def frame(width: float, height: float) -> Pattern:
    """Only two far corners: the sheets between them would be empty."""
    corners = [(0, height), (width, 0)]
    return Pattern("far", "Far", "", tuple(Line("outline", ((x, y), (x, y + 1))) for x, y in corners))


def test_paper_is_laid_the_way_that_takes_fewer_sheets():
    wide = sheets_of([box(250, 100)], "A4", "joined")
    assert (wide.paper.is_wide, len(wide.sheets)) == (True, 1)
    high = sheets_of([box(100, 230)], "A4", "joined")
    assert (high.paper.is_wide, len(high.sheets)) == (False, 1)


@pytest.mark.parametrize("size", PAPERS)
def test_window_keeps_clear_of_what_a_printer_cannot_reach(size):
    for is_wide in (False, True):
        paper = Paper(size, is_wide)
        left, top, right, foot = paper.window
        assert left >= 10
        assert top >= 10
        assert right <= paper.width - 10
        assert foot <= paper.height - 10
        assert right - left > 118, "the ruler and words beside it"


def test_small_patterns_share_a_sheet_and_none_lies_over_another():
    print_ = sheets_of([box(60, 50, f"b{index}") for index in range(6)], "A4", "stacked")
    assert len(print_.sheets) == 1
    places = [
        (one.left, one.top, one.left + one.pattern.width, one.top + one.pattern.height)
        for one in print_.sheets[0].placed
    ]
    for index, (left, top, right, foot) in enumerate(places):
        for a, b, c, d in places[index + 1 :]:
            assert right <= a or c <= left or foot <= b or d <= top


def test_tiles_overlap_and_say_what_they_join():
    """Two windows less what they share hold it: 2 W - overlap."""
    wide, _ = Paper("A4").room
    assert len(sheets_of([box(2 * wide - OVERLAP, 230)], "A4", "joined").sheets) == 2
    sheets = sheets_of([box(500, 400)], "A4", "joined").sheets
    joins = {one.label: {(seam.side, seam.other) for seam in one.seams} for one in sheets}
    assert joins["A1"] == {("right", "A2"), ("foot", "B1")}
    assert ("left", "A1") in joins["A2"]
    for one, seams in joins.items():
        for side, other in seams:
            back = {"left": "right", "right": "left", "top": "foot", "foot": "top"}[side]
            assert (back, one) in joins[other]


def test_sheets_with_nothing_on_them_are_left_out():
    sheets = sheets_of([frame(500, 400)], "A4", "joined").sheets
    assert len(sheets) == 2
    assert not any(one.seams for one in sheets)


@pytest.mark.parametrize(
    ("line", "column", "said"), [(0, 0, "A1"), (1, 2, "B3"), (25, 0, "Z1"), (26, 9, "AA10")]
)
def test_tiles_are_named_by_letter_and_number(line, column, said):
    assert label(line, column) == said


def test_six_metre_bar_is_one_sheet_stacked_and_many_joined():
    strip = laid_out(marked(40, 120, 5900), side=12, length=6000).pattern("strip")
    assert len(sheets_of([strip], "A4", "stacked").sheets) == 1
    assert 20 < len(sheets_of([strip], "A4", "joined").sheets) <= 30


def test_more_than_sixty_sheets_are_too_many():
    assert sheets_of([box(5000, 5000)], "A4", "joined").is_too_many
    assert sheets_of([box(100_000, 100_000)], "A4", "joined").is_too_many
    assert not sheets_of([box(500, 400)], "A4", "joined").is_too_many


def test_paper_and_laying_are_named_in_any_case_or_refused():
    assert paper_of("letter") == "Letter"
    assert (paper_of(""), laying_of("")) == ("A4", "stacked")
    with pytest.raises(FullSizeError, match=r"There is no paper 'A5' here; choose A4, A3, Letter, Tabloid"):
        paper_of("A5")
    with pytest.raises(FullSizeError, match=r"way to lay strips 'rolled' here; choose stacked, joined"):
        laying_of("rolled")


@pytest.mark.parametrize("laying", ["stacked", "joined"])
def test_every_mark_of_a_strip_is_on_some_sheet(laying):
    strip = demo("pot_stand", "hoop").pattern("strip")
    print_ = sheets_of([strip], "Letter", laying)
    text = "".join(page_svg(one, print_.paper, inches=False) for one in print_.sheets)
    for said in ("S1; 2 Scarf", "F1; 9 Punch", "F3; 9 Punch", "S2; 4 Scarf", "end of the bar", "datum end"):
        assert said in text, said


@pytest.mark.parametrize("size", PAPERS)
def test_sheets_follow_the_order_of_what_is_on_them(size):
    """However they share the paper, the first rows of a strip come on the first sheets."""
    boxes = [box(180, high, f"row {n}") for n, high in enumerate((60, 150, 61, 140, 62, 130, 100))]
    sheets = sheets_of(boxes, size, "joined").sheets
    first = [min(boxes.index(one.pattern) for one in sheet.placed) for sheet in sheets]
    assert len(sheets) > 1
    assert first == sorted(first)
