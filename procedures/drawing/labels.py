"""What goes on the rail above the main view: sections, marks and holes of the metal that lies along X."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from calculators.wording import UnitSystem

from .canvas import Kind
from .captions import curve_words, hole_words
from .curve_notes import CurveNote
from .lettering import name, section_words, spaced
from .marks import mark_height
from .notes import HoleNote, Notes
from .panel import Panel
from .profile import SectionNote
from .rail import Label, Rail
from .skin import SkinNote
from .surface import treatment_spot
from .views import Spot

_MOST_SIZES, _MOST_SMALL = 8, 4  # sizes named in one view
_NEW, _WORKED, _OLD, _REST = range(4)  # what is placed first


@dataclass(frozen=True)
class Loose:
    """Words for a place that is not along X: they go beside it, with a leader from one of the spots."""

    words: str
    spots: tuple[Spot, ...]
    kind: Kind
    needed: bool = True
    place: tuple[str, float] | None = None  # (branch, at), where the other view may show it better


@dataclass
class Labels:
    """The labels of one panel: `loose` are those to go elsewhere, `unnamed` how many went nowhere."""

    panel: Panel
    notes: Notes
    units: UnitSystem
    loose: list[Loose] = field(default_factory=list)
    unnamed: int = 0

    def fill(self, rail: Rail, twists: Sequence[CurveNote] = ()) -> None:
        """Put what lies along X on the rail."""
        self.size = self.panel.sheet.letter
        sections = list(self._sections())
        others = [*self._holes(), *(one for one in sections if one.low == one.high)]
        fixed = _together(list(self._marks()), others, 0.4 * self.size)
        runs = [one for one in sections if one.low < one.high]
        lost = rail.place([*runs, *self._twists(twists), *self._skins(), *fixed])
        for label in lost + rail.settle(self.panel):
            if label.rank == _WORKED or label not in lost:
                middle = (label.low + label.high) / 2
                self.loose.append(
                    Loose(label.words, ((middle, label.foot),), label.kind, label.rank != _REST)
                )
            elif label.rank != _REST:
                self.unnamed += 1
        said = {one.words for one in self.loose}
        self.loose = [
            one
            for one in self.loose
            if one.kind != "name" or not any(words.startswith(f"{one.words} ") for words in said)
        ]

    def _twists(self, twists: Sequence[CurveNote]) -> Iterator[Label]:
        for one in twists:
            span = one.span
            yield self._along(
                curve_words(one, self.units), span.branch, span.low, span.high, "strong", _WORKED
            )

    def _skins(self) -> Iterator[Label]:
        """Name what is treated, and a pattern that this step puts in."""
        found: dict[str, list[SkinNote]] = {}
        for one in self.notes.skins:
            if one.treatment or one.new:
                found.setdefault(spaced(one.words(self.units)), []).append(one)
        for words, alike in found.items():
            one = max(alike, key=lambda note: note.high - note.low)
            said = times(len({note.branch for note in alike}), words)
            kind: Kind = "strong" if one.new else "text"
            rank = _WORKED if one.new else _REST
            spot = treatment_spot(self.panel, one)
            if not self.panel.lies_along(one.branch, one.low, one.high):
                if one.pattern:
                    spot = self.panel.on(one.branch, (one.low + one.high) / 2)
                self.loose.append(Loose(said, (spot,), kind, one.new))
                continue
            label = self._along(said, one.branch, one.low, one.high, kind, rank)
            yield label if one.pattern else replace(label, foot=spot[1], dot=False)

    # -- sections --------------------------------------------------------------------------------

    def _sections(self) -> Iterator[Label]:
        for words, one in self._named():
            kind: Kind = "strong" if one.worked else "text"
            level = self._level_run(one)
            if level is None:
                spots = [
                    self.panel.on(one.branch, one.low + (one.high - one.low) * share)
                    for share in (0.5, 0.3, 0.7)
                ]
                place = (one.branch, (one.low + one.high) / 2)
                self.loose.append(Loose(words, tuple(spots), kind, one.worked, place))
            else:
                yield self._along(words, one.branch, *level, kind, _WORKED if one.worked else _REST)

    def _level_run(self, one: SectionNote) -> tuple[float, float] | None:
        """Return the longest part of a run that lies along X, or None where none of it does."""
        if one.low == one.high:
            return (one.low, one.high) if self.panel.lies_along(one.branch, one.low, one.high) else None
        best: tuple[float, float] | None = None
        begun: float | None = None
        for posed in self.panel.pose.by_name[one.branch].segments:
            low, high = max(posed.low, one.low), min(posed.high, one.high)
            if high - low < 1e-6:
                continue
            straight = posed.segment.path.kind == "straight"
            if not straight or not self.panel.lies_along(one.branch, low, high):
                begun = None
                continue
            begun = low if begun is None else begun
            if best is None or high - begun > best[1] - best[0]:
                best = (begun, high)
        return best

    def _along(self, words: str, branch: str, low: float, high: float, kind: Kind, rank: int) -> Label:
        """Return a label for a run along X, its line ending in a dot on the bar, or at a taper's end."""
        ends = sorted(self.panel.on(branch, at)[0] for at in (low, high))
        inset = min(0.3 * self.size, (ends[1] - ends[0]) / 2)
        middle = (low + high) / 2
        _, up = self.panel.edges(branch, middle)
        level = self.panel.on(branch, middle)[1]
        thick = up > 0.35 * self.size and high > low
        foot = level - up * 0.45 if thick else level - up
        return Label(words, ends[0] + inset, ends[1] - inset, foot, rank, kind, dot=thick)

    def _named(self) -> list[tuple[str, SectionNote]]:
        """Return the sections to name, each size once: what was worked, then the rest of the bar."""
        found: dict[tuple[str, bool], list[SectionNote]] = {}
        for one in self.notes.sections:
            found.setdefault((section_words(one.section, self.units), one.worked), []).append(one)
        worked = {words for words, hit in found if hit}
        small = self.panel.sheet.is_small
        chosen = []
        for (words, hit), notes in found.items():
            if not hit and words in worked:
                continue
            best = max(
                notes, key=lambda one: (one.high - one.low > 1, self._height_of(one), one.high - one.low)
            )
            count = len({one.branch for one in notes}) if hit else 1
            chosen.append((times(count, words), best))
        if small:  # of the rest of the bar only what there is most of
            rest = [one for one in chosen if not one[1].worked]
            rest.sort(key=lambda one: one[1].low - one[1].high)
            most = rest[: 1 if worked else 2]
            chosen = [one for one in chosen if one[1].worked or one in most]
        return self._not_too_many(chosen)

    def _not_too_many(self, chosen: list[tuple[str, SectionNote]]) -> list[tuple[str, SectionNote]]:
        """Leave out the sizes between where a run has many: its ends stay, then what is longest."""
        most = _MOST_SMALL if self.panel.sheet.is_small else _MOST_SIZES
        if len(chosen) <= most:
            return chosen
        ends = {
            name: [one for _, one in chosen if one.branch == name]
            for name in {one.branch for _, one in chosen}
        }
        outer = [id(one) for found in ends.values() for one in (min(found, key=_low), max(found, key=_low))]
        first = sorted(
            chosen, key=lambda one: (id(one[1]) not in outer, not one[1].worked, _low(one[1]) - one[1].high)
        )
        self.unnamed += len(chosen) - most
        kept = {id(one) for _, one in first[:most]}
        return [one for one in chosen if id(one[1]) in kept]

    def _height_of(self, one: SectionNote) -> float:
        return -round(self.panel.on(one.branch, (one.low + one.high) / 2)[1])

    # -- marks and holes -------------------------------------------------------------------------

    def _marks(self) -> Iterator[Label]:
        longest = 10 if self.panel.sheet.is_small else 20
        named = [
            (one.branch, one.at, name(one.name, longest), _NEW if one.new else _OLD)
            for one in self.notes.marks
        ]
        named += [(point.branch, point.at, name(words, longest), _NEW) for point, words in self.notes.points]
        seen: set[str] = set()
        for branch, at, words, rank in sorted(named, key=lambda one: one[3]):
            if not words or words in seen:  # arms of a split all carry the marks of the bar they were
                continue
            seen.add(words)
            spot = self.panel.on(branch, at)
            if self.panel.lies_along(branch, at, at):
                foot = spot[1] - mark_height(self.panel, branch, at)
                yield Label(words, spot[0], spot[0], foot, rank, "name")
            else:
                self.loose.append(Loose(words, (spot,), "name", place=(branch, at)))

    def _holes(self) -> Iterator[Label]:
        """Name the holes: new ones with their size; alike ones too many to name together, with how many."""
        new: dict[str, list[HoleNote]] = {}
        for one in self.notes.holes:
            if one.new:
                new.setdefault(hole_words(one.feature, self.units), []).append(one)
            elif not self.panel.sheet.is_small:
                yield from self._hole(one, name(one.feature.name, 16), _OLD, "name")
        for words, notes in new.items():
            one = notes[0]
            called = name(one.feature.name, 16)
            if words and (len(notes) > 1 or self.panel.sheet.is_small or words.startswith(called)):
                called = ""
            said = times(len(notes), words) if words else ""
            yield from self._hole(one, f"{called} {said}".strip(), _NEW, "strong")

    def _is_open(self, one: HoleNote) -> bool:
        """Whether the reader looks through a hole, rather than at it from the side."""
        axes = self.panel.axes(one.branch, one.feature.at)
        through = axes.up if one.feature.face == "flat" else axes.left
        return abs(through[self.panel.view.toward]) > 0.7

    def _hole(self, one: HoleNote, words: str, rank: int, kind: Kind) -> Iterator[Label]:
        feature = one.feature
        x, y = self.panel.on(one.branch, feature.at)
        long, wide = (size / 2 * self.panel.plot.scale for size in (feature.length, feature.width))
        if self.panel.lies_along(one.branch, feature.at, feature.at):
            if not self._is_open(one) or not feature.is_hole:
                wide = self.panel.edges(one.branch, feature.at)[1]
            yield Label(words, x, x, y - wide, rank, kind)
        else:
            spots = ((x + 0.7 * long, y - 0.7 * wide), (x + 0.7 * long, y + 0.7 * wide))
            if not feature.is_hole:
                spots = ((x, y), (x, y))
            self.loose.append(Loose(words, spots, kind, place=(one.branch, feature.at)))


def _low(one: SectionNote) -> float:
    return one.low


def _together(marks: list[Label], others: list[Label], near: float) -> list[Label]:
    """Return the labels, what is at a mark joined to its name: a hole made there, the size of an end."""
    joined = list(marks)
    for one in others:
        place = next((at for at, known in enumerate(joined) if abs(one.low - known.low) < near), None)
        if place is None:
            joined.append(one)
        elif one.rank != _OLD:  # an old hole needs no name beside its mark's
            known = joined[place]
            words = f"{known.words}{' ' if known.kind == 'name' else ' · '}{one.words}"
            if one.words.startswith(f"{known.words} "):
                words = one.words
            rank, foot = min(known.rank, one.rank), min(known.foot, one.foot)
            joined[place] = replace(known, words=words, rank=rank, foot=foot)
    return joined


def times(count: int, words: str) -> str:
    """Return words for so many alike: "3× ø6"."""
    return words if count == 1 else f"{count}×\N{NO-BREAK SPACE}{words}"
