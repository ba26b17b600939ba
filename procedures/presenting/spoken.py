"""What a screen says aloud: sizes and units as a person says them, not as they are written."""

from __future__ import annotations

import re

from calculators.number_texts import MINUS, SPACE

from .figures import Figure
from .parts import ShownPart
from .steps import ShownStep

_UNITS = {
    "mm": ("millimetre", "millimetres"),
    "cm": ("centimetre", "centimetres"),
    "in": ("inch", "inches"),
    "ft": ("foot", "feet"),
    "kg": ("kilogram", "kilograms"),
    "g": ("gram", "grams"),
    "lb": ("pound", "pounds"),
    "oz": ("ounce", "ounces"),
    "s": ("second", "seconds"),
    "min": ("minute", "minutes"),
    "h": ("hour", "hours"),
    "%": ("per cent", "per cent"),
    "°C": ("degree Celsius", "degrees Celsius"),
    "°F": ("degree Fahrenheit", "degrees Fahrenheit"),
}
_SHARES = {
    2: ("half", "halves"),
    4: ("quarter", "quarters"),
    8: ("eighth", "eighths"),
    16: ("sixteenth", "sixteenths"),
    32: ("thirty-second", "thirty-seconds"),
    64: ("sixty-fourth", "sixty-fourths"),
}
_NUMBER = r"\d+(?: \d+/\d+|/\d+|[.,]\d+)?"
_SHAPE = re.compile(rf"([□øØ])({_NUMBER}(?: (?:mm|in)\b)?)")
_FRACTION = re.compile(r"(?:(\d+) )?(?<![\d/])(\d+)/(\d+)(?![\d/])")
_END = r"\d ?|(?:half|halves|quarters?|eighths?|sixteenths?|seconds?|fourths?) "  # of a number as it is said
_UNIT = re.compile(rf"({_END})({'|'.join(_UNITS)})(?!\w)")
_CORNERS = {"r": "corners of", "c": "chamfers of"}


def spoken(text: str) -> str:
    """Return a text with its sizes in words: "□12 mm" becomes "12 millimetres square"."""
    text = text.replace(SPACE, " ").replace("\N{NO-BREAK SPACE}", " ").replace("\N{FRACTION SLASH}", "/")
    text = _SHAPE.sub(lambda found: f"{found[2]} {'square' if found[1] == '□' else 'round'}", text)
    text = _FRACTION.sub(_fraction, text)
    text = re.sub(r"(\d) ?[–-] ?(?=\d)", r"\1 to ", text)
    text = text.replace(MINUS, "minus ").replace(" × ", " by ").replace("→", "becomes").replace("≈", "about ")
    text = re.sub(r"(?<=[\w.]) ([rc])(?=\d)", lambda found: f", {_CORNERS[found[1]]} ", text)
    text = _UNIT.sub(lambda found: f"{found[1].rstrip()} {_unit(found)}", text)
    return re.sub(r"(\d)°", r"\1 degrees", text)


def _unit(found: re.Match[str]) -> str:
    one, several = _UNITS[found[2]]
    before = found.string[: found.start(2)].rstrip()
    is_one = re.search(r"(?:^|[^\d.,])1$|(?<!and )\ban? [\w-]+$", before)
    return one if is_one else several


def _fraction(found: re.Match[str]) -> str:
    whole, top, bottom = found[1], int(found[2]), int(found[3])
    if bottom not in _SHARES:
        return found[0]
    share = (
        f"{'an' if bottom == 8 else 'a'} {_SHARES[bottom][0]}" if top == 1 else f"{top} {_SHARES[bottom][1]}"
    )
    return f"{whole} and {share}" if whole else share


# -- screens -----------------------------------------------------------------------------------------


def spoken_step(step: ShownStep) -> str:
    """Return what the screen of a step says: cautions first, then place, sizes, heat and check."""
    said = [f"Step {step.number} of {len(step.part.steps)}. {step.title}"]
    said += [f"{one.word}: {one.text}" for one in step.warnings]
    said += [step.place, *map(_figure, step.sizes)]
    if step.heat:
        said.append(f"Heat: {step.heat.name}, {step.heat.degrees}")
    said += [f"{step.planned} planned" if step.planned else "", step.instruction]
    said.append(f"Check: {step.check}" if step.check else "")
    return _sentences(said)


def spoken_ready(part: ShownPart) -> str:
    """Return what the first screen of a part says."""
    several = f", make {part.quantity}" if part.quantity > 1 else ""
    bar = f"{part.material}, {part.stock_section}, {part.stock_length} long"
    return _sentences([f"{part.name}{several}", bar, f"{len(part.steps)} steps", *part.safety])


def spoken_done(part: ShownPart) -> str:
    """Return what the last screen of a part says."""
    if not part.is_complete:
        return _sentences([f"{part.name} is not complete"])
    facts = [f"{one.label}: {one.value} {one.unit}" for one in part.finished]
    return _sentences([f"{part.name}: measure it", *facts, f"It should weigh {part.mass_end}"])


def _figure(figure: Figure) -> str:
    if not figure.changed:
        return f"{figure.label} stays {figure.after} {figure.unit}"
    if not figure.before:
        return f"{figure.label}: {figure.after} {figure.unit}"
    return f"{figure.label}: {figure.before} {figure.unit} becomes {figure.after} {figure.unit}"


def _sentences(texts: list[str]) -> str:
    said = [spoken(one.strip().rstrip(".")) for one in texts if one.strip()]
    return " ".join(f"{one[:1].upper()}{one[1:]}." for one in said)
