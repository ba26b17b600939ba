"""Schedules of small shops: against bounds by hand, the best there is, and the laws of any timetable."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from procedures.timetable import NoSchedule, Task, bounds, cycle_minutes, schedule
from procedures.timetable.bettering import best_schedule

from .shops import SMALL, jobs, shortest

PLACES = ("forge", "anvil", "vice", "helper")


@pytest.mark.parametrize(("students", "slots", "lower", "best"), SMALL)
def test_small_shops_have_the_bound_reckoned_by_hand(students, slots, lower, best):
    """The longest of a student's own minutes and each place's minutes a slot, added up by hand."""
    found = bounds(students, slots)
    assert found.plain == lower
    assert lower <= found.lower <= best <= found.upper


@pytest.mark.parametrize(("students", "slots", "lower", "best"), SMALL)
def test_small_shops_are_planned_as_short_as_can_be(students, slots, lower, best):
    assert shortest(students, slots, horizon=best + 2) == best
    assert schedule(students, slots).minutes == best
    assert best_schedule(students, slots).minutes == best


@settings(max_examples=12, deadline=None)
@given(
    some.lists(
        some.lists(some.tuples(some.sampled_from(PLACES[:2]), some.integers(1, 3)), min_size=1, max_size=3),
        min_size=2,
        max_size=3,
    )
)
def test_no_small_shop_is_planned_much_longer_than_the_best(students):
    students, slots = jobs(*students), {"forge": 1, "anvil": 1}
    best = shortest(students, slots, horizon=int(schedule(students, slots).minutes))
    found = best_schedule(students, slots).minutes
    assert bounds(students, slots).lower <= best <= found <= 1.25 * best


def test_a_class_that_goes_round_fire_and_anvil():
    """8 students, 5 heats of 4 and 2 min, 4 irons, 4 anvils: 5 x max(6, 8, 4) min, by hand."""
    assert cycle_minutes(8, 5, 4, 2, 4, 4) == 40


def test_nobody_alone_waits():
    alone = jobs([("forge", 3), ("anvil", 2), ("vice", 5)])
    found = schedule(alone, {"forge": 1, "anvil": 1, "vice": 1})
    assert found.minutes == 10
    assert all(one.waited == 0 for one in found.entries)


def test_most_work_left_goes_first():
    found = schedule(jobs([("anvil", 1)], [("anvil", 1), ("anvil", 4)]), {"anvil": 1})
    assert found.entries[0].student == 1


def test_an_iron_keeps_its_place_in_the_fire_until_its_smith_has_an_anvil():
    """Two smiths, two irons, one anvil: the second iron waits in the fire, and the third cannot go in."""
    three = jobs(*[[("forge", 2), ("anvil", 3)]] * 3)
    slots = {"forge": 2, "anvil": 1}
    held = schedule(three, slots, holds=True)
    third = next(one for one in held.entries if one.student == 2)
    assert third.start == 2  # the first iron is out at 2
    waiting = next(one for one in held.entries if one.student == 1 and one.task.needs == ("forge",))
    assert (waiting.end, waiting.released) == (2, 5)
    fourth = schedule(jobs(*[[("forge", 2), ("anvil", 3)]] * 4), slots, holds=True)
    assert next(one for one in fourth.entries if one.student == 3).start == 5
    freely = schedule(jobs(*[[("forge", 2), ("anvil", 3)]] * 4), slots)
    assert next(one for one in freely.entries if one.student == 3).start == 2


def test_who_needs_two_places_has_both_at_once():
    pair = [[Task(("anvil", "helper"), 3)], [Task(("anvil", "helper"), 3)]]
    assert schedule(pair, {"anvil": 2, "helper": 1}).minutes == 6


@pytest.mark.parametrize("planner", [bounds, schedule, best_schedule])
def test_what_the_shop_has_none_of_is_said(planner):
    with pytest.raises(NoSchedule, match="There is no vice, and the work needs one") as refused:
        planner(jobs([("forge", 2), ("vice", 3)]), {"forge": 1, "anvil": 1, "vice": 0})
    assert refused.value.place == "vice"


def test_nobody_there_takes_no_time():
    assert schedule([], {"forge": 1}).minutes == 0
    assert bounds([], {"forge": 1}).upper == 0


# -- laws --------------------------------------------------------------------------------------------

TASKS = some.builds(
    Task,
    needs=some.lists(some.sampled_from(PLACES), max_size=2, unique=True).map(tuple),
    minutes=some.sampled_from([0.5, 1.0, 1.7, 2.3, 4.0]),
)
CLASSES = some.lists(some.lists(TASKS, max_size=8), min_size=1, max_size=7)
SHOPS = some.fixed_dictionaries({place: some.integers(1, 3) for place in PLACES})


@settings(max_examples=150, deadline=None)
@given(CLASSES, SHOPS, some.booleans())
def test_no_place_is_ever_used_by_more_than_it_holds(students, slots, holds):
    found = best_schedule(students, slots, holds=holds, placed=400)
    for place, count in slots.items():
        at = [(one.start, one.released if place == "forge" else one.end, dict(one.slots)[place])
              for one in found.entries if place in one.task.needs]  # fmt: skip
        assert all(0 <= slot < count for _, _, slot in at)
        for (start, end, slot), (begin, stop, other) in itertools.combinations(at, 2):
            assert slot != other or end <= begin or stop <= start


@settings(max_examples=150, deadline=None)
@given(CLASSES, SHOPS, some.booleans())
def test_everybody_does_all_in_order_and_one_thing_at_a_time(students, slots, holds):
    found = schedule(students, slots, holds=holds)
    for number, job in enumerate(students):
        mine = [one for one in found.entries if one.student == number]
        assert [one.task for one in mine] == job
        assert [one.index for one in mine] == list(range(len(job)))
        assert all(one.end == one.start + one.task.minutes for one in mine)
        assert all(before.end == after.ready <= after.start for before, after in itertools.pairwise(mine))
    assert found.minutes == max((one.end for one in found.entries), default=0)


@settings(max_examples=300, deadline=None)
@given(CLASSES, SHOPS, some.booleans())
def test_bounds_hold_whether_or_not_irons_keep_their_place(students, slots, holds):
    found, limits = schedule(students, slots, holds=holds).minutes, bounds(students, slots)
    assert limits.plain - 1e-9 <= limits.lower - 1e-9 <= found <= limits.upper + 1e-9


@settings(max_examples=60, deadline=None)
@given(CLASSES, SHOPS, some.booleans())
def test_trying_more_is_never_worse_and_always_the_same(students, slots, holds):
    once = best_schedule(students, slots, holds=holds, placed=600)
    assert once == best_schedule(students, slots, holds=holds, placed=600)
    assert once.minutes <= schedule(students, slots, holds=holds).minutes
