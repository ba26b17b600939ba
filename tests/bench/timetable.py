"""A large class planned: its schedules at three estimates, what would change it, and its page."""

from collections.abc import Iterator
from time import perf_counter

from procedures.timetable import ANVIL, POWER, VICE, ClassShop, StepTime, changes, most_pieces, plan
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
    began = perf_counter()
    planned = [plan(steps, SHOP, estimate) for estimate in range(3)]
    changes(steps, SHOP, planned[1])
    most_pieces(steps, SHOP)
    whole = perf_counter() - began
    yield Row("turns at a place", len(usual.schedule.entries), "")
    yield Row("one timetable", once, "s", aim=1)
    yield Row("low, typical, high and what would change it", whole, "s")
    yield Row("as planned / least possible", usual.schedule.minutes / usual.bounds.lower, "x")
