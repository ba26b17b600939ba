"""Care for who uses the site: reports, what moderators did about them, and who wants nothing of whom."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.urls import reverse

WORDS_LIMIT = 2000
TITLE_LIMIT = 160
USER = settings.AUTH_USER_MODEL


class Kind(models.TextChoices):
    """The kinds of things that can be reported."""

    PROCEDURE = "procedure", "Procedure"
    REVISION = "revision", "Revision"
    QUESTION = "question", "Question"
    ANSWER = "answer", "Answer"
    RESULT = "result", "Result"
    COLLECTION = "collection", "Collection"
    GUILD = "guild", "Guild"
    PERSON = "person", "Person"


class Report(models.Model):
    """That somebody says a thing should not be as it is. `by` is None for who is not signed in.

    `item` is the key of the thing; `title` and `was` are what it was called and said when it was reported,
    for when it is changed or gone. `about` is whose it is. `outcome` is what came of it, once it is closed.
    """

    class Reason(models.TextChoices):
        UNSAFE = "unsafe", "Unsafe: somebody could be hurt who works by it"
        NOT_THEIRS = "not_theirs", "Not theirs to publish"
        ABUSE = "abuse", "Abuse, threats or hate"
        SPAM = "spam", "Advertising or junk"
        MINOR = "minor", "Shows a minor without consent"
        OTHER = "other", "Something else, which I say below"

    class Outcome(models.TextChoices):
        DISMISSED = "dismissed", "Looked at, and left as it is"
        ACTED = "acted", "Something was done about it"

    kind = models.CharField(max_length=10, choices=Kind.choices)
    item = models.BigIntegerField()
    title = models.CharField(max_length=TITLE_LIMIT)
    was = models.TextField(max_length=WORDS_LIMIT, blank=True)
    about = models.ForeignKey(USER, models.SET_NULL, null=True, blank=True, related_name="+")
    reason = models.CharField(max_length=10, choices=Reason.choices)
    words = models.TextField(max_length=WORDS_LIMIT, blank=True)
    by = models.ForeignKey(USER, models.SET_NULL, null=True, blank=True, related_name="reports")
    made = models.DateTimeField(auto_now_add=True)
    closed = models.DateTimeField(null=True, blank=True)
    outcome = models.CharField(max_length=10, choices=Outcome.choices, blank=True)

    class Meta:
        ordering = ("made", "pk")
        indexes = (
            models.Index(fields=("closed", "made"), name="reports_waiting"),
            models.Index(fields=("kind", "item"), name="reports_of_thing"),
        )
        constraints = (
            models.UniqueConstraint(
                fields=("by", "kind", "item"), condition=Q(closed=None), name="one_open_report"
            ),
        )

    def __str__(self) -> str:
        return f"{self.get_reason_display()}: {self.title}"


class LogLines(models.QuerySet["ModerationAct"]):
    """Lines of the log, which are added and read and nothing else."""

    def update(self, **fields: Any) -> int:
        """Refuse."""
        raise AppendOnly

    def delete(self) -> tuple[int, dict[str, int]]:
        """Refuse."""
        raise AppendOnly


class AppendOnly(TypeError):
    """Somebody would change the moderators' log."""

    def __init__(self) -> None:
        super().__init__("The moderators' log is only added to.")


class ModerationAct(models.Model):
    """One line of the moderators' log: who did what to what, when and why. It is never changed.

    Only an account that is deleted goes out of `by` and `about`. `before` and `after` are what was changed.
    """

    class What(models.TextChoices):
        DISMISSED = "dismissed", "Left as it is"
        HIDDEN = "hidden", "Hidden"
        UNHIDDEN = "unhidden", "Shown again"
        WARNED = "warned", "Warned"
        BLOCKED = "blocked", "Blocked from writing"
        PROPOSED = "proposed", "Block of a moderator proposed"
        DROPPED = "dropped", "Proposed block dropped"
        UNBLOCKED = "unblocked", "Block lifted"
        NAMED = "named", "Made a moderator"
        REMOVED = "removed", "No moderator any more"

    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(USER, models.SET_NULL, null=True, blank=True, related_name="+")
    what = models.CharField(max_length=10, choices=What.choices)
    kind = models.CharField(max_length=10, choices=Kind.choices)
    item = models.BigIntegerField()
    title = models.CharField(max_length=TITLE_LIMIT)
    about = models.ForeignKey(USER, models.SET_NULL, null=True, blank=True, related_name="+")
    why = models.TextField(max_length=WORDS_LIMIT, blank=True)
    before: models.JSONField[Any, Any] = models.JSONField(default=dict)
    after: models.JSONField[Any, Any] = models.JSONField(default=dict)

    objects = LogLines.as_manager()

    class Meta:
        ordering = ("-pk",)
        indexes = (
            models.Index(fields=("kind", "item"), name="acts_on_thing"),
            models.Index(fields=("about", "-id"), name="acts_about_person"),
        )
        permissions = (("moderate", "Can look after the site: hide, warn and block"),)

    def __str__(self) -> str:
        return f"{self.get_what_display()}: {self.title}"

    def save(self, *args: Any, **fields: Any) -> None:
        """Add the line. Raises AppendOnly for one that is there."""
        if not self._state.adding:
            raise AppendOnly
        super().save(*args, **fields)

    def get_absolute_url(self) -> str:
        """Return the page where the person it is about reads of it."""
        return reverse("procedures:care") + f"#act-{self.pk}"

    def delete(self, *args: Any, **fields: Any) -> tuple[int, dict[str, int]]:
        """Refuse."""
        raise AppendOnly


class WrittenWarning(models.Model):
    """A warning in words, which its person reads before writing anything more."""

    user = models.ForeignKey(USER, models.CASCADE, related_name="warnings")
    words = models.TextField(max_length=WORDS_LIMIT)
    by = models.ForeignKey(USER, models.SET_NULL, null=True, blank=True, related_name="+")
    made = models.DateTimeField(auto_now_add=True)
    read = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-pk",)

    def __str__(self) -> str:
        return f"A warning of {self.user}"


class WritingBlock(models.Model):
    """That a person may not write, until a time or, where that is None, for good.

    One that `waits` blocks nobody yet: it is for good, of a moderator, and needs a second moderator's word.
    """

    user = models.ForeignKey(USER, models.CASCADE, related_name="writing_blocks")
    until = models.DateTimeField(null=True, blank=True)
    why = models.TextField(max_length=WORDS_LIMIT)
    by = models.ForeignKey(USER, models.SET_NULL, null=True, blank=True, related_name="+")
    made = models.DateTimeField(auto_now_add=True)
    waits = models.BooleanField(default=False)
    lifted = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-pk",)

    def __str__(self) -> str:
        return f"{self.user} may not write"


class ShutOut(models.Model):
    """That one person wants nothing of another: no questions, answers, offers, follows or thanks."""

    by = models.ForeignKey(USER, models.CASCADE, related_name="shut_out")
    whom = models.ForeignKey(USER, models.CASCADE, related_name="+")
    made = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("-pk",)
        constraints = (
            models.UniqueConstraint(fields=("by", "whom"), name="shut_out_once"),
            models.CheckConstraint(condition=~Q(by=F("whom")), name="nobody_shut_out_by_self"),
        )

    def __str__(self) -> str:
        return f"{self.by} shuts out {self.whom}"
