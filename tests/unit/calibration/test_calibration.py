"""Calibration: the normal update, its coverage, when it beats the default, and what is asked about."""

import math
from random import Random

import pytest

from procedures.calibration import (
    QUANTITIES,
    Belief,
    BeliefError,
    Learner,
    Reading,
    Subject,
    cooling_reading,
    loss_by_weight,
    loss_reading,
    ratio_reading,
    readings_to_beat_default,
    site_prior,
    spread_reading,
    update,
)

ALICE = Subject("loss", person="alice", site="north shop", steel="mild steel")


def seeded(seed):
    return Random(seed)  # noqa: S311 - no secret


def pooled(belief, values, sd):
    return update(belief, [Reading(one, sd) for one in values])


# -- the update ------------------------------------------------------------------------------------


def test_update_is_bayes_on_a_grid():
    """The posterior of three readings, summed on a grid of 200,001 points by another program."""
    readings = [Reading(0.031, 0.01), Reading(0.027, 0.008), Reading(0.035, 0.012)]
    found = update(Belief(0.02, 0.01), readings)
    assert found.mean == pytest.approx(0.02760032626427406, rel=1e-6)
    assert found.sd == pytest.approx(0.004846754350332117, rel=1e-5)
    assert found.n == 3


def test_a_loss_of_3_2_in_a_hundred_is_found_from_a_default_of_2():
    """Ten synthetic readings, good to 1.2 each, of a truth of 3.2; belief at first 2 give or take 1 [%].

    Means after 1, 2, 3, 5 and 10 readings, and the first and the last sd, were worked out elsewhere.
    """
    draw = seeded(3)
    readings = [draw.gauss(3.2, 1.2) for _ in range(10)]
    after = {n: pooled(Belief(2.0, 1.0), readings[:n], 1.2) for n in (1, 2, 3, 5, 10)}
    assert [round(one.mean, 2) for one in after.values()] == [2.54, 3.17, 2.92, 3.15, 3.43]
    assert [round(after[n].sd, 2) for n in (1, 10)] == [0.77, 0.35]


def test_order_and_parcels_of_readings_make_no_difference():
    first, second, third = Reading(0.03, 0.01), Reading(0.01, 0.02), Reading(0.02, 0.005)
    at_once = update(Belief(0.02, 0.01), [first, second, third])
    in_turn = update(update(Belief(0.02, 0.01), [third, first]), [second])
    assert in_turn.mean == pytest.approx(at_once.mean, rel=1e-12)
    assert in_turn.sd == pytest.approx(at_once.sd, rel=1e-12)
    assert in_turn.n == at_once.n == 3


def test_no_reading_changes_nothing():
    assert update(Belief(0.02, 0.01), []) == Belief(0.02, 0.01)


def test_interval_of_80_in_a_hundred_reaches_1_28_sd_either_way():
    low, high = Belief(2.0, 1.0).interval(0.8)
    assert (low, high) == pytest.approx((2 - 1.2816, 2 + 1.2816), abs=1e-4)  # tables of the normal


@pytest.mark.parametrize("quantity", QUANTITIES)
@pytest.mark.parametrize("count", [1, 4, 12])
def test_80_in_100_intervals_hold_the_truth_75_to_85_times(quantity, count):
    """Truths drawn from the prior, readings from the truth: 2000 shops, each with its interval."""
    about = QUANTITIES[quantity]
    draw = seeded(f"{quantity} {count}")
    held = 0
    for _ in range(2000):
        truth = draw.gauss(about.prior.mean, about.prior.sd)
        values = [draw.gauss(truth, about.reading_sd) for _ in range(count)]
        low, high = pooled(about.prior, values, about.reading_sd).interval(0.8)
        held += low <= truth <= high
    assert 0.75 <= held / 2000 <= 0.85


def test_the_middle_comes_to_the_truth_as_readings_come_in():
    draw = seeded(11)
    far = [abs(pooled(Belief(0.02, 0.01), [draw.gauss(0.035, 0.012) for _ in range(n)], 0.012).mean - 0.035)
           for n in (1, 400)]  # fmt: skip
    assert far[1] < 0.002 < far[0]


