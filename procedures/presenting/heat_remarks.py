"""What is to be said of a part's heats beside the figures: far from the plan, waiting, fit for one heat."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.wording import Sentence, say
from procedures.engine.phrases import listed
from procedures.planning.plans import PartPlan, StepPlan
from procedures.planning.reasons import whole_seconds
from procedures.planning.sharing import could_share

from .heat_words import HeatWords, capital, heats_said

_A_WHILE = 8.0  # s: for less nobody lays a piece aside
_ADVICE = {
    "energy": ": count what you take, or plan a striker or a power hammer",
    "reach": ": the fire does not reach it all at once",
}


def remarks_on(part: PartPlan, words: HeatWords) -> tuple[str, ...]:
    """Return the remarks on a part, in the order of its steps."""
    return tuple(capital(one.text(words.units)) for one in _remarks(part, words))


def _remarks(part: PartPlan, words: HeatWords) -> Iterator[Sentence]:
    for step in part.steps:
        yield from _against_plan(step)
        yield from _of_waiting(step, words)
    for one in could_share(part):
        yield say(
            "steps {numbers} may fit in one heat: {seconds:seconds} with changing tools, and it allows "
            "about {allows:seconds}.",
            numbers=listed([str(step.frame.number) for step in one.steps]),
            seconds=whole_seconds(one.seconds),
            allows=whole_seconds(one.allows),
        )


def _against_plan(step: StepPlan) -> Iterator[Sentence]:
    low, high = step.predicted.low, step.predicted.high
    if not step.is_hot or step.shares or low <= step.planned <= high:
        return
    few = step.planned < low
    yield say(
        "step {number}, {title}, is planned in {planned:count}, {fewer} than the {low} predicted{advice}.",
        number=step.frame.number,
        title=step.frame.title.lower(),
        planned=step.planned,
        fewer="fewer" if few else "more",
        low=heats_said(step.predicted).spread or str(round(low)),
        advice=_ADVICE.get(step.need.by if few and step.need else "", ""),
    )


def _of_waiting(step: StepPlan, words: HeatWords) -> Iterator[Sentence]:
    waiting = step.waiting
    if waiting is None or waiting.seconds < _A_WHILE:
        return
    yield say(
        "step {number}, {title}: while one is worked for {seconds:seconds}, the {others} beside it "
        "{goes} down to about {warm:temperature}, {name}: {verdict}.",
        number=step.frame.number,
        title=step.frame.title.lower(),
        seconds=whole_seconds(waiting.seconds),
        others="other" if waiting.others == 1 else f"other {waiting.others}",
        goes="goes" if waiting.others == 1 else "go",
        warm=words.about(waiting.temperature),
        name=words.name_of(waiting.temperature),
        verdict="still warm enough to begin" if waiting.workable else "too cold, so leave it in the fire",
    )
