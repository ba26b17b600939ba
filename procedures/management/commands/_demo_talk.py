"""What two invented smiths say of a procedure of the demo: a question, its answer, three hooks forged."""

from datetime import timedelta

from django.contrib.auth.models import User
from django.utils import timezone

from procedures import actions
from procedures.actions.results import Report
from procedures.models import Procedure, ResultReading
from procedures.predicting import Place, Prediction
from procedures.queries import talk

PART, STEP = "hook", "taper"
ASKED = "The end burns before the shoulder is hot. Do I turn the bar, or is my fire too deep?"
ANSWERED = (
    "Push the bar *through* the heart of the fire, so that the end lies beyond it, and draw it back for the "
    "last seconds only."
)
FORGED = (  # days ago, heats, minutes, times what is predicted, how it went
    (40, 9, 75, 1.03, "My first. The taper came long: I drew it further than the check says."),
    (33, 7, 60, 0.985, "Better. The holes took longest."),
    (12, 6, 48, 1.005, "By the card, without asking anybody."),
)


def tell(procedure: Procedure, smith: User, apprentice: User) -> None:
    """Say it all, of the revision that was just published."""
    revision = procedure.latest
    assert revision is not None
    asked = actions.ask(revision=revision, part=PART, step=STEP, words=ASKED, by=apprentice)
    answer = actions.answer(question=asked, words=ANSWERED, by=smith)
    actions.accept(answer=answer, by=apprentice)
    actions.thank(thing=answer, named=True, by=apprentice)
    said = talk.predicted_by(revision)
    for days, heats, minutes, times, words in FORGED:
        report = Report(
            forged=timezone.localdate() - timedelta(days=days),
            words=words,
            heats=heats,
            minutes=minutes,
            readings=tuple(_measured(place, one, times) for place, one in said.items() if _is_told(place)),
        )
        actions.report_result(revision=revision, report=report, by=apprentice)


def _is_told(place: Place) -> bool:
    return (place.step, place.kind, place.quantity) in {
        (STEP, "run", "length"),
        ("plate", "run", "length"),
        ("look", "piece", "mass"),
    }


def _measured(place: Place, said: Prediction, times: float) -> ResultReading:
    """Return an invented reading near what is predicted, as a rule or a kitchen balance gives it."""
    sizes = {"mass": round(said.typical * times, 3)}
    if place.quantity == "length":
        sizes = {"length": float(round(said.typical * times))}
    return ResultReading(part=place.part, step=place.step, kind=place.kind, branch=place.branch, **sizes)
