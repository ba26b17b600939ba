from typing import Any

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


def say_what_was_withdrawn(apps: Any, editor: Any) -> None:
    """All that was published until now was public."""
    procedure = apps.get_model("procedures", "Procedure")
    procedure.objects.filter(withdrawn__isnull=False).update(withdrawn_from="public")


class Migration(migrations.Migration):
    dependencies = [
        ("procedures", "0005_adaptations"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="Guild",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.CharField(max_length=80)),
                ("slug", models.SlugField(max_length=80, unique=True)),
                ("about", models.TextField(blank=True, max_length=4000)),
                ("listed", models.BooleanField(default=True)),
                ("place", models.CharField(blank=True, max_length=120)),
                ("shop", models.TextField(blank=True, max_length=1000)),
                ("units", models.CharField(blank=True, max_length=10)),
                ("fire", models.CharField(default="average", max_length=20)),
                ("tongs", models.JSONField(default=list)),
                ("made", models.DateTimeField(auto_now_add=True)),
            ],
            options={
                "ordering": ("name", "pk"),
            },
        ),
        migrations.AddField(
            model_name="procedure",
            name="on_shelf",
            field=models.BooleanField(default=False),
        ),
        migrations.AddField(
            model_name="procedure",
            name="withdrawn_from",
            field=models.CharField(
                blank=True,
                choices=[
                    ("draft", "Draft"),
                    ("public", "Public"),
                    ("unlisted", "Unlisted"),
                    ("guild", "Guild"),
                ],
                max_length=10,
            ),
        ),
        migrations.AlterField(
            model_name="procedure",
            name="status",
            field=models.CharField(
                choices=[
                    ("draft", "Draft"),
                    ("public", "Public"),
                    ("unlisted", "Unlisted"),
                    ("guild", "Guild"),
                ],
                default="draft",
                max_length=10,
            ),
        ),
        migrations.AddField(
            model_name="procedure",
            name="guild",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="procedures",
                to="procedures.guild",
            ),
        ),
        migrations.CreateModel(
            name="Membership",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "role",
                    models.CharField(
                        choices=[("keeper", "Keeper"), ("editor", "Editor"), ("member", "Member")],
                        default="member",
                        max_length=10,
                    ),
                ),
                ("since", models.DateTimeField(auto_now_add=True)),
                (
                    "guild",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="memberships",
                        to="procedures.guild",
                    ),
                ),
                (
                    "user",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="memberships",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ("since", "pk"),
                "constraints": [models.UniqueConstraint(fields=("guild", "user"), name="in_a_guild_once")],
            },
        ),
        migrations.RunPython(say_what_was_withdrawn, migrations.RunPython.noop),
    ]
