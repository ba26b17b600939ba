"""Questions and answers, results, thanks, and what is new."""

import uuid

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
        ("procedures", "0006_guilds"),
    ]

    operations = [
        migrations.CreateModel(
            name="NewsSeen",
            fields=[
                (
                    "user",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        primary_key=True,
                        related_name="news_seen",
                        serialize=False,
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                ("until", models.DateTimeField()),
            ],
        ),
        migrations.CreateModel(
            name="QuestionsClosed",
            fields=[
                (
                    "procedure",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        primary_key=True,
                        related_name="questions_closed",
                        serialize=False,
                        to="procedures.procedure",
                    ),
                ),
                ("at", models.DateTimeField(auto_now_add=True)),
            ],
        ),
        migrations.CreateModel(
            name="Answer",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("words", models.TextField(blank=True, max_length=4000)),
                ("made", models.DateTimeField(auto_now_add=True)),
                ("edited", models.DateTimeField(blank=True, null=True)),
                ("deleted", models.DateTimeField(blank=True, null=True)),
                ("hidden", models.DateTimeField(blank=True, null=True)),
                ("hidden_reason", models.CharField(blank=True, max_length=500)),
                ("folded", models.DateTimeField(blank=True, null=True)),
                ("as_folded", models.TextField(blank=True)),
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
                    "hidden_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "taken_into",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to="procedures.revision",
                    ),
                ),
            ],
            options={
                "ordering": ("pk",),
            },
        ),
        migrations.CreateModel(
            name="Question",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("words", models.TextField(blank=True, max_length=4000)),
                ("made", models.DateTimeField(auto_now_add=True)),
                ("edited", models.DateTimeField(blank=True, null=True)),
                ("deleted", models.DateTimeField(blank=True, null=True)),
                ("hidden", models.DateTimeField(blank=True, null=True)),
                ("hidden_reason", models.CharField(blank=True, max_length=500)),
                ("part", models.CharField(max_length=40)),
                ("step", models.CharField(max_length=40)),
                ("step_was", models.CharField(max_length=300)),
                (
                    "accepted",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to="procedures.answer",
                    ),
                ),
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
                    "hidden_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "procedure",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="questions",
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
                "ordering": ("-pk",),
            },
        ),
        migrations.AddField(
            model_name="answer",
            name="question",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.CASCADE, related_name="answers", to="procedures.question"
            ),
        ),
        migrations.CreateModel(
            name="Result",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("words", models.TextField(blank=True, max_length=4000)),
                ("made", models.DateTimeField(auto_now_add=True)),
                ("edited", models.DateTimeField(blank=True, null=True)),
                ("deleted", models.DateTimeField(blank=True, null=True)),
                ("hidden", models.DateTimeField(blank=True, null=True)),
                ("hidden_reason", models.CharField(blank=True, max_length=500)),
                ("forged", models.DateField()),
                ("bars", models.JSONField(default=list)),
                ("heats", models.PositiveIntegerField(blank=True, null=True)),
                ("minutes", models.PositiveIntegerField(blank=True, null=True)),
                ("wrong", models.TextField(blank=True, max_length=4000)),
                ("wrong_part", models.CharField(blank=True, max_length=40)),
                ("wrong_step", models.CharField(blank=True, max_length=40)),
                ("changed", models.TextField(blank=True, max_length=4000)),
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
                    "hidden_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "procedure",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="results",
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
                (
                    "run",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="result",
                        to="procedures.run",
                    ),
                ),
            ],
            options={
                "ordering": ("-pk",),
            },
        ),
        migrations.CreateModel(
            name="ResultPhoto",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("width", models.PositiveIntegerField()),
                ("height", models.PositiveIntegerField()),
                ("size", models.PositiveIntegerField()),
                ("name", models.UUIDField(default=uuid.uuid4, editable=False, unique=True)),
                ("alt", models.CharField(max_length=300)),
                (
                    "result",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="photos",
                        to="procedures.result",
                    ),
                ),
            ],
            options={
                "ordering": ("pk",),
            },
        ),
        migrations.CreateModel(
            name="ResultReading",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("part", models.CharField(max_length=40)),
                ("step", models.CharField(max_length=40)),
                ("kind", models.CharField(max_length=10)),
                ("branch", models.CharField(blank=True, max_length=60)),
                ("piece", models.PositiveIntegerField(default=1)),
                ("length", models.FloatField(blank=True, null=True)),
                ("section", models.JSONField(blank=True, null=True)),
                ("mass", models.FloatField(blank=True, null=True)),
                (
                    "result",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="readings",
                        to="procedures.result",
                    ),
                ),
            ],
            options={
                "ordering": ("pk",),
            },
        ),
        migrations.CreateModel(
            name="Thanks",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("is_named", models.BooleanField(default=False)),
                ("at", models.DateTimeField(auto_now_add=True)),
                (
                    "answer",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="thanks",
                        to="procedures.answer",
                    ),
                ),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "procedure",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="thanks",
                        to="procedures.procedure",
                    ),
                ),
                (
                    "result",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="thanks",
                        to="procedures.result",
                    ),
                ),
            ],
            options={
                "ordering": ("pk",),
            },
        ),
        migrations.CreateModel(
            name="NewsRead",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("kind", models.CharField(max_length=10)),
                ("item", models.BigIntegerField()),
                (
                    "user",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(fields=("user", "kind", "item"), name="news_read_once")
                ],
            },
        ),
        migrations.AddIndex(
            model_name="question",
            index=models.Index(fields=["procedure", "part", "step"], name="questions_by_step"),
        ),
        migrations.AddIndex(
            model_name="result",
            index=models.Index(fields=["procedure", "-id"], name="results_of_procedure"),
        ),
        migrations.AddConstraint(
            model_name="resultreading",
            constraint=models.UniqueConstraint(
                fields=("result", "part", "step", "kind", "branch", "piece"), name="a_reading_once"
            ),
        ),
        migrations.AddConstraint(
            model_name="thanks",
            constraint=models.UniqueConstraint(fields=("by", "procedure"), name="thanks_once_procedure"),
        ),
        migrations.AddConstraint(
            model_name="thanks",
            constraint=models.UniqueConstraint(fields=("by", "answer"), name="thanks_once_answer"),
        ),
        migrations.AddConstraint(
            model_name="thanks",
            constraint=models.UniqueConstraint(fields=("by", "result"), name="thanks_once_result"),
        ),
        migrations.AddConstraint(
            model_name="thanks",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("answer", None), ("procedure__isnull", False), ("result", None)),
                    models.Q(("answer__isnull", False), ("procedure", None), ("result", None)),
                    models.Q(("answer", None), ("procedure", None), ("result__isnull", False)),
                    _connector="OR",
                ),
                name="thanks_for_one_thing",
            ),
        ),
    ]
