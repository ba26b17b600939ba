"""Classes planned whole: what each student does, what holds them up, and what would change it."""

from dataclasses import replace

import pytest

from procedures.timetable import (
    ANVIL,
    HIGH,
    LOW,
    POWER,
    VICE,
    ClassShop,
    NoSchedule,
    StepTime,
    changes,
    most_pieces,
    most_students,
    plan,
)


def a_step(key="s1", heats=(1, 1, 1), fire=(2.0, 2.0, 2.0), work=(1.0, 1.0, 1.0), **more):
    return StepTime(key, key.upper(), heats, fire, work, **more)


SHOP = ClassShop(students=4, forges=2, irons=2, anvils=2, showing=10, clean_down=5, session=60)
SHARED = [
    a_step("draw"),
    a_step("hammer", heats=(3, 3, 3), work=(2.0, 2.0, 2.0), place=POWER),
    a_step("bend"),
]


def test_one_student_takes_their_own_minutes():
    """2 heats of 2 + 1 min, a look of 1 min, 10 min showing, 5 min cleaning: 22 min."""
    steps = [a_step(heats=(2, 2, 2), gate="even")]
    assert plan(steps, replace(SHOP, students=1)).minutes == 22


def test_estimates_keep_apart():
    steps = [a_step(heats=(1, 2, 4))]
    one = replace(SHOP, students=1, showing=0, clean_down=0)
    assert [plan(steps, one, estimate).minutes for estimate in (LOW, 1, HIGH)] == [3, 6, 12]


def test_cold_work_is_done_once_and_a_step_of_no_time_not_at_all():
    steps = [
        a_step("mark", heats=(0, 0, 0), work=(3.0, 3.0, 3.0), place=""),
        a_step("note", (0, 0, 0), work=(0, 0, 0)),
    ]
    found = plan(steps, replace(SHOP, showing=0, clean_down=0))
    assert [one.task.step for one in found.of_student(0)] == ["mark"]
    assert found.minutes == 3


def test_two_pieces_are_made_one_after_the_other():
    found = plan([a_step()], replace(SHOP, students=1, pieces=2))
    assert [one.task.piece for one in found.of_student(0)] == [1, 1, 2, 2]


def test_teacher_looks_at_one_piece_at_a_time():
    steps = [a_step("mark", heats=(0, 0, 0), work=(1.0, 1.0, 1.0), place="", gate="the marks")]
    assert plan(steps, replace(SHOP, showing=0, clean_down=0, look=2)).minutes == 1 + 4 * 2
    assert plan(steps, replace(SHOP, showing=0, clean_down=0, look=2, teachers=2)).minutes == 1 + 2 * 2


def test_shared_power_hammer_is_what_holds_the_class_up():
    found = plan(SHARED, replace(SHOP, power_hammers=1, students=8, forges=4, anvils=4))
    assert found.bottleneck == POWER
    assert found.bounds.loads[POWER] == 8 * 3 * 2
    assert found.use[POWER] > 0.75
    assert max(found.waits, key=found.waits.get) == POWER


def test_nothing_holds_up_a_class_with_room_for_all():
    found = plan([a_step(heats=(4, 4, 4))], replace(SHOP, forges=4, anvils=4))
    assert found.bottleneck == ""
    assert found.schedule.minutes == found.bounds.longest


def test_changes_are_reckoned_and_the_best_comes_first():
    shop = replace(SHOP, power_hammers=1, students=8, forges=4, anvils=4, pieces=2, session=100)
    now = plan(SHARED, shop)
    found = changes(SHARED, shop, now)
    assert [one.saved for one in found] == sorted((one.saved for one in found), reverse=True)
    by_kind = {(one.kind, one.place): one for one in found}
    assert by_kind["more", POWER].saved > 20
    assert by_kind["more", ANVIL].saved == 0
    assert by_kind["groups", ""].shop.students == 4
    fewer = by_kind["pieces", ""]
    assert fewer.minutes == pytest.approx(plan(SHARED, replace(shop, pieces=1)).minutes, rel=0.05)
    assert not now.fits
    assert fewer.fits


def test_what_is_not_used_is_not_offered():
    now = plan([a_step()], SHOP)
    assert {one.place for one in changes([a_step()], SHOP, now)}.isdisjoint({VICE, POWER})


def test_missing_place_is_said_and_what_would_do():
    with pytest.raises(NoSchedule, match="There is no power hammer") as refused:
        plan(SHARED, SHOP)
    assert refused.value.task.step == "hammer"
    found = changes(SHARED, SHOP, None)
    assert [(one.kind, one.place, one.saved) for one in found] == [("more", POWER, None)]


def test_session_holds_so_many_students_and_pieces():
    """One anvil, 6 min of work on it for each: 45 min of the hour hold 7 students."""
    steps = [a_step(heats=(2, 2, 2), fire=(1.0,) * 3, work=(3.0,) * 3)]
    shop = replace(SHOP, anvils=1, students=12, forges=6)
    assert not plan(steps, shop).fits
    assert most_students(steps, shop) == 7
    assert plan(steps, replace(shop, students=7)).fits
    assert most_pieces(steps, replace(shop, students=3)) == 2
    assert most_students(steps, replace(shop, session=16)) == 0


@pytest.mark.parametrize(
    ("shop", "said"),
    [
        (replace(SHOP, students=0), "Nobody is there"),
        (replace(SHOP, forges=0), "There is no fire"),
        (replace(SHOP, students=60, pieces=80), "more than is planned at once"),
    ],
)
def test_why_there_is_no_schedule_is_said(shop, said):
    with pytest.raises(NoSchedule, match=said):
        plan([a_step()], shop)


def test_procedure_without_work_has_no_timetable():
    with pytest.raises(NoSchedule, match="nothing to plan"):
        plan([], SHOP)


def test_helper_who_is_wanted_and_not_there_is_said():
    with pytest.raises(NoSchedule, match="There is no helper"):
        plan([a_step(helper=True)], SHOP)
