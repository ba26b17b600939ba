"""A finished part as described, its features from one end to the other, and where each stands on the bar."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from string import ascii_uppercase

from calculators.materials import MATERIALS, Material
from calculators.sections import Section
from procedures.engine.scale import ScaleHabit

from .feature import THIN, Feature
from .setting import Setting

MOST_FEATURES = 24
KERF = 2.0  # mm a saw takes: from memory


@dataclass(frozen=True)
class Description:
    """The features in order; `bar` is what it is forged from, left out: the thickest section said.

    `kerf` [mm] is what the saw takes that cuts it off the bar; 0 for a bar that is there in its length.
    """

    features: tuple[Feature, ...]
    bar: Section | None = None
    title: str = "From a drawing"
    quantity: int = 1
    kerf: float = KERF
    material: Material = MATERIALS["mild_steel"]
    scale: ScaleHabit = field(default_factory=ScaleHabit)


@dataclass(frozen=True)
class Layout:
    """A description laid out on its bar: where each feature stands. `metal` are those that take bar."""

    description: Description
    bar: Section
    settings: tuple[Setting, ...]

    @property
    def features(self) -> tuple[Feature, ...]:
        """The features in order."""
        return self.description.features

    @property
    def metal(self) -> tuple[int, ...]:
        """The numbers of the features that take a length of bar, in order."""
        return tuple(number for number, one in enumerate(self.features) if one.takes_bar)


def settings_of(
    features: Sequence[Feature], bar: Section, unmarked: frozenset[int] = frozenset()
) -> Iterator[Setting]:
    """Yield where each feature stands, of features that stand where they can.

    `unmarked` are those whose beginning no step is measured from: they have no letter.
    """
    faces = _faces(features, bar)
    metal = [number for number, one in enumerate(features) if one.takes_bar]
    letters = _letters(len(metal))
    names = {n: f"({n})" if n in unmarked else next(letters) for n in metal[1:]}  # where each begins
    made: dict[int, Setting] = {}
    for number, one in enumerate(features):
        before = max((n for n in metal if n < number), default=None)
        after = min((n for n in metal if n > number), default=None)
        left = faces[before][1] if before is not None else None
        right = faces[after][0] if after is not None else None
        if one.takes_bar:
            first, last = faces[number]
            low, high = names.get(number, ""), names.get(after, "") if after is not None else ""
            beside = (left or right) if one.inherits else None
            root = one.states or beside or bar
            made[number] = Setting(number, bar, root, first, last, low, high)
        elif one.kind == "at":
            assert before is not None
            host = made[before]
            fine = _is_fine(features[before], host)
            made[number] = Setting(
                number, bar, host.root, host.first, host.last, host.low, host.high, host, fine
            )
        else:
            assert before is not None
            assert after is not None
            mark = names[after]
            made[number] = Setting(number, bar, left or bar, left or bar, right or bar, mark, mark)
        yield made[number]


def thickest(features: Sequence[Feature]) -> Section | None:
    """Return the thickest section that is said of a run, or None."""
    stated = [one.states for one in features if one.states is not None and one.id != "knob"]
    return max(stated, key=lambda one: one.area, default=None)


def _is_fine(feature: Feature, setting: Setting) -> bool:
    """Whether a run is worked among the fine parts."""
    return min(one.thickness for one in (setting.first, setting.last)) < THIN


def _letters(count: int) -> Iterator[str]:
    """Yield names of marks: A to Z, then A2 and so on."""
    for number in range(count):
        letter = ascii_uppercase[number % 26]
        yield letter if number < 26 else f"{letter}{number // 26 + 1}"


def _faces(features: Sequence[Feature], bar: Section) -> list[tuple[Section, Section]]:
    """Return the sections of every feature at its two sides; the bar where nothing says another."""
    metal = [number for number, one in enumerate(features) if one.takes_bar]
    found: list[tuple[Section, Section] | None] = [
        (bar, bar) if not one.inherits and one.states is None else None for one in features
    ]
    for _ in range(len(features) + 1):
        for place, number in enumerate(metal):
            if found[number] is not None:
                continue
            before = found[metal[place - 1]] if place else None
            after = found[metal[place + 1]] if place + 1 < len(metal) else None
            found[number] = _face(
                features[number],
                before[1] if before else None,
                after[0] if after else None,
                known_before=not place or before is not None,
            )
    return [one or (bar, bar) for one in found]


def _face(
    one: Feature, before: Section | None, after: Section | None, *, known_before: bool
) -> tuple[Section, Section] | None:
    """Return the sections of a feature at its two sides; None while what comes before is not known."""
    if one.states is None and not known_before:
        return None
    return one.faces(before, after)
