"""Starting: what the site and its catalogue add to Django's own start, each in a fresh process."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from resource import RUSAGE_CHILDREN, getrusage

from tests.bench import Row

TITLE = "Start-up, in processes of its own"
PROJECT = Path(__file__).resolve().parents[2]
RUNS = 9
DJANGO = """
import django
from django.conf import settings
settings.configure(INSTALLED_APPS=["django.contrib.auth", "django.contrib.contenttypes"])
django.setup()
"""
CATALOGUE = DJANGO + "from procedures.engine.catalogue import catalogue; assert len(catalogue()) > 50\n"
RULES = CATALOGUE + "from procedures.engine.rulebook import rulebook; assert len(rulebook()) > 20\n"
SITE = """
import django
django.setup()
from django.core.checks import run_checks
run_checks()
"""
HEAVY = ("pint", "weasyprint", "trimesh")  # slow to import, and needed by few requests


def run() -> Iterator[Row]:
    with tempfile.TemporaryDirectory() as folder:
        programs = {"bare": DJANGO, "catalogue": CATALOGUE, "rules": RULES, "site": SITE}
        taken = {name: min(times) for name, times in cpu_times(programs, folder).items()}
        heavy = subprocess.check_output(
            [sys.executable, "-c", f"{SITE}import sys\nprint(*sys.modules.keys() & {set(HEAVY)})"],
            cwd=PROJECT,
            env=environment(folder),
            text=True,
        )
    yield Row("bare Django", taken["bare"] * 1000, "ms")
    yield Row(
        "the catalogue of operations on top of it", (taken["catalogue"] - taken["bare"]) * 1000, "ms", aim=150
    )
    yield Row("the rules on top of that", (taken["rules"] - taken["catalogue"]) * 1000, "ms")
    yield Row("manage.py check / bare Django", taken["site"] / taken["bare"], "x")
    yield Row(f"of {', '.join(HEAVY)} imported by it", len(heavy.split()), "", aim=0)


def cpu_times(programs: dict[str, str], folder: str) -> dict[str, list[float]]:
    """Return the processor time [s] of each run of each program, in turn; the first of each is not counted.

    Of several the least is the truest: other work on the machine only ever adds to it.
    """
    times: dict[str, list[float]] = {name: [] for name in programs}
    for number in range(RUNS + 1):
        for name, program in programs.items():
            before = getrusage(RUSAGE_CHILDREN)
            subprocess.run([sys.executable, "-c", program], cwd=PROJECT, env=environment(folder), check=True)
            after = getrusage(RUSAGE_CHILDREN)
            if number:
                times[name].append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return times


def environment(folder: str) -> dict[str, str]:
    """Return the surroundings of a child: its bytecode is kept in a folder, as it is once a site has run."""
    kept = {name: one for name, one in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return {**kept, "PYTHONPYCACHEPREFIX": folder}
