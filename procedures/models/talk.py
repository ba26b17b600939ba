"""What readers say of a procedure: questions and answers, results of forging it, thanks; and what is new."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse

from .hiding import Hideable
from .photo import Picture
from .procedure import Procedure, Revision
from .run import Run

WORDS_LIMIT = 4000
STEP_LIMIT = 300


class Said(Hideable):
    """Something that a person said. Its writer changes it; who looks after the site may hide it.

    What is hidden is shown to nobody but its writer, who reads why. `by` is None where the writer's account
    is gone, or where the writer took it back and others had answered: then `deleted` says when, and the
    words are gone.
    """

    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+")
    words = models.TextField(max_length=WORDS_LIMIT, blank=True)
    made = models.DateTimeField(auto_now_add=True)
    edited = models.DateTimeField(null=True, blank=True)
    deleted = models.DateTimeField(null=True, blank=True)

    class Meta:
        abstract = True

    @property
    def stands(self) -> bool:
        """Whether its words are there for all to read."""
        return self.hidden is None and self.deleted is None


class Question(Said):
    """A question on a step, by the keys of its part and itself, as it was in a revision.

    `step_was` says what the step was, for when a later revision has none of its key. `accepted` is the answer
    that the asker or the author took.
    """

    procedure = models.ForeignKey(Procedure, models.CASCADE, related_name="questions")
    revision = models.ForeignKey(Revision, models.CASCADE, related_name="+")
    part = models.CharField(max_length=40)
    step = models.CharField(max_length=40)
    step_was = models.CharField(max_length=STEP_LIMIT)
    accepted = models.ForeignKey("Answer", models.SET_NULL, null=True, blank=True, related_name="+")

    class Meta:
        ordering = ("-pk",)
        indexes = (models.Index(fields=("procedure", "part", "step"), name="questions_by_step"),)

    def __str__(self) -> str:
        return f"Question {self.pk} on {self.step_was}"

    def get_absolute_url(self) -> str:
        return reverse("procedures:question", args=[self.procedure.slug, self.pk])


class Answer(Said):
    """An answer. `folded` is when its author took it into the draft; `taken_into` the revision that has it.

    `as_folded` are the words as they went into the note of the step, by which it is found there again.
    """

    question = models.ForeignKey(Question, models.CASCADE, related_name="answers")
    folded = models.DateTimeField(null=True, blank=True)
    as_folded = models.TextField(blank=True)
    taken_into = models.ForeignKey(Revision, models.SET_NULL, null=True, blank=True, related_name="+")

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return f"Answer {self.pk} to question {self.question_id}"

    def get_absolute_url(self) -> str:
        return f"{self.question.get_absolute_url()}#answer-{self.pk}"


class QuestionsClosed(models.Model):
    """That no more questions are asked on a procedure, by its author's wish."""

    procedure = models.OneToOneField(
        Procedure, models.CASCADE, primary_key=True, related_name="questions_closed"
    )
    at = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return f"No more questions on {self.procedure}"


class Result(Said):
    """That somebody forged a revision, and how it went. `words` is the whole of it.

    `bars` are the bars used, `[{"part", "section", "length" [mm]}]`; `wrong` is what went wrong, at the step
    named, and `changed` what was done otherwise. `run` is the run it was made from, if any.
    """

    procedure = models.ForeignKey(Procedure, models.CASCADE, related_name="results")
    revision = models.ForeignKey(Revision, models.CASCADE, related_name="+")
    run = models.OneToOneField(Run, models.SET_NULL, null=True, blank=True, related_name="result")
    forged = models.DateField()
    bars: models.JSONField[Any, Any] = models.JSONField(default=list)
    heats = models.PositiveIntegerField(null=True, blank=True)
    minutes = models.PositiveIntegerField(null=True, blank=True)
    wrong = models.TextField(max_length=WORDS_LIMIT, blank=True)
    wrong_part = models.CharField(max_length=40, blank=True)
    wrong_step = models.CharField(max_length=40, blank=True)
    changed = models.TextField(max_length=WORDS_LIMIT, blank=True)

    class Meta:
        ordering = ("-pk",)
        indexes = (models.Index(fields=("procedure", "-id"), name="results_of_procedure"),)

    def __str__(self) -> str:
        return f"Result {self.pk} of {self.procedure}"

    def get_absolute_url(self) -> str:
        return reverse("procedures:result", args=[self.procedure.slug, self.pk])