# -- against the default -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("bias", "sd", "needed"),
    # From 400,000 draws of the mean-square error each, elsewhere; good to one reading.
    [(0.005, 0.015, 5), (0.01, 0.01, 1), (0.02, 0.02, 1)],
)
def test_readings_needed_to_beat_the_default(bias, sd, needed):
    assert abs(readings_to_beat_default(bias, sd, 0.01) - needed) <= 1


@pytest.mark.parametrize(("times", "needed"), [(1.2, 3), (2.4, 12)])
def test_with_half_a_prior_sd_of_bias_so_many_are_needed(times, needed):
    assert readings_to_beat_default(0.5, times, 1.0) == needed


@pytest.mark.parametrize("bias", [0.72, 1.0, 3.0])
def test_first_reading_helps_where_the_truth_is_far_from_the_default(bias):
    assert readings_to_beat_default(bias, 5.0, 1.0) == 1  # more than 0.71 of the prior's sd, however rough


def test_so_many_readings_beat_the_default_and_one_fewer_does_not():
    """By draws of our own: bias 0.5, readings good to 1.2, belief to 1."""
    needed = readings_to_beat_default(0.5, 1.2, 1.0)
    draw = seeded(5)

    def error(count):
        means = [pooled(Belief(0, 1), [draw.gauss(0.5, 1.2) for _ in range(count)], 1.2).mean
                 for _ in range(20000)]  # fmt: skip
        return sum((one - 0.5) ** 2 for one in means) / len(means)

    assert error(needed) < 0.25 < error(needed - 1)


def test_nothing_beats_a_default_that_is_right():
    with pytest.raises(BeliefError, match="default that is right"):
        readings_to_beat_default(0.0, 0.01, 0.01)


# -- readings ----------------------------------------------------------------------------------------


def test_loss_of_a_heat_from_two_sizes():
    """16 x 16 x 100 mm became 10 x 10 x 245.86 mm in two heats: 1 - sqrt(24586/25600), by hand."""
    found = loss_reading(256, 100, 100, 245.86, heats=2)
    assert found.value == pytest.approx(0.020004783174938146, rel=1e-12)
    assert found.sd == pytest.approx(0.025 / 2)


def test_scales_tell_more_than_callipers():
    by_weight = loss_by_weight(800, 768, heats=2)
    assert by_weight.value == pytest.approx(1 - math.sqrt(0.96))
    assert by_weight.sd < loss_reading(256, 400, 256, 384, heats=2).sd / 5


def test_spread_is_pooled_as_least_squares_through_the_origin():
    """k = (k0/t² + Σxy/s²) / (1/t² + Σx²/s²), the sum written out."""
    pieces = [(20.0, 24.0, 25.0), (30.0, 33.5, 33.0), (16.0, 21.0, 20.0)]
    found = update(QUANTITIES["spread"].prior, [spread_reading(*one) for one in pieces])
    xs = [math.log(predicted / before) for before, _, predicted in pieces]
    ys = [math.log(after / before) for before, after, _ in pieces]
    top = 1 / 0.15**2 + sum(x * y for x, y in zip(xs, ys, strict=True)) / 0.03**2
    assert found.mean == pytest.approx(top / (1 / 0.15**2 + sum(x * x for x in xs) / 0.03**2))


def test_blows_are_a_factor_on_the_prediction():
    found = update(QUANTITIES["blows"].prior, [ratio_reading("blows", 80, 40)] * 30)
    assert math.exp(found.mean) == pytest.approx(2, rel=0.03)


