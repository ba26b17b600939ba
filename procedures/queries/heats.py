"""The heats that runs of a procedure counted, beside those planned and predicted."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from statistics import median

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser

from procedures.models import Procedure, RunEntry

from .talk import STANDS

MOST_RESULTS = 500  # of one procedure that are looked at, the newest
_COUNTS = {"heat": 1, "heat_undone": -1}


def heats_used(user: AbstractBaseUser | AnonymousUser, procedure: Procedure) -> dict[tuple[str, str], float]:
    """Return the median heats of a user's own runs by (part, step), of the runs that counted any there."""
    if not user.is_authenticated:
        return {}
    counted: dict[tuple[str, str], dict[object, int]] = defaultdict(lambda: defaultdict(int))
    entries = RunEntry.objects.filter(
        run__owner_id=user.pk, run__procedure=procedure, kind__in=_COUNTS
    ).values_list("run_id", "part", "step", "kind")
    for run, part, step, kind in entries:
        counted[part, step][run] += _COUNTS[kind]
    found = {key: [one for one in runs.values() if one > 0] for key, runs in counted.items()}
    return {key: float(median(heats)) for key, heats in found.items() if heats}


@dataclass(frozen=True, slots=True)
class Told:
    """What those who forged a procedure told of the whole of it: how many, least, middle and most."""

    count: int
    least: int
    middle: float
    most: int


def told_of(procedure: Procedure) -> dict[str, Told]:
    """Return what results tell of "heats" and "minutes", whoever's they are; what nobody told is left out."""
    rows = procedure.results.filter(STANDS).order_by("-pk").values("heats", "minutes")[:MOST_RESULTS]
    found = {}
    for name in ("heats", "minutes"):
        values: list[int] = [value for one in rows if (value := one[name]) is not None]
        if values:
            found[name] = Told(len(values), min(values), float(median(values)), max(values))
    return found
