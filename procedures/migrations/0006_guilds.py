from typing import Any

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


def say_what_was_withdrawn(apps: Any, editor: Any) -> None:
    """All that was published until now was public."""
    procedure = apps.get_model("procedures", "Procedure")
    procedure.objects.filter(withdrawn__isnull=False).update(withdrawn_from="public")


def assign_what_was_taught(apps: Any, editor: Any) -> None:
    """A class worked by one revision until now."""
    assignment = apps.get_model("procedures", "Assignment")
    courses = apps.get_model("procedures", "Course").objects.values_list("pk", "procedure", "revision")
    assignment.objects.bulk_create(
        assignment(course_id=course, procedure_id=procedure, revision_id=revision, place=1)
        for course, procedure, revision in courses
    )


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
        migrations.AddField(
            model_name="course",
            name="forget_after",
            field=models.PositiveSmallIntegerField(default=90),
        ),
        migrations.AddField(
            model_name="procedure",
            name="writer",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="+",
                to=settings.AUTH_USER_MODEL,
            ),
        ),
        migrations.CreateModel(
            name="Invitation",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("digest", models.CharField(max_length=64, unique=True)),
                (
                    "role",
                    models.CharField(
                        choices=[("keeper", "Keeper"), ("editor", "Editor"), ("member", "Member")],
                        default="member",
                        max_length=10,
                    ),
                ),
                ("email", models.EmailField(blank=True, max_length=254)),
                ("made", models.DateTimeField(auto_now_add=True)),
                ("expires", models.DateTimeField()),
                ("used", models.DateTimeField(blank=True, null=True)),
                ("taken_back", models.DateTimeField(blank=True, null=True)),
                (
                    "by",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "guild",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="invitations",
                        to="procedures.guild",
                    ),
                ),
                (
                    "used_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ("-made", "-pk"),
            },
        ),
        migrations.CreateModel(
            name="Assignment",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("place", models.PositiveIntegerField()),
                ("begins", models.DateField(blank=True, null=True)),
                ("due", models.DateField(blank=True, null=True)),
                (
                    "course",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="assignments",
                        to="procedures.course",
                    ),
                ),
                (
                    "procedure",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="assignments",
                        to="procedures.procedure",
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
            ],
            options={
                "ordering": ("place", "pk"),
                "constraints": [
                    models.UniqueConstraint(fields=("course", "procedure"), name="assigned_to_a_class_once")
                ],
            },
        ),
        migrations.CreateModel(
            name="CourseDay",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("day", models.DateField()),
                ("words", models.CharField(blank=True, max_length=200)),
                (
                    "course",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="days",
                        to="procedures.course",
                    ),
                ),
            ],
            options={
                "ordering": ("day",),
                "constraints": [models.UniqueConstraint(fields=("course", "day"), name="a_class_day_once")],
            },
        ),
        migrations.CreateModel(
            name="JoinRequest",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("words", models.CharField(blank=True, max_length=1000)),
                ("made", models.DateTimeField(auto_now_add=True)),
                ("answered", models.DateTimeField(blank=True, null=True)),
                ("let_in", models.BooleanField(default=False)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="guild_requests",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "guild",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="requests",
                        to="procedures.guild",
                    ),
                ),
            ],
            options={
                "ordering": ("made", "pk"),
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("answered", None)),
                        fields=("guild", "by"),
                        name="one_request_waits",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="ToolName",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("thing", models.CharField(max_length=120)),
                ("name", models.CharField(max_length=80)),
                (
                    "guild",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="tool_names",
                        to="procedures.guild",
                    ),
                ),
            ],
            options={
                "ordering": ("thing",),
                "constraints": [models.UniqueConstraint(fields=("guild", "thing"), name="a_tool_named_once")],
            },
        ),
        migrations.RunPython(assign_what_was_taught, migrations.RunPython.noop),
        migrations.RemoveField(
            model_name="course",
            name="procedure",
        ),
        migrations.RemoveField(
            model_name="course",
            name="revision",
        ),
    ]
