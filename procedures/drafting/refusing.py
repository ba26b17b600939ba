"""What cannot be described so: features where they cannot stand, and ends that are to be two things."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from calculators.sections import Section
from calculators.wording import Sentence, say

from .description import Description, Layout, settings_of, thickest
from .feature import Feature
from .setting import Setting

_JOINING = ("bend", "corner", "shoulder")  # what joins two runs
_NO_FACE = ("bend", "twist")  # runs without a flat face for a hole


@dataclass(frozen=True)
class Refusal:
    """Why a part cannot be drafted: the feature's number (None: the whole), its parameter, the words."""

    number: int | None
    field: str
    message: Sentence


class Undraftable(Exception):
    """A description of which no procedure can be drafted, with every reason."""

    def __init__(self, refusals: Sequence[Refusal]) -> None:
        super().__init__("; ".join(str(one.message) for one in refusals))
        self.refusals = tuple(refusals)


def laid_out(description: Description, unmarked: frozenset[int] = frozenset()) -> Layout:
    """Return where each feature stands. Raises Undraftable with all that cannot be so.

    `unmarked` are the features whose beginning no step is measured from: they have no letter.
    """
    bar = description.bar or thickest(description.features)
    refusals = list(_misplaced(description.features))
    if not refusals and bar is None:
        refusals = [_refused(None, "Say what bar it is forged from, or the section of a stem.", field="bar")]
    if bar is not None:
        refusals += _without_metal(description.features, bar)
    if refusals or bar is None:
        raise Undraftable(refusals)
    layout = Layout(description, bar, tuple(settings_of(description.features, bar, unmarked)))
    refusals = [*_by_themselves(layout), *_by_their_runs(layout)]
    if refusals:
        raise Undraftable(refusals)
    return layout


def _refused(number: int | None, template: str, *, field: str = "", **values: object) -> Refusal:
    return Refusal(number, field, say(template, **values))


def _name(feature: Feature) -> str:
    return feature.title.lower()


def _a(feature: Feature) -> str:
    """Return a feature with its article: "an eye"."""
    return f"{'an' if feature.title[0] in 'AEIOU' else 'a'} {_name(feature)}"


def _begun(feature: Feature) -> str:
    """Return that as a sentence begins with it."""
    return _a(feature).capitalize()


# -- by their order alone ----------------------------------------------------------------------------


def _misplaced(features: Sequence[Feature]) -> Iterator[Refusal]:
    """Yield what stands where it cannot, by the order of the features alone."""
    metal = [number for number, one in enumerate(features) if one.takes_bar]
    if not metal:
        yield _refused(None, "Describe the part: at least one stem or another run of bar.")
        return
    first, last = metal[0], metal[-1]
    for number, one in enumerate(features):
        what = _begun(one)
        if one.alone and len(features) > 1:
            yield _refused(number, "{what} is a whole part: describe it by itself.", what=what)
        elif one.kind == "end":
            yield from _end_taken(features, number, first, last)
        elif one.kind == "at" and number < first:
            yield _refused(number, "Put it after the run that it lies in: nothing comes before it.")
        elif one.id in _JOINING:
            yield from _between(features, number, first, last)


def _end_taken(features: Sequence[Feature], number: int, first: int, last: int) -> Iterator[Refusal]:
    """Yield why a feature that is made of an end stands at none."""
    what = _begun(features[number])
    if first == last:
        yield _refused(number, "{what} is made of the end of a run: add a stem to it.", what=what)
    elif number in (first, last):
        if last - first == 1 and number == last and features[first].kind == "end":
            yield _refused(number, "Put a stem between the two ends.")
    else:
        ends = (n for n in (first, last) if features[n].kind == "end" and abs(n - number) == 1)
        rival = next(ends, None)
        if rival is not None:
            other = _a(features[rival])
            yield _refused(number, "One end cannot be both: {other} is made of it already.", other=other)
        else:
            yield _refused(number, "{what} is made of an end: put it first or last.", what=what)


def _between(features: Sequence[Feature], number: int, first: int, last: int) -> Iterator[Refusal]:
    """Yield why a feature that joins two runs has not one on each side."""
    what = _begun(features[number])
    if not first < number < last:
        yield _refused(number, "{what} stands between two runs: there is one on one side only.", what=what)
        return
    beside = [one for one in features[number + 1 : number + 2] if one.id in _JOINING]
    for other in beside:
        yield _refused(
            number,
            "Put a run between this {what} and the {other}.",
            what=_name(features[number]),
            other=_name(other),
        )


def _without_metal(features: Sequence[Feature], bar: Section) -> Iterator[Refusal]:
    """Yield the sections that hold no metal, or are hollow: no bar is forged from them or to them."""
    if bar.area <= 0 or bar.bore > 0:
        yield _refused(None, "{bar:section} is no bar to forge from.", field="bar", bar=bar)
    for number, one in enumerate(features):
        section = getattr(one, "section", None)
        if section is not None and (section.area <= 0 or section.bore > 0):
            yield _refused(number, "{section:section} is no run of bar.", field="section", section=section)


# -- by what they are --------------------------------------------------------------------------------


def _by_themselves(layout: Layout) -> Iterator[Refusal]:
    for number, (one, setting) in enumerate(zip(layout.features, layout.settings, strict=True)):
        for field, why in one.problems(setting):
            yield Refusal(number, field, why)


def _by_their_runs(layout: Layout) -> Iterator[Refusal]:
    """Yield what does not go with the run it lies in."""
    for number, (one, setting) in enumerate(zip(layout.features, layout.settings, strict=True)):
        if one.kind == "at" and setting.host is not None:
            yield from _in_host(layout, number, setting.host)


def _in_host(layout: Layout, number: int, host: Setting) -> Iterator[Refusal]:
    run, one = layout.features[host.number], layout.features[number]
    whole, at = run.long(host), one.long(layout.settings[number])
    if run.kind == "end" or run.id in _NO_FACE:
        yield _refused(number, "{what} has no plain face for it: put it in a stem beside.", what=_begun(run))
    elif at >= whole:
        yield _refused(
            number,
            "The {run} is {long:length} long: that lies beyond it.",
            field="distance",
            run=_name(run),
            long=whole,
        )
    else:
        yield from _no_wall(number, one, host.first.blend(host.last, at / whole))


def _no_wall(number: int, one: Feature, there: Section) -> Iterator[Refusal]:
    size = float(getattr(one, "size", 0.0))
    if size >= there.width:
        yield _refused(
            number,
            "The bar is only {there:section} there: no wall is left beside {size:size}.",
            field="size",
            there=there,
            size=size,
        )
