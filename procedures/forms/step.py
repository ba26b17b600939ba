"""The form of one step, made from what its operation declares."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from django import forms
from django.forms.boundfield import BoundField
from django.http import QueryDict

from calculators.retelling import retold
from procedures.engine.document import HEATED
from procedures.engine.evidence import (
    DEVIATION_LIMIT,
    REASON_LIMIT,
    STANDINGS,
    Evidence,
    write_evidence,
)
from procedures.engine.operation import Operation
from procedures.engine.parameters.fields import DocumentError
from procedures.engine.parameters.params import ParamError

from .entries import Entry, Offer
from .place_entries import PlaceEntry, RowsEntry
from .sources import keys_of_sources
from .typed import quiet

ENTRIES: dict[str, type[Entry]] = {
    "place": PlaceEntry,
    "position": PlaceEntry,
    "positions": RowsEntry,
    "marks": RowsEntry,
}
MOST_HEATS = 200
OWN = ("heats", "welding_heats", "tongs", "note")  # what is said of every step
RECORD = (
    "standing",
    "reason",
    "method",
    "sources",
    "deviation",
)  # what is said of one that reproduces an original


@dataclass(frozen=True)
class Given:
    """Parameters of which one is given and the others follow, with the field that says which."""

    name: str
    entries: tuple[Entry, ...]
    chosen: str
    is_given: bool = True  # tells it from a single entry in the template


class StepForm(forms.Form):
    """Edits a stored step. `fields_to_store`, once valid, are what actions.edit_step takes.

    `kind` is None for a step of an unknown operation: its parameters are kept as they are. `solved` are the
    stored values of parameters that follow from the one given.
    """

    heats = forms.IntegerField(label="Heats", required=False, min_value=0, max_value=MOST_HEATS)
    welding_heats = forms.IntegerField(
        label="Welding heats", required=False, min_value=0, max_value=MOST_HEATS
    )
    tongs = forms.CharField(label="Tongs", required=False, max_length=80)
    note = forms.CharField(
        label="Note",
        required=False,
        max_length=10_000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="Markdown: *leaning*, **bold**, lists with -.",
    )

    standing = forms.ChoiceField(
        label="How it is known",
        choices=[("", "not said"), *STANDINGS.items()],
        required=False,
        help_text="Of a piece that is reproduced: is this step to be seen on the original?",
    )
    reason = forms.CharField(
        label="What shows it",
        required=False,
        max_length=REASON_LIMIT,
        help_text="A weld line, chisel marks, the fibre of the iron; or why it is thought so.",
    )
    method = forms.CharField(
        label="How it was done then",
        required=False,
        max_length=REASON_LIMIT,
        help_text="The way of its time, as far as it shows: punched hot and drifted, welded in two heats.",
    )
    sources = forms.CharField(
        label="Sources",
        required=False,
        max_length=500,
        help_text="By their keys in the list of sources: S1, S4.",
    )
    deviation = forms.CharField(
        label="Done otherwise than the original",
        required=False,
        max_length=DEVIATION_LIMIT,
        help_text="Drilled for punched, another section, another fire, and why.",
    )

    def __init__(
        self,
        step: Mapping[str, Any],
        kind: type[Operation] | None,
        offer: Offer,
        data: QueryDict | None = None,
        solved: Mapping[str, Any] | None = None,
    ) -> None:
        initial = {key: step.get(key, "") for key in (*OWN, "deviation")}
        evidence = step.get("evidence") or {}
        initial |= {key: evidence.get(key, "") for key in ("standing", "reason", "method")}
        initial["sources"] = ", ".join(one.upper() for one in evidence.get("sources", ()))
        super().__init__(data, initial=initial)
        self.step = step
        self.kind = kind
        self.units = offer.units
        self.entries = list(_entries(step, kind, offer, solved or {}))
        self.heated = PlaceEntry("heated", HEATED_IF_LONGER, offer, step.get("heated"), prefix="heated")
        self.givens = self._givens(data)
        for entry in (*self.entries, self.heated):
            entry.form = self
            self.fields.update(entry.fields(data))
            for name in entry.names:
                self.fields[name].widget.attrs["aria-describedby"] = entry.after_id
        self.fields["tongs"].widget.attrs.update(quiet(list="house-tongs"))  # a guild's, where there is one
        if not self.shows_welding:
            self.fields["welding_heats"].widget = forms.HiddenInput()
        for name in ("heats", "tongs", "note", *RECORD):
            attrs = self.fields[name].widget.attrs
            attrs["data-typed"] = True
            attrs["aria-describedby"] = f"after-{name}"

    def _givens(self, data: QueryDict | None) -> list[Given]:
        """Return the groups of which one parameter is given, and add their fields."""
        by_name = {entry.name: entry for entry in self.entries}
        found = []
        for index, names in enumerate(self.kind.one_of if self.kind else ()):
            name = f"given-{index}"
            entries = tuple(by_name[one] for one in names)
            for entry in entries:
                entry.takes_up = True
            stored = next((one.name for one in entries if one.stored is not None), names[0])
            posted = data.get(name) if data is not None else None
            choices = [(one.name, one.label) for one in entries]
            self.fields[name] = forms.ChoiceField(
                choices=choices, required=False, initial=stored, widget=forms.RadioSelect
            )
            found.append(Given(name, entries, posted if posted in names else stored))
        return found

    @property
    def blocks(self) -> Iterator[Entry | Given]:
        """The entries in order, those that exclude each other together."""
        given = {entry.name: one for one in self.givens for entry in one.entries}
        shown: set[str] = set()
        for entry in self.entries:
            block = given.get(entry.name)
            if block is None:
                yield entry
            elif block.name not in shown:
                shown.add(block.name)
                yield block

    @property
    def unchosen(self) -> list[Entry]:
        """The entries that follow from another one given."""
        return [entry for one in self.givens for entry in one.entries if entry.name != one.chosen]

    @property
    def is_known(self) -> bool:
        """Whether there is an operation to make fields of. (A template would call `kind` itself.)"""
        return self.kind is not None

    @property
    def help(self) -> str:
        """What the operation does."""
        return retold(self.kind.help, self.units) if self.kind else ""

    @property
    def shown_entries(self) -> list[Entry]:
        """The entries whose fields are seen: all but those that follow."""
        unchosen = self.unchosen
        return [entry for entry in self.entries if entry not in unchosen]

    @property
    def own_fields(self) -> list[BoundField]:
        """The fields every step has, whatever its operation."""
        names = [one for one in OWN if one != "welding_heats" or self.shows_welding]
        return [self[name] for name in (*names, *RECORD)]

    @property
    def has_record(self) -> bool:
        """Whether anything is said of how the step is known, or was typed or is wrong."""
        return any(self[name].value() or self[name].errors for name in RECORD)

    @property
    def shows_welding(self) -> bool:
        """Whether there is anything to say of welding heats."""
        usual = self.kind.usual_welding_heats if self.kind else 0
        return bool(usual or self.step.get("welding_heats"))

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        unchosen = self.unchosen
        params: dict[str, Any] = {} if self.kind else dict(self.step.get("params", {}))
        for entry in self.entries:
            if entry in unchosen:
                self._pass_over(entry.names)
                continue
            value = self._read(entry, cleaned)
            if value is not None:
                params[entry.name] = value
        self.fields_to_store = {
            "params": params,
            "heats": cleaned.get("heats") or 0,
            "welding_heats": cleaned.get("welding_heats") or None,
            "heated": self._read(self.heated, cleaned),
            "tongs": cleaned.get("tongs") or None,
            "note": (cleaned.get("note") or "").replace("\r\n", "\n") or None,
            "evidence": self._evidence(cleaned),
            "deviation": cleaned.get("deviation") or None,
        }
        return cleaned

    def _evidence(self, cleaned: Mapping[str, Any]) -> dict[str, str] | None:
        standing = cleaned.get("standing") or ""
        words = {key: cleaned.get(key) or "" for key in ("reason", "method")}
        try:
            cited = keys_of_sources(cleaned.get("sources") or "")
        except DocumentError as error:
            self.add_error("sources", error.message)
            cited = ()
        if (any(words.values()) or cited) and not standing and "standing" not in self.errors:
            self.add_error("standing", "Say whether that was seen, inferred or guessed.")
        return write_evidence(Evidence(standing, **words, sources=cited)) if standing else None

    def _read(self, entry: Entry, cleaned: Mapping[str, Any]) -> Any:
        """Return an entry's value to store; what is wrong with it goes to its field."""
        self._pass_over(entry.ignored(self.data))
        if any(name in self.errors for name in entry.names):
            return None
        try:
            return entry.read(cleaned)
        except ParamError as error:
            self.add_error(entry.field_at(error.path), retold(error.message, self.units))
            return None

    def _pass_over(self, names: list[str]) -> None:
        for name in names:
            self.errors.pop(name, None)

    def entry(self, name: str) -> Entry | None:
        """Return the entry of a parameter, or None."""
        return next((one for one in self.entries if one.name == name), None)


