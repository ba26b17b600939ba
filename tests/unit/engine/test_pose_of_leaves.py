"""Leaves and ledges in space: a leaf's outline is followed, and metal set down lies beside its branch."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from calculators.sections import Section
from procedures.engine.pieces.piece import bar
from procedures.engine.pieces.pose import pose
from procedures.engine.pieces.segment import Segment, uniform
from procedures.engine.pieces.turning import turned_round


def posed(*segments):
    piece = bar(Section.flat(20, 12), 100)
    piece = piece.with_branch(replace(piece.root, segments=segments))
    return pose(piece).by_name["bar"]


def test_chords_of_a_leaf_keep_to_its_outline():
    leaf = Segment(Section.upright(2.5), Section.upright(2.5), 60, bulge=22)
    stations = posed(leaf).segments[0].stations
    for one, two in pairwise(stations):
        at = (one.at + two.at) / 2
        chord = (one.section.width + two.section.width) / 2
        assert abs(leaf.section_at(at).width - chord) / 2 <= 0.1
    assert max(one.section.width for one in stations) == pytest.approx(22, abs=0.2)


def test_chords_of_a_disc_keep_to_its_circle():
    disc = Segment(Section.upright(2.5), Section.upright(2.5), 40, bulge=40, circle=(0.0, 1.0))
    stations = posed(disc).segments[0].stations
    rim = [(one.at - 20, one.section.width / 2) for one in stations]
    for (x0, y0), (x1, y1) in pairwise(rim):
        assert math.hypot((x0 + x1) / 2, (y0 + y1) / 2) >= 20 - 0.1
    assert len(stations) < 40


def test_a_plain_taper_needs_its_two_ends_only():
    taper = Segment(Section.square(12), Section.square(4), 60)
    assert len(posed(taper).segments[0].stations) == 2


def test_metal_set_down_from_the_top_keeps_its_underside_flush():
    thick, thin = uniform(Section.flat(20, 12), 60), uniform(Section.flat(20, 7), 40)
    branch = posed(thick, replace(thin, shift=(0.0, -2.5)))
    below = [one.stations[0].axes.origin[2] - one.segment.start.thickness / 2 for one in branch.segments]
    assert below == pytest.approx([-6, -6])
    assert branch.end.origin == pytest.approx((100, 0, -2.5))


def test_turned_round_it_is_the_same_piece():
    thick, thin = uniform(Section.flat(20, 12), 60), uniform(Section.flat(14, 12), 40)
    piece = bar(Section.flat(20, 12), 100)
    piece = piece.with_branch(replace(piece.root, segments=(thick, replace(thin, shift=(3.0, 0.0)))))
    there, back = (
        pose(one, held=held).by_name["bar"] for one, held in ((piece, 0), (turned_round(piece), 100))
    )
    ends = (there.end.origin, back.start.origin)
    assert ends[0] == pytest.approx((100, 3, 0))
    assert ends[1] == pytest.approx((-100, -3, 0))  # seen from the other side
