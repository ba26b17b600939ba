"""What was measured beside what was predicted: a strip of dots for each size, with words and a table."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import fmean, median
from typing import Any

from django.utils.html import escape
from django.utils.safestring import SafeString

from calculators.wording import UnitSystem
from procedures.engine.catalogue import find
from procedures.predicting import QUANTITIES, Place, Prediction, StepReading

ENOUGH = 3  # of which a mean is told; of fewer it would say more than is known
SEVERAL = 5  # of which one can be called far from the others
FAR = 3.0  # times the spread of the middle half or so, the usual rule of thumb
SIGMA = 1.4826  # the standard deviation of normal readings over their median deviation
FINE = 0.01  # of what is predicted: nearer than this nobody measures hot work
OFF = 0.25  # of what is predicted, where there are too few to compare with each other
WIDTH, HEIGHT, SIDE, RADIUS = 320, 58, 10, 4  # of the drawing
BASE = 36  # the line the dots stand on
MOST_DOTS = 6  # above each other
MOST_TOLD = 60  # readings in the table of one strip


@dataclass(frozen=True)
class ShownReading:
    """One reading as the table tells it; `is_apart` where it is far from the others."""

    text: str
    reading: StepReading
    is_apart: bool


@dataclass(frozen=True)
class Strip:
    """One size after one step."""

    label: str
    number: int
    predicted: str
    span: str  # of what is predicted, as the fire takes little or much
    measured: str  # from the least to the most
    mean: str  # "" of fewer than three
    apart: int
    drawing: SafeString
    readings: Sequence[ShownReading]
    more: int  # readings that the table leaves out, the oldest


@dataclass(frozen=True)
class StepStrips:
    """The strips of one step."""

    title: str
    part: str
    strips: Sequence[Strip]


def step_strips(
    readings: Iterable[StepReading], document: Mapping[str, Any], units: UnitSystem
) -> list[StepStrips]:
    """Return the strips of a revision's readings in the order of its steps; those of no step of it last."""
    groups: dict[tuple[str, str], dict[Place, list[StepReading]]] = {}
    for one in readings:
        step = groups.setdefault((one.place.part, one.place.step), {})
        step.setdefault(one.place, []).append(one)
    order = _steps(document)
    keys = [key for key in order if key in groups] + [key for key in groups if key not in order]
    found = []
    for key in keys:
        title, part = order.get(key, ("A step that is not in this revision", ""))
        strips = [_strip(label, ones, units) for label, ones in _labelled(groups[key])]
        found.append(StepStrips(title, part, strips))
    return found


def _steps(document: Mapping[str, Any]) -> dict[tuple[str, str], tuple[str, str]]:
    found = {}
    for part in document["parts"]:
        for number, step in enumerate(part.get("steps", ()), start=1):
            kind = find(step["operation"])
            title = f"Step {number}, {kind.title if kind else step['operation']}"
            found[part["key"], step["key"]] = (title, part["name"])
    return found


def _labelled(places: Mapping[Place, list[StepReading]]) -> list[tuple[str, list[StepReading]]]:
    """Return the readings by label; a section as wide as thick all through is told once."""
    several = len({one.branch for one in places}) > 1
    found = []
    for place, ones in places.items():
        twin = places.get(replace(place, quantity="width"), [])
        is_even = place.quantity in ("width", "thickness") and _same(
            twin, places.get(replace(place, quantity="thickness"), [])
        )
        if is_even and place.quantity == "thickness":
            continue
        where = {"run": "worked part", "whole": "whole piece", "piece": "whole piece"}[place.kind]
        of = f"{where} of {place.branch}" if several and place.branch else where
        quantity = "size across" if is_even else QUANTITIES[place.quantity]
        found.append((f"{of}, {quantity}".capitalize(), ones))
    return found


def _same(one: list[StepReading], other: list[StepReading]) -> bool:
    pairs = list(zip(one, other, strict=False))
    return len(one) == len(other) and all(
        a.actual == b.actual and a.predicted == b.predicted for a, b in pairs
    )


