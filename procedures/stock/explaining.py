"""Why a target cannot be had from any stock, and what stays as it is while the stock changes: in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from calculators.wording import Sentence, say
from procedures.engine.finding import Unworkable
from procedures.engine.frames import Frame, PartReplay
from procedures.engine.parameters.place_params import NamedPosition
from procedures.engine.pieces.piece import Piece
from procedures.engine.pieces.place import Place
from procedures.engine.place_words import range_words

from .solving import EXACT, NoStock, Trial
from .target import Target


@dataclass(frozen=True, slots=True)
class Hindrance:
    """Why there is no such stock; `step` is the key and `number` that of the step that prevents it."""

    said: Sentence
    hint: Sentence | None = None
    step: str = ""
    number: int = 0


def hindrance(fault: NoStock, target: Target, what: Sentence) -> Hindrance:
    """Return why a target cannot be had by changing `what`."""
    trials = [one for one in fault.trials if one.replayed]
    if fault.why == "fixed" and len(trials) >= 2:
        return _fixed(trials[0], trials[-1], target, what)
    stopped = next((one for one in reversed(trials) if one.stop), None)
    if fault.why == "stopped" and stopped is not None:
        return _stopped(stopped, fault.last, target, what)
    if fault.why == "stopped" and trials:
        return Hindrance(say("That size is not there on the finished piece."))
    if fault.why == "limit":
        return Hindrance(say("No size that can be typed is large or small enough for it: {what}.", what=what))
    return Hindrance(say("The size jumps past what is asked for as {what} changes.", what=what))


def _stopped(trial: Trial, last: Trial | None, target: Target, what: Sentence) -> Hindrance:
    assert trial.stop is not None
    frame, finding = trial.stop
    said = say(
        "{what} would have to be about {value:length}, and then step {number:count}, {title}, is stopped:"
        " {why}",
        what=_sentence_case(what),
        value=trial.value,
        number=frame.number,
        title=frame.title.lower(),
        why=finding.message,
    )
    if last is None or last.measured is None:
        return Hindrance(said, finding.hint, frame.key, frame.number)
    hint = say(
        "The nearest that can be worked is {value:length}, which gives {size}.",
        value=last.value,
        size=target.amount(last.measured),
    )
    return Hindrance(said, hint, frame.key, frame.number)


def _fixed(one: Trial, two: Trial, target: Target, what: Sentence) -> Hindrance:
    assert one.replayed is not None
    assert two.replayed is not None
    frame = fixing_step(one.replayed, two.replayed, target)
    if frame is None:
        return Hindrance(say("It does not depend on {what}.", what=what))
    said = say(
        "It does not depend on {what}: step {number:count}, {title}, settles it by what it is given.",
        what=what,
        number=frame.number,
        title=frame.title.lower(),
    )
    hint = say("Solve for what that step is given.")
    return Hindrance(said, hint, frame.key, frame.number)


def fixing_step(one: PartReplay, two: PartReplay, target: Target) -> Frame | None:
    """Return the step that gives the target one size on both replays, though their bars differ."""
    if target.step:
        return next((frame for frame in one.frames if frame.key == target.step), None)
    found = None
    for before, after in zip(one.frames, two.frames, strict=False):
        if before.status != "done" or after.status != "done":
            break
        if not _alike(target, before.before, after.before) and _alike(target, before.after, after.after):
            found = before
    return found


def _alike(target: Target, one: Piece, two: Piece) -> bool:
    """Whether the target is there and as large on two pieces."""
    first, second = target.on(one), target.on(two)
    return first is not None and second is not None and abs(first - second) <= 10 * EXACT


def _sentence_case(what: Sentence) -> Sentence:
    return Sentence(what.template[:1].upper() + what.template[1:], what.values)


# -- what stays --------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Kept:
    """What a step is given by length and keeps, whatever the bar: "the last 60 mm of the bar"."""

    number: int
    title: str
    said: Sentence


def kept(part: PartReplay) -> Iterator[Kept]:
    """Yield every range, place and mark that is given by its distance, and so stays while the bar changes."""
    for frame in part.frames:
        if frame.operation is None or frame.status != "done":
            continue
        for name in frame.operation.params():
            for said in _given(frame, getattr(frame.operation, name)):
                yield Kept(frame.number, frame.title, said)


def _given(frame: Frame, value: object) -> Iterator[Sentence]:
    if isinstance(value, Place) and (value.length is not None or value.offset):
        try:
            yield range_words(frame.before, value)
        except Unworkable:
            return
    if isinstance(value, tuple):
        for one in value:
            if isinstance(one, NamedPosition):
                yield _mark(one)


def _mark(one: NamedPosition) -> Sentence:
    position = one.position
    datum = {"mark": f"mark {position.mark}", "centre": "the middle"}.get(
        position.datum, f"the {position.datum}"
    )
    if not position.offset:
        return say("mark {name} at {datum} of {on}", name=one.name, datum=datum, on=position.on)
    return say(
        "mark {name}, {offset:length} from {datum} of {on}",
        name=one.name,
        offset=position.offset,
        datum=datum,
        on=position.on,
    )
