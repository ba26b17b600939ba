"""A large class planned: one timetable, and all that its page reckons."""

from collections.abc import Iterator

from procedures.presenting.class_times import FEW
from procedures.timetable import (
    ANVIL,
    HIGH,
    LOW,
    POWER,
    VICE,
    ClassShop,
    StepTime,
    changes,
    most_pieces,
    plan,
)
from tests.bench import Row
from tests.bench._timing import seconds

TITLE = "A class timetable: 24 students x 15 steps"
STUDENTS, STEPS = 24, 15
SHOP = ClassShop(
    students=STUDENTS, forges=8, irons=2, anvils=8, vices=6, power_hammers=1, session=300, teachers=2
)


def a_step(number: int) -> StepTime:
    """Two to four heats at the anvil, the vice or the power hammer, some with a look of the teacher's."""
    place = (ANVIL, ANVIL, POWER, ANVIL, VICE)[number % 5]
    typical = 2 + number % 3
    heats = (typical - 1, typical, typical + 2)
    work = 0.6 + 0.1 * (number % 4)
    fire = 1.4 + 0.1 * (number % 6)
    gate = "even" if number % 5 == 4 else ""
    return StepTime(f"s{number}", "Taper", heats, (fire,) * 3, (work,) * 3, place, gate=gate)


def run() -> Iterator[Row]:
    steps = [a_step(number) for number in range(STEPS)]
    once = seconds(lambda: plan(steps, SHOP), repeat=5)
    usual = plan(steps, SHOP)

    def whole() -> None:
        """All that a page of it reckons."""
        for estimate in (LOW, HIGH):
            plan(steps, SHOP, estimate, placed=FEW)
        changes(steps, SHOP, plan(steps, SHOP))
        most_pieces(steps, SHOP)

    yield Row("turns at a place", len(usual.schedule.entries), "")
    yield Row("one timetable", once, "s", aim=1)
    yield Row("low, typical, high and what would change it", seconds(whole, repeat=3), "s", aim=1)
    yield Row("as planned / least possible", usual.schedule.minutes / usual.bounds.lower, "x")