def _strip(label: str, readings: list[StepReading], units: UnitSystem) -> Strip:
    say = _sayer(readings[0].place.quantity, units)
    values = [one.actual for one in readings]
    predicted = readings[0].predicted
    apart = apart_of(values, predicted)
    shown = [
        ShownReading(say(one.actual), one, is_apart) for one, is_apart in zip(readings, apart, strict=True)
    ]
    low, high = min(values), max(values)
    measured = say(low) if say(low) == say(high) else f"{say(low)} to {say(high)}"
    span = _span(predicted, say)
    told = f"{label}: {len(values)} measured, {measured}. "
    told += (
        f"Predicted: {say(predicted.typical)}{span and f' ({span})'}."
        if predicted
        else "Nothing is predicted."
    )
    return Strip(
        label=label,
        number=len(values),
        predicted=say(predicted.typical) if predicted else "",
        span=span,
        measured=measured,
        mean=say(fmean(values)) if len(values) >= ENOUGH else "",
        apart=sum(apart),
        drawing=_drawing(values, apart, predicted, told, say),
        readings=shown[:MOST_TOLD],
        more=max(len(shown) - MOST_TOLD, 0),
    )


def _sayer(quantity: str, units: UnitSystem) -> Any:
    return {"length": units.length, "mass": units.mass}.get(quantity, units.size)


def _span(predicted: Prediction | None, say: Any) -> str:
    if predicted is None or say(predicted.low) == say(predicted.high):
        return ""
    return f"{say(predicted.low)} to {say(predicted.high)}"


def apart_of(values: Sequence[float], predicted: Prediction | None) -> list[bool]:
    """Return which readings are far from the others, or of a few, from what is predicted.

    They are marked and stay: what is strange may be what a smith most wants to know.
    """
    if len(values) >= SEVERAL:
        middle = median(values)
        usual = SIGMA * median(abs(one - middle) for one in values)
        far = FAR * max(usual, FINE * abs(middle))
        return [abs(one - middle) > far for one in values]
    if predicted is None:
        return [False] * len(values)
    low, high = predicted.low * (1 - OFF), predicted.high * (1 + OFF)
    return [not low <= one <= high for one in values]


# -- drawing -----------------------------------------------------------------------------------------


def _drawing(
    values: Sequence[float], apart: Sequence[bool], predicted: Prediction | None, told: str, say: Any
) -> SafeString:
    ends = [*values, *((predicted.low, predicted.high) if predicted else ())]
    low, high = min(ends), max(ends)
    room = (high - low) or max(abs(low) * FINE, 1e-6)

    def x(value: float) -> float:
        return round(SIDE + (WIDTH - 2 * SIDE) * ((value - low) / room if high > low else 0.5), 1)

    parts = [
        f'<svg class="strip" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-label="{escape(told)}">',
        f'<path d="M{SIDE} {BASE}H{WIDTH - SIDE}" fill="none" stroke="currentColor" stroke-width="1"/>',
    ]
    if predicted:
        left, right = x(predicted.low), x(predicted.high)
        parts.append(
            f'<rect class="strip__span" x="{left}" y="4" width="{max(round(right - left, 1), 2)}" '
            f'height="{BASE - 4}" fill="currentColor" fill-opacity="0.15"/>'
        )
        at = x(predicted.typical)
        parts.append(
            f'<path class="strip__predicted" d="M{at} 2V{BASE + 4}" fill="none" stroke="currentColor" '
            'stroke-width="2" stroke-dasharray="4 2"/>'
        )
    parts.extend(_dots(values, apart, x))
    named = [(low, SIDE, "start"), (high, WIDTH - SIDE, "end")]
    for value, place, anchor in named if high > low else [(low, WIDTH // 2, "middle")]:
        parts.append(
            f'<text x="{place}" y="{HEIGHT - 4}" text-anchor="{anchor}" font-size="12" '
            f'fill="currentColor">{escape(say(value))}</text>'
        )
    parts.append("</svg>")
    return SafeString("".join(parts))


def _dots(values: Sequence[float], apart: Sequence[bool], x: Any) -> list[str]:
    """Return the dots, stood on each other where they would lie together; hollow for what is set apart."""
    columns: dict[int, int] = {}
    found = []
    for value, is_apart in sorted(zip(values, apart, strict=True)):
        at = x(value)
        column = round(at / (2 * RADIUS))
        height = columns[column] = columns.get(column, 0) + 1
        if height > MOST_DOTS:
            continue
        # Many in one place are drawn closer, so that the column stays in the strip.
        y = round(BASE - RADIUS - (height - 1) * (BASE - 2 * RADIUS) / MOST_DOTS, 1)
        fill = "none" if is_apart else "currentColor"
        found.append(
            f'<circle cx="{at}" cy="{y}" r="{RADIUS - 0.75}" fill="{fill}" stroke="currentColor" '
            'stroke-width="1.5"/>'
        )
    for column, height in columns.items():
        if height > MOST_DOTS:
            at = column * 2 * RADIUS
            found.append(
                f'<text x="{at}" y="8" text-anchor="middle" font-size="9" fill="currentColor">'
                f"×{height}</text>"
            )
    return found
