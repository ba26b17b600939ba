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
    """What was shown of one version of a draft: its replay, and the rows and pens by part and units.

    `basis` is what was shown of another version; what both have in common was taken from there.
    """

    replayed: Replay
    basis: Shown | None = None
    rows: dict[tuple[str, str], tuple[Row, ...]] = field(default_factory=dict)
    pens: dict[tuple[str, str], PartDrawing] = field(default_factory=dict)

    def list_of(self, part: str, units: UnitSystem) -> EarlierList | None:
        """Return the rows of a part with the frames they tell of, or None where they were not shown."""
        rows, replayed = self.rows.get((part, units.id)), self.replayed.part(part)
        return list(zip(replayed.frames, rows, strict=True)) if rows and replayed else None

    def superseded(self) -> Shown:
        """Return this as the basis of another version, without what that has no use for."""
        self.basis = None
        self.pens.clear()
        return self

    def pen(self, part: str, units: UnitSystem) -> PartDrawing:
        """Return what draws the small drawings of a part, all of them at one scale."""
        from procedures.drawing import PartDrawing  # slow to import, and most requests draw nothing

        if (part, units.id) not in self.pens:
            replayed = self.replayed.part(part)
            assert replayed is not None
            self.pens[part, units.id] = PartDrawing(replayed, units, "small")
        return self.pens[part, units.id]


_shown: OrderedDict[tuple[object, ...], Shown] = OrderedDict()
_newest: OrderedDict[int, Shown] = OrderedDict()  # by procedure
_lock = Lock()


def recalled(procedure: Procedure) -> Shown | None:
    """Return what was shown of exactly this version of the draft, or None."""
    return _shown.get(_version(procedure))


def shown(procedure: Procedure) -> Shown:
    """Return what there is to show of a draft, with the help of what was shown of it last.

    Raises DocumentError.
    """
    found = recalled(procedure)
    if found is None:
        basis = _newest.get(procedure.pk)
        replayed = replay(procedure.read(), earlier=basis.replayed if basis else None)
        found = Shown(replayed, basis.superseded() if basis else None)
        with _lock:
            _shown[_version(procedure)] = _newest[procedure.pk] = found
            for kept in (_shown, _newest):
                while len(kept) > MOST:
                    kept.popitem(last=False)
    return found


def forget() -> None:
    """Forget all that was shown, as a process that has just started."""
    with _lock:
        _shown.clear()
        _newest.clear()


def _version(procedure: Procedure) -> tuple[object, ...]:
    return procedure.pk, procedure.version, procedure.updated
