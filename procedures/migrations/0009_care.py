import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
        ("procedures", "0008_keeping"),
    ]

    operations = [
        migrations.AddField(
            model_name="guild", name="hidden", field=models.DateTimeField(blank=True, null=True)
        ),
        migrations.AddField(
            model_name="guild",
            name="hidden_by",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="+",
                to=settings.AUTH_USER_MODEL,
            ),
        ),
        migrations.AddField(
            model_name="guild", name="hidden_reason", field=models.CharField(blank=True, max_length=500)
        ),
        migrations.AddField(
            model_name="procedure", name="hidden", field=models.DateTimeField(blank=True, null=True)
        ),
        migrations.AddField(
            model_name="procedure",
            name="hidden_by",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="+",
                to=settings.AUTH_USER_MODEL,
            ),
        ),
        migrations.AddField(
            model_name="procedure", name="hidden_reason", field=models.CharField(blank=True, max_length=500)
        ),
        migrations.AddField(
            model_name="revision", name="hidden", field=models.DateTimeField(blank=True, null=True)
        ),
        migrations.AddField(
            model_name="revision",
            name="hidden_by",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="+",
                to=settings.AUTH_USER_MODEL,
            ),
        ),
        migrations.AddField(
            model_name="revision", name="hidden_reason", field=models.CharField(blank=True, max_length=500)
        ),
        migrations.CreateModel(
            name="WritingBlock",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("until", models.DateTimeField(blank=True, null=True)),
                ("why", models.TextField(max_length=2000)),
                ("made", models.DateTimeField(auto_now_add=True)),
                ("waits", models.BooleanField(default=False)),
                ("lifted", models.DateTimeField(blank=True, null=True)),
                (
                    "by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "user",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="writing_blocks",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={"ordering": ("-pk",)},
        ),
        migrations.CreateModel(
            name="WrittenWarning",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("words", models.TextField(max_length=2000)),
                ("made", models.DateTimeField(auto_now_add=True)),
                ("read", models.DateTimeField(blank=True, null=True)),
                (
                    "by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "user",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="warnings",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={"ordering": ("-pk",)},
        ),
        migrations.CreateModel(
            name="ModerationAct",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("at", models.DateTimeField(auto_now_add=True)),
                (
                    "what",
                    models.CharField(
                        choices=[
                            ("dismissed", "Left as it is"),
                            ("hidden", "Hidden"),
                            ("unhidden", "Shown again"),
                            ("warned", "Warned"),
                            ("blocked", "Blocked from writing"),
                            ("proposed", "Block of a moderator proposed"),
                            ("dropped", "Proposed block dropped"),
                            ("unblocked", "Block lifted"),
                            ("named", "Made a moderator"),
                            ("removed", "No moderator any more"),
                        ],
                        max_length=10,
                    ),
                ),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("procedure", "Procedure"),
                            ("revision", "Revision"),
                            ("question", "Question"),
                            ("answer", "Answer"),
                            ("result", "Result"),
                            ("collection", "Collection"),
                            ("guild", "Guild"),
                            ("person", "Person"),
                        ],
                        max_length=10,
                    ),
                ),
                ("item", models.BigIntegerField()),
                ("title", models.CharField(max_length=160)),
                ("why", models.TextField(blank=True, max_length=2000)),
                ("before", models.JSONField(default=dict)),
                ("after", models.JSONField(default=dict)),
                (
                    "about",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "by",
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
                "ordering": ("-pk",),
                "permissions": (("moderate", "Can look after the site: hide, warn and block"),),
                "indexes": [
                    models.Index(fields=["kind", "item"], name="acts_on_thing"),
                    models.Index(fields=["about", "-id"], name="acts_about_person"),
                ],
            },
        ),
        migrations.CreateModel(
            name="Report",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("procedure", "Procedure"),
                            ("revision", "Revision"),
                            ("question", "Question"),
                            ("answer", "Answer"),
                            ("result", "Result"),
                            ("collection", "Collection"),
                            ("guild", "Guild"),
                            ("person", "Person"),
                        ],
                        max_length=10,
                    ),
                ),
                ("item", models.BigIntegerField()),
                ("title", models.CharField(max_length=160)),
                ("was", models.TextField(blank=True, max_length=2000)),
                (
                    "reason",
                    models.CharField(
                        choices=[
                            ("unsafe", "Unsafe: somebody could be hurt who works by it"),
                            ("not_theirs", "Not theirs to publish"),
                            ("abuse", "Abuse, threats or hate"),
                            ("spam", "Advertising or junk"),
                            ("minor", "Shows a minor without consent"),
                            ("other", "Something else, which I say below"),
                        ],
                        max_length=10,
                    ),
                ),
                ("words", models.TextField(blank=True, max_length=2000)),
                ("made", models.DateTimeField(auto_now_add=True)),
                ("closed", models.DateTimeField(blank=True, null=True)),
                (
                    "outcome",
                    models.CharField(
                        blank=True,
                        choices=[
                            ("dismissed", "Looked at, and left as it is"),
                            ("acted", "Something was done about it"),
                        ],
                        max_length=10,
                    ),
                ),
                (
                    "about",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="reports",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ("made", "pk"),
                "indexes": [
                    models.Index(fields=["closed", "made"], name="reports_waiting"),
                    models.Index(fields=["kind", "item"], name="reports_of_thing"),
                ],
                "constraints": [
                    models.UniqueConstraint(
                        condition=models.Q(("closed", None)),
                        fields=("by", "kind", "item"),
                        name="one_open_report",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="ShutOut",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("made", models.DateTimeField(auto_now_add=True)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="shut_out",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "whom",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ("-pk",),
                "constraints": [
                    models.UniqueConstraint(fields=("by", "whom"), name="shut_out_once"),
                    models.CheckConstraint(
                        condition=models.Q(("by", models.F("whom")), _negated=True),
                        name="nobody_shut_out_by_self",
                    ),
                ],
            },
        ),
    ]
