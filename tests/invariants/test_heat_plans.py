"""Laws of hot work, over jobs at random: what is harder never takes less."""

from dataclasses import replace
from math import log, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.hot_steel import cooled_to, cooling_seconds_per_mm
from calculators.hot_work import HeatLimits, Job, Striking, forged, path_strain

STEP = 0.03  # relative: a heat is followed in a few steps of time

moduli = st.floats(0.8, 12)
jobs = st.builds(
    lambda volume, strain, first, thinner, factor: Job(
        volume, strain, (first, first * thinner), (factor, factor * 1.2)
    ),
    st.floats(200, 200_000),
    st.floats(0.02, 3),
    moduli,
    st.floats(0.4, 1.3),
    st.floats(1, 2),
)
strikings = st.builds(
    Striking, st.floats(5, 800), st.floats(0.4, 4), st.floats(0.3, 0.8), st.floats(0.4, 0.9)
)
limits = st.builds(HeatLimits, st.floats(950, 1250), st.floats(700, 900), st.floats(0, 4), st.floats(0, 150))
sides = st.floats(2, 80)


@given(jobs, strikings, limits)
def test_blows_seconds_and_heats_are_of_one_piece(job, striking, between):
    found = forged(job, striking, between)
    assert found.heats > 0
    assert found.first > 0 < found.last
    assert found.blows == pytest.approx(found.seconds * striking.rate)


@given(jobs, strikings, limits)
def test_more_metal_takes_more_blows(job, striking, between):
    more = forged(replace(job, volume=1.5 * job.volume), striking, between)
    assert more.blows > forged(job, striking, between).blows


@given(jobs, strikings, limits)
def test_harder_hammer_takes_fewer_blows_and_no_more_heats(job, striking, between):
    harder = forged(job, replace(striking, energy=1.5 * striking.energy), between)
    found = forged(job, striking, between)
    assert harder.blows < found.blows
    assert harder.heats <= found.heats * (1 + STEP) + STEP


@given(jobs, strikings, limits)
def test_metal_that_is_left_to_get_colder_takes_fewer_heats(job, striking, between):
    longer = forged(job, striking, replace(between, stop=between.stop - 50))
    assert longer.heats <= forged(job, striking, between).heats * (1 + STEP) + STEP


@given(sides, sides, sides, sides, st.floats(3, 20))
def test_no_way_is_shorter_than_straight(width, thickness, to_width, to_thickness, bite):
    along = log(width * thickness / (to_width * to_thickness))
    straight = sqrt(2 / 3 * (log(width / to_width) ** 2 + log(thickness / to_thickness) ** 2 + along**2))
    assert path_strain(width, thickness, to_width, to_thickness, bite) >= straight - 1e-9


@given(moduli, st.floats(900, 1250), st.floats(1, 60), st.floats(0, 150))
def test_metal_cools_as_long_as_it_says(modulus, start, seconds, contact):
    left = cooled_to(modulus, start, seconds, contact)
    if left > 200:
        assert cooling_seconds_per_mm(start, left, contact) * modulus == pytest.approx(seconds, abs=0.6)
