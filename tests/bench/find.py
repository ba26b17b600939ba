"""Finding one among 100,000 procedures, against an empty page of the site."""

from collections.abc import Iterator
from datetime import timedelta
from random import Random

from django.test import Client
from django.utils import timezone

from procedures.engine.catalogue import by_family
from procedures.engine.document import LEVELS
from procedures.finding.tools import needs
from procedures.models import Facts, FactsBar, Procedure, Revision, Trait
from tests.bench import Row
from tests.bench._sample import a_long_bar
from tests.bench._timing import ratio, with_bare_pages

TITLE = "Finding among 100,000 procedures"
HOW_MANY = 100_000
SEARCHES = {
    "no search": {},
    "a word in a few": {"q": "word900"},
    "a word in hundreds": {"q": "word90"},
    "two words": {"q": "word40 word70"},
    "a word in many thousands": {"q": "word2"},
    "an operation, the newest": {"operation": "upset"},
    "a word and a level": {"q": "word30", "level": "beginner"},
    "a bar at hand": {"bar": "12 sq"},
    "a bar and the tools one has": {"bar": "12 sq", "own": "on", "owned": ["hardy", "vice", "punch"]},
}


def run() -> Iterator[Row]:
    fill()
    client = Client()
    ratios = []
    with with_bare_pages():
        for name, asked in SEARCHES.items():
            found = ratio(
                lambda asked=asked: client.get("/procedures/", asked),
                lambda: client.get("/empty/"),
                repeat=15,
            )
            ratios.append(found)
            yield Row(f"{name} / empty page", found, "x")
    yield Row("the median of these", sorted(ratios)[len(ratios) // 2], "x", aim=3)


def fill() -> None:
    """Make procedures of made-up words, common and rare as in any language, without replaying each."""
    dice = Random(7)  # noqa: S311
    pattern, owner = a_long_bar(2)
    stored = pattern.document
    now = timezone.now()
    words = [f"word{number}" for number in range(3000)]
    weights = [1 / (number + 1) for number in range(3000)]
    operations = [kind for kinds in by_family().values() for kind in kinds]
    for first in range(0, HOW_MANY, 5000):
        numbers = range(first, first + 5000)
        made = Procedure.objects.bulk_create(
            Procedure(owner=owner, slug=f"many-{one}", title=f"Piece {one}", document=stored, status="public")
            for one in numbers
        )
        revisions = Revision.objects.bulk_create(
            Revision(
                procedure=one, number=1, title=one.title, document=stored, digest="0" * 64, frames_digest="0"
            )
            for one in made
        )
        for procedure, revision in zip(made, revisions, strict=True):
            procedure.latest = revision
        Procedure.objects.bulk_update(made, ["latest"])
        facts = Facts.objects.bulk_create(
            Facts(
                procedure=one,
                for_all=True,
                published_at=now - timedelta(minutes=one.pk),
                title=f"{one.title} {dice.choice(words)}",
                words=" ".join(dice.choices(words, weights, k=80)),
                heats=dice.randint(1, 60),
                minutes=dice.uniform(5, 300),
                thinnest=dice.choice((6, 8, 10, 12)),
                thickest=dice.choice((12, 16, 20, 40)),
            )
            for one in made
        )
        traits, bars = [], []
        for one in facts:
            used = dice.sample(operations, 8)
            pairs = {
                ("level", dice.choice(list(LEVELS))),
                ("licence", "CC-BY-4.0"),
                ("material", "mild_steel"),
            }
            pairs |= {("operation", kind.id) for kind in used} | {("family", kind.family) for kind in used}
            pairs |= {("need", dice.choice(needs())) for _ in range(3)}
            traits += [Trait(facts=one, kind=kind, value=value) for kind, value in pairs]
            side = dice.choice((8, 10, 12, 16, 20))
            bars.append(
                FactsBar(facts=one, shape=dice.choice(("square", "round")), width=side, thickness=side)
            )
        Trait.objects.bulk_create(traits, batch_size=5000)
        FactsBar.objects.bulk_create(bars)
