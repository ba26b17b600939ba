"""Revisions that are cited: a code each, what changed, the figures frozen, and stones for the withdrawn."""

import django.db.models.deletion
from django.db import migrations, models

import procedures.models.procedure


def give_codes(apps, schema_editor):
    Revision = apps.get_model("procedures", "Revision")
    for pk in Revision.objects.filter(code=None).values_list("pk", flat=True):
        Revision.objects.filter(pk=pk).update(code=procedures.models.procedure.new_revision_code())


class Migration(migrations.Migration):

    dependencies = [("procedures", "0002_runs")]

    operations = [
        migrations.AddField("procedure", "withdrawn", models.DateTimeField(blank=True, null=True)),
        migrations.AddField("procedure", "withdrawn_reason", models.CharField(blank=True, max_length=500, default=""), preserve_default=False),
        migrations.AddField("revision", "note", models.CharField(blank=True, max_length=1000, default=""), preserve_default=False),
        migrations.AddField("revision", "withdrawn", models.DateTimeField(blank=True, null=True)),
        migrations.AddField("revision", "withdrawn_reason", models.CharField(blank=True, max_length=500, default=""), preserve_default=False),
        migrations.AddField("revision", "code", models.CharField(max_length=8, null=True, editable=False)),
        migrations.RunPython(give_codes, migrations.RunPython.noop),
        migrations.AlterField(
            "revision",
            "code",
            models.CharField(default=procedures.models.procedure.new_revision_code, editable=False, max_length=8, unique=True),
        ),
        migrations.CreateModel(
            name="FrozenReport",
            fields=[
                ("revision", models.OneToOneField(on_delete=django.db.models.deletion.CASCADE, primary_key=True, related_name="frozen", serialize=False, to="procedures.revision")),
                ("packed", models.BinaryField()),
            ],
        ),
    ]
