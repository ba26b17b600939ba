"""Numbers as text: trimmed decimals, and inches as the binary fractions of a rule."""

from __future__ import annotations

from math import floor, gcd, isfinite

SPACE = "\N{NARROW NO-BREAK SPACE}"
MINUS = "\N{MINUS SIGN}"


def decimal(value: float, places: int) -> str:
    """Return a number rounded half up to so many places, without trailing zeros: "60", "166.7".

    Raises ValueError for what is not a finite number.
    """
    if not isfinite(value):
        raise ValueError(f"{value} cannot be shown: it is not a finite number.")
    nudge = 10.0 ** -(places + 6)  # a half may be stored a hair low and must still round up
    text = f"{abs(value) + nudge:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return f"{MINUS}{text}" if value < 0 and text != "0" else text


def metric_length(mm: float) -> str:
    """Return a length in mm to what can be measured: 0.01 below 1 mm, 0.1 below 1 m, 1 mm above."""
    size = abs(mm)
    return decimal(mm, 3 if size < 0.01 else 2 if size < 1 else 1 if size < 999.95 else 0)


def inches(value: float, parts: int) -> str:
    """Return inches to the nearest 1/parts as a rule has them: "6 9/16", "1/2", "12"."""
    whole, over = divmod(floor(abs(value) * parts + 0.5), parts)
    if whole == over == 0 and value:
        return decimal(value, 3 if abs(value) >= 0.001 else 4)  # too small for a rule: thousandths
    sign = MINUS if value < 0 else ""
    if not over:
        return f"{sign}{whole}"
    common = gcd(over, parts)
    fraction = f"{over // common}/{parts // common}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def inch_length(value: float) -> str:
    """Return inches with their unit: to 1/32 up to ½ in, 1/16 up to 6 in, 1/8 beyond; feet from 3 ft on."""
    size = abs(value)
    parts = 32 if size <= 0.5 else 16 if size <= 6 else 8
    if floor(size * parts + 0.5) < 36 * parts:
        return f"{inches(value, parts)}{SPACE}in"
    eighths = floor(size * parts + 0.5)
    feet, rest = divmod(eighths, 12 * parts)
    sign = MINUS if value < 0 else ""
    return f"{sign}{feet}{SPACE}ft" + (f" {inches(rest / parts, parts)}{SPACE}in" if rest else "")


def inch_size(value: float) -> str:
    """Return a section's dimension in inches: to 1/64 below ½ in, 1/32 from there on."""
    return inches(value, 64 if abs(value) < 0.5 else 32)
