"""Tapers that several features share: a run made thinner toward one side, and the metal it holds."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.pieces.segment import Segment

from .feature import THIN, Phase
from .setting import NEARLY, Setting, Work


def volume_of(first: Section, last: Section, length: float) -> float:
    """Return the metal in a run from one section to another [mm³]."""
    return Segment(first, last, length).volume


def base_of_taper(setting: Setting, thick: Section) -> Section:
    """Return what the metal of a taper is brought to first: the bar, or its thick end where that is more."""
    return thick if thick.area > NEARLY * setting.bar.area else setting.bar


def tapered(
    setting: Setting,
    thick: Section,
    thin: Section,
    side: str,
    *,
    present: Section,
    phase: Phase,
    field: str,
) -> Work:
    """Return the step that tapers a run; `side` is where it gets thin, `present` what the bar is there."""
    params = {"where": setting.run(), "end_section": thin.to_json(), "thin_end": side}
    if not thick.is_close(present):
        params["start_section"] = thick.to_json()
    return Work(phase, "taper", params, {"end_section": field, "where": field})


def end_tapered(setting: Setting, tip: Section | None) -> Iterator[Work]:
    """Yield the taper of an end to its tip, from the section it stands on; none where no tip is said."""
    if tip is None:
        return
    fine = min(tip.thickness, tip.width) < THIN
    phase = Phase.FINE if fine else Phase.DRAW
    present = base_of_taper(setting, setting.root)
    yield tapered(setting, setting.root, tip, setting.tip, present=present, phase=phase, field="tip")


def tip_too_thick(setting: Setting, tip: Section | None) -> Iterator[tuple[str, Sentence]]:
    """Yield why a tip is none: it is not thinner than what it stands on."""
    if tip is not None and tip.area >= setting.root.area:
        yield (
            "tip",
            say(
                "A tip of {tip:section} is not thinner than {root:section}: thin it, or leave it out.",
                tip=tip,
                root=setting.root,
            ),
        )
