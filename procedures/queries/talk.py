"""What is read of questions, answers, results and thanks. What is hidden or taken back is never counted."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from django.contrib.auth.models import AbstractBaseUser, AnonymousUser
from django.db.models import Case, CharField, Count, Q, QuerySet, Value, When, Window

from calculators.sections import Section, SectionError
from procedures.engine import document
from procedures.engine.parameters.fields import DocumentError
from procedures.models import Answer, Procedure, Question, Result, ResultReading, Revision, Thanks
from procedures.predicting import Place, Prediction, StepReading, across, predictions
from procedures.standing import unseen_by

Visitor = AbstractBaseUser | AnonymousUser
Predict = Callable[[Revision], Mapping[Place, Prediction]]
MOST_READINGS = 5000  # of one procedure that are looked at together, the newest
MOST_NAMES = 12  # of who thanked, that are told
STANDS = Q(hidden=None, deleted=None)

# -- questions ---------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Counts:
    """How many questions stand on each step, by the keys of its part and itself, and how many results."""

    asked: Mapping[tuple[str, str], int]
    forged: int

    @property
    def questions(self) -> int:
        """All questions together."""
        return sum(self.asked.values())


def counts_of(procedure: Procedure) -> Counts:
    """Return what stands to be counted on the page of a procedure, in one query."""
    nowhere = Value("", CharField())
    asked = procedure.questions.filter(STANDS).order_by().values_list("part", "step")
    forged = standing_results(procedure).order_by().annotate(nowhere=nowhere, none=nowhere)
    rows = asked.annotate(number=Count("pk")).union(
        forged.values_list("nowhere", "none").annotate(number=Count("pk")), all=True
    )
    found = {(part, step): number for part, step, number in rows}
    return Counts({key: number for key, number in found.items() if any(key)}, found.get(("", ""), 0))


def questions_of(
    procedure: Procedure, part: str = "", step: str = "", *, reader: Visitor
) -> QuerySet[Question]:
    """Return the questions on a procedure, or on one step of it, that a reader sees, the newest first.

    What was taken back stays in its place where there are answers; `answered` counts those that stand.
    `is_accepted_unseen` says that the reader does not see the accepted answer.
    """
    found = procedure.questions.filter(part=part, step=step) if step else procedure.questions.all()
    unseen = Case(When(unseen_by(reader, "accepted__by"), then=True), default=False)
    found = found.exclude(unseen_by(reader)).annotate(is_accepted_unseen=unseen)
    standing = Count("answers", filter=Q(answers__hidden=None, answers__deleted=None))
    known = found.select_related("by", "revision", "accepted__by", "accepted__taken_into")
    return (
        known.defer("revision__document", "accepted__taken_into__document")
        .annotate(answered=standing)
        .order_by("-pk")
    )


def answers_of(question: Question, *, reader: Visitor) -> QuerySet[Answer]:
    """Return the answers to a question that a reader sees, as they came."""
    known = question.answers.select_related("by", "taken_into").exclude(unseen_by(reader))
    return known.defer("taken_into__document")


def are_questions_closed(procedure: Procedure) -> bool:
    """Whether the author wants no more questions on it."""
    return hasattr(procedure, "questions_closed")


# -- results -----------------------------------------------------------------------------------------


def standing_results(procedure: Procedure) -> QuerySet[Result]:
    """Return the results that everybody reads who reads the procedure."""
    return procedure.results.filter(STANDS)


def results_of(
    procedure: Procedure, revision: Revision | None = None, *, reader: Visitor
) -> QuerySet[Result]:
    """Return the results of a procedure, or of one revision, that a reader sees, the newest first."""
    found = standing_results(procedure).exclude(unseen_by(reader))
    found = found.filter(revision=revision) if revision else found
    known = found.select_related("by").prefetch_related("photos", "revision")  # a document is read once
    return known.annotate(measured=Count("readings")).order_by("-pk")


def revisions_forged(procedure: Procedure) -> list[tuple[Revision, int]]:
    """Return the revisions of which there are results, the newest first, and of each how many."""
    rows = standing_results(procedure).order_by().values_list("revision")
    forged = dict(rows.annotate(number=Count("pk")))
    found = procedure.revisions.filter(pk__in=forged).defer("document")
    return [(one, forged[one.pk]) for one in found]


def readings_of(
    procedure: Procedure, revision: Revision | None = None, predict: Predict | None = None
) -> list[StepReading]:
    """Return what was measured of a procedure, or of one revision, the newest results first.

    Sections come as their width and thickness. Hidden results are left out. `predict` gives the predictions
    of a revision, where they are kept; without it each revision is replayed once.
    """
    found = ResultReading.objects.filter(result__procedure=procedure, result__hidden=None)
    found = found.filter(result__deleted=None)
    found = found.filter(result__revision=revision) if revision else found
    known = found.select_related("result__by").order_by("-result_id", "pk")[:MOST_READINGS]
    return _read(list(known), predict or predicted_by)


def readings_of_result(result: Result, said: Mapping[Place, Prediction]) -> list[StepReading]:
    """Return what was measured of one result, hidden or not, beside what its revision predicts."""
    rows = list(result.readings.select_related("result__by"))
    return _read(rows, lambda _: said)


def _read(rows: list[ResultReading], predict: Predict) -> list[StepReading]:
    revisions = Revision.objects.in_bulk({one.result.revision_id for one in rows})
    said = {pk: predict(one) for pk, one in revisions.items()}
    return [
        StepReading(
            place,
            actual,
            said[row.result.revision_id].get(place),
            row.result.by.get_username() if row.result.by else "",
            revisions[row.result.revision_id].number,
            row.result_id,
            row.piece,
            row.result.forged,
        )
        for row in rows
        for place, actual in measured_at(row)
    ]


def predicted_by(revision: Revision) -> Mapping[Place, Prediction]:
    """Return what can be measured of a revision; nothing of one that does not read any more."""
    try:
        return predictions(document.read(revision.document, draft=True))
    except DocumentError:
        return {}


def measured_at(row: ResultReading) -> Iterator[tuple[Place, float]]:
    """Yield the sizes that one stored reading holds."""
    own = (row.part, row.step, row.kind, row.branch)
    if row.length is not None:
        yield Place(*own, "length"), row.length
    if row.section is not None:
        try:
            width, thickness = across(Section.from_json(row.section))
        except SectionError:
            return
        yield Place(*own, "width"), width
        yield Place(*own, "thickness"), thickness
    if row.mass is not None:
        yield Place(*own, "mass"), row.mass


# -- thanks ------------------------------------------------------------------------------------------


@dataclass
class Thanked:
    """Who thanked for one thing: how many, the names of those who let them be told, and whether I did."""

    total: int = 0
    names: list[str] = field(default_factory=list)
    mine: bool = False

    @property
    def unnamed(self) -> int:
        """How many of them are not told by name."""
        return self.total - len(self.names)


def thanked_for(procedure: Procedure, user: Visitor) -> Thanked:
    """Return the thanks for a procedure, in one query."""
    own = Q(by_id=user.pk) if user.is_authenticated else Q(pk=None)
    rows = procedure.thanks.annotate(total=Window(Count("pk")), mine=Case(When(own, then=1), default=0))
    found = Thanked()
    known = rows.order_by("-mine", "-is_named", "pk").values_list("total", "mine", "is_named", "by__username")
    for total, mine, is_named, name in known[: MOST_NAMES + 1]:
        found.total, found.mine = total, found.mine or bool(mine)
        if is_named and len(found.names) < MOST_NAMES:
            found.names.append(name)
    return found


def thanked(kind: str, things: Iterable[Procedure | Answer | Result], user: Visitor) -> dict[int, Thanked]:
    """Return the thanks for things of one kind ("procedure", "answer", "result") by their keys.

    Constant in queries; of the names no more are read than are told.
    """
    found = {one.pk: Thanked() for one in things}
    rows = Thanks.objects.filter(**{f"{kind}__in": list(found)}).order_by()
    own = Count("pk", filter=Q(by_id=user.pk)) if user.is_authenticated else Count("pk", filter=Q(pk=None))
    for pk, total, mine in rows.values_list(kind).annotate(total=Count("pk"), mine=own):
        found[pk].total, found[pk].mine = total, bool(mine)
    most = MOST_NAMES * max(len(found), 1)
    for pk, name in rows.filter(is_named=True).order_by("pk").values_list(kind, "by__username")[:most]:
        if len(found[pk].names) < MOST_NAMES:
            found[pk].names.append(name)
    return found
