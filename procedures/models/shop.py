"""Shops: where work is planned and forged, the bars that lie in them, and the pieces they learn from."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse

from .guild import Guild
from .procedure import Revision
from .run import Run
from .talk import Result

NAME_LIMIT = 60


class Shop(models.Model):
    """A shop of one person or of a guild.

    `stored` is a `ShopProfile` as it writes itself, `bars` the bars held:
    `[{"section", "lengths" [mm], "price" [for a kg, or null]}]`. The places are what a class finds there.
    """

    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, null=True, blank=True, related_name="shops"
    )
    guild = models.ForeignKey(Guild, models.CASCADE, null=True, blank=True, related_name="shops")
    name = models.CharField(max_length=NAME_LIMIT)
    stored: models.JSONField[Any, Any] = models.JSONField(default=dict)
    bars: models.JSONField[Any, Any] = models.JSONField(default=list)
    forges = models.PositiveSmallIntegerField(default=1)
    irons = models.PositiveSmallIntegerField(default=2)
    anvils = models.PositiveSmallIntegerField(default=1)
    vices = models.PositiveSmallIntegerField(default=1)
    made = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("name", "pk")
        constraints = (
            models.CheckConstraint(
                condition=Q(owner__isnull=False, guild=None) | Q(owner=None, guild__isnull=False),
                name="a_shop_is_of_one",
            ),
        )

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        return reverse("procedures:own_shop", args=[self.pk])


class UsedShop(models.Model):
    """The shop that a person's predictions are made for, where no address says another."""

    user = models.OneToOneField(
        settings.AUTH_USER_MODEL, models.CASCADE, primary_key=True, related_name="used_shop"
    )
    shop = models.ForeignKey(Shop, models.CASCADE, related_name="+")

    def __str__(self) -> str:
        return f"{self.user} plans in {self.shop}"


class ShopPiece(models.Model):
    """That a person forged a revision in a shop: what is learnt there is read from its run and its result.

    `counted` is what was counted beside that, `[{"part", "step", "blows", "seconds"}]`; `answers` says of
    readings that were asked about whether they count, `{"quantity:part:step": true}`. It stays when its run
    or result goes, with what was counted.
    """

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="pieces")
    person = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="shop_pieces")
    revision = models.ForeignKey(Revision, models.CASCADE, related_name="+")
    run = models.OneToOneField(Run, models.SET_NULL, null=True, blank=True, related_name="shop_piece")
    result = models.OneToOneField(Result, models.SET_NULL, null=True, blank=True, related_name="shop_piece")
    counted: models.JSONField[Any, Any] = models.JSONField(default=list)
    answers: models.JSONField[Any, Any] = models.JSONField(default=dict)
    made = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("pk",)
        indexes = (models.Index(fields=("shop", "person"), name="pieces_of_a_smith"),)

    def __str__(self) -> str:
        return f"A piece forged in {self.shop}"

    def get_absolute_url(self) -> str:
        return reverse("procedures:shop_piece", args=[self.shop_id, self.pk])
