"""Heads at the end of a shank: their forms, each reckoned as segments that hold its metal exactly."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from calculators.formulas.head_stock import dome_top, rough_across_flats, rough_height
from calculators.sections import Section
from procedures.engine.finding import Finding, stop
from procedures.engine.pieces.segment import Segment, uniform

FORMS = {
    "square": "square",
    "hexagon": "hexagon",
    "round": "round, flat on top",
    "dome": "round and domed",
    "rose": "rose: four facets to a low point",
    "countersunk": "countersunk: a cone with a flat top",
    "tee": "tee: a bar across",
}
PRISMS = ("square", "hexagon", "round")  # the same all the way up, so their top edge can be chamfered
ROUGH = ("square", "hexagon")  # for which the trade has proportions


@dataclass(frozen=True, slots=True)
class HeadForm:
    """A head: its form, its size across (flats, diameter or length of a tee) and height [mm].

    `thickness` [mm] is that of a tee across the bar, the shank's own where None; `chamfer` [mm] is at 45°
    round the top. Size and height of a square or hexagon follow from the shank where they are None.
    """

    form: str
    size: float | None = None
    height: float | None = None
    thickness: float | None = None
    chamfer: float = 0.0

    def across(self, shank: Section) -> float:
        """Return its size across [mm] on a shank."""
        return self.size if self.size is not None else rough_across_flats(max(shank.width, shank.thickness))

    def high(self, shank: Section) -> float:
        """Return its height [mm] on a shank."""
        return self.height if self.height is not None else rough_height(self.across(shank))

    def section(self, shank: Section) -> Section:
        """Return its section where it is widest."""
        across = self.across(shank)
        if self.form in ("square", "rose"):
            return Section.square(across)
        if self.form == "hexagon":
            return Section.hexagon(across)
        if self.form == "tee":
            return Section.flat(across, self.thickness or shank.thickness)
        return Section.round(across)

    def segments(self, shank: Section) -> tuple[Segment, ...]:
        """Return it from the shank outwards.

        A dome is told as the cone frustum of its foot, height and metal; a rose head as a pyramid.
        """
        section, height = self.section(shank), self.high(shank)
        if self.form == "dome":
            return (Segment(section, Section.round(dome_top(section.width, height)), height),)
        if self.form == "rose":
            return (Segment(section, Section.point(), height),)
        if self.form == "countersunk":
            return (Segment(shank, section, height),)
        if not self.chamfer:
            return (uniform(section, height),)
        top = Segment(section, section.receded(self.chamfer), self.chamfer)
        return uniform(section, height - self.chamfer), top

    def problems(self, shank: Section) -> Iterator[Finding]:
        """Yield what forbids the head on a shank of this section."""
        yield from self._not_said()
        if (self.size is None or self.height is None) and self.form not in ROUGH:
            return
        section, height = self.section(shank), self.high(shank)
        smaller = section.width < shank.width or section.thickness < shank.thickness
        if smaller or section.area <= shank.area:
            yield stop(
                "head.no_larger",
                "A head of {section:section} does not stand out over its shank, {shank:section}.",
                hint="Make it larger, or draw the shank down first.",
                section=section,
                shank=shank,
                field="size",
                source="geometry",
            )
        if self.form == "dome" and height > section.width / 2:
            yield stop(
                "head.dome_too_high",
                "A dome {across:size} across is at most {most:size} high: that is half a ball.",
                hint="Make it lower, or wider.",
                across=section.width,
                most=section.width / 2,
                field="height",
                source="geometry",
                mend={"height": section.width / 2},
            )
        if self.chamfer and self.chamfer >= min(height, section.thickness / 2):
            yield stop(
                "head.chamfer_too_large",
                "A chamfer of {chamfer:size} leaves nothing of a head {height:size} high.",
                hint="Give less than {most:size}.",
                chamfer=self.chamfer,
                height=height,
                most=min(height, section.thickness / 2),
                field="chamfer",
                source="geometry",
            )

    def _not_said(self) -> Iterator[Finding]:
        """Yield the sizes that are wanted and not given, or given and not wanted."""
        for name in ("size", "height"):
            if getattr(self, name) is None and self.form not in ROUGH:
                yield stop(
                    "head.size_missing",
                    "This form of head has no rough proportions: it needs its {what}.",
                    hint="Give it, or choose a square or hexagon head.",
                    what="size across" if name == "size" else "height",
                    field=name,
                    source="geometry",
                )
        unused = {"thickness": self.thickness is not None and self.form != "tee"}
        unused["chamfer"] = bool(self.chamfer) and self.form not in PRISMS
        for name, given in unused.items():
            if given:
                yield stop(
                    "head.size_not_used",
                    "A {form} head has no {what}.",
                    hint="Leave it out, or choose another form.",
                    form=self.form,
                    what=name,
                    field=name,
                    source="geometry",
                )
