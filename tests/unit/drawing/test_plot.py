"""One scale and one datum for a part: how they are chosen, what is broken out, which metal stays put."""

from itertools import pairwise

import pytest

from calculators.sections import Section
from procedures.drawing.coarse import coarse
from procedures.drawing.datum import datum_of, held_at
from procedures.drawing.plot import plot
from procedures.drawing.profile import section_notes
from procedures.drawing.reach import Reach
from procedures.drawing.sheet import sheet
from procedures.engine.document import read
from procedures.engine.pieces.branch import Mark
from procedures.engine.pieces.piece import bar
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import Segment, uniform
from procedures.engine.replay import replay

from .pieces import SQUARE, arc, of

SCREEN = sheet("screen")


def reach(low, high, *busy, height=12):
    tall = {"plan": (-height / 2, height / 2), "edge": (-height / 2, height / 2)}
    return Reach(low, high, tall, {"plan": (0, 0), "edge": (0, 0)}, busy)


def plotted(*reaches, thin=12):
    return plot(SCREEN, reaches, thin, 10)


def test_a_bar_that_goes_on_the_sheet_is_not_broken():
    made = plotted(reach(0, 300, (0, 0), (300, 300)))
    assert made.cuts == ()
    assert made.ratio == "1:2"


def test_the_scale_suits_the_longest_step():
    assert plotted(reach(0, 300), reach(0, 900, (0, 900))).ratio == "1:6"


def test_the_scale_suits_the_tallest_step():
    made = plotted(reach(0, 300), reach(0, 300, height=600))
    assert made.scale * 600 <= SCREEN.tallest


def test_a_bar_is_never_drawn_larger_than_it_is_unless_it_is_thin():
    assert plotted(reach(0, 40)).ratio == "1:1"
    assert plotted(reach(0, 40), thin=3).ratio == "2:1"


def test_breaks_leave_busy_places_alone():
    made = plotted(reach(0, 6000, (0, 0), (2000, 2050), (6000, 6000)))
    assert made.cuts
    for low, high in made.cuts:
        assert not (low < 2050 and high > 2000)
    assert made.right <= SCREEN.width - SCREEN.margin


def test_what_is_not_broken_out_keeps_its_length():
    made = plotted(reach(0, 6000, (0, 0), (2000, 2050), (6000, 6000)))
    assert made.across(2050) - made.across(2000) == pytest.approx(50 * made.scale)


def test_a_break_is_the_same_in_every_step():
    """A stretch that is busy in one step is not broken out of another."""
    made = plotted(reach(0, 6000, (0, 0), (6000, 6000)), reach(0, 6000, (0, 2900), (6000, 6000)))
    assert all(low > 2900 for low, _ in made.cuts)


def test_a_line_is_parted_where_it_crosses_a_break():
    made = plotted(reach(0, 6000, (0, 0), (2000, 2050), (6000, 6000)))
    parts = made.lines([(0, 6), (6000, 6)])
    assert len(parts) == len(made.cuts) + 1
    assert {y for part in parts for _, y in part} == {-6 * made.scale}
    back = made.lines([(6000, 6), (0, 6)])
    there = [x for part in parts for x, _ in part]
    assert [x for part in back[::-1] for x, _ in part[::-1]] == pytest.approx(there)


def test_what_no_scale_fits_still_comes_on_the_sheet():
    made = plotted(reach(0, 5_000_000, (0, 5_000_000)))
    assert made.right <= SCREEN.width


def a_part(*steps):
    stored = {
        "format": "forgesite.procedure",
        "version": 1,
        "title": "A trial",
        "parts": [
            {
                "key": "bar",
                "name": "Bar",
                "stock": {"section": {"shape": "square", "side": 20}, "length": 300},
                "steps": [
                    {"key": f"s{number}", "operation": operation, "params": params}
                    for number, (operation, params) in enumerate(steps)
                ],
            }
        ],
    }
    return replay(read(stored)).parts[0]