def test_time_in_the_heat_is_read_as_cooling():
    assert cooling_reading(30, 60).value == pytest.approx(-math.log(2))


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: loss_reading(256, 0, 100, 240, 2), "The length before is more than 0"),
        (lambda: loss_reading(256, 100, math.nan, 240, 2), "The section after is more than 0"),
        (lambda: loss_reading(256, 100, 100, 240, 0), "at least one heat"),
        (lambda: loss_by_weight(800, -1, 2), "The weight after is more than 0"),
        (lambda: loss_by_weight(800, 790, 2, good_to=math.inf), "scales are good to"),
        (lambda: spread_reading(20, 24, 20), "No spread was predicted"),
        (lambda: ratio_reading("blows", 0, 40), "What was measured is more than 0"),
        (lambda: ratio_reading("loss", 1, 1), "not measured against its prediction"),
        (lambda: Reading(math.inf, 1), "none that can be reckoned with"),
        (lambda: Reading(1, 0), "good to something above 0"),
        (lambda: Belief(1, math.nan), "good to something above 0"),
        (lambda: Belief(1, 1).interval(1.0), "more than 0 and less than 1"),
        (lambda: Subject("luck"), "Nothing is learnt of 'luck'"),
    ],
)
def test_what_cannot_be_is_refused_in_words(make, said):
    with pytest.raises(BeliefError, match=said):
        make()


# -- kept apart and asked about -------------------------------------------------------------------------


def test_a_strange_reading_is_asked_about_and_not_pooled():
    learner = Learner()
    assert learner.learn(ALICE, Reading(0.025, 0.012)) is None
    before = learner.belief(ALICE)
    asked = learner.learn(ALICE, Reading(0.09, 0.012))
    assert asked is not None
    assert asked.strangeness > 3
    assert asked.expected == before
    assert learner.belief(ALICE) == before
    assert learner.waiting(ALICE) == learner.waiting() == (asked,)


def test_what_lies_just_within_three_sd_is_pooled():
    reach = 3 * Belief(0.02, 0.01).predictive_sd(0.012)
    assert Learner().learn(ALICE, Reading(0.02 + reach * 0.999, 0.012)) is None
    assert Learner().learn(ALICE, Reading(0.02 + reach * 1.001, 0.012)) is not None


def test_a_strange_reading_that_somebody_stands_by_is_taken_in():
    learner = Learner()
    asked = learner.learn(ALICE, Reading(0.09, 0.012))
    learner.answer(asked, keep=True)
    assert learner.belief(ALICE).n == 1
    assert learner.waiting() == ()
    with pytest.raises(BeliefError, match="not waiting"):
        learner.answer(asked, keep=True)


def test_a_strange_reading_that_was_a_slip_is_dropped():
    learner = Learner()
    learner.answer(learner.learn(ALICE, Reading(0.09, 0.012)), keep=False)
    assert learner.belief(ALICE) == QUANTITIES["loss"].prior
    assert learner.readings(ALICE) == ()


@pytest.mark.parametrize("other", [{"person": "bob"}, {"site": "south shop"}, {"steel": "spring steel"}])
def test_person_site_and_steel_are_kept_apart(other):
    learner = Learner()
    learner.learn(ALICE, Reading(0.03, 0.012))
    names = {"person": "alice", "site": "north shop", "steel": "mild steel"} | other
    assert learner.belief(Subject("loss", **names)) == QUANTITIES["loss"].prior
    assert learner.belief(ALICE).n == 1


def test_spread_is_the_same_whatever_the_steel():
    learner = Learner()
    learner.learn(Subject("spread", "alice", "north shop", "mild steel"), Reading(1.1, 0.1))
    assert learner.belief(Subject("spread", "alice", "north shop", "spring steel")).n == 1


def test_sites_are_pooled_only_as_what_another_begins_with():
    others = [
        Belief(0.03, 0.003, 8),
        Belief(0.034, 0.004, 5),
        Belief(0.029, 0.002, 20),
        Belief(0.02, 0.01, 0),
    ]
    prior = site_prior("loss", others)
    assert prior.mean == pytest.approx(0.031)
    assert prior.n == 0
    assert prior.sd >= QUANTITIES["loss"].prior.sd / 2
    assert Learner({"loss": prior}).belief(ALICE) == prior


def test_two_sites_are_too_few_for_a_prior():
    with pytest.raises(BeliefError, match="2 of at least 3"):
        site_prior("loss", [Belief(0.03, 0.003, 8), Belief(0.034, 0.004, 5)])
