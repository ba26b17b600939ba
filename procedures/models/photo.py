"""Photos: those of procedures, by digest, and those of runs, by the entry that tells of them."""

from __future__ import annotations

from django.conf import settings
from django.db import models
from django.urls import reverse


class Picture(models.Model):
    """A photo's size, and the files it is kept as: one for each width."""

    width = models.PositiveIntegerField()  # pixels, of the widest file
    height = models.PositiveIntegerField()
    size = models.PositiveIntegerField()  # bytes, of all files together

    WIDTHS = (480, 960, 1600)

    class Meta:
        abstract = True

    @property
    def widths(self) -> tuple[int, ...]:
        """The widths there are files of [px]; a small photo is never blown up."""
        smaller = tuple(one for one in self.WIDTHS if one < self.width)
        return (*smaller, min(self.width, self.WIDTHS[-1]))

    def path(self, width: int) -> str:
        """Return the name of a file in the store of photos."""
        raise AssertionError("each kind of photo names its own files")


class Photo(Picture):
    """A photo belonging to a procedure; its files are named by the digest of the widest.

    Steps name it by digest in the document. It stays when a step lets go of it, so that undo brings it back.
    """

    procedure = models.ForeignKey("Procedure", models.CASCADE, related_name="photos")
    digest = models.CharField(max_length=64, db_index=True)
    uploader = models.ForeignKey(settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+")
    created = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("pk",)
        constraints = (models.UniqueConstraint(fields=("procedure", "digest"), name="a_photo_once"),)

    def __str__(self) -> str:
        return self.digest[:12]

    def path(self, width: int) -> str:
        """Return the name of a file in the store of photos."""
        return f"photos/{self.digest[:2]}/{self.digest}-{width}.jpg"

    def url(self, width: int, slug: str) -> str:
        """Return the address of a file, for readers of the procedure of this slug."""
        return reverse("procedures:photo", args=[slug, self.digest, width])
