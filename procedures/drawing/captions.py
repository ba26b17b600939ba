"""What is written at a bend, a hole or the like, in the reader's units."""

from __future__ import annotations

from calculators.sections import Section
from calculators.wording import UnitSystem
from procedures.engine.pieces.feature import NOT_HOLES, Feature

from .curve_notes import CurveNote
from .lettering import bare, section_words, spaced

_CLOSE = 0.05  # mm: a fold of less inside radius is one
_WHOLE = 359.5  # degrees from which a bend is a ring
_DEPTHS = {"groove": "deep", "dish": "deep", "collar": "thick"}


def curve_words(note: CurveNote, units: UnitSystem) -> str:
    """Return what is written at a bend, a scroll or a twist."""
    if note.kind == "bend" and note.angle > 170 and (note.inside or 0.0) < _CLOSE:
        return "folded close"
    if note.kind == "bend" and note.angle > _WHOLE and note.inside:
        return f"ø{bare(2 * note.inside, units)} inside"
    if note.kind == "corner" and not note.inside:
        return f"{spaced(units.angle(note.angle))} sharp"
    if note.kind in ("bend", "corner"):
        return f"R{bare(note.inside or 0.0, units)}  {spaced(units.angle(note.angle))}"
    if note.spiral is not None:
        small, large = sorted((note.spiral.first, note.spiral.last))
        return f"R{bare(small, units)}–R{bare(large, units)}  {_turns(note.spiral.turns, units)}"
    hand = "right" if note.turns > 0 else "left"
    return f"{_turns(abs(note.turns), units)} {hand}-hand"


def _turns(count: float, units: UnitSystem) -> str:
    quarters = round(count * 4)
    if quarters and abs(count * 4 - quarters) < 1e-6:
        whole, rest = divmod(quarters, 4)
        said = f"{whole or ''}{('', '¼', '½', '¾')[rest]}"
    else:
        said = units.number(round(count, 2))
    return f"{said} turn{'' if count <= 1 else 's'}"


def hole_words(feature: Feature, units: UnitSystem) -> str:
    """Return what is written at a hole, a groove or the like, besides its name."""
    if feature.kind == "slit":
        return f"slit {bare(feature.length, units)}"
    if feature.kind == "chamfer":
        return f"chamfer {bare(feature.depth, units)}"
    if not feature.is_hole:
        kind = NOT_HOLES[feature.kind]
        kind = "" if kind.split()[-1] in feature.name else kind
        if feature.kind == "wrap":
            return f"{units.number(feature.turns)} turns of ø{bare(feature.depth, units)}"
        if feature.kind == "dish":
            kind = f"{section_words(Section.round(feature.width), units)},"
        deep = f"{bare(feature.depth, units)} {depth_word(feature)}" if feature.depth else ""
        return " ".join(one for one in (kind, deep) if one)
    if feature.shape == "round":
        return section_words(Section.round(feature.width), units)
    return section_words(Section.flat(feature.length, feature.width), units)


def depth_word(feature: Feature) -> str:
    """Return how the depth of a feature is said: what is pressed in is deep, what stands on the bar high."""
    return _DEPTHS.get(feature.kind, "high")
