"""Reading numbers and lengths out of the tokens of what was typed."""

from __future__ import annotations

from calculators import units
from calculators.typed_tokens import Token, TypedError, shown, tokens

LONGEST_LENGTH = 100_000.0  # mm

_NUMBERS = ("whole", "decimal", "fraction")

_LENGTH_UNITS = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("in", "ins", "inch", "inches", '"'), "in"),
    **dict.fromkeys(("ft", "foot", "feet", "'"), "ft"),
}


class Reader:
    """Takes tokens one after another. Raises TypedError with the reason as a clause."""

    def __init__(self, text: object) -> None:
        self._tokens = tokens(text)
        self._at = 0

    def peek(self, ahead: int = 0) -> Token | None:
        """Return a coming token without taking it."""
        place = self._at + ahead
        return self._tokens[place] if place < len(self._tokens) else None

    def number_follows(self, ahead: int) -> bool:
        """Whether a number comes after so many tokens more."""
        token = self.peek(ahead)
        return token is not None and token.kind in _NUMBERS

    def take(self, *texts: str) -> str | None:
        """Take the next word or sign if it is one of these."""
        token = self.peek()
        if token is None or token.kind not in ("word", "sign") or token.text not in texts:
            return None
        self._at += 1
        return token.text

    def number(self) -> float:
        """Take a decimal, a fraction, or a whole number with a fraction: 8.5, 3/4, 3 1/2, 3-1/2, 3½."""
        token = self.peek()
        if token is not None and token.text == "-":
            raise TypedError("is below zero")
        if token is None or token.kind not in _NUMBERS:
            raise TypedError(f"has {shown(token.text) if token else 'nothing'} where a number was expected")
        self._at += 1
        if token.kind == "fraction":
            return token.value
        if token.kind == "decimal":
            self._refuse_fraction()
            return token.value
        if self.take("/"):
            return self._over(token.value)
        return token.value + self._fraction_after()

    def done(self) -> None:
        """Refuse whatever is left."""
        token = self.peek()
        if token is None:
            return
        if token.text == "-":
            raise TypedError("is a range or a difference, not one value")
        raise TypedError(f"has {shown(token.text)} where nothing more was expected")

    def _fraction_after(self) -> float:
        hyphen = 1 if (token := self.peek()) is not None and token.text == "-" else 0
        first, slash = self.peek(hyphen), self.peek(hyphen + 1)
        if first is None:
            return 0.0
        if first.kind == "fraction":
            self._at += hyphen + 1
            return first.value
        if first.kind == "whole" and slash is not None and slash.text == "/":
            self._at += hyphen + 2
            fraction = self._over(first.value)
            if fraction >= 1:
                raise TypedError("has a fraction of one or more after a whole number")
            return fraction
        return 0.0

    def _over(self, above: float) -> float:
        token = self.peek()
        if token is None or token.kind != "whole":
            raise TypedError("has a fraction without a whole number under its line")
        self._at += 1
        if token.value == 0:
            raise TypedError("has a fraction over zero")
        if (following := self.peek()) is not None and following.text == "/":
            raise TypedError("has two fraction lines in one number")
        return above / token.value

    def _refuse_fraction(self) -> None:
        following, slash = self.peek(), self.peek(1)
        if following is None:
            return
        mixed = following.kind == "whole" and slash is not None and slash.text == "/"
        if following.kind == "fraction" or following.text == "/" or mixed:
            raise TypedError("mixes a decimal and a fraction in one number")


def length(reader: Reader) -> tuple[float, str | None]:
    """Take a length: its value, and its unit or None. Feet with inches come as inches."""
    value = reader.number()
    unit = unit_of(reader, _LENGTH_UNITS)
    if unit != "ft":
        return value, unit
    if reader.number_follows(1):
        reader.take("-")  # 5'-3" as drawings have it
    if not reader.number_follows(0):
        return value, unit
    inches = reader.number()
    if inches >= 12:
        raise TypedError("has twelve inches or more after the feet")
    if unit_of(reader, _LENGTH_UNITS) not in (None, "in"):
        raise TypedError("has something else than inches after the feet")
    return value * units.factor("ft") / units.factor("in") + inches, "in"


def checked_mm(mm: float, zero_ok: bool = False) -> float:
    """Return a length [mm], or raise TypedError: more than 100 m, or zero where that is not allowed."""
    if mm > LONGEST_LENGTH:
        raise TypedError("is more than 100 m")
    if mm <= 0 and not zero_ok:
        raise TypedError("is nothing: it must be more than zero")
    return round(mm, 9)  # 3 1/2 in is 88.9 mm, not 88.89999999999999


def unit_of(reader: Reader, names: dict[str, str]) -> str | None:
    """Take a unit's name if one comes, and return ours for it."""
    word = reader.take(*names)
    return names[word] if word else None
