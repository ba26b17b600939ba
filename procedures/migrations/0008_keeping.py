import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
        ("procedures", "0007_talk"),
    ]

    operations = [
        migrations.CreateModel(
            name="Collection",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("hidden", models.DateTimeField(blank=True, null=True)),
                ("hidden_reason", models.CharField(blank=True, max_length=500)),
                ("title", models.CharField(max_length=120)),
                ("slug", models.SlugField(max_length=80, unique=True)),
                ("about", models.TextField(blank=True, max_length=4000)),
                (
                    "status",
                    models.CharField(
                        choices=[("private", "Private"), ("unlisted", "Unlisted"), ("public", "Public")],
                        default="private",
                        max_length=10,
                    ),
                ),
                ("made", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
            ],
            options={
                "ordering": ("-updated", "-pk"),
            },
        ),
        migrations.CreateModel(
            name="CollectionItem",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("note", models.CharField(blank=True, max_length=1000)),
                ("place", models.PositiveIntegerField()),
            ],
            options={
                "ordering": ("place", "pk"),
            },
        ),
        migrations.CreateModel(
            name="DigestWish",
            fields=[
                (
                    "user",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        primary_key=True,
                        related_name="digest_wish",
                        serialize=False,
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "often",
                    models.CharField(
                        choices=[("never", "Never"), ("daily", "Once a day"), ("weekly", "Once a week")],
                        default="never",
                        max_length=10,
                    ),
                ),
                ("told", models.DateTimeField()),
            ],
        ),
        migrations.CreateModel(
            name="Follow",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("since", models.DateTimeField(auto_now_add=True)),
            ],
            options={
                "ordering": ("-pk",),
            },
        ),
        migrations.AddIndex(
            model_name="revision",
            index=models.Index(fields=["-published_at", "-id"], name="revisions_newest"),
        ),
        migrations.AddField(
            model_name="collection",
            name="guild",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.CASCADE,
                related_name="collections",
                to="procedures.guild",
            ),
        ),
        migrations.AddField(
            model_name="collection",
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
            model_name="collection",
            name="owner",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.CASCADE,
                related_name="collections",
                to=settings.AUTH_USER_MODEL,
            ),
        ),
        migrations.AddField(
            model_name="collectionitem",
            name="collection",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.CASCADE, related_name="items", to="procedures.collection"
            ),
        ),
        migrations.AddField(
            model_name="collectionitem",
            name="procedure",
            field=models.ForeignKey(
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="+",
                to="procedures.procedure",
            ),
        ),
        migrations.AddField(
            model_name="collectionitem",
            name="revision",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="+",
                to="procedures.revision",
            ),
        ),
        migrations.AddField(
            model_name="follow",
            name="by",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.CASCADE,
                related_name="follows",
                to=settings.AUTH_USER_MODEL,
            ),
        ),
        migrations.AddField(
            model_name="follow",
            name="guild",
            field=models.ForeignKey(
                null=True,
                on_delete=django.db.models.deletion.CASCADE,
                related_name="followers",
                to="procedures.guild",
            ),
        ),
        migrations.AddField(
            model_name="follow",
            name="person",
            field=models.ForeignKey(
                null=True,
                on_delete=django.db.models.deletion.CASCADE,
                related_name="followers",
                to=settings.AUTH_USER_MODEL,
            ),
        ),
        migrations.AddField(
            model_name="follow",
            name="procedure",
            field=models.ForeignKey(
                null=True,
                on_delete=django.db.models.deletion.CASCADE,
                related_name="followers",
                to="procedures.procedure",
            ),
        ),
        migrations.AddIndex(
            model_name="collection",
            index=models.Index(fields=["status", "-updated"], name="collections_by_status"),
        ),
        migrations.AddConstraint(
            model_name="collection",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("guild__isnull", False), ("owner", None)),
                    models.Q(("guild", None), ("owner__isnull", False)),
                    _connector="OR",
                ),
                name="collection_of_one_keeper",
            ),
        ),
        migrations.AddConstraint(
            model_name="collectionitem",
            constraint=models.UniqueConstraint(
                fields=("collection", "procedure"), name="in_a_collection_once"
            ),
        ),
        migrations.AddConstraint(
            model_name="follow",
            constraint=models.UniqueConstraint(fields=("by", "procedure"), name="follow_once_procedure"),
        ),
        migrations.AddConstraint(
            model_name="follow",
            constraint=models.UniqueConstraint(fields=("by", "person"), name="follow_once_person"),
        ),
        migrations.AddConstraint(
            model_name="follow",
            constraint=models.UniqueConstraint(fields=("by", "guild"), name="follow_once_guild"),
        ),
        migrations.AddConstraint(
            model_name="follow",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("guild", None), ("person", None), ("procedure__isnull", False)),
                    models.Q(("guild", None), ("person__isnull", False), ("procedure", None)),
                    models.Q(("guild__isnull", False), ("person", None), ("procedure", None)),
                    _connector="OR",
                ),
                name="follow_one_thing",
            ),
        ),
    ]