class ResultReading(models.Model):
    """What was measured after a step: `kind` "run" (the part worked) or "whole" (its branch), or "piece".

    A length [mm], a section, or the mass [kg] of the whole piece. `piece` counts the pieces of one run.
    """

    result = models.ForeignKey(Result, models.CASCADE, related_name="readings")
    part = models.CharField(max_length=40)
    step = models.CharField(max_length=40)
    kind = models.CharField(max_length=10)
    branch = models.CharField(max_length=60, blank=True)
    piece = models.PositiveIntegerField(default=1)
    length = models.FloatField(null=True, blank=True)
    section: models.JSONField[Any, Any] = models.JSONField(null=True, blank=True)
    mass = models.FloatField(null=True, blank=True)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("result", "part", "step", "kind", "branch", "piece"), name="a_reading_once"
            ),
        )

    def __str__(self) -> str:
        return f"{self.kind} of {self.branch} at {self.part}/{self.step}"


class ResultPhoto(Picture):
    """A photo of a result; whoever put it there said that it may be shown."""

    result = models.ForeignKey(Result, models.CASCADE, related_name="photos")
    name = models.UUIDField(default=uuid4, unique=True, editable=False)
    alt = models.CharField(max_length=300)

    class Meta:
        ordering = ("pk",)

    def __str__(self) -> str:
        return self.alt

    def path(self, width: int) -> str:
        """Return the name of a file in the store of photos."""
        name = str(self.name)
        return f"results/{name[:2]}/{name}-{width}.jpg"

    def url(self, width: int) -> str:
        """Return the address of a file, for who may read the procedure."""
        return reverse(
            "procedures:result_photo", args=[self.result.procedure.slug, self.result_id, self.pk, width]
        )


class Thanks(models.Model):
    """One person's thanks for a procedure, an answer or a result; `is_named` where their name may be told."""

    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="+")
    procedure = models.ForeignKey(Procedure, models.CASCADE, null=True, related_name="thanks")
    answer = models.ForeignKey(Answer, models.CASCADE, null=True, related_name="thanks")
    result = models.ForeignKey(Result, models.CASCADE, null=True, related_name="thanks")
    is_named = models.BooleanField(default=False)
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(fields=("by", "procedure"), name="thanks_once_procedure"),
            models.UniqueConstraint(fields=("by", "answer"), name="thanks_once_answer"),
            models.UniqueConstraint(fields=("by", "result"), name="thanks_once_result"),
            models.CheckConstraint(
                condition=(
                    Q(procedure__isnull=False, answer=None, result=None)
                    | Q(procedure=None, answer__isnull=False, result=None)
                    | Q(procedure=None, answer=None, result__isnull=False)
                ),
                name="thanks_for_one_thing",
            ),
        )

    def __str__(self) -> str:
        return f"Thanks {self.pk}"


class NewsSeen(models.Model):
    """Up to when a person has read all news."""

    user = models.OneToOneField(
        settings.AUTH_USER_MODEL, models.CASCADE, primary_key=True, related_name="news_seen"
    )
    until = models.DateTimeField()

    def __str__(self) -> str:
        return f"News read until {self.until}"


class NewsRead(models.Model):
    """That a person has read one item of news: its kind, and the key of the thing it tells of."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="+")
    kind = models.CharField(max_length=10)
    item = models.BigIntegerField()

    class Meta:
        constraints = (models.UniqueConstraint(fields=("user", "kind", "item"), name="news_read_once"),)

    def __str__(self) -> str:
        return f"{self.kind} {self.item}"
