"""What procedures are found by, as rows: made anew whenever one is published. And searches that are kept."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.db import models
from django.urls import reverse

from .guild import Guild
from .procedure import Procedure


class Facts(models.Model):
    """A published procedure as it is found (`procedures.finding.facts`); made by `actions.note_facts` alone.

    Lengths in mm, time in minutes. `for_all` is whether everybody may read it; else `guild` may.
    """

    procedure = models.OneToOneField(Procedure, models.CASCADE, primary_key=True, related_name="facts")
    for_all = models.BooleanField()
    guild = models.ForeignKey(Guild, models.CASCADE, null=True, related_name="+")
    published_at = models.DateTimeField()
    title = models.CharField(max_length=120)
    words = models.TextField()
    heats = models.PositiveIntegerField()
    minutes = models.FloatField()
    thinnest = models.FloatField()
    thickest = models.FloatField()

    class Meta:
        ordering = ("-published_at", "-pk")
        indexes = (models.Index(fields=("for_all", "-published_at", "-procedure"), name="facts_newest"),)

    def __str__(self) -> str:
        return f"What {self.title} is found by"


class FactsWords(models.Model):
    """SQLite's full-text table over the title and words of Facts, whose rows it follows by triggers.

    Its hidden columns: one called like the table, which equals whatever matches it, and `rank`, the less the
    better. https://www.sqlite.org/fts5.html (from memory)
    """

    facts = models.OneToOneField(
        Facts, models.DO_NOTHING, primary_key=True, db_column="rowid", related_name="index"
    )
    matched = models.TextField(db_column="procedures_factswords")
    rank = models.FloatField()

    class Meta:
        managed = False
        db_table = "procedures_factswords"

    def __str__(self) -> str:
        return f"The words of {self.facts_id}"


class Trait(models.Model):
    """Something a procedure is counted by: an operation, a tool, a material."""

    facts = models.ForeignKey(Facts, models.CASCADE, related_name="traits")
    kind = models.CharField(max_length=20)
    value = models.CharField(max_length=120)

    class Meta:
        constraints = (models.UniqueConstraint(fields=("facts", "kind", "value"), name="a_trait_once"),)
        indexes = (models.Index(fields=("kind", "value", "facts"), name="facts_by_trait"),)

    def __str__(self) -> str:
        return f"{self.kind}: {self.value}"


class FactsBar(models.Model):
    """A bar that a procedure starts from: its shape, the larger and the smaller size [mm]."""

    facts = models.ForeignKey(Facts, models.CASCADE, related_name="bars")
    shape = models.CharField(max_length=20)
    width = models.FloatField()
    thickness = models.FloatField()

    class Meta:
        indexes = (models.Index(fields=("shape", "width", "thickness"), name="facts_by_bar"),)

    def __str__(self) -> str:
        return f"{self.shape} {self.width} × {self.thickness}"


class SavedSearch(models.Model):
    """A search that somebody keeps: the query of its address, and when its results were last looked at."""

    owner = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="searches")
    name = models.CharField(max_length=80)
    query = models.CharField(max_length=1000, blank=True)
    made = models.DateTimeField(auto_now_add=True)
    looked: models.DateTimeField[Any, Any] = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("name", "pk")
        constraints = (models.UniqueConstraint(fields=("owner", "query"), name="a_search_once"),)

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        return f"{reverse('procedures:list')}?{self.query}"
