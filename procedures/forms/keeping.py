"""Forms of what is kept: a collection, one procedure in it, mail of what is new."""

from __future__ import annotations

from typing import Any

from django import forms
from django.db.models import QuerySet

from procedures.models import Collection, DigestWish, Guild, Procedure, Revision

Status = Collection.Status
STATUS_WORDS = {
    Status.PRIVATE: "Private: you alone read it, or the members of the guild whose it is",
    Status.UNLISTED: "Unlisted: whoever has its address reads it",
    Status.PUBLIC: "Public: everybody finds it",
}


class CollectionForm(forms.Form):
    """What a collection says of itself, and who reads it; whose it is, while it is new."""

    title = forms.CharField(
        label="Title",
        max_length=120,
        help_text="Such as “Hooks for the first weekend”.",
        error_messages={"required": "Give the collection a title."},
    )
    about = forms.CharField(
        label="About it",
        required=False,
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 5}),
        help_text="Whom it is for, in which order to forge, what to bring. Markdown.",
    )
    status = forms.ChoiceField(
        label="Who reads it",
        choices=list(STATUS_WORDS.items()),
        initial=Status.PRIVATE,
        widget=forms.RadioSelect,
        help_text="Each reader sees those procedures in it that are theirs to read.",
    )

    def __init__(
        self, data: Any = None, *, of: Collection | None = None, guilds: QuerySet[Guild] | None = None
    ) -> None:
        initial = {name: getattr(of, name) for name in ("title", "about", "status")} if of else {}
        super().__init__(data, initial=initial)
        if guilds is not None and guilds.exists():
            self.fields["guild"] = forms.ModelChoiceField(
                guilds,
                label="Whose it is",
                required=False,
                to_field_name="slug",
                empty_label="Mine",
                help_text="A guild’s editors and keepers change it with you.",
            )

    def clean_title(self) -> str:
        """Want a title that can be read."""
        title = " ".join(self.cleaned_data["title"].split())
        if not any(one.isalnum() for one in title):
            raise forms.ValidationError("A title has letters in it.")
        return title


class NewCollectionForm(forms.Form):
    """The title of a new collection that starts with one procedure."""

    title = forms.CharField(
        label="A new collection",
        max_length=120,
        error_messages={"required": "Give the collection a title."},
    )

    def clean_title(self) -> str:
        """Want a title that can be read."""
        title = " ".join(self.cleaned_data["title"].split())
        if not any(one.isalnum() for one in title):
            raise forms.ValidationError("A title has letters in it.")
        return title


class RevisionField(forms.ModelChoiceField):
    """Revisions to choose from, by their numbers."""

    def label_from_instance(self, obj: Any) -> str:
        """Return the number and the day."""
        return f"Frozen at revision {obj.number}, {obj.published_at:%-d %B %Y}"


class ItemForm(forms.Form):
    """What is said of a procedure in a collection, and which revision of it is meant."""

    note = forms.CharField(
        label="Note", required=False, max_length=1000, widget=forms.Textarea(attrs={"rows": 2})
    )
    revision = RevisionField(
        Revision.objects.none(), label="Which revision", required=False, empty_label="Always the latest"
    )

    def __init__(self, procedure: Procedure | None, data: Any = None, **more: Any) -> None:
        super().__init__(data, **more)
        known = self.fields["revision"]
        assert isinstance(known, forms.ModelChoiceField)
        if procedure is not None:
            known.queryset = procedure.revisions.filter(withdrawn=None, hidden=None).defer("document")


class DigestForm(forms.Form):
    """How often mail comes."""

    often = forms.ChoiceField(
        label="Mail of what is new", choices=DigestWish.Often.choices, widget=forms.RadioSelect
    )