HEATED_IF_LONGER = type(HEATED)("The heat reaches further than the work", required=False)


def _entries(
    step: Mapping[str, Any], kind: type[Operation] | None, offer: Offer, solved: Mapping[str, Any]
) -> Iterator[Entry]:
    stored = step.get("params", {})
    for name, param in (kind.params() if kind else {}).items():
        made = ENTRIES.get(param.kind, Entry)
        assert kind is not None
        yield made(name, param, offer, stored.get(name), default=kind.default(name), solved=solved.get(name))


def with_row_added(data: QueryDict, prefix: str) -> QueryDict:
    """Return what was posted with one more row under a prefix."""
    more = data.copy()
    more[f"{prefix}-count"] = str(_count(data, prefix) + 1)
    return more


def with_row_removed(data: QueryDict, prefix: str, index: int) -> QueryDict:
    """Return what was posted without one row under a prefix; those after it move up."""
    less = data.copy()
    count = _count(data, prefix)
    for row in range(index, count):
        this, following = f"{prefix}-{row}-", f"{prefix}-{row + 1}-"
        for key in [key for key in less if key.startswith(this)]:
            less[key] = less.get(key.replace(this, following, 1), "")
    less[f"{prefix}-count"] = str(max(count - 1, 0))
    return less


def _count(data: QueryDict, prefix: str) -> int:
    posted = data.get(f"{prefix}-count", "")
    return int(posted) if posted.isascii() and posted.isdigit() and len(posted) < 4 else 1
