"""Replaying a procedure: one frame a step, with the piece before and after and all there is to say.

A stop ends the replay of its part; the steps after it are kept and come out as not reached.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace

from calculators.sections import SectionError
from calculators.wording import say
from procedures.engine.parameters.params import ParamError, PartParam
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.rulebook import judged
from procedures.engine.shaping.steel_checks import heat_taken, usual_heat_burns

from .document import Document, Part, Step
from .finding import Finding, Level, Unworkable, stop
from .frames import Frame, PartReplay, Replay
from .mark_checks import marks_run_out
from .operation import Operation
from .scale import Estimate, ScaleHabit
from .scaling import Scaling
from .sketch import Sketch


def replay(
    document: Document,
    *,
    nominal: bool = False,
    estimate: Estimate = "typical",
    earlier: Replay | None = None,
) -> Replay:
    """Return the replay of a document; `nominal` leaves scale out of the reckoning.

    What this document has in common with that of an `earlier` replay, in the order of the steps, is taken
    from there and not reckoned again; the result is the same.
    """
    bench = _Bench(document, nominal, estimate, earlier)
    parts = tuple(bench.finished(one.key) for one in document.parts)
    return judged(Replay(document, nominal, estimate, parts))


def replay_part(
    document: Document, key: str, *, nominal: bool = False, estimate: Estimate = "typical"
) -> PartReplay:
    """Return the replay of one part and what it brings in, without the rules about the whole procedure.

    Raises KeyError where there is no such part.
    """
    return _Bench(document, nominal, estimate).finished(key)


def work(
    part: Part,
    step: Step,
    piece: Piece,
    *,
    number: int = 1,
    scale: ScaleHabit | None = None,
    estimate: Estimate = "typical",
) -> Frame:
    """Return the frame of one step on a piece, whose bench holds the parts that the step may bring in.

    Without `scale` none is reckoned with.
    """
    operation, fault = _built(step)
    frame = Frame(number, part, step, "not_reached", piece, piece, operation)
    if operation is None:
        return replace(frame, status="stopped", findings=(fault,) if fault else ())
    return _tried(frame, operation, piece, Scaling(scale, estimate))


class _Bench:
    """The parts as they get finished: each is replayed once, when it is first needed."""

    def __init__(
        self, document: Document, nominal: bool, estimate: Estimate, earlier: Replay | None = None
    ) -> None:
        self.document = document
        alike = earlier and (earlier.nominal, earlier.estimate, earlier.document.scale)
        self.earlier = earlier if alike == (nominal, estimate, document.scale) else None
        self.parts = {one.key: one for one in document.parts}
        self.nominal = nominal
        self.estimate = estimate
        self.done: dict[str, PartReplay] = {}
        self.under_way: set[str] = set()
        self.taken: Counter[str] = Counter()  # how many of each part steps took so far

    def finished(self, key: str) -> PartReplay:
        if key not in self.done:
            part = self.parts[key]
            self.under_way.add(key)
            self.done[key] = self._replay(part)
            self.under_way.discard(key)
        return self.done[key]

    def _replay(self, part: Part) -> PartReplay:
        old = self.earlier.part(part.key) if self.earlier else None
        if old and old.part == part and not any(_brings_in(one) for one in part.steps):
            return old.by_itself()
        piece = start = bar(part.section, part.length, name=part.key, material=part.material)
        frames = self._in_common(part)
        if frames:
            piece = frames[-1].after
        for number, step in enumerate(part.steps[len(frames) :], start=len(frames) + 1):
            blocked = bool(frames) and frames[-1].status != "done"
            frame = self._frame(number, part, step, piece, blocked=blocked)
            frames.append(frame)
            piece = frame.after
        return PartReplay(part, start, tuple(frames))

    def _in_common(self, part: Part) -> list[Frame]:
        """Return the earlier frames that hold for this part: those before the first change of it.

        They end where a step brings in another part, since that one may have changed.
        """
        old = self.earlier.part(part.key) if self.earlier else None
        same = old and (old.part.section, old.part.length, old.part.material)
        if old is None or same != (part.section, part.length, part.material):
            return []
        kept = []
        for frame, step in zip(old.frames, part.steps, strict=False):
            if frame.step != step or _brings_in(step):
                break
            kept.append(replace(frame.by_itself(), part=part))
        return kept

    def _frame(self, number: int, part: Part, step: Step, piece: Piece, *, blocked: bool) -> Frame:
        operation, fault = _built(step)
        frame = Frame(number, part, step, "not_reached", piece, piece, operation)
        if blocked:
            return replace(frame, findings=(fault,) if fault else ())
        if operation is None or fault:
            return replace(frame, status="stopped", findings=(fault,) if fault else ())
        try:
            piece = replace(piece, bench=self._others(operation))
            self._check_enough(part, operation, piece)
        except Unworkable as refused:
            finding = refused.finding.on_field(_place_field(operation))
            return replace(frame, status="stopped", findings=(finding,))
        frame = _tried(frame, operation, piece, self._habit())
        if frame.status == "done":
            self.taken.update(_times(operation.uses(piece), part.quantity))
        return frame

    def _check_enough(self, part: Part, operation: Operation, piece: Piece) -> None:
        """Refuse a step that takes more of another part than are made, for all pieces of this part."""
        for key, count in _times(operation.uses(piece), part.quantity).items():
            made, needed = self.parts[key].quantity, self.taken[key] + count
            if needed > made:
                raise Unworkable(
                    stop(
                        "part.used_up",
                        "By this step {needed:count} of part {key} are needed, and {made:count} made.",
                        hint="Make {needed:count} of it, or use fewer.",
                        needed=needed,
                        key=key,
                        made=made,
                        field=_part_field(operation, key),
                    )
                )

    def _habit(self) -> Scaling:
        return Scaling(None if self.nominal else self.document.scale, self.estimate)

    def _others(self, operation: Operation) -> Mapping[str, Piece]:
        """Return the finished parts that an operation names, by key. Raises Unworkable."""
        others = {}
        for name, param in operation.params().items():
            if isinstance(param, PartParam):
                key = getattr(operation, name)
                if key is not None:
                    others[key] = self._other(key, name)
        return others

    def _other(self, key: str, field_name: str) -> Piece:
        if key not in self.parts:
            have = ", ".join(self.parts)
            raise Unworkable(
                stop(
                    "part.unknown",
                    "There is no part {key}.",
                    hint="Parts: {have}.",
                    have=have,
                    key=key,
                    field=field_name,
                )
            )
        if key in self.under_way:
            raise Unworkable(
                stop(
                    "part.loop",
                    "Part {key} cannot be brought in here: it waits for this part itself.",
                    hint="Let one of the two be made without the other.",
                    key=key,
                    field=field_name,
                )
            )
        other = self.finished(key)
        if not other.is_complete:
            raise Unworkable(
                stop(
                    "part.not_finished",
                    "Part {key} is not finished: one of its own steps is stopped.",
                    hint="Mend that part first.",
                    key=key,
                    field=field_name,
                )
            )
        return other.final


def _built(step: Step) -> tuple[Operation | None, Finding | None]:
    """Return the operation of a step, or the stop that says why its parameters do not read."""
    try:
        return step.build(), None
    except ParamError as error:
        code = "step.incomplete" if step.kind else "step.unknown_operation"
        field_name = str(error.path[0]) if error.path else ""
        return None, stop(code, "{what}", what=error.message, field=field_name)


def _tried(frame: Frame, operation: Operation, piece: Piece, habit: Scaling) -> Frame:
    """Return the frame of a step that is done, or stopped with the reason."""
    try:
        return _worked(frame, operation, replace(piece, worked=()), habit)
    except SectionError as fault:
        finding = stop("step.no_such_section", "{fault}", fault=str(fault), source="geometry")
        return replace(frame, status="stopped", findings=(finding,))
    except Unworkable as refused:
        finding = refused.finding.on_field(_place_field(operation))
        return replace(frame, status="stopped", findings=(finding,))


def _worked(frame: Frame, operation: Operation, piece: Piece, habit: Scaling) -> Frame:
    """Return the frame of a step that is done, or stopped by its own checks. Raises Unworkable."""
    spans = operation.spans(piece)
    problems = tuple(operation.problems(piece))
    frame = replace(frame, worked=spans, findings=problems)
    if any(one.level == Level.STOP for one in problems):
        return replace(frame, status="stopped")
    heated = piece.spans(frame.step.heated) if frame.step.heated else operation.heated(piece)
    hot = habit.take(piece, operation, frame.step, heated)
    if too_thin := _stopped_by_scale(operation, piece, hot):
        return replace(frame, status="stopped", findings=(*problems, *too_thin))
    soft, taken = heat_taken(operation, hot, heated)
    after = operation.transform(replace(soft, worked=()))
    _keep_ledger(after, operation)
    sketch = Sketch()
    operation.draw(sketch, piece, after)
    return replace(
        frame,
        status="done",
        before=piece,
        hot=hot,
        after=after,
        worked=operation.spans(hot),  # a range solved from a volume follows the metal left by the scale
        heated=heated,
        findings=(
            *problems,
            *(one for one in operation.cautions(piece, after) if one.holds_with(frame.step.heats)),
            *usual_heat_burns(operation, piece, heated),
            *taken,
            *marks_run_out(piece, after),
        ),
        repeats=operation.repeats(piece),
        instruction=operation.instruction(hot, after),
        check=operation.check(hot, after),
        sketch=sketch,
    )


def _stopped_by_scale(operation: Operation, cold: Piece, hot: Piece) -> tuple[Finding, ...]:
    """Return the stops of a step that only the metal left by its own scale cannot do."""
    if hot is cold:
        return ()
    return tuple(
        replace(one, hint=say("That is what the scale of this step leaves. {hint}", hint=one.hint or ""))
        for one in operation.problems(hot)
        if one.level == Level.STOP
    )


def _keep_ledger(piece: Piece, operation: Operation) -> None:
    """Refuse a transform that makes or loses metal without a line for it: that is a fault of the code."""
    whole = piece.start_volume + piece.received + sum(abs(one.volume) for one in piece.losses)
    if abs(piece.imbalance) > 1e-6 * whole:
        raise AssertionError(f"{operation.id} lost {piece.imbalance:.6g} mm³ without saying where.")


def _brings_in(step: Step) -> bool:
    """Whether a step brings in another part, which may have changed when the step did not."""
    return step.kind is not None and step.kind.brings_in()


def _times(uses: Mapping[str, int], quantity: int) -> dict[str, int]:
    return {key: count * quantity for key, count in uses.items()}


def _part_field(operation: Operation, key: str) -> str:
    """Return the parameter that names a part."""
    parts = (name for name, one in operation.params().items() if isinstance(one, PartParam))
    return next((name for name in parts if getattr(operation, name) == key), "")


def _place_field(operation: Operation) -> str:
    """Return the parameter that most likely named a place that is not there."""
    places = {"place", "position", "positions", "branch"}
    return next((name for name, param in operation.params().items() if param.kind in places), "")


__all__ = ["Frame", "PartReplay", "Replay", "replay", "replay_part", "work"]
