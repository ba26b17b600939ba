"""What of a procedure is printed at full size: what there is, what is chosen, and the sheets it takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from django.utils.safestring import SafeString

from calculators.wording import UnitSystem
from procedures.engine.document import Document
from procedures.engine.replay import PartReplay, Replay, replay
from procedures.full_size import (
    MOST_SHEETS,
    FullSizeError,
    Offered,
    Pattern,
    Sheets,
    laying_of,
    offered,
    paper_of,
    preview_svg,
    sheets_of,
)


@dataclass(frozen=True, slots=True)
class Wish:
    """What a reader asks for, as it was typed; what is not asked for is as usual.

    `after` is (part, step) for parts wanted as they are after a step; `patterns` are "part:pattern" keys, and
    None asks for the usual ones.
    """

    paper: str = ""
    strips: str = ""
    after: tuple[tuple[str, str], ...] = ()
    patterns: tuple[str, ...] | None = None


@dataclass(frozen=True, slots=True)
class ShownPattern:
    """A pattern to choose."""

    key: str
    pattern: Pattern
    chosen: bool
    sheets: str
    preview: SafeString

    @property
    def title(self) -> str:
        """What it is called, without the part's name, which stands over it."""
        return self.pattern.title.partition(": ")[2].capitalize()


@dataclass(frozen=True, slots=True)
class ShownChoice:
    """A part as it is after step `number`. `steps` are (number, words, whether it is this one)."""

    key: str
    name: str
    number: int
    steps: tuple[tuple[int, str, bool], ...]
    patterns: tuple[ShownPattern, ...]
    is_complete: bool


class FullSize:
    """A procedure at full size, as a reader wishes it. Raises FullSizeError for what there is not.

    Unless `strict`, patterns that are not there at this step are left out: another step was chosen.
    """

    def __init__(
        self, document: Document, units: UnitSystem, wish: Wish, *, nominal: bool, strict: bool = True
    ) -> None:
        self.document = document
        self.units = units
        self.wish = wish
        self.nominal = nominal
        self.strict = strict
        self.paper = paper_of(wish.paper)
        self.strips = laying_of(wish.strips)

    @cached_property
    def replayed(self) -> Replay:
        """The procedure replayed."""
        return replay(self.document, nominal=self.nominal)

    @cached_property
    def twin(self) -> Replay | None:
        """The same without scale, where that is not what is shown anyway."""
        return None if self.nominal else replay(self.document, nominal=True)

    def part(self, key: str, step: str = "") -> Offered:
        """Return what there is of one part, when made or after a step."""
        if step and not (step.isascii() and step.isdigit() and len(step) <= 4):
            raise FullSizeError(f"A step is asked for by its number, not {step[:40]!r}.")
        number = int(step) if step else None
        return offered(self.replayed, key, self.units, step=number, nominal=self.twin)

    @cached_property
    def parts(self) -> tuple[Offered, ...]:
        """What there is of every part."""
        after = dict(self.wish.after)
        return tuple(self.part(one.key, after.get(one.key, "")) for one in self.document.parts)

    @cached_property
    def chosen(self) -> tuple[Pattern, ...]:
        """The patterns to print."""
        keys = self.wish.patterns
        if keys is None:
            return tuple(one for part in self.parts for one in part.patterns if one.chosen)
        by_part: dict[str, list[str]] = {}
        for key in keys:
            part, _, pattern = key.partition(":")
            by_part.setdefault(part, []).append(pattern)
        known = {one.part.key: one for one in self.parts}
        for part in by_part:
            if self.strict and part not in known:
                raise FullSizeError(f"There is no part {part[:40]!r} in this procedure.")
        return tuple(
            one
            for key, part in known.items()
            for one in part.chosen(by_part.get(key, ()), strict=self.strict)
        )

    @cached_property
    def sheets(self) -> Sheets:
        """The sheets it takes, which may be too many."""
        return sheets_of(self.chosen, self.paper, self.strips)

    def printable(self) -> Sheets:
        """Return the sheets. Raises FullSizeError where there is nothing on them, or they are too many."""
        if not self.chosen:
            raise FullSizeError("Nothing is chosen: tick what to print.")
        if self.sheets.is_too_many:
            raise FullSizeError(f"{self.sheets_words} are too many to tape together. {MANY}")
        return self.sheets

    @property
    def sheets_words(self) -> str:
        """How many sheets of what, in words."""
        return f"{_sheets(len(self.sheets.sheets))} of {self.sheets.paper.title}"

    def choices(self) -> Iterator[ShownChoice]:
        """Yield every part with what there is to choose."""
        wanted = None if self.wish.patterns is None else set(self.wish.patterns)
        for one in self.parts:
            patterns = tuple(self._shown(one, pattern, wanted) for pattern in one.patterns)
            stage = one.stage
            steps = tuple(_steps(stage.replayed, stage.last, stage.number))
            part = one.part
            yield ShownChoice(part.key, part.name, stage.number, steps, patterns, stage.replayed.is_complete)

    def _shown(self, part: Offered, pattern: Pattern, wanted: set[str] | None) -> ShownPattern:
        key = f"{part.part.key}:{pattern.key}"
        count = len(sheets_of([pattern], self.paper, self.strips).sheets)
        chosen = pattern.chosen if wanted is None else key in wanted
        drawn = SafeString(preview_svg(pattern, pattern.title))  # the drawing code escapes
        return ShownPattern(key, pattern, chosen, _sheets(count), drawn)


MANY = (
    f"No more than {MOST_SHEETS} are printed. Take larger paper, lay the strips stacked, leave something "
    "out, or have it cut or plotted from its SVG or DXF."
)


def _sheets(count: int) -> str:
    return f"{count} sheet{'' if count == 1 else 's'}"


def _steps(replayed: PartReplay, last: int, chosen: int) -> Iterator[tuple[int, str, bool]]:
    yield 0, "The bar as it comes", chosen == 0
    for frame in replayed.frames[:last]:
        words = f"After step {frame.number}, {frame.title.lower()}"
        if frame.number == last and replayed.is_complete:
            words += ": when made"
        yield frame.number, words, frame.number == chosen


def wish_of(query: Mapping[str, str], patterns: Iterable[str], parts: Iterable[str]) -> Wish:
    """Return what a query asks for; with `ticked` it comes from the form, nothing ticked included."""
    after = tuple((key, query[f"after-{key}"]) for key in parts if query.get(f"after-{key}"))
    asked = tuple(dict.fromkeys(patterns))
    return Wish(
        query.get("paper", ""), query.get("strips", ""), after, asked if asked or "ticked" in query else None
    )
