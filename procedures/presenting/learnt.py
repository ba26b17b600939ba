"""What a shop learnt, in words and drawn: from the belief before anything was measured to the one now."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import exp, log10

from django.utils.html import escape
from django.utils.safestring import SafeString
from django.utils.text import slugify

from calculators.number_texts import decimal
from calculators.wording import UnitSystem
from procedures.calibration import Belief, Quantity, Subject
from procedures.learning import Learnt, Lessons

SHARE = 0.8
SIZE, SIDE = 320, 40  # of a drawing: its square, and the room for its figures
_RADIUS = 4
_WORDS = 'font-family="Barlow Condensed" font-size="15" fill="currentColor"'
_THIN = 'stroke-width="1"'
_DASHED = 'stroke-width="1.5" stroke-dasharray="6 4"'
STATES = {
    "counts": "counts",
    "asked": "asked about",
    "left out": "left out by you",
    "refused": "says nothing",
}
_EFFECT = {
    "heats": "Heat plans of this steel are made with it, never with fewer heats than a step usually takes "
    "or the fire must reach.",
    "blows": "Heat plans of this steel are made with it.",
    "seconds": "Heat plans of this steel are made with it.",
    "loss": "Told beside the scale of a heat plan when you ask for that; no size is changed by it.",
    "spread": "Put it into the spread of a step yourself; no size is changed by it.",
    "cooling": "",
}


@dataclass(frozen=True)
class ShownReading:
    """One reading as the table tells it."""

    one: Learnt
    predicted: str
    actual: str
    said: str
    state: str


@dataclass(frozen=True)
class ShownBelief:
    """One quantity of one steel: what was believed, what is now, from how many, and each reading."""

    key: str
    title: str
    basis: str
    before: str
    now: str
    sure: str
    count: int
    is_factor: bool
    effect: str
    readings: Sequence[ShownReading]
    drawing: SafeString


def shown_beliefs(lessons: Lessons, units: UnitSystem) -> list[ShownBelief]:
    """Return everything that was read of a shop, by quantity and steel."""
    return [_belief(subject, belief, lessons, units) for subject, belief in lessons.beliefs]


def _belief(subject: Subject, belief: Belief, lessons: Lessons, units: UnitSystem) -> ShownBelief:
    about = subject.about
    own = [one for one in lessons.readings if _is_of(one, subject)]
    steel = f", {subject.steel.lower()}" if subject.steel else ""
    title = f"{about.title}{steel}"
    rows = [_reading(one, about, units) for one in reversed(own)]
    return ShownBelief(
        key="-".join(one for one in (subject.quantity, slugify(subject.steel)) if one),
        title=title,
        basis=about.basis,
        before=_said(about, about.prior),
        now=_said(about, belief),
        sure=_sure(about, belief),
        count=belief.n,
        is_factor=about.is_log,
        effect=_EFFECT[about.id],
        readings=rows,
        drawing=_drawing(own, about, belief, title),
    )


def _is_of(one: Learnt, subject: Subject) -> bool:
    return one.quantity == subject.quantity and (not subject.steel or one.steel == subject.steel)


def asked_said(one: Learnt, units: UnitSystem) -> str:
    """Return what a reading that is asked about says: predicted, and what came."""
    predicted, actual = (_value(value, one, units) for value in (one.predicted, one.actual))
    return f"{one.label}: {predicted} predicted, {actual} measured"


def _reading(one: Learnt, about: Quantity, units: UnitSystem) -> ShownReading:
    said = ""
    if one.reading is not None:
        said = _mean(about, one.reading.value)
    state = STATES[one.state]
    return ShownReading(
        one,
        _value(one.predicted, one, units),
        _value(one.actual, one, units),
        said,
        f"{state}: {one.why}" if one.why else state,
    )


def _value(value: float, one: Learnt, units: UnitSystem) -> str:
    if one.unit == "g":
        return units.mass(value / 1000) if value >= 0 else f"−{units.mass(-value / 1000)}"
    if one.unit == "mm":
        return units.size(value)
    return f"{decimal(value, 0 if one.unit == 'blows' else 1)} {one.unit}"


# -- beliefs in words --------------------------------------------------------------------------------


def _said(about: Quantity, belief: Belief) -> str:
    return _mean(about, belief.mean)


def _mean(about: Quantity, value: float) -> str:
    if about.id == "loss":
        return f"{decimal(value * 100, 2)} %"
    times = decimal(exp(value) if about.is_log else value, 2)
    return "as predicted" if times == "1" else f"{times} times"


def _sure(about: Quantity, belief: Belief) -> str:
    low, high = belief.interval(SHARE)
    if about.id == "loss":
        return f"{decimal(max(low, 0.0) * 100, 2)} to {decimal(high * 100, 2)} %"
    low, high = (exp(low), exp(high)) if about.is_log else (low, high)
    return f"{decimal(low, 2)} to {decimal(high, 2)} times"


# -- drawn -------------------------------------------------------------------------------------------


def _drawing(own: Sequence[Learnt], about: Quantity, belief: Belief, title: str) -> SafeString:
    """Return the readings as dots, measured over predicted, both by their logarithm.

    Along the full line what came was as predicted; the dashed one is what is believed now.
    """
    dots = [one for one in own if one.predicted > 0 and one.actual > 0]
    if not dots:
        return SafeString("")
    values = [value for one in dots for value in (one.predicted, one.actual)]
    low, high = log10(min(values)) - 0.15, log10(max(values)) + 0.15

    def at(value: float) -> float:
        return SIDE + (SIZE - 2 * SIDE) * (log10(value) - low) / (high - low)

    def line(times: float, more: str) -> str:
        first = max(low, low - log10(times))
        last = min(high, high - log10(times))
        if last <= first:
            return ""
        ends = [(at(10**x), SIZE - at(10**x * times)) for x in (first, last)]
        (x1, y1), (x2, y2) = ends
        return f'<path d="M{x1:.1f} {y1:.1f}L{x2:.1f} {y2:.1f}" fill="none" stroke="currentColor" {more}/>'

    told = f"{title}: {len(dots)} measured over predicted; {_said(about, belief)} is believed now."
    marks = "".join(_dot(one, at(one.predicted), SIZE - at(one.actual)) for one in dots)
    now = line(exp(belief.mean), _DASHED) if about.is_log else ""
    corner = SIZE - SIDE
    middle = SIZE / 2
    return SafeString(
        f'<svg class="learnt__drawing" viewBox="0 0 {SIZE} {SIZE}" role="img" aria-label="{escape(told)}">'
        f'<path d="M{SIDE} {SIDE}V{corner}H{corner}" fill="none" stroke="currentColor"/>'
        f"{line(1.0, _THIN)}{now}{marks}"
        f'<text x="{middle}" y="{SIZE - 8}" text-anchor="middle" {_WORDS}>predicted</text>'
        f'<text x="16" y="{middle}" text-anchor="middle" transform="rotate(-90 16 {middle})" {_WORDS}>'
        f"measured</text>{_ends(min(values), max(values), at)}</svg>"
    )


def _ends(low: float, high: float, at: Callable[[float], float]) -> str:
    texts = []
    for value in dict.fromkeys((low, high)):
        said = escape(decimal(value, 0 if value >= 10 else 1))
        x = at(value)
        texts.append(f'<text x="{x:.1f}" y="{SIZE - SIDE + 16}" text-anchor="middle" {_WORDS}>{said}</text>')
        texts.append(f'<text x="{SIDE - 5}" y="{SIZE - x + 5:.1f}" text-anchor="end" {_WORDS}>{said}</text>')
    return "".join(texts)


def _dot(one: Learnt, x: float, y: float) -> str:
    """Return one reading: a full dot counts, an open one does not."""
    fill = "currentColor" if one.state == "counts" else "none"
    return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{_RADIUS}" fill="{fill}" stroke="currentColor"/>'
