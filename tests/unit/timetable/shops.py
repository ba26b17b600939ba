"""Small shops whose best timetable is known, and the best of any small shop by an integer program."""

from __future__ import annotations

import highspy

from procedures.timetable import Task


def jobs(*students):
    """Tasks of ("place", minutes) for each student."""
    return [[Task((place,), minutes) for place, minutes in job] for job in students]


THREE = 3
SMALL = (  # students, slots, bound, shortest: by exhaustive search over active schedules, elsewhere
    (
        jobs(*[[("forge", 3), ("anvil", 2), ("forge", 3), ("anvil", 2)]] * THREE),
        {"forge": 2, "anvil": 1},
        12,
        15,
    ),
    (
        jobs(*[[("forge", 2), ("anvil", 3), ("forge", 2), ("anvil", 3)]] * THREE),
        {"forge": 2, "anvil": 1},
        18,
        20,
    ),
    (
        jobs(
            [("forge", 4), ("anvil", 2)],
            [("forge", 3), ("anvil", 3), ("forge", 2), ("anvil", 1)],
            [("forge", 2), ("anvil", 2), ("forge", 2)],
        ),
        {"forge": 1, "anvil": 2},
        13,
        13,
    ),
    (
        jobs(*[[("forge", 3), ("anvil", 2), ("hammer", 1), ("forge", 2), ("anvil", 2)]] * THREE),
        {"forge": 2, "anvil": 2, "hammer": 1},
        10,
        13,
    ),
)


def shortest(students, slots, horizon):
    """The least minutes of any schedule, whole minutes, nothing held: an integer program by the minute.

    It shares nothing with the planner: x[task, t] says that a task begins at t.
    """
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    end = solver.addVariable(lb=0, ub=horizon)
    used = {place: [[] for _ in range(horizon)] for place in slots}
    for job in students:
        earlier = None
        for task in job:
            length = int(task.minutes)
            begins = [solver.addBinary() for _ in range(horizon - length + 1)]
            solver.addConstr(sum(begins) == 1)
            begin = sum(t * one for t, one in enumerate(begins))
            if earlier is not None:
                solver.addConstr(begin >= earlier)
            earlier = begin + length
            for t, one in enumerate(begins):
                for minute in range(t, t + length):
                    for place in task.needs:
                        used[place][minute].append(one)
        solver.addConstr(end >= earlier)
    for place, minutes in used.items():
        for ones in minutes:
            if ones:
                solver.addConstr(sum(ones) <= slots[place])
    solver.minimize(end)
    return round(solver.getObjectiveValue())
