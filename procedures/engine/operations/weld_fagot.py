"""Fagot weld: weld a pile of leaves into one bar."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from calculators.sections import Section
from calculators.wording import Sentence, say
from procedures.engine.finding import Finding, caution, stop
from procedures.engine.operation import Example, Operation, Result, declare, worked_length
from procedures.engine.pieces.branch import Branch, Mark, in_order, share_at
from procedures.engine.pieces.piece import Joint, Piece, bar
from procedures.engine.pieces.place import Point, Span
from procedures.engine.pieces.segment import uniform
from procedures.engine.place_words import owner_words
from procedures.engine.shaping.bringing import one_branch, other_part
from procedures.engine.shaping.checks import end_taken, in_the_way, no_such_bar, plain_bar
from procedures.engine.shaping.dressing import origin_of
from procedures.engine.shaping.hanging import free_names
from procedures.engine.shaping.holes import holes_between
from procedures.engine.shaping.welding_checks import (
    CODED,
    FLUX,
    fire_welds,
    heat_band,
    thin_by_weld,
    too_little_metal,
    unlike_steels,
)

_LAYERS = 5  # from which cold places hide between fluxed edges: from memory
_UNEVEN = 0.05  # of its length by which a leaf may differ from the others: our judgement


class WeldFagot(Operation):
    """Forge-welds this bar with leaves of other parts piled on it, and dresses the pile to one section."""

    id = "weld_fagot"
    title = "Fagot weld"
    family = "weld"
    help = (
        "Give the leaves and the section; the length follows from their metal. One bar folded on itself is a"
        " fold to be welded."
    )
    synonyms = ("faggot weld", "faggoting", "pile weld", "billet weld", "pile", "fagoting", "pattern weld")
    heat = (1250, 1300)
    usual_heats = (0, 0)
    usual_welding_heats = 3
    tools = ("binding wire", "flux", "clean deep fire", "hammer and anvil face")
    power_tools = ("power hammer, the first passes light and flat",)
    helper = "to strike, or a power hammer"
    period = "how bar was made from scrap, and edges from steel and iron"
    modern = "solid bar"
    safety = (FLUX, "A pile that opens in the fire throws its leaves: wire it at both ends.", CODED)

    on: str = declare.branch("On", "The bar that the leaves are piled on.")
    part: str = declare.part("Leaves", "The other part, finished before this step.")
    count: int = declare.number("How many", "Leaves of that part.", default=2, least=1, most=50, whole=True)
    core: str | None = declare.part(
        "Core", "One leaf of another part in the middle, such as steel between iron.", required=False
    )
    dressed: Section = declare.section("Dressed section", "What the pile measures when done.")
    loss: float = declare.number(
        "Lost in the weld",
        "Beside scale: slag squeezed out and burnt edges; 3 to 8 % with scrap.",
        default=0,
        least=0,
        most=50,
        unit="%",
    )

    # -- what there is ---------------------------------------------------------------------------

    def spans(self, piece: Piece) -> tuple[Span, ...]:
        branch = one_branch(piece, self.on)
        return (Span(branch.name, 0.0, branch.length),)

    def uses(self, piece: Piece) -> Mapping[str, int]:
        core = {self.core: 1} if self.core else {}
        return {**core, self.part: self.count + core.get(self.part, 0)}

    def brought(self, piece: Piece) -> Mapping[str, tuple[Span, ...]]:
        keys = [self.part, *([self.core] if self.core else [])]
        roots = {key: other_part(piece, key).root for key in keys}
        return {key: (Span(root.name, 0.0, root.length),) for key, root in roots.items()}

    def leaves(self, piece: Piece) -> list[tuple[str, Branch]]:
        """Return the leaves piled on the bar, each with the key of its part. Raises Unworkable."""
        core = [(self.core, other_part(piece, self.core, "core").root)] if self.core else []
        return [(self.part, other_part(piece, self.part).root)] * self.count + core

    # -- checks ----------------------------------------------------------------------------------

    def problems(self, piece: Piece) -> Iterator[Finding]:
        (span,) = self.spans(piece)
        own = piece.branch(span.branch)
        yield from self._plain(piece, own, "on")
        for key, field in ((self.part, "part"), (self.core, "core")):
            if key:
                other = other_part(piece, key, field)
                yield from fire_welds(piece, other, field=field)
                yield from self._plain(other, other.root, field)
                if len(other.branches) > 1:
                    yield stop(
                        "weld_fagot.not_a_leaf",
                        "The {part} has branches: a leaf of a pile is plain bar.",
                        hint="Name a part that is plain bar.",
                        part=key,
                        field=field,
                        source="geometry",
                    )
        yield from no_such_bar(own, span, self.dressed, "dressed")
        pile = [own, *(leaf for _, leaf in self.leaves(piece))]
        there = sum(one.volume / one.length for one in pile)
        yield from too_little_metal(self.dressed, there)

    def _plain(self, piece: Piece, branch: Branch, field: str) -> Iterator[Finding]:
        span = Span(branch.name, 0.0, branch.length)
        for found in plain_bar(branch, span):
            yield replace(found, field=field)
        yield from end_taken(piece, branch.name, "start", field)
        yield from end_taken(piece, branch.name, "end", field)
        yield from in_the_way(piece, branch, span, field, holes=holes_between(branch, span))

    def cautions(self, before: Piece, after: Piece) -> Iterator[Finding]:
        leaves = self.leaves(before)
        own = before.branch(after.worked[0].branch)
        layers = 1 + len(leaves)
        if layers > _LAYERS:
            yield caution(
                "weld_fagot.many_layers",
                "{layers:count} layers at once: between fluxed edges cold places do not show.",
                hint="Weld {most:count} at most, then pile those.",
                layers=layers,
                most=_LAYERS,
                field="count",
                source="from memory",
            )
        lengths = [own.length, *(leaf.length for _, leaf in leaves)]
        if min(lengths) < (1 - _UNEVEN) * max(lengths):
            yield caution(
                "weld_fagot.uneven",
                "The leaves are {short:length} to {long:length} long: where one ends the pile is thin.",
                hint="Cut them alike.",
                short=min(lengths),
                long=max(lengths),
                field="part",
                source="geometry",
            )
        yield from thin_by_weld(own, Span(own.name, 0.0, own.length))
        for key in dict.fromkeys(key for key, _ in leaves):
            other = other_part(before, key)
            yield from unlike_steels(before.material, other.material, "part" if key == self.part else "core")
        yield from heat_band(before.material, self.heat)

    # -- work ------------------------------------------------------------------------------------

    def transform(self, piece: Piece) -> Piece:
        own = one_branch(piece, self.on)
        leaves = self.leaves(piece)
        more = sum(leaf.volume for _, leaf in leaves)
        lost = (own.volume + more) * self.loss / 100
        length = (own.volume + more - lost) / self.dressed.area
        pile = [own, *(leaf for _, leaf in leaves)]
        origin = tuple(one for leaf in pile for one in origin_of(leaf, 0.0, leaf.length))
        weld = replace(uniform(self.dressed, length), origin=origin)
        marks = [_along(one, own, length) for one in own.marks]
        for key, leaf in leaves:
            names = free_names([one.name for one in leaf.marks], {one.name for one in marks}, key)
            marks += [replace(_along(one, leaf, length), name=names[one.name]) for one in leaf.marks]
        # what a chamfer or a dish took or gave is in the volume of the pile, and gone to the eye
        new = replace(own, segments=(weld,), marks=in_order(marks, length), features=())
        joint = Joint("fagot_weld", (Point(own.name, length / 2),), f"{self.part} weld", self.part)
        piece = piece.with_branch(new).carrying(own.name, lambda at: length * share_at(own.segments, at))
        piece = replace(piece, received=piece.received + more, joints=(*piece.joints, joint))
        return replace(piece.losing("weld", lost), worked=(Span(own.name, 0.0, length),))

    def instruction(self, before: Piece, after: Piece) -> Sentence:
        core = say(", one of the {core} in the middle", core=self.core) if self.core else say("")
        return say(
            "Pile {leaves} of the {part} on {on}{core}, wire the pile, weld it from the middle outwards and "
            "dress it to {dressed:section}: it comes to {long:length}.",
            leaves="one" if self.count == 1 else say("{count:count}", count=self.count),
            part=self.part,
            on=owner_words(before, self.on),
            core=core,
            dressed=self.dressed,
            long=worked_length(after),
        )

    def check(self, before: Piece, after: Piece) -> Sentence:
        return say(
            "{dressed:section} along {long:length}, and no line along the edges at a dark red",
            dressed=self.dressed,
            long=worked_length(after),
        )

    examples = (
        Example(
            "Three leaves of 30 × 5 × 100 dressed to 30 × 14: 107.1 long",
            before=bar(
                Section.flat(30, 5),
                100,
                marks={"A": 50},
                bench={"leaf": bar(Section.flat(30, 5), 100, name="leaf", marks={"A": 20})},
            ),
            params={
                "on": "bar",
                "part": "leaf",
                "count": 2,
                "dressed": {"shape": "flat", "width": 30, "thickness": 14},
            },
            after=(
                Result(
                    length=107.1,
                    worked=107.1,
                    section=Section.flat(30, 14),
                    marks={"A": 53.57, "leaf A": 21.43, "leaf A 2": 21.43},
                ),
            ),
            lost=0,
            source="3 × 15 000 / 420 = 107.14",
        ),
        Example(
            "At 5 % lost in the weld: 101.8",
            before=bar(Section.flat(30, 5), 100, bench={"leaf": bar(Section.flat(30, 5), 100, name="leaf")}),
            params={
                "on": "bar",
                "part": "leaf",
                "count": 2,
                "loss": 5,
                "dressed": {"shape": "flat", "width": 30, "thickness": 14},
            },
            after=(Result(length=101.8),),
            lost=17.66,
            source="107.14 × 0.95 = 101.79; 45 000 × 0.05 mm³",
        ),
        Example(
            "With three welding heats every leaf scales",
            before=bar(Section.flat(30, 5), 100, bench={"leaf": bar(Section.flat(30, 5), 100, name="leaf")}),
            params={
                "on": "bar",
                "part": "leaf",
                "count": 2,
                "dressed": {"shape": "flat", "width": 30, "thickness": 12},
            },
            welding_heats=3,
            weld_scale=0.1,
            after=(Result(length=107.8),),
            lost=48.61,
            source="29.4 × 4.4 after 3 × 0.1 mm a face: 3 × 12 936 / 360 = 107.8; 3 × 2064 mm³ lost",
        ),
        Example(
            "Steel between two leaves of iron",
            before=bar(
                Section.flat(30, 6),
                150,
                bench={
                    "iron": bar(Section.flat(30, 6), 150, name="iron", material_id="wrought_iron"),
                    "steel": bar(Section.flat(30, 4), 150, name="steel", material_id="high_carbon"),
                },
                material_id="wrought_iron",
            ),
            params={
                "on": "bar",
                "part": "iron",
                "count": 1,
                "core": "steel",
                "dressed": {"shape": "flat", "width": 30, "thickness": 16},
            },
            after=(Result(length=150),),
            cautions=("weld.unlike_steels", "weld.heat_band"),
            source="(180 + 180 + 120) × 150 / 480",
        ),
        Example(
            "Eight leaves at once hide cold places",
            before=bar(Section.flat(30, 5), 100, bench={"leaf": bar(Section.flat(30, 5), 80, name="leaf")}),
            params={
                "on": "bar",
                "part": "leaf",
                "count": 7,
                "dressed": {"shape": "flat", "width": 30, "thickness": 33},
            },
            after=(Result(length=100),),
            cautions=("weld_fagot.many_layers", "weld_fagot.uneven"),
            source="(15 000 + 7 × 12 000) / 990 = 100",
        ),
        Example(
            "A section that the pile cannot fill is refused",
            before=bar(Section.flat(30, 5), 100, bench={"leaf": bar(Section.flat(30, 5), 100, name="leaf")}),
            params={
                "on": "bar",
                "part": "leaf",
                "count": 1,
                "dressed": {"shape": "flat", "width": 30, "thickness": 14},
            },
            refused=("weld.too_little_metal",),
        ),
    )


def _along(mark: Mark, leaf: Branch, length: float) -> Mark:
    """Return a mark of a leaf where its metal comes to lie in the pile, `length` mm long when welded."""
    if mark.holds == "start":
        return mark
    if mark.holds == "end":
        return replace(mark, at=length - (leaf.length - mark.at))
    return replace(mark, at=length * share_at(leaf.segments, mark.at))
