"""The heats that runs of a procedure counted, beside those planned and predicted."""

from __future__ import annotations

from collections import defaultdict
from statistics import median

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser

from procedures.models import Procedure, RunEntry

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
