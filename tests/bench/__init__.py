"""Benches: what must stay fast, measured as ratios within one run on one machine.

Each module of this folder but those starting with an underscore is one bench. It has a `TITLE` and a
`run()` that yields rows. `python3 manage.py bench [NAME ...]` runs all, or those named, against a test
database of their own.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Row:
    """One measured number; `aim` is the most that it should be, or None where there is no aim."""

    name: str
    value: float
    unit: str
    aim: float | None = None
