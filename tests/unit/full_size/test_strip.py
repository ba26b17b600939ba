"""The mark-out strip: each mark where the replay traces it back to, with its name, distance and symbol."""

from dataclasses import replace
from itertools import pairwise

import pytest

from calculators.wording import INCH, METRIC
from procedures.engine.markout import bar_marks
from procedures.full_size.pattern import Arc, Line, Words
from procedures.full_size.strip import strip
from tests.unit.engine.documents import a_step, drawn_out

from .laying import demo, laid_out, lines, marked, words


def cut(at: float) -> dict:
    return a_step("cut_off", at={"on": "bar", "datum": "start", "offset": at})


def test_bar_is_drawn_at_its_true_length_and_width():
    pattern = laid_out(marked(40), side=18, length=170).pattern("strip")
    outline = lines(pattern, "outline")[0]
    assert outline.closed
    assert sorted(set(outline.spots)) == [(0, -9), (0, 9), (170, -9), (170, 9)]


def test_section_stands_beside_the_datum_end_at_its_true_size():
    section = lines(laid_out(marked(40), side=18).pattern("strip"), "outline")[1]
    xs, ys = zip(*section.spots, strict=True)
    assert max(ys) - min(ys) == pytest.approx(18)
    assert max(xs) - min(xs) == pytest.approx(18)
    assert max(xs) < 0


@pytest.mark.parametrize("part", ["hook"])
def test_every_mark_of_the_replay_is_struck_where_it_is_traced_to(part):
    found = demo("coat_hook", part, nominal=False)
    struck = {
        round(one.spots[0][0], 6)
        for one in lines(found.pattern("strip"), "marks")
        if len(one.spots) == 2 and one.spots[0][0] == one.spots[1][0]
    }
    assert {round(one.at, 6) for one in bar_marks(found.stage.replayed)} <= struck


def test_mark_says_its_name_its_use_and_its_distance():
    said = words(laid_out(marked(60), cut(200)).pattern("strip"))
    assert "A" in said
    assert "2 Cut off" in said
    assert "60\u202fmm".replace("\u202f", " ") in said
    assert any(one.startswith("300 mm: end of the bar") for one in said)


def test_nominal_distance_stands_in_brackets_where_scale_moves_it():
    """Drawn out with scale, the metal 20 mm from the new end came from elsewhere on the bar than without."""
    worked = drawn_out(side=12, length=60, heats=2)
    late = a_step("cut_off", at={"on": "bar", "datum": "end", "offset": 20}, heats=1)
    bracketed = [
        one for one in words(laid_out(worked, late, nominal=False).pattern("strip")) if "mm (" in one
    ]
    assert len(bracketed) == 1
    shown, _, without = bracketed[0].partition(" mm (")
    assert float(shown) != float(without.removesuffix(" mm)"))
    assert not [one for one in words(laid_out(worked, late).pattern("strip")) if "mm (" in one]


def test_symbols_say_how_a_mark_is_struck():
    """A cut is nicked, a mark punched, and what is done in the first heat only chalked."""
    first = drawn_out(side=18, length=60, heats=1)
    late = a_step(
        "bend", where={"on": "bar", "datum": "start", "offset": 100}, angle=45, inside_radius=30, heats=1
    )
    pattern = laid_out(marked(60), first, late, cut(30)).pattern("strip")
    legend = words(pattern)
    assert {"centre punch", "chisel nick", "soapstone line"} <= set(legend)
    circles = {round(one.centre[0]) for one in pattern.items if isinstance(one, Arc)}
    assert {60, 100} <= circles
    chalked = [one.spots[0][0] for one in lines(pattern, "marks") if one.dashed]
    assert 240 in chalked
    nicks = [one for one in pattern.items if isinstance(one, Line) and one.filled]
    assert any(one.spots[0][0] == pytest.approx(30) for one in nicks)


def test_datum_end_is_pointed_at():
    pattern = laid_out(marked(60)).pattern("strip")
    assert "datum end" in words(pattern)
    assert any(one.filled and one.spots[0][0] == 0 for one in lines(pattern, "marks"))


def test_inch_reader_gets_inches():
    said = words(laid_out(marked(50.8), units=INCH).pattern("strip"))
    assert "2 in" in said


def test_words_stand_clear_of_each_other_where_marks_lie_close():
    pattern = laid_out(marked(100, 100.5, 101, 101.5, 102)).pattern("strip")
    upright = [
        one for one in pattern.items if isinstance(one, Words) and one.turned == 90 and len(one.words) == 1
    ]
    places = sorted(one.at[0] for one in upright)
    assert len(places) == 5
    assert all(b - a >= upright[0].size for a, b in pairwise(places))


def test_long_bar_is_broken_at_its_marks_and_says_so():
    pattern = laid_out(marked(40, 120, 5900), side=12, length=6000).pattern("strip")
    first, last = pattern.stacked(180)
    assert max(first.width, last.width) <= 180
    said = " ".join(words(first))
    assert "Part 1 of 2, broken at marks: 0 mm to 120 mm" in said
    assert "Then 5780 mm of plain bar" in said
    assert "datum end" in words(first)
    assert "5900 mm" in words(last)


def test_strange_names_are_cut_to_the_room():
    """Two hundred letters of a script read right to left, with signs from outside the plane."""
    name = ("ברזל \N{HAMMER}" * 40)[:200]
    replayed = laid_out(marked(50)).stage.replayed
    pattern = strip(replace(replayed, part=replace(replayed.part, name=name)), None, METRIC)
    widths = [
        max(x for x, _ in one.spots) - min(x for x, _ in one.spots)
        for one in pattern.items
        if isinstance(one, Words)
    ]
    assert max(widths) <= 170
