"""Scarf: shape an end so that it laps another and welds without a step."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note, stop
from procedures.engine.operation import Example, Result, declare, worked_length
from procedures.engine.pieces.branch import Branch, End
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.segment import Segment
from procedures.engine.place_words import owner_words
from procedures.engine.shaping.checks import holes_worked, thin_end
from procedures.engine.shaping.ends import EndWorking, root_section, section_behind
from procedures.engine.shaping.scarfing import FACES, OPPOSITE, Face, leaning, scarfed_face, slope
from procedures.engine.sketch import Sketch

STYLES = {
    "lap": "lap: sloping on one face",
    "cleft": "cleft: a bird's mouth with two lips",
    "tee": "tee: the lip spread to go round",
    "chain": "chain: for the ends of a link",
}
_FLATTEST, _STEEPEST = 25.0, 50.0  # degrees
_USUAL_LIP = 2.0  # mm, the least that does not burn off: from memory
_THICK_LIP = 5.0  # mm that leaves a ledge in the weld: from memory
_UPSET = 1.05  # of the area of the bar behind, from which an end counts as upset: our judgement
_WELL_BEHIND = 3.0  # thicknesses behind the scarf where the bar is its own size: our judgement


class Scarf(EndWorking):
    """Slopes an end down to a lip; the bar used follows from its metal."""

    id = "scarf"
    title = "Scarf"
    family = "weld"
    help = (
        "Upset the end first, or the weld comes out thinner than the bar. The slope is a little convex, so"
        " that the middle touches first and the flux gets out."
    )
    synonyms = ("prepare a lap", "bevel", "tongue", "lap scarf", "bird-mouth")
    heat = (1000, 1150)
    usual_heats = (2, 1)
    tools = ("hammer and anvil edge, half-face blows", "fuller or peen to start it")
    helper = "above 25 mm"
    period = "forged, on an upset end"
    modern = "ground: it leaves no upset metal, so it is poor practice"
    safety = ("A thin lip sparkles and spits at a welding heat: wear eye protection.",)

    length: float = declare.length("Length of the slope", "One to two thicknesses is usual.")
    lip: float = declare.length("Lip", "How thick the very end is; each of two in a cleft.", default=3.0)
    style: str = declare.choice("Style", STYLES, default="lap")
    face: Face = declare.choice(
        "Slopes on",
        FACES,
        "The face across from it stays level. The two ends of a ring slope on opposite faces.",
        default="up",
    )
    width: float | None = declare.length(
        "Width at the lip",
        "As wide as the bar when left out; more for a tee, less for a link.",
        required=False,
    )
    mark: str = declare.name("Mark where it begins", "Put there for later steps.", default="shoulder")

    # -- what comes of it ------------------------------------------------------------------------

    @property
    def lies_flat(self) -> bool:
        """Whether it slopes through the thickness, not through the width."""
        return self.face in ("up", "down")

    def depth(self, root: Section) -> float:
        """Return the size [mm] of a bar in which it slopes."""
        return root.thickness if self.lies_flat else root.width

    def lip_section(self, root: Section) -> Section:
        """Return the section of the very end; both lips of a cleft together."""
        thick = 2 * self.lip if self.style == "cleft" else self.lip
        if self.lies_flat:
            return Section.flat(self.width or root.width, thick)
        return Section.flat(thick, self.width or root.thickness)

    def outcome(self, root: Section) -> tuple[Segment, ...]:
        lip = self.lip_section(root)
        if self.style == "cleft":
            return (Segment(root, lip, self.length),)
        return (leaning(root, lip, self.length, self._face_outward),)

    @property
    def _face_outward(self) -> Face:
        """The face as seen looking out of the end: at a start, left and right change places."""
        return OPPOSITE[self.face] if self.end == "start" and not self.lies_flat else self.face

    def too_short(self, branch: Branch, root: Section) -> Finding:
        return stop(
            "scarf.not_enough_bar",
            "A scarf {long:length} long holds more metal than {branch} does.",
            hint="Make it shorter.",
            long=self.length,
            branch=branch.said,
            field="length",
            source="geometry",
        )

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        yield from super().problems(piece)
        for name in piece.members(self.on):
            branch = piece.branch(name)
            root = root_section(branch, self.end, self.run(branch))
            lip = self.lip_section(root)
            thick = lip.thickness if self.lies_flat else lip.width
            if thick >= self.depth(root) or lip.area >= root.area:
                yield stop(
                    "scarf.does_not_slope",
                    "A lip of {lip:section} is no thinner than {root:section}: nothing slopes.",
                    hint="Make the lip thinner, or less wide.",
                    lip=lip,
                    root=root,
                    field="lip",
                    source="geometry",
                )

    def angle(self, root: Section) -> float:
        """Return the angle [deg] of the slope to the bar; of each cheek in a cleft."""
        deep = self.depth(root) / 2 if self.style == "cleft" else self.depth(root)
        return slope(deep, self.lip, self.length)

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        branch = before.branch(before.members(self.on)[0])
        root = root_section(branch, self.end, self.run(branch))
        angle = self.angle(root)
        if self.style != "cleft" and not _FLATTEST <= angle <= _STEEPEST:
            yield caution(
                "scarf.angle",
                "The slope is {angle:angle}; 25° to 50° laps well.",
                hint="Make it longer." if angle > _STEEPEST else "Make it shorter, or the lip thinner.",
                angle=angle,
                field="length",
                source="about 45°: Ilgen, Forge Work, 1912; about 30°: Drew, Farm Blacksmithing, 1918",
            )
        yield from thin_end(Section.square(self.lip), "lip")
        if self.lip > _THICK_LIP:
            yield caution(
                "scarf.thick_lip",
                "A lip {lip:size} thick leaves a ledge in the weld.",
                hint="Make it {least:size} to {most:size}.",
                lip=self.lip,
                least=_USUAL_LIP,
                most=_THICK_LIP,
                field="lip",
                source="5 mm from memory",
            )
        if not _is_upset(branch, self.end, root, self.run(branch).length):
            yield note(
                "scarf.not_upset",
                "The end is not upset, so the bar comes out thin beside the weld.",
                hint="Upset it by a third first.",
                field="on",
                source="Ilgen, Forge Work, 1912; Drew, Farm Blacksmithing, 1918",
            )
        other: End = "start" if self.end == "end" else "end"
        if self.style != "cleft" and scarfed_face(branch, other) == self.face:
            yield note(
                "scarf.same_face",
                "Both ends slope on {face}: closed to a ring they would not lap.",
                hint="For a ring let this one slope on {across}.",
                face=FACES[self.face],
                across=FACES[OPPOSITE[self.face]],
                field="face",
                source="geometry",
                mend={"face": OPPOSITE[self.face]},
            )
        yield from holes_worked(before, self.spans(before))

    # -- work ------------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        return self.worked_ends(piece, self.mark)

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        used = self.run(before.branch(before.members(self.on)[0])).length
        shape = {
            "lap": f"on {FACES[self.face]}",
            "cleft": "to a bird's mouth, split and spread to two lips",
            "tee": f"on {FACES[self.face]}, the lip peened out wide",
            "chain": f"on {FACES[self.face]}, its corners drawn in",
        }[self.style]
        return say(
            f"Scarf the {self.end} of {{on}} {shape}: {{long:length}} long to a lip of {{lip:size}}. "
            "Drive it back with half-face blows. It takes {used:length} of bar and gains {gain:length}.",
            on=owner_words(before, self.on),
            long=worked_length(after),
            lip=self.lip,
            used=used,
            gain=worked_length(after) - used,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        span = after.worked[0]
        root = section_behind(after.branch(span.branch), self.end, span)
        each = "each cheek" if self.style == "cleft" else "the slope"
        return say(
            f"{each.capitalize()} {{angle:angle}} to the bar and a little convex, lip {{lip:size}}",
            angle=self.angle(root),
            lip=self.lip,
        )

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for span in after.worked:
            sketch.highlight(span)
            sketch.length(span)

    examples = (
        Example(
            "□14, 20 long to a lip of 3: takes 12.1 of bar, gains 7.9, slopes 28.8°",
            before=bar(Section.square(14), 200, marks={"M": 100}),
            params={"on": "bar", "length": 20, "lip": 3},
            after=(
                Result(length=207.9, worked=20, end=Section.flat(14, 3), marks={"M": 100, "shoulder": 187.9}),
            ),
            says=("takes 12.1 mm of bar and gains 7.9 mm", "The slope 28.8° to the bar"),
            source="14 × (14 + 3) / 2 × 20 / 14² = 12.14; atan(11 / 20) = 28.8°",
        ),
        Example(
            "An upset end of □16, with scale on",
            before=bar(Section.square(16), 496),
            first=(
                (
                    "upset",
                    {
                        "where": {"on": "bar", "datum": "end", "length": 30},
                        "target": {"shape": "square", "side": 18},
                    },
                ),
            ),
            params={"on": "bar", "length": 24, "lip": 3},
            heats=1,
            scale=0.03,
            after=(Result(length=499.7, worked=24, end=Section.flat(17.94, 3)),),
            source="17.94 × (17.94 + 3) / 2 × 24 / 17.94² = 14.01 of the 23.7 upset; 489.7 + 24 - 14.01",
        ),
        Example(
            "The other end of a ring slopes on the opposite face",
            before=bar(Section.square(14), 300),
            first=(("scarf", {"on": "bar", "length": 20, "lip": 3, "face": "up"}),),
            params={"on": "bar", "end": "start", "length": 20, "lip": 3, "face": "down"},
            after=(Result(length=315.7, worked=20, start=Section.flat(14, 3), marks={"shoulder 2": 20}),),
        ),
        Example(
            "A tee's lip is spread",
            before=bar(Section.flat(20, 10), 200),
            params={"on": "bar", "length": 15, "lip": 2.5, "style": "tee", "width": 30},
            after=(Result(length=203.8, worked=15, end=Section.flat(30, 2.5)),),
            source="(200 + (20 × 2.5 + 30 × 10) / 2 + 75) / 3 × 15 / 200 = 11.25",
        ),
        Example(
            "A short steep slope with a thick lip is cautioned",
            before=bar(Section.square(20), 200),
            params={"on": "bar", "length": 8, "lip": 6},
            after=(Result(worked=8),),
            cautions=("scarf.angle", "scarf.thick_lip", "scarf.not_upset"),
        ),
        Example(
            "A lip as thick as the bar is refused",
            before=bar(Section.flat(20, 6), 200),
            params={"on": "bar", "length": 12, "lip": 6},
            refused=("scarf.does_not_slope",),
        ),
        Example(
            "A scarf with more metal than the bar is refused",
            before=bar(Section.square(14), 20),
            params={"on": "bar", "length": 40, "lip": 3},
            refused=("scarf.not_enough_bar",),
        ),
    )


def _is_upset(branch: Branch, end: End, root: Section, used: float) -> bool:
    """Whether the bar is thicker where a scarf begins than well behind it."""
    behind = used + _WELL_BEHIND * root.thickness
    at = branch.length - behind if end == "end" else behind
    return root.area > _UPSET * branch.section_at(min(max(at, 0.0), branch.length)).area
