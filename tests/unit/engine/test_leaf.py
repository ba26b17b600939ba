"""A leaf is a segment wider in its middle: cut, turned, scaled and worked, its metal stays right."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from calculators.sections import Section
from procedures.engine.pieces.branch import Branch, Mark
from procedures.engine.pieces.path import Arc
from procedures.engine.pieces.piece import bar
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import Segment, uniform
from procedures.engine.shaping.splitting import strips

TIP = Section.upright(2.5)
LEAF = Segment(TIP, TIP, 60, bulge=22)
WITH_NECK = Segment(Section.flat(6, 4), Section.upright(2), 70, bulge=20)
leaves = st.builds(
    lambda first, last, t0, t1, length, bulge: Segment(
        Section.flat(first, t0), Section.flat(last, t1), length, bulge=bulge
    ),
    *(st.floats(0.5, 30) for _ in range(2)),
    *(st.floats(1, 10) for _ in range(2)),
    st.floats(10, 200),
    st.floats(0.5, 40),
)


DISC = Segment(TIP, TIP, 40, bulge=40, circle=(0.0, 1.0))


def near(value):
    return pytest.approx(value, rel=1e-9, abs=1e-9)


def test_a_leaf_holds_two_thirds_of_its_box():
    assert near(2 / 3 * 22 * 2.5 * 60) == LEAF.volume
    assert LEAF.widest == Section.flat(22, 2.5)


@given(leaves, st.floats(0.01, 0.99))
def test_the_metal_up_to_a_place_is_the_integral_of_the_sections(leaf, share):
    at = share * leaf.length
    by_quadrature, _ = quad(lambda x: leaf.section_at(x).area, 0, at)
    assert leaf.volume_to(at) == pytest.approx(by_quadrature, rel=1e-7)
    assert leaf.at_volume(leaf.volume_to(at)) == pytest.approx(at, abs=1e-6)


@given(leaves, st.floats(0.01, 0.99), st.floats(0, 1))
def test_cutting_keeps_outline_and_metal(leaf, share, place):
    first, second = leaf.cut(share * leaf.length)
    assert first.volume + second.volume == near(leaf.volume)
    for part, begins in ((first, 0.0), (second, first.length)):
        at = place * part.length
        assert part.section_at(at).width == near(leaf.section_at(begins + at).width)
        assert part.section_at(at).thickness == near(leaf.section_at(begins + at).thickness)


def test_a_third_of_a_leaf_is_a_leaf_of_a_ninth_the_bulge():
    first, second = LEAF.cut(20)
    assert first.bulge == near(22 / 9)
    assert second.bulge == near(22 * 4 / 9)
    assert first.end.width == near(22 * 8 / 9)


def test_turned_round_twice_it_is_the_same():
    assert WITH_NECK.turned().section_at(20).is_close(WITH_NECK.section_at(50))
    assert WITH_NECK.turned().turned() == WITH_NECK


def test_scale_takes_the_same_depth_off_every_place():
    slim = WITH_NECK.receded(0.1)
    middle, before = slim.section_at(35), WITH_NECK.section_at(35)
    assert (middle.width, middle.thickness) == (near(before.width - 0.2), near(before.thickness - 0.2))
    assert slim.end.width == 0
    assert slim.length == 70


def test_skin_counts_both_sides_of_the_bulge():
    wider = WITH_NECK.start.perimeter / 2 + WITH_NECK.end.perimeter / 2 + 4 / 3 * 20
    assert WITH_NECK.modulus == near(WITH_NECK.volume / (wider * 70))


def test_a_mark_in_a_leaf_keeps_its_share_of_the_metal():
    # the middle of the bar comes to the middle of a leaf that is alike both ways; a quarter of it does not
    # come to a quarter of the length but where 3x² - 2x³ is ¼
    piece = bar(Section.square(10), 22, marks={"half": 11, "quarter": 5.5})
    piece = piece.reshaped(Span("bar", 0, 22), LEAF)
    at = piece.root.mark("quarter").at / 60
    assert piece.root.mark("half").at == pytest.approx(30)
    assert 3 * at**2 - 2 * at**3 == pytest.approx(0.25)
    assert at == pytest.approx(0.3264, abs=1e-4)


def test_the_widest_place_counts_among_the_sections_of_a_range():
    branch = Branch("bar", (LEAF,))
    assert branch.largest_between(0, 60) == Section.flat(22, 2.5)
    assert branch.largest_between(0, 15).width == near(22 * 3 / 4)


def test_a_bent_leaf_is_still_a_leaf():
    bent = replace(LEAF, path=Arc(40, 30))
    first, second = bent.cut(20)
    assert (first.bulge, second.bulge) == (near(22 / 9), near(22 * 4 / 9))


def test_a_leaf_split_along_its_middle_gives_two_halves():
    left, right = strips(["left", "right"], [1, 1], 0.0)
    assert left.segment(WITH_NECK).volume + right.segment(WITH_NECK).volume == near(WITH_NECK.volume)
    assert left.segment(LEAF).widest.width == near(11)


def test_its_metal_can_be_worked_to_another_section():
    flatter = LEAF.reworked(Section.upright(2), Section.upright(2), bulge=22)
    assert flatter.length == near(60 * 2.5 / 2)
    with pytest.raises(ValueError, match="needs an area"):
        LEAF.reworked(Section.upright(2), Section.upright(2))


def test_metal_set_aside_stays_aside_when_it_is_worked_on():
    aside = replace(uniform(Section.flat(20, 6), 50), shift=(0.0, 3.0))
    piece = bar(Section.flat(20, 12), 100)
    piece = piece.with_branch(replace(piece.root, segments=(uniform(Section.flat(20, 12), 75), aside)))
    piece = piece.reshaped(Span("bar", 75, 125), uniform(Section.flat(20, 5), 60))
    assert [one.aside for one in piece.root.segments] == [(0, 0), (0, 3)]


def test_turned_round_what_lay_to_the_left_lies_to_the_right_and_up_stays_up():
    aside = replace(uniform(Section.flat(20, 6), 50), shift=(2.0, 3.0))
    assert aside.turned().aside == (-2, 3)


def test_marks_beyond_a_leaf_move_with_its_end():
    piece = bar(Section.square(10), 100).marked("bar", Mark("M", 80))
    piece = piece.reshaped(Span("bar", 0, 22), LEAF)
    assert piece.root.mark("M").at == pytest.approx(80 + 60 - 22)


@given(st.floats(0.02, 0.98), st.floats(0, 1))
def test_a_disc_cut_is_two_parts_of_the_same_circle(share, place):
    first, second = DISC.cut(share * 40)
    assert first.volume + second.volume == near(DISC.volume)
    for part, begins in ((first, 0.0), (second, first.length)):
        at = place * part.length
        assert part.section_at(at).width == pytest.approx(DISC.section_at(begins + at).width, abs=1e-6)
    again = first.cut(first.length / 2)[1].turned()
    assert again.section_at(0).width == pytest.approx(DISC.section_at(first.length).width, abs=1e-9)


def test_scale_leaves_a_smaller_disc():
    slim = DISC.receded(0.1)
    assert slim.widest.is_close(Section.flat(39.8, 2.3))
    assert slim.volume == near(39.8 * 40 * math.pi / 4 * 2.3)


def test_a_disc_worked_thinner_stays_round_and_grows():
    thinner = DISC.reworked(Section.upright(2), Section.upright(2), bulge=40)
    assert thinner.circle == (0, 1)
    assert thinner.length == near(40 * 2.5 / 2)


def test_skin_of_a_disc_counts_its_two_faces():
    faces, edges = math.pi / 4 * 40**2 * 2, 2 * 2.5 * 40  # the edge as if it ran along the bar
    assert DISC.modulus == near(DISC.volume / (faces + edges))
