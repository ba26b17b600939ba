"""What each process remembers of the drafts it showed last, so that one change need not reckon all anew.

Replays and rows never change, and are kept by the exact version of the draft they belong to: what is
forgotten is made again, and never shown in place of another.
"""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass, field
from threading import Lock
from typing import TYPE_CHECKING

from calculators.wording import UnitSystem
from procedures.engine.replay import Replay, replay
from procedures.models import Procedure

from .rows import EarlierList, Row

if TYPE_CHECKING:
    from procedures.drawing import PartDrawing

MOST = 64  # drafts; a long one takes a few MB


@dataclass
class Shown:
    """What was shown of one version of a draft: its replay, and the rows and pens by part and units."""

    replayed: Replay
    rows: dict[tuple[str, str], tuple[Row, ...]] = field(default_factory=dict)
    pens: dict[tuple[str, str], PartDrawing] = field(default_factory=dict)

    def list_of(self, part: str, units: UnitSystem) -> EarlierList | None:
        """Return the rows of a part with the frames they tell of, or None where they were not shown."""
        rows, replayed = self.rows.get((part, units.id)), self.replayed.part(part)
        return list(zip(replayed.frames, rows, strict=True)) if rows and replayed else None

    def pen(self, part: str, units: UnitSystem) -> PartDrawing:
        """Return what draws the small drawings of a part, all of them at one scale."""
        from procedures.drawing import PartDrawing  # slow to import, and most requests draw nothing

        if (part, units.id) not in self.pens:
            replayed = self.replayed.part(part)
            assert replayed is not None
            self.pens[part, units.id] = PartDrawing(replayed, units, "small")
        return self.pens[part, units.id]


_shown: OrderedDict[tuple[object, ...], Shown] = OrderedDict()
_lock = Lock()


def recalled(procedure: Procedure) -> Shown | None:
    """Return what was shown of this version of the draft, or None."""
    return _shown.get(_version(procedure))


def shown(procedure: Procedure, earlier: Shown | None = None) -> Shown:
    """Return what there is to show of a draft; `earlier` is what was shown before a change of it.

    Raises DocumentError.
    """
    found = recalled(procedure)
    if found is None:
        found = Shown(replay(procedure.read(), earlier=earlier.replayed if earlier else None))
        with _lock:
            _shown[_version(procedure)] = found
            while len(_shown) > MOST:
                _shown.popitem(last=False)
    return found


def _version(procedure: Procedure) -> tuple[object, ...]:
    return procedure.pk, procedure.version, procedure.updated
