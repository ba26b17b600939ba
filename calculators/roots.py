"""Finding where a rising function reaches a value."""

from __future__ import annotations

from collections.abc import Callable


def rising_root(rising: Callable[[float], float], wanted: float, low: float, high: float) -> float:
    """Return the x in low..high at which a rising function is as wanted, by halving to the last figure.

    Raises ValueError when the value is not reached between low and high.
    """
    if not rising(low) <= wanted <= rising(high):
        raise ValueError(f"{wanted:g} is not reached between {low:g} and {high:g}.")
    while True:
        middle = (low + high) / 2
        if middle in (low, high):
            return middle
        if rising(middle) < wanted:
            low = middle
        else:
            high = middle
