"""Collar: clasp bars together with a short hot band."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calculators.formulas.collar_length import LAP, closing_length, shrinkage
from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, note, stop
from procedures.engine.operation import Example, Result, declare
from procedures.engine.phrases import listed
from procedures.engine.pieces.branch import Feature
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Point
from procedures.engine.place_words import points_words
from procedures.engine.shaping.bringing import other_part
from procedures.engine.shaping.bundling import Bundle, Bundling
from procedures.engine.shaping.checks import name_taken
from procedures.engine.shaping.hanging import hung, numbered
from procedures.engine.shaping.holes import free_names
from procedures.engine.sketch import Sketch

_LOOSE = 1.01  # of the length that closes, above which it never grips: from memory
_BUTT_RULE, _LAP_RULE = 2.0, 2.5  # thicknesses beside the perimeter: the shortest that the trade cuts
_RIDGE = 1.0  # collar widths from a weld, within which its ridge lies under it: our judgement


class Collar(Bundling):
    """Sets a hot collar round bars that lie together; it shrinks on as it cools."""

    id = "collar"
    holder = "band"
    title = "Collar"
    family = "weld"
    help = (
        "The length to cut closes round the bundle without stretching, by volume. The trade cuts it up to a"
        " thickness shorter, and lets the hammer draw it shut."
    )
    synonyms = ("band", "clip", "clasp", "hot collar", "collaring", "set a collar")
    one_of = (("section", "band"),)
    heat = (950, 1100)
    usual_heats = (1, 1)
    tools = ("collar tongs", "collar swage or mandrel", "hammer")
    helper = "to hold the bars together"
    period = "the ordinary joint of ornamental work"
    modern = "arc tack hidden inside; said so on the record"
    safety = ("A collar closes on fingers: tongs only.", "The bars beside it take its heat: they burn later.")

    section: Section | None = declare.section(
        "Collar's bar", "Width along the bars, thickness round them; its metal comes in.", required=False
    )
    band: str | None = declare.part("Collar made as a part", "One for each place.", required=False)
    length: float | None = declare.length(
        "Cut length", "What closes round the bundle when left out.", required=False
    )
    ends: str = declare.choice(
        "Ends", {"butted": "butted", "lapped": "lapped, one and a half thicknesses"}, default="butted"
    )
    closed_at: float = declare.number(
        "Closed at", "Heat of the collar when it is closed.", default=850, least=20, most=1200, unit="°C"
    )
    name: str = declare.name("Name", "Several are numbered.", default="collar")

    # -- the collar ------------------------------------------------------------------------------

    def bar_of(self, piece: Piece) -> Section:
        """Return the section of the collar's bar. Raises Unworkable."""
        if self.section is not None:
            return self.section
        assert self.band is not None  # one of the two is always given
        root = other_part(piece, self.band, "band").root
        return root.section_at(root.length / 2)

    def closing(self, piece: Piece, bundle: Bundle) -> float:
        """Return the length that closes round a bundle [mm]. Raises Unworkable."""
        made = self.bar_of(piece)
        laps = LAP if self.ends == "lapped" else 0.0
        return closing_length(bundle.around, made.thickness, made.centroid_share, laps)

    def cut_length(self, piece: Piece, bundle: Bundle) -> float:
        """Return how long the collar is cut [mm]. Raises Unworkable."""
        if self.band is not None:
            return other_part(piece, self.band, "band").root.length
        return self.closing(piece, bundle) if self.length is None else self.length

    def metal(self, piece: Piece, bundle: Bundle) -> float:
        """Return the metal of a collar [mm³]. Raises Unworkable."""
        if self.band is not None:
            return other_part(piece, self.band, "band").volume
        return self.bar_of(piece).area * self.cut_length(piece, bundle)

    def reach(self, piece: Piece) -> float:
        return self.bar_of(piece).width / 2

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        made = self.bar_of(piece)
        if made.area <= 0 or made.bore:
            yield stop(
                "collar.no_bar",
                "{section:section} is no bar for a collar.",
                hint="Give a flat or a half-round.",
                section=made,
                field="section",
                source="geometry",
            )
        if self.band is not None and self.length is not None:
            yield stop(
                "collar.length_of_the_band",
                "The {part} is {long:length} long as it is made.",
                hint="Leave the length out.",
                part=self.band,
                long=other_part(piece, self.band, "band").root.length,
                field="length",
                mend={"length": None},
                source="geometry",
            )
        if self.part:
            yield from name_taken(piece, numbered(piece, self.part, len(self.points(piece))), "part")
        yield from self.fits_round(piece)

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        point = self.points(before)[0]
        bundle = self.bundled(before, point)
        long, closes = self.cut_length(before, bundle), self.closing(before, bundle)
        field = "band" if self.band else "length"
        thickness = self.bar_of(before).thickness
        rule = bundle.around + (_LAP_RULE if self.ends == "lapped" else _BUTT_RULE) * thickness
        if long > _LOOSE * closes:
            yield caution(
                "collar.loose",
                "{long:length} is more than closes round the bundle, {closes:length}: it stays loose.",
                hint="Cut it to {rule:length} to {closes:length}.",
                long=long,
                closes=closes,
                rule=rule,
                field=field,
                source="1 % from memory",
            )
        elif long < rule / _LOOSE:
            yield caution(
                "collar.short",
                "{long:length} does not meet: the shortest that is cut for this bundle is {rule:length}.",
                hint="Cut it to {rule:length} to {closes:length}.",
                long=long,
                closes=closes,
                rule=rule,
                field=field,
                source="The Blacksmith's Craft and Sims, 2 thicknesses; Whitaker, 2½ lapped",
            )
        yield from self.touching(before)
        yield from self._ridge(before)
        if len(self.sections(before, point)) == 1:
            yield note(
                "collar.on_one_bar",
                "Only one bar is clasped: it is an ornament.",
                hint="Name what else it holds, if it holds anything.",
                field="others",
                source="geometry",
            )

    def _ridge(self, before: Piece) -> Iterator[Finding]:
        width = self.bar_of(before).width
        for point in self.points(before):
            welds = [one for one in before.joints if one.is_weld]
            if any(abs(at - point.at) < _RIDGE * width for one in welds for at in one.on(point.branch)):
                yield caution(
                    "collar.over_a_weld",
                    "A weld of {branch} lies under the collar.",
                    hint="Dress its ridge first, or move the collar.",
                    branch=before.branch(point.branch).said,
                    field="where",
                    source="common practice, no source",
                )
                return

    # -- work ------------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        points = self.points(piece)
        bundles = [self.bundled(piece, one) for one in points]
        held = [self.held(piece, one) for one in points]
        names: tuple[str, ...] = ()
        if self.part:
            holds = [self.hold(piece, one) for one in points]
            piece, names = hung(piece, other_part(piece, self.part), holds, self.part)
        for index, (point, bundle) in enumerate(zip(points, bundles, strict=True)):
            piece = self._clasped(piece, point, bundle, held[index], names[index : index + 1])
        worked = tuple(self.covered(piece, one) for one in points)
        return replace(piece, worked=worked)

    def _clasped(
        self, piece: Piece, point: Point, bundle: Bundle, held: list[Point], names: tuple[str, ...]
    ) -> Piece:
        made, metal = self.bar_of(piece), self.metal(piece, bundle)
        (name,) = free_names(piece.branch(point.branch), self.name, 1)
        wide = bundle.width + 2 * made.thickness
        feature = Feature(
            "collar", name, point.at, "rectangle", made.width, wide, metal, depth=made.thickness
        )
        piece = replace(piece.featured(point.branch, feature), received=piece.received + metal)
        return self.joined(piece, "collar", name, [point, *held], names)

    # -- words and drawing -----------------------------------------------------------------------

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        bundle = self.bundled(before, self.points(before)[0])
        what = (
            say("the {band} as a collar", band=self.band)
            if self.band
            else say(
                "a collar of {length:length} of {section:section}",
                length=self.cut_length(before, bundle),
                section=self.section,
            )
        )
        return say(
            "Close {what}, {ends}, round {bars} at {places}: in one heat, {heat:temperature} or above.",
            what=what,
            ends=self.ends,
            bars=listed(self.bars(before)),
            places=points_words(before, self.where),
            heat=self.closed_at,
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        bundle = self.bundled(before, self.points(before)[0])
        return say(
            "tight when cold: it shrinks {shrink:size} on {around:length} round",
            shrink=shrinkage(bundle.around, self.closed_at),
            around=bundle.around,
        )

    def draw(self, sketch: Sketch, before: Piece, after: Piece) -> None:
        for span in after.worked:
            sketch.highlight(span)
            sketch.point(Point(span.branch, (span.low + span.high) / 2), self.name)

    examples = (
        Example(
            "Two □12 with a butted collar of 20 × 4: 84.6 of it",
            before=bar(Section.square(12), 300, bench={"rod": bar(Section.square(12), 200, name="rod")}),
            params={
                "where": [{"on": "bar", "datum": "centre"}],
                "part": "rod",
                "section": {"shape": "flat", "width": 20, "thickness": 4},
            },
            after=(Result(length=300, worked=20), Result("rod", length=200)),
            lost=0,
            says=("84.6 mm of 20 × 4 mm", "shrinks 0.79 mm on 72 mm round"),
            source="2 × (24 + 12) + π × 4 = 84.57; 72 × 1.1 % at 850 °C after EN 1993-1-2",
        ),
        Example(
            "Lapped: 90.6",
            before=bar(Section.square(12), 300, bench={"rod": bar(Section.square(12), 200, name="rod")}),
            params={
                "where": [{"on": "bar", "datum": "centre"}],
                "part": "rod",
                "section": {"shape": "flat", "width": 20, "thickness": 4},
                "ends": "lapped",
            },
            after=(Result("rod", length=200),),
            says=("90.6 mm of 20 × 4 mm",),
            source="84.57 + 1.5 × 4",
        ),
        Example(
            "Half-round bar round the two arms of a split",
            before=bar(Section.flat(20, 16), 300),
            first=(
                (
                    "split",
                    {"where": {"on": "bar", "datum": "end", "offset": 150}, "children": ["left", "right"]},
                ),
            ),
            params={
                "where": [{"on": "left", "datum": "centre"}],
                "others": ["right"],
                "section": {"shape": "half_round", "width": 12},
            },
            after=(Result("left", length=150, worked=12),),
            says=("88 mm of half-round 12",),
            source="2 × (20 + 16) + 2π × 0.424 × 6 = 88.0",
        ),
        Example(
            "Collars made as a part, one at each of two marks, lose their scale",
            before=bar(
                Section.square(12),
                300,
                marks={"A": 100, "B": 200},
                bench={"clip": bar(Section.flat(20, 4), 60, name="clip")},
            ),
            params={
                "where": [
                    {"on": "bar", "datum": "mark", "mark": "A"},
                    {"on": "bar", "datum": "mark", "mark": "B"},
                ],
                "band": "clip",
            },
            heats=1,
            scale=0.05,
            after=(Result(length=300),),
            lost=2.25,
            cautions=("collar.on_one_bar",),
            source="2 × 60 × (80 - 19.9 × 3.9) mm³",
        ),
        Example(
            "A collar too long never grips",
            before=bar(Section.square(12), 300, bench={"rod": bar(Section.square(12), 200, name="rod")}),
            params={
                "where": [{"on": "bar", "datum": "centre"}],
                "part": "rod",
                "section": {"shape": "flat", "width": 20, "thickness": 4},
                "length": 88,
            },
            after=(Result(length=300),),
            cautions=("collar.loose",),
        ),
        Example(
            "A collar too short does not meet",
            before=bar(Section.square(12), 300, bench={"rod": bar(Section.square(12), 200, name="rod")}),
            params={
                "where": [{"on": "bar", "datum": "centre"}],
                "part": "rod",
                "section": {"shape": "flat", "width": 20, "thickness": 4},
                "length": 76,
            },
            after=(Result(length=300),),
            cautions=("collar.short",),
        ),
        Example(
            "A bundle smaller than its bars is refused",
            before=bar(Section.square(12), 300, bench={"rod": bar(Section.square(12), 200, name="rod")}),
            params={
                "where": [{"on": "bar", "datum": "centre"}],
                "part": "rod",
                "section": {"shape": "flat", "width": 20, "thickness": 4},
                "bundle": {"shape": "square", "side": 12},
            },
            refused=("collar.bundle_too_small",),
        ),
        Example(
            "A branch is not clasped to itself",
            before=bar(Section.square(12), 300),
            params={
                "where": [{"on": "bar", "datum": "centre"}],
                "others": ["bar"],
                "section": {"shape": "flat", "width": 20, "thickness": 4},
            },
            refused=("collar.own_branch",),
        ),
    )
