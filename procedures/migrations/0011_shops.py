"""Shops, which of them a person plans in, and the pieces they learn from."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("procedures", "0010_tokens"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="Shop",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.CharField(max_length=60)),
                ("stored", models.JSONField(default=dict)),
                ("bars", models.JSONField(default=list)),
                ("forges", models.PositiveSmallIntegerField(default=1)),
                ("irons", models.PositiveSmallIntegerField(default=2)),
                ("anvils", models.PositiveSmallIntegerField(default=1)),
                ("vices", models.PositiveSmallIntegerField(default=1)),
                ("made", models.DateTimeField(auto_now_add=True)),
                (
                    "guild",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="shops",
                        to="procedures.guild",
                    ),
                ),
                (
                    "owner",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="shops",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ("name", "pk"),
            },
        ),
        migrations.CreateModel(
            name="UsedShop",
            fields=[
                (
                    "user",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        primary_key=True,
                        related_name="used_shop",
                        serialize=False,
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "shop",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="+", to="procedures.shop"
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="ShopPiece",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("counted", models.JSONField(default=list)),
                ("answers", models.JSONField(default=dict)),
                ("made", models.DateTimeField(auto_now_add=True)),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="shop_pieces",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "result",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="shop_piece",
                        to="procedures.result",
                    ),
                ),
                (
                    "revision",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to="procedures.revision",
                    ),
                ),
                (
                    "run",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="shop_piece",
                        to="procedures.run",
                    ),
                ),
                (
                    "shop",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="pieces",
                        to="procedures.shop",
                    ),
                ),
            ],
            options={
                "ordering": ("pk",),
            },
        ),
        migrations.AddConstraint(
            model_name="shop",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("guild", None), ("owner__isnull", False)),
                    models.Q(("guild__isnull", False), ("owner", None)),
                    _connector="OR",
                ),
                name="a_shop_is_of_one",
            ),
        ),
        migrations.AddIndex(
            model_name="shoppiece",
            index=models.Index(fields=["shop", "person"], name="pieces_of_a_smith"),
        ),
    ]
