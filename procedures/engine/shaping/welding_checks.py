"""Checks that the welds share: heat, thickness, overlap, enough metal. Codes `weld.<what>`."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.materials import Material
from calculators.sections import Section
from procedures.engine.finding import Finding, Unworkable, caution, note, stop
from procedures.engine.pieces.branch import Branch, End
from procedures.engine.pieces.path import Spiral
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.segment import TOUCH
from procedures.engine.pieces.zones import around

from .checks import LEAST_LAP, WELD_NEAR, WELD_THIN, hollow_metal, no_metal
from .scarfing import FACES, OPPOSITE, scarfed_face

CODED = (
    "Welds that lift, carry people or hold a building up are for coded welders: nothing here certifies one."
)
FLUX = "Flux and slag spray at the first blow: eyes and onlookers behind a shield."
ROOM = 1.02  # how far a dressed area may exceed what lies there, as sections are measured: from memory
UPSET = 1.05  # of the area, from which an end counts as upset: our judgement
LIGHTER = 0.7  # of the metal per surface, from which one part is hot much sooner: our judgement
_SLOPE = 3.0  # thicknesses that a scarf is long at most; one to two are usual: common practice, no source
ALIKE = 0.1  # % of carbon by which two steels may differ and still weld as one: from memory


def heat_band(material: Material, heat: tuple[float, float] | None) -> Iterator[Finding]:
    """Warn of a material that welds at another heat than the usual one for mild steel."""
    if material.welding is None:
        return
    low, high = material.welding
    if heat is not None and not heat[0] <= (low + high) / 2 <= heat[1]:
        yield caution(
            "weld.heat_band",
            "{material} welds at {low:temperature} to {high:temperature}, and burns at {burns:temperature}.",
            hint="Go by the colour for this steel, not by that for mild steel.",
            material=material.title,
            low=low,
            high=high,
            burns=material.burns_at,
            source="welding heats from memory",
        )


def fire_welds(*pieces: Piece, field: str) -> Iterator[Finding]:
    """Stop a weld of a metal that does not weld in the fire."""
    for material in dict.fromkeys(one.material for one in pieces):
        if material.welding is None:
            yield stop(
                "weld.not_in_the_fire",
                "{material} cannot be welded in the fire.",
                hint="Rivet it, or join it with a collar or a screw.",
                material=material.title,
                field=field,
                source="what its author says of it",
            )


def unlike_steels(own: Material, other: Material, field: str) -> Iterator[Finding]:
    """Warn of two metals that do not weld at one heat."""
    if abs(own.carbon - other.carbon) > ALIKE:
        yield caution(
            "weld.unlike_steels",
            "{own} is welded to {theirs}: they weld at different heats.",
            hint="Weld at the lower heat and keep the one with more carbon cooler.",
            own=own.title,
            theirs=other.said,
            field=field,
            source="common practice, no source",
        )


def unequal_mass(own: Branch, zone: Span, other: Branch, far: Span, part: str) -> Iterator[Finding]:
    """Point out that one of the two comes to its heat before the other, by metal per surface."""
    here, there = (_modulus(one, run) for one, run in ((own, zone), (other, far)))
    if min(here, there) < LIGHTER * max(here, there):
        yield note(
            "weld.unequal_mass",
            "{light} is hot before {heavy} is: the two do not come to a welding heat together.",
            hint="Put {light} into the fire later.",
            light=f"the {part}" if there < here else own.said,
            heavy=own.said if there < here else f"the {part}",
            source="common practice; 0.7 is our judgement",
        )


def _modulus(branch: Branch, span: Span) -> float:
    run = branch.segments_between(span.low, span.high)
    return sum(one.modulus * one.length for one in run) / span.length


def too_little_metal(dressed: Section, there: float, field: str = "dressed") -> Iterator[Finding]:
    """Stop a weld dressed to a section that is more than the metal lying there, by its mean area [mm²]."""
    if dressed.area > ROOM * there:
        yield stop(
            "weld.too_little_metal",
            "{dressed:section} is {wanted:area}; what lies there together is {there:area}.",
            hint="Dress it smaller, or upset before welding.",
            dressed=dressed,
            wanted=dressed.area,
            there=there,
            field=field,
            source="geometry; 2 % from memory",
        )


def not_upset(branch: Branch, zones: tuple[Span, ...], field: str) -> Iterator[Finding]:
    """Point out ends that were not upset: the bar comes out thin beside the weld."""
    if not any(is_upset(branch, one) for one in zones):
        yield note(
            "weld.not_upset",
            "{branch} is not upset there, so it comes out thin beside the weld.",
            hint="Upset by a quarter to a third before scarfing.",
            branch=branch.said,
            field=field,
            source="Ilgen, 1912; Drew, 1918; Stokes, Intermediate blacksmithing, 1992",
        )


def is_upset(branch: Branch, zone: Span) -> bool:
    """Whether the metal of a zone is anywhere thicker than the bar beside it."""
    beside = around(branch, zone.low, zone.high, max(zone.length, 1.0))
    behind = [
        branch.volume_between(low, high) / (high - low)
        for low, high in ((beside.low, zone.low), (zone.high, beside.high))
        if high - low > TOUCH
    ]
    return not behind or branch.largest_between(zone.low, zone.high).area > UPSET * min(behind)


def opposite_scarfs(branch: Branch, field: str) -> Iterator[Finding]:
    """Stop a ring whose two ends are scarfed on the same face: they do not lap."""
    face = scarfed_face(branch, "end")
    if face is not None and scarfed_face(branch, "start") == face:
        yield stop(
            "weld.scarfs_alike",
            "Both ends of {branch} slope on {face}: closed to a ring they do not lap.",
            hint="Let one of the two scarfs slope on {across}.",
            branch=branch.said,
            face=FACES[face],
            across=FACES[OPPOSITE[face]],
            field=field,
            source="geometry",
        )


def not_scarfed(branch: Branch, ends: tuple[End, ...], field: str) -> Iterator[Finding]:
    """Point out ends that are lapped as the saw left them: their step stands out and the lap stays open."""
    blunt = [end for end in ends if scarfed_face(branch, end) is None]
    if blunt:
        yield note(
            "weld.not_scarfed",
            "The {ends} of {branch} {are} not scarfed: the lap leaves a step, and its edge stays open.",
            hint="Scarf it first, or weld it thick and draw the lap down.",
            ends=" and the ".join(blunt),
            branch=branch.said,
            are="is" if len(blunt) == 1 else "are",
            field=field,
            source="Ilgen, Forge Work, 1912",
        )


def hot_end(branch: Branch, end: End, length: float, field: str) -> Span:
    """Return the run of a length [mm] at an end. Raises Unworkable where it holds none or too little."""
    if length > branch.length + TOUCH:
        raise Unworkable(
            stop(
                "weld.zone_too_long",
                "A hot zone of {zone:length} is more than {branch} has: {long:length}.",
                hint="Take a shorter zone.",
                zone=length,
                branch=branch.said,
                long=branch.length,
                field=field,
                source="geometry",
                mend={field: branch.length},
            )
        )
    length = min(length, branch.length)
    if length < TOUCH:
        raise Unworkable(
            stop(
                "weld.no_zone",
                "A hot zone of {zone:length} on {branch} holds no metal to weld.",
                hint="Take a longer zone.",
                zone=length,
                branch=branch.said,
                field=field,
                source="geometry",
            )
        )
    if end == "end":
        return Span(branch.name, branch.length - length, branch.length)
    return Span(branch.name, 0.0, length)


def mean_area(branch: Branch, zone: Span) -> float:
    """Return the mean area [mm²] of a zone."""
    return branch.volume_between(zone.low, zone.high) / zone.length


def weldable(branch: Branch, zone: Span, field: str) -> Iterator[Finding]:
    """Stop a weld of metal that is hollow or not there; it may be bent, which its heat takes out."""
    yield from hollow_metal(branch, zone, field)
    yield from no_metal(branch, zone)


def thin_by_weld(branch: Branch, span: Span) -> Iterator[Finding]:
    """Warn of metal too thin for a welding heat in the weld, and of finished work close to it."""
    thickness = _thinnest(branch, span)
    if thickness < WELD_THIN:
        yield caution(
            "weld.thin",
            "{branch} is only {thickness:size} thick in the weld: it burns before it welds.",
            hint="Keep {least:size} there, or upset it first.",
            branch=branch.said,
            thickness=thickness,
            least=WELD_THIN,
            source="4 mm from memory",
        )
    near = around(branch, span.low, span.high, WELD_NEAR)
    beyond = branch.segments_between(near.low, span.low) + branch.segments_between(span.high, near.high)
    fine = (min(one.start.thickness, one.end.thickness, one.start.width, one.end.width) for one in beyond)
    if any(isinstance(one.path, Spiral) for one in beyond) or min(fine, default=WELD_THIN) < WELD_THIN:
        yield caution(
            "weld.finished_part_near",
            "A thin or finished part of {branch} lies within {near:length} of the weld.",
            hint="Weld first and finish it afterwards, or keep it cool with water.",
            branch=branch.said,
            near=WELD_NEAR,
            source="60 mm from memory",
        )


def _thinnest(branch: Branch, span: Span) -> float:
    """Return the least thickness [mm] in a weld; the slope of a scarf, at the end of a bar, is let be."""
    run = branch.segments_between(span.low, span.high)
    sections = [section for one in run for section in (one.start, one.end)]
    lengths = [one.length for one in run]
    first = _of_a_scarf(sections, lengths) if span.low < TOUCH else 0
    last = _of_a_scarf(sections[::-1], lengths[::-1]) if span.high > branch.length - TOUCH else 0
    kept = sections[first : len(sections) - last] or sections
    return min(min(one.thickness, one.width) for one in kept)


def _of_a_scarf(sections: list[Section], lengths: list[float]) -> int:
    """Return how many of the sections from an end on, two a segment, lie on the slope of a scarf there."""
    thick = max(min(one.thickness, one.width) for one in sections)
    along, count = 0.0, 0
    for index, length in enumerate(lengths):
        along += length
        slopes = sections[2 * index].area < sections[2 * index + 1].area
        if not slopes or along > _SLOPE * thick:
            break
        count = 2 * index + 1  # where the slope ends is bar again
    return count


def short_lap(lap: float, thickness: float, field: str) -> Iterator[Finding]:
    """Warn of a weld whose faces overlap too little."""
    if lap < LEAST_LAP * thickness:
        yield caution(
            "weld.short_lap",
            "The faces can overlap by {lap:length} at most; a weld wants {wanted:length}.",
            hint="Make it at least {times:number} times the thickness.",
            lap=lap,
            wanted=LEAST_LAP * thickness,
            times=LEAST_LAP,
            field=field,
            source="1.5 thicknesses from memory",
        )