def drawn(datum, length=60):
    where = {"on": "bar", "datum": datum, "length": length}
    return ("draw_out", {"where": where, "target": {"shape": "square", "side": 12}})


def test_the_start_of_the_bar_is_the_datum_when_nothing_is_done_there():
    assert datum_of(a_part(drawn("end"))) == 0


def test_the_far_end_is_the_datum_when_the_start_is_worked():
    assert datum_of(a_part(drawn("start"))) == 300


def test_metal_between_two_worked_ends_is_the_datum():
    assert 60 < datum_of(a_part(drawn("start"), drawn("end"))) < 240


def test_the_longer_leg_of_a_bent_bar_lies_along_x():
    bend = (
        "bend",
        {"where": {"on": "bar", "datum": "start", "offset": 80}, "angle": 90, "inside_radius": 20},
    )
    replayed = a_part(bend)
    held = held_at(replayed.final, "bar", datum_of(replayed))
    assert held > 100


def test_the_datum_is_found_again_in_every_step():
    """The start drawn from □20 to □12 is 60 × 400 / 144 = 166.7 long; 100 on the bar is 40 beyond it."""
    replayed = a_part(drawn("start"))
    assert held_at(replayed.final, "bar", 100) == pytest.approx(500 / 3 + 40)
    assert held_at(replayed.start, "bar", 100) == pytest.approx(100)


def test_metal_cut_away_gives_the_nearest_that_is_left():
    assert held_at(bar(SQUARE, 100), "bar", 250) == pytest.approx(100)
    assert held_at(bar(SQUARE, 100, name="rod"), "bar", 50) == 0


def test_slivers_that_heats_leave_are_joined():
    slim = Section.square(11.9)
    piece = of(uniform(SQUARE, 100), uniform(slim, 3), uniform(SQUARE, 100))
    assert len(coarse(piece).root.segments) == 1


def test_a_shoulder_is_kept():
    piece = of(uniform(SQUARE, 100), uniform(Section.square(11), 3), uniform(SQUARE, 100))
    assert len(coarse(piece).root.segments) == 3


def test_a_long_slow_taper_is_not_flattened():
    """Each joint misses the even bar by little, all of them together by much."""
    sides = [12 - 0.1 * number for number in range(41)]
    segments = [Segment(Section.square(a), Section.square(b), 10) for a, b in pairwise(sides)]
    (taper,) = coarse(of(*segments)).root.segments
    assert (taper.start.width, taper.end.width) == pytest.approx((12, 8))


def test_pieces_are_cut_where_work_begins_and_ends():
    cut = coarse(bar(SQUARE, 300), [Span("bar", 100, 150)]).root.segments
    assert [one.length for one in cut] == pytest.approx([100, 50, 150])


def test_a_bend_cut_in_two_is_one_bend():
    whole = arc(SQUARE, 40, 90)
    first, second = whole.cut(20)
    (joined,) = coarse(of(first, second)).root.segments
    assert joined.path.angle == pytest.approx(90)


def named(piece, *worked):
    return [(one.low, one.high, str(one.section)) for one in section_notes(piece.root, worked)]


def test_sections_that_only_scale_tells_apart_are_named_once():
    slim = Section.flat(29.9, 7.9)
    piece = of(uniform(Section.flat(30, 8), 200), uniform(slim, 40), uniform(Section.flat(30, 8), 60))
    assert [(low, high) for low, high, _ in named(piece)] == [(0, 300)]


def test_a_taper_is_named_by_its_end():
    piece = of(uniform(SQUARE, 200), Segment(SQUARE, Section.square(4), 80))
    assert named(piece)[-1][:2] == (280, 280)


def test_a_small_change_that_was_the_work_is_named():
    piece = of(uniform(Section.flat(30, 6), 200), uniform(Section.flat(30, 5.7), 100))
    assert len(named(piece)) == 1
    assert len(named(piece, Span("bar", 200, 300))) == 2


def test_marks_do_not_part_a_run():
    piece = of(uniform(SQUARE, 200), marks=[Mark("A", 50)])
    assert len(named(piece)) == 1
