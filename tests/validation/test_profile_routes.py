"""Hollow and swelled tapers against brute force: shapely's slices of the true curve, integrated by scipy."""

from itertools import pairwise

import numpy as np
import pytest
import shapely
from scipy.integrate import quad, simpson
from scipy.optimize import brentq

from calculators.profiles import profile_sections, profile_volume
from calculators.sections import Section, taper_volume
from procedures.engine.pieces.piece import bar
from tests.unit.engine.forging import forged

ENDS = [
    (Section.square(12), Section.square(4)),
    (Section.round(20), Section.round(3)),
    (Section.flat(30, 10), Section.flat(12, 3)),
    (Section.square(16), Section.round(6)),
    (Section.square(12), Section.point()),
    (Section.flat(25, 8), Section.edge(25)),
    (Section.octagon(40), Section.square(8)),
]
CLOSE = 0.05  # mm that a side may lie off
BOWS = [0.05, 0.125, 0.2, -0.05, -0.125, -0.2]


def share(x, bow):
    return x + 4 * bow * x * (1 - x)


def slices(thick, thin, places):
    """Return the slices of the hull of two outlines at these shares of the way, by sums of their corners."""
    first, second = (np.array(one.outline(16)) for one in (thick, thin))
    at = np.asarray(places)[:, None, None, None]
    corners = (first[:, None] * (1 - at) + second[None] * at).reshape(len(places), -1, 2)
    return shapely.convex_hull(shapely.multipoints(corners))


@pytest.mark.parametrize("bow", BOWS)
@pytest.mark.parametrize(("thick", "thin"), ENDS)
def test_volume_is_that_of_the_true_curve(thick, thin, bow):
    x = np.linspace(0, 1, 9)
    areas = shapely.area(slices(thick, thin, share(x, bow)))
    assert profile_volume(thick, thin, 100.0, bow) == pytest.approx(100 * simpson(areas, x=x), rel=3e-3)


@pytest.mark.parametrize("bow", BOWS)
@pytest.mark.parametrize(("thick", "thin"), ENDS)
def test_runs_hold_the_volume_and_keep_to_the_curve(thick, thin, bow):
    sections = profile_sections(thick, thin, bow)
    parts = len(sections) - 1
    held = sum(taper_volume(one, two, 1 / parts) for one, two in pairwise(sections))
    assert held == pytest.approx(profile_volume(thick, thin, 1.0, bow), rel=1e-12)
    assert parts <= 20
    for x in np.linspace(0, 1, 33):
        index = min(int(x * parts), parts - 1)
        ours = sections[index].blend(sections[index + 1], x * parts - index)
        true = thick.blend(thin, share(x, bow))
        assert abs(ours.width - true.width) / 2 < CLOSE
        assert abs(ours.thickness - true.thickness) / 2 < CLOSE


@pytest.mark.parametrize("end", ["start", "end"])
@pytest.mark.parametrize("profile", ["hollow", "swelled"])
def test_length_marks_and_sections_of_a_forged_one(profile, end):
    where = {"on": "bar", "datum": end, "length": 40}
    piece = bar(Section.square(12), 300, marks={"M": 280 if end == "end" else 20})
    params = {"where": where, "end_section": {"shape": "square", "side": 4}, "profile": profile, "bow": 15}
    after = forged(piece, "taper", **params)
    bow = 0.15 if profile == "hollow" else -0.15

    def area(x):
        return (12 - 8 * share(x, bow)) ** 2

    long = 40 * 144 / quad(area, 0, 1)[0]
    assert after.root.length == pytest.approx(260 + long, abs=1e-6)
    half = brentq(lambda x: quad(area, 0, x)[0] * long - 20 * 144, 0, 1)
    far = after.root.marks[0].at
    assert (far - 260 if end == "end" else long - far) == pytest.approx(half * long, abs=0.1)
    for x in np.linspace(0.02, 0.98, 25):
        at = 260 + x * long if end == "end" else long - x * long
        assert after.root.section_at(at).width == pytest.approx(12 - 8 * share(x, bow), abs=2 * CLOSE)
    assert after.volume == pytest.approx(300 * 144)


def test_a_hollow_taper_is_cut_anywhere_and_keeps_its_metal():
    params = {"end_section": {"shape": "round", "diameter": 3}, "profile": "hollow"}
    piece = bar(Section.round(14), 200)
    after = forged(piece, "taper", where={"on": "bar", "datum": "end", "length": 60}, **params)
    for at in np.linspace(145, after.root.length - 5, 9):
        low, high = after.root.volume_between(0, at), after.root.volume_between(at, after.root.length)
        assert low + high == pytest.approx(after.volume)
        assert after.root.sections_between(0, at)[1].is_close(after.root.section_at(at), 1e-6)


def test_a_wanted_length_marks_off_less_bar_for_a_hollow_taper():
    where = {"on": "bar", "datum": "end"}
    params = {"where": where, "end_section": {"shape": "square", "side": 2}, "taper_length": 120}
    straight = forged(bar(Section.square(12), 300), "taper", **params).root.length
    for profile, bow in (("hollow", 0.2), ("swelled", -0.2)):
        after = forged(bar(Section.square(12), 300), "taper", profile=profile, bow=20, **params)
        used = 120 - (after.root.length - 300)
        volume = 120 * quad(lambda x, b: (12 - 10 * share(x, b)) ** 2, 0, 1, args=(bow,))[0]
        assert used == pytest.approx(volume / 144, abs=1e-6)
        assert (after.root.length > straight) == (profile == "hollow")
