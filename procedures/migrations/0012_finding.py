"""Facts that procedures are found by, and the index of their words as the database at hand has it."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

# Porter's stems: "upsetting" finds "upset". An external table keeps no second copy of the words.
SQLITE = (
    """CREATE VIRTUAL TABLE procedures_factswords USING fts5(
        title, words, content='procedures_facts', content_rowid='procedure_id',
        tokenize='porter unicode61 remove_diacritics 2')""",
    # bm25: a word in the title counts ten times
    "INSERT INTO procedures_factswords(procedures_factswords, rank) VALUES('rank', 'bm25(10.0, 1.0)')",
    """CREATE TRIGGER procedures_facts_insert AFTER INSERT ON procedures_facts BEGIN
        INSERT INTO procedures_factswords(rowid, title, words)
        VALUES (new.procedure_id, new.title, new.words); END""",
    """CREATE TRIGGER procedures_facts_delete AFTER DELETE ON procedures_facts BEGIN
        INSERT INTO procedures_factswords(procedures_factswords, rowid, title, words)
        VALUES ('delete', old.procedure_id, old.title, old.words); END""",
    """CREATE TRIGGER procedures_facts_update AFTER UPDATE ON procedures_facts BEGIN
        INSERT INTO procedures_factswords(procedures_factswords, rowid, title, words)
        VALUES ('delete', old.procedure_id, old.title, old.words);
        INSERT INTO procedures_factswords(rowid, title, words)
        VALUES (new.procedure_id, new.title, new.words); END""",
)
POSTGRESQL = (
    """CREATE INDEX procedures_facts_words ON procedures_facts USING gin(
        (setweight(to_tsvector('english', coalesce(title, '')), 'A')
        || to_tsvector('english', coalesce(words, ''))))""",
)


def make_index(apps, schema_editor):
    vendor = schema_editor.connection.vendor
    for statement in SQLITE if vendor == "sqlite" else POSTGRESQL if vendor == "postgresql" else ():
        schema_editor.execute(statement)


def drop_index(apps, schema_editor):
    if schema_editor.connection.vendor == "sqlite":
        for name in ("insert", "delete", "update"):
            schema_editor.execute(f"DROP TRIGGER procedures_facts_{name}")
        schema_editor.execute("DROP TABLE procedures_factswords")


class Migration(migrations.Migration):
    dependencies = [("procedures", "0011_shops"), migrations.swappable_dependency(settings.AUTH_USER_MODEL)]

    operations = [
        migrations.CreateModel(
            name="Facts",
            fields=[
                (
                    "procedure",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        primary_key=True,
                        related_name="facts",
                        serialize=False,
                        to="procedures.procedure",
                    ),
                ),
                ("for_all", models.BooleanField()),
                ("published_at", models.DateTimeField()),
                ("title", models.CharField(max_length=120)),
                ("words", models.TextField()),
                ("heats", models.PositiveIntegerField()),
                ("minutes", models.FloatField()),
                ("thinnest", models.FloatField()),
                ("thickest", models.FloatField()),
                (
                    "guild",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to="procedures.guild",
                    ),
                ),
            ],
            options={
                "ordering": ("-published_at", "-pk"),
            },
        ),
        migrations.CreateModel(
            name="FactsWords",
            fields=[
                (
                    "facts",
                    models.OneToOneField(
                        db_column="rowid",
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        primary_key=True,
                        related_name="index",
                        serialize=False,
                        to="procedures.facts",
                    ),
                ),
                ("matched", models.TextField(db_column="procedures_factswords")),
                ("rank", models.FloatField()),
            ],
            options={
                "db_table": "procedures_factswords",
                "managed": False,
            },
        ),
        migrations.CreateModel(
            name="FactsBar",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("shape", models.CharField(max_length=20)),
                ("width", models.FloatField()),
                ("thickness", models.FloatField()),
                (
                    "facts",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="bars",
                        to="procedures.facts",
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="SavedSearch",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.CharField(max_length=80)),
                ("query", models.CharField(blank=True, max_length=1000)),
                ("made", models.DateTimeField(auto_now_add=True)),
                ("looked", models.DateTimeField(auto_now_add=True)),
                (
                    "owner",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="searches",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ("name", "pk"),
            },
        ),
        migrations.CreateModel(
            name="Trait",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("kind", models.CharField(max_length=20)),
                ("value", models.CharField(max_length=120)),
                (
                    "facts",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="traits",
                        to="procedures.facts",
                    ),
                ),
            ],
        ),
        migrations.AddIndex(
            model_name="facts",
            index=models.Index(fields=["for_all", "-published_at", "-procedure"], name="facts_newest"),
        ),
        migrations.AddIndex(
            model_name="factsbar",
            index=models.Index(fields=["shape", "width", "thickness"], name="facts_by_bar"),
        ),
        migrations.AddConstraint(
            model_name="savedsearch",
            constraint=models.UniqueConstraint(fields=("owner", "query"), name="a_search_once"),
        ),
        migrations.AddIndex(
            model_name="trait",
            index=models.Index(fields=["kind", "value", "facts"], name="facts_by_trait"),
        ),
        migrations.AddConstraint(
            model_name="trait",
            constraint=models.UniqueConstraint(fields=("facts", "kind", "value"), name="a_trait_once"),
        ),
        migrations.RunPython(make_index, drop_index),
    ]
