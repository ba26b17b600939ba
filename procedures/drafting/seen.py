"""A feature as the replay left it: its run, its frames, and its sizes beside those described."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from calculators.sections import Section
from procedures.engine.frames import Frame, PartReplay
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.path import Arc
from procedures.engine.pieces.segment import Segment
from procedures.engine.shaping.curving import neutral_depth

from .setting import Setting

SCALED = "Scale of later heats takes a little off."


@dataclass(frozen=True)
class Size:
    """A size as described and as it comes out [mm, deg or a section]; `why` it is not exact."""

    label: str
    wanted: float | Section
    got: float | Section
    why: str = ""
    kind: Literal["length", "size", "section", "angle"] = "length"

    @property
    def off(self) -> float:
        """The largest difference [mm or deg]."""
        if isinstance(self.wanted, Section) and isinstance(self.got, Section):
            return max(
                abs(self.wanted.width - self.got.width), abs(self.wanted.thickness - self.got.thickness)
            )
        assert isinstance(self.wanted, float | int)
        assert isinstance(self.got, float | int)
        return abs(self.wanted - self.got)


@dataclass(frozen=True)
class Seen:
    """The replay seen from one feature; `own` are the frames of its steps, by their operation."""

    part: PartReplay
    setting: Setting
    own: Mapping[str, Frame]

    @property
    def branch(self) -> Branch:
        """The finished bar."""
        return self.part.final.root

    @property
    def low(self) -> float:
        """Where the run begins [mm]."""
        return _at(self.branch, self.setting.low, 0.0)

    @property
    def high(self) -> float:
        """Where it ends [mm]."""
        return _at(self.branch, self.setting.high, self.branch.length)

    @property
    def length(self) -> float:
        """How long the run is [mm]."""
        return self.high - self.low

    @property
    def middle(self) -> Section:
        """The section half way."""
        return self.branch.section_at((self.low + self.high) / 2)

    def curved(self, frame: Frame) -> tuple[Segment, ...]:
        """Return the metal that a step of the feature bent round, as it left it."""
        found: list[Segment] = []
        for span in frame.after.worked:
            found += frame.after.branch(span.branch).segments_between(span.low, span.high)
        return tuple(one for one in found if isinstance(one.path, Arc))

    def arcs(self, frame: Frame) -> tuple[Arc, ...]:
        """Return the arcs of that metal."""
        return tuple(one.path for one in self.curved(frame) if isinstance(one.path, Arc))

    def left_over(self, frame: Frame) -> float:
        """Return the bar of the run that a bend of the feature did not take [mm]."""
        branch = frame.after.root
        run = _at(branch, self.setting.high, branch.length) - _at(branch, self.setting.low, 0.0)
        return run - sum(one.length for one in self.curved(frame))

    # -- sizes -----------------------------------------------------------------------------------

    def long(self, wanted: float) -> Size:
        """Return the length of the run beside that described."""
        return Size("Length", wanted, self.length)

    def section(self, wanted: Section, label: str = "Section") -> Size:
        """Return the section half way beside that described."""
        return Size(label, wanted, self.middle, self._scaled(wanted, self.middle), "section")

    def thin_end(self, wanted: Section, side: str) -> Size:
        """Return the section at one side of the run."""
        run = self.branch.segments_between(self.low, self.high)
        got = run[-1].end if side == "end" else run[0].start
        return Size("Thin end", wanted, got, self._scaled(wanted, got), "section")

    def _scaled(self, wanted: Section, got: Section) -> str:
        return "" if wanted.is_close(got, 1e-6) else SCALED

    def inside(self, operation: str, wanted: float, label: str, *, diameter: bool) -> Iterator[Size]:
        """Yield the inside diameter or radius of a bend when it was made, beside that described."""
        bent = self.curved(self.own[operation])
        if not bent:
            return
        middle, share = _half_way(bent)
        assert isinstance(middle.path, Arc)
        section = middle.start.blend(middle.end, share)
        got = middle.path.radius - neutral_depth(section, middle.path.plane, middle.path.turn)
        yield Size(label, wanted, 2 * got if diameter else got, kind="size")


def _half_way(run: Sequence[Segment]) -> tuple[Segment, float]:
    """Return the segment half way along a run, and the share of it that lies before."""
    left = sum(one.length for one in run) / 2
    for one in run:
        if left <= one.length:
            return one, left / one.length
        left -= one.length
    return run[-1], 1.0


def _at(branch: Branch, name: str, otherwise: float) -> float:
    mark = branch.mark(name) if name else None
    return mark.at if mark else otherwise
