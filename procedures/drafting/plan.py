"""The steps of a layout in order, and the document they make for so much bar a feature."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from calculators.sections import Section
from procedures.engine.catalogue import catalogue
from procedures.engine.document import Document, Part, Step
from procedures.engine.frames import PartReplay
from procedures.engine.mend import Mend, MoveStep, SetStep

from .description import Layout
from .feature import THIN, Phase
from .seen import Seen
from .setting import NEARLY, PART, Work, between

CUT, MARK = "cut", "mark"


_BURNT = 1.06  # times: begun with too little, what is rolled up would reach into the run beside it


@dataclass(frozen=True)
class Planned:
    """A step to come, its key, and the feature it is of."""

    key: str
    number: int
    work: Work


@dataclass(frozen=True)
class Plan:
    """A layout with its steps; `order` are their keys where they were moved, `fields` what was set."""

    layout: Layout
    order: tuple[str, ...] = ()
    fields: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)

    # -- the bar each takes ----------------------------------------------------------------------

    def guesses(self) -> dict[int, float]:
        """Return about how much bar each feature takes, or where it lies [mm], by its number."""
        found = {}
        for number, one in enumerate(self.layout.features):
            setting = self.layout.settings[number]
            if one.takes_bar:
                found[number] = one.volume(setting) / self.layout.bar.area
                found[number] *= _BURNT if one.kind == "end" else 1.0
            elif one.kind == "at":
                found[number] = one.long(setting)
        return found

    def misses(self, part: PartReplay, taken: Mapping[int, float]) -> dict[int, float]:
        """Return by how much each came out too long or too far [mm]."""
        return {
            number: self.layout.features[number].miss(self.layout.settings[number], self.seen(part, number))
            for number in taken
        }

    def seen(self, part: PartReplay, number: int) -> Seen:
        """Return a replay seen from one feature."""
        own = {one.step.operation: one for one in part.frames if one.key.startswith(f"f{number}-")}
        return Seen(part, self.layout.settings[number], own)

    # -- the steps -------------------------------------------------------------------------------

    def planned(self, taken: Mapping[int, float]) -> list[Planned]:
        """Return the steps in order, without cutting off and marking out."""
        found = list(self._brought(taken))
        for number in range(len(self.layout.features)):
            works = enumerate(self._works(number, taken))
            found += [Planned(f"f{number}-{index}", number, work) for index, work in works]
        found.sort(key=lambda one: one.work.phase)
        if not self.order:
            return found
        places = {key: place for place, key in enumerate(self.order)}
        return sorted(found, key=lambda one: places[one.key])

    def _works(self, number: int, taken: Mapping[int, float]) -> Iterator[Work]:
        return self.layout.features[number].works(self.layout.settings[number], taken.get(number, 0.0))

    def _brought(self, taken: Mapping[int, float]) -> Iterator[Planned]:
        """Yield the steps that bring runs of the bar to other sections, one for all that lie together."""
        layout = self.layout
        metal = layout.metal
        bases = [layout.features[number].base(layout.settings[number]) for number in metal]
        begin = 0
        for end in range(1, len(metal) + 1):
            if end < len(metal) and bases[end].is_close(bases[begin]):
                continue
            if not bases[begin].is_close(layout.bar):
                low = layout.settings[metal[begin]].low
                high = layout.settings[metal[end - 1]].high
                fillet = self._shoulder((metal[begin], metal[end - 1]))
                work = brought_to(layout.bar, bases[begin], between(low, high), fillet)
                own = (one.phase for n in metal[begin:end] for one in self._works(n, taken))
                work = replace(work, phase=min(work.phase, *(phase - 1 for phase in own), work.phase))
                yield Planned(f"b{metal[begin]}", metal[begin], work)
            begin = end

    def _shoulder(self, ends: tuple[int, int]) -> float | None:
        """Return the fillet of a shoulder beside a run of features; None where there is none."""
        first, last = ends
        for number, one in enumerate(self.layout.features):
            beside = number == last + 1 or (number < first and number == first - 1)
            if one.id == "shoulder" and beside:
                return float(one.fillet)  # type: ignore[attr-defined]
        return None

    # -- the document ----------------------------------------------------------------------------

    def document(self, taken: Mapping[int, float], *, bare: bool = False) -> Document:
        """Return the document for so much bar; `bare` leaves out the marks that no step uses."""
        layout = self.layout
        description = layout.description
        planned = self.planned(taken)
        long = sum(taken[number] for number in layout.metal)
        steps = [self._cut(long)] if description.kerf else []
        marks = self._marks(taken)
        if bare:
            used = self.marks_used(taken)
            marks = [one for one in marks if one["name"] in used]
        if marks:
            steps.append(Step(MARK, "mark_out", {"marks": marks}))
        steps += [self._step(one) for one in planned]
        part = Part(
            PART,
            "Piece",
            layout.bar,
            long + description.kerf,
            description.material,
            quantity=description.quantity,
            steps=tuple(replace(one, **self.fields.get(one.key, {})) for one in steps),
        )
        return Document(description.title, (part,), scale=description.scale)

    def _step(self, one: Planned) -> Step:
        kind = catalogue()[one.work.operation]
        return Step(
            one.key,
            one.work.operation,
            one.work.params,
            version=kind.version,
            heats=kind.usual_heats[1],
            welding_heats=kind.usual_welding_heats,
        )

    def _cut(self, long: float) -> Step:
        at = {"on": PART, "datum": "start", "offset": long}
        return Step(CUT, "cut_off", {"at": at, "kerf": self.layout.description.kerf})

    def _marks(self, taken: Mapping[int, float]) -> list[dict[str, Any]]:
        """Return where each run begins on the bar as it comes."""
        found, at = [], 0.0
        for number in self.layout.metal:
            if name := self.layout.settings[number].low:
                found.append({"name": name, "on": PART, "datum": "start", "offset": at})
            at += taken[number]
        return found

    def marks_used(self, taken: Mapping[int, float]) -> set[str]:
        """Return the names of the marks that steps are measured from."""
        return {name for one in self.planned(taken) for name in _marks_of(one.work.params)}

    # -- mending ---------------------------------------------------------------------------------

    def mended(self, mend: Mend, taken: Mapping[int, float]) -> Plan:
        """Return the plan with a mend of the rules made: steps moved, or their heats and tongs set."""
        order = [one.key for one in self.planned(taken)]
        fields = dict(self.fields)
        for change in mend.changes:
            if isinstance(change, SetStep):
                fields[change.step] = {**fields.get(change.step, {}), **change.fields}
            elif isinstance(change, MoveStep) and {change.step, change.other} <= set(order):
                order.remove(change.step)
                order.insert(order.index(change.other) + (change.side == "after"), change.step)
        return replace(self, order=tuple(order), fields=fields)


def brought_to(bar: Section, target: Section, where: Mapping[str, Any], fillet: float | None) -> Work:
    """Return the step that brings a run of a bar to another section."""
    params = {"where": where, "target": target.to_json()}
    fields = {"target": "section", "where": "length"}
    if target.area > NEARLY * bar.area:
        return Work(Phase.UPSET, "upset", params, fields)
    fine = min(target.width, target.thickness) < THIN
    phase = Phase.FINE if fine else Phase.DRAW
    if target.shape == "flat" and target.width > bar.width and target.thickness < bar.thickness:
        flat = {"where": where, "thickness": target.thickness, "width": target.width}
        return Work(phase, "flatten", flat, {"thickness": "section", "width": "section", "where": "length"})
    if fillet is not None:
        return Work(phase, "shoulder", {**params, "fillet": fillet}, fields)
    return Work(phase, "draw_out", params, fields)


def _marks_of(value: Any) -> Iterator[str]:
    """Yield the names of the marks that stored parameters are measured from."""
    if isinstance(value, Mapping):
        if "on" in value and "datum" in value:
            yield from (value[key] for key in ("mark", "mark_to") if value.get(key))
        else:
            for one in value.values():
                yield from _marks_of(one)
    elif isinstance(value, list | tuple):
        for one in value:
            yield from _marks_of(one)
