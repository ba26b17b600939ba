"""The form that finds procedures: words, what is done and with what, the bar at hand, how long it takes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django import forms
from django.http import QueryDict

from calculators.materials import MATERIALS
from calculators.sections import Section
from calculators.wording import UnitSystem
from procedures.engine.catalogue import by_family
from procedures.engine.document import LEVELS, LICENCES
from procedures.engine.operation import FAMILIES
from procedures.finding.facts import bar_of
from procedures.finding.tools import TOOLS
from procedures.finding.words import asked_of
from procedures.queries.finding import Wish

from .typed import length_field, section_field

LONGEST_SEARCH = 100  # characters
ORDERS = {"": "By how well the words fit", "new": "Newest first"}


def _operations() -> dict[str, str]:
    return {one.id: one.title for kinds in by_family().values() for one in kinds}


# What is counted: the label, whether its list is open at first, and its values in the order of the trade.
KINDS = {
    "level": ("Level", LEVELS),
    "family": ("Technique", FAMILIES),
    "operation": ("Operation", _operations()),
    "tool": ("Tools it uses", {key: label for key, (label, _) in TOOLS.items()}),
    "material": ("Material", {key: one.title for key, one in MATERIALS.items()}),
    "reproduction": ("After an old piece", {"yes": "A reproduction, with its evidence"}),
    "century": ("The original is of the", {}),
    "licence": ("Licence", LICENCES),
}
MANY = 8  # values beyond which a list is folded


@dataclass(frozen=True)
class Choice:
    """A value that can be asked for, with how many of what is found have it."""

    value: str
    label: str
    count: int
    chosen: bool

    @property
    def id(self) -> str:
        """What the page calls its box by."""
        return self.value.replace(" ", "-")


@dataclass(frozen=True)
class Facet:
    """One kind of trait with its values; `chosen` is how many of them are asked for."""

    kind: str
    label: str
    choices: tuple[Choice, ...]

    @property
    def chosen(self) -> int:
        """How many of its values are asked for."""
        return sum(one.chosen for one in self.choices)


class FindForm(forms.Form):
    """What a search asks for. `wish` is what was asked, as far as it reads."""

    q = forms.CharField(
        label="Look for",
        required=False,
        max_length=LONGEST_SEARCH,
        strip=True,
        help_text="A piece, a technique, a tool, by any name the trade has for it.",
        widget=forms.TextInput(attrs={"type": "search", "autocomplete": "off", "spellcheck": "false"}),
    )
    most_heats = forms.IntegerField(label="Heats, at most", required=False, min_value=0, max_value=10_000)
    most_minutes = forms.IntegerField(
        label="Minutes at the fire and anvil, at most",
        required=False,
        min_value=1,
        max_value=100_000,
        help_text="By the plan of an ordinary shop.",
    )
    own = forms.BooleanField(label="Only what my tools will do", required=False)
    sort = forms.ChoiceField(label="In which order", choices=list(ORDERS.items()), required=False)

    def __init__(self, units: UnitSystem, data: QueryDict) -> None:
        super().__init__(data)
        self.asked = data
        self.fields["q"].widget.attrs["maxlength"] = LONGEST_SEARCH
        example = "1/2 sq" if units.length_unit == "in" else "12 sq"
        self.fields["bar"] = section_field(
            units, None, label="The bar at hand", help_text=f"What can be made from it: {example}."
        )
        self.fields["least"] = length_field(units, None, zero_ok=False, label="No bar thinner than")
        self.fields["most"] = length_field(units, None, zero_ok=False, label="No bar thicker than")
        self.full_clean()

    @property
    def words(self) -> str:
        """The words looked for, as typed."""
        return " ".join(str(self.data.get("q", "")).replace("\0", " ").split())[:LONGEST_SEARCH]

    @property
    def narrowing(self) -> tuple[str, ...]:
        """The names of all that narrows a search besides its words."""
        return (*(one for one in self.fields if one not in ("q", "sort")), *KINDS)

    @property
    def chosen(self) -> dict[str, tuple[str, ...]]:
        """The values asked for, by kind; what is none of a kind's values asks for nothing."""
        found = {kind: tuple(dict.fromkeys(self.asked.getlist(kind))) for kind in KINDS}
        known = {kind: values for kind, (_, values) in KINDS.items() if values}
        return {
            kind: tuple(one[:MOST_VALUE] for one in values if kind not in known or one in known[kind])
            for kind, values in found.items()
        }

    @property
    def owned(self) -> tuple[str, ...]:
        """The tools that are there."""
        return tuple(one for one in self.asked.getlist("owned") if one in TOOLS)

    @property
    def wish(self) -> Wish:
        """What is looked for; a field that does not read asks for nothing and says why beside it."""
        clean = self.cleaned_data
        bar = clean.get("bar")
        return Wish(
            asked=asked_of(self.words),
            traits={kind: values for kind, values in self.chosen.items() if values},
            owned=frozenset(self.owned) if clean.get("own") else None,
            bar=bar_of(Section.from_json(bar)) if bar else None,
            least=clean.get("least"),
            most=clean.get("most"),
            most_heats=clean.get("most_heats"),
            most_minutes=clean.get("most_minutes"),
            newest_first=clean.get("sort") == "new",
        )

    @property
    def tools(self) -> list[Choice]:
        """Every tool, to say which are there."""
        return [Choice(key, label, 0, key in self.owned) for key, (label, _) in TOOLS.items()]

    def facets(self, counts: Mapping[str, Mapping[str, int]]) -> list[Facet]:
        """Return what can be asked for: of each kind the values that something found has, or are chosen."""
        made = [self._facet(kind, counts.get(kind, {})) for kind in KINDS]
        return [one for one in made if one.chosen or len(one.choices) > 1 or one.kind == "reproduction"]

    def _facet(self, kind: str, counts: Mapping[str, int]) -> Facet:
        label, values = KINDS[kind]
        chosen = self.chosen[kind]
        there = _in_order(values, counts, chosen)
        choices = (Choice(one, values.get(one, one), counts.get(one, 0), one in chosen) for one in there)
        return Facet(kind, label, tuple(choices))


MOST_VALUE = 120  # characters of a value


def _in_order(values: Mapping[str, str], counts: Mapping[str, int], chosen: Iterable[str]) -> list[str]:
    there = {one for one in counts if not values or one in values} | set(chosen)
    return [one for one in values if one in there] if values else sorted(there)


class KeepSearchForm(forms.Form):
    """The name a search is kept under."""

    name = forms.CharField(
        label="Keep this search as",
        max_length=80,
        error_messages={"required": "Give it a name to find it by."},
    )
    query = forms.CharField(required=False, max_length=1000, widget=forms.HiddenInput)

    def __init__(self, data: Any = None, **more: Any) -> None:
        super().__init__(data, **more)
