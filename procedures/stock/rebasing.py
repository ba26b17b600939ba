"""The whole procedure on another bar: the same steps on the same metal, and what changes at every step."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from calculators.sections import Section
from procedures.engine.document import Document, Step
from procedures.engine.finding import Finding, Level
from procedures.engine.frames import Frame, PartReplay
from procedures.engine.pieces.branch import Branch, at_share, share_at
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.segment import TOUCH
from procedures.engine.replan import Size, new_findings_of, sizes_of, twin_of, with_part
from procedures.engine.replay import replay_part, work

EVEN = 0.1  # mm: what is seen of a section with calipers; our judgement
SAME = 0.005  # of a distance: as near as this it stays as it was given


def rebased(
    document: Document, key: str, section: Section, *, same_metal: bool, nominal: bool = False
) -> Document:
    """Return the document with a part made from another section, its bar as long as to hold the same metal.

    With `same_metal`, distances that its steps are given reach round the metal they reached round before;
    else they stay as they are, and so does the length of the bar. Raises KeyError for no such part.
    """
    part = document.part(key)
    if part is None:
        raise KeyError(key)
    if not same_metal:
        return with_part(document, replace(part, section=section))
    length = part.length * part.section.area / section.area
    planned = replay_part(document, key, nominal=nominal)
    changed = replace(part, section=section, length=length)
    piece = bar(section, length, name=key, material=part.material)
    steps: list[Step] = []
    for frame in planned.frames:
        step = frame.step
        if frame.status == "done":
            step = _moved(step, frame.before, piece)
            scale = None if nominal else document.scale
            done = work(
                changed, step, replace(piece, bench=frame.before.bench), number=frame.number, scale=scale
            )
            piece = done.after
        steps.append(step)
    return with_part(document, replace(changed, steps=tuple(steps)))


def _moved(step: Step, old: Piece, new: Piece) -> Step:
    """Return a step with every distance reaching round the same metal on another piece."""
    params = {name: _moved_value(value, old, new) for name, value in step.params.items()}
    return replace(step, params=params)


def _moved_value(value: Any, old: Piece, new: Piece) -> Any:
    if isinstance(value, list | tuple):
        return [_moved_value(one, old, new) for one in value]
    if not isinstance(value, Mapping) or "on" not in value:
        return value
    on = old.groups.get(value["on"], (value["on"],))[0]
    if not (old.has_branch(on) and new.has_branch(on)):
        return value
    return _Reach(old.branch(on), new.branch(on)).moved(value)


@dataclass(frozen=True)
class _Reach:
    """The same metal on a branch as it was and as it is on another bar."""

    old: Branch
    new: Branch

    def moved(self, place: Mapping[str, Any]) -> dict[str, Any]:
        """Return a stored place or position with its distances round the same metal."""
        datum, toward = place.get("datum", "whole"), place.get("toward", "end")
        ends = self._datum(datum, place.get("mark", ""))
        if ends is None:
            return dict(place)
        sense = -1 if datum == "end" or (datum in ("mark", "centre") and toward == "start") else 1
        result = dict(place)
        here, there = ends
        if offset := place.get("offset", 0.0):
            result["offset"] = self._distance(here, offset, sense, there)
            here, there = here + sense * offset, there + sense * result["offset"]
        if length := place.get("length"):
            both = datum == "centre" or toward == "both"
            reach = length / 2 if both else length
            result["length"] = self._distance(here, reach, sense, there) * (2 if both else 1)
        return result

    def _datum(self, datum: str, mark: str) -> tuple[float, float] | None:
        if datum == "mark":
            old, new = self.old.mark(mark), self.new.mark(mark)
            return (old.at, new.at) if old and new else None
        found = {
            "start": (0.0, 0.0),
            "end": (self.old.length, self.new.length),
            "centre": (self.old.length / 2, self.new.length / 2),
        }
        return found.get(datum)

    def _distance(self, here: float, reach: float, sense: int, there: float) -> float:
        """Return how far from `there` on the new branch as much metal lies as within `reach` of `here`."""
        far = min(max(here + sense * reach, 0.0), self.old.length)
        if abs(far - here) < TOUCH:
            return reach
        metal = abs(self._metal(self.old, far) - self._metal(self.old, here))
        whole = sum(one.volume for one in self.new.segments)
        if whole <= 0:
            return reach
        share = min(max((self._metal(self.new, there) + sense * metal) / whole, 0.0), 1.0)
        found = abs(at_share(self.new.segments, share) - there)
        return reach if abs(found - reach) <= SAME * reach else found

    @staticmethod
    def _metal(branch: Branch, at: float) -> float:
        return share_at(branch.segments, at) * sum(one.volume for one in branch.segments)


@dataclass(frozen=True)
class Change:
    """What becomes of one step on another bar: its sizes, and what is newly said against it."""

    frame: Frame
    twin: Frame | None
    sizes: tuple[Size, ...]
    findings: tuple[Finding, ...]

    @property
    def is_stopped(self) -> bool:
        """Whether it no longer comes about."""
        return self.twin is None and self.frame.status == "done"

    @property
    def is_same(self) -> bool:
        """Whether it stays as near as a smith works."""
        return not self.findings and all(size_stays(one) for one in self.sizes)


def size_stays(size: Size) -> bool:
    """Whether a size stays, as near as a smith works."""
    old, new = size.planned_section, size.section
    if old is not None and new is not None:
        across = max(abs(old.width - new.width), abs(old.thickness - new.thickness))
        return size.is_near and across <= EVEN
    return size.is_near


def changes(old: PartReplay, new: PartReplay) -> Iterator[Change]:
    """Yield every step of a part with what it becomes on another bar."""
    said = list(new_findings_of(old, new))
    for frame in old.frames:
        twin = twin_of(new, frame)
        found = tuple(one for number, one in said if number == frame.number and one.level != Level.NOTE)
        yield Change(frame, twin, tuple(sizes_of(frame, twin)), found)
