"""The text of a document: JSON, read without guessing what an unclear file might have meant."""

from __future__ import annotations

import json
from typing import Any

from procedures.engine.parameters.fields import DocumentError

LARGEST = 5_000_000  # bytes: a thousand steps with long notes come to half of it


def parse(text: bytes | str, largest: int = LARGEST) -> Any:
    """Return what a document's JSON text holds, for `document.read`.

    Raises DocumentError for text that is too large, not UTF-8, not JSON, nested too deep, or that gives one
    name twice, of which other programs silently keep the last.
    """
    if len(text) > largest:
        raise DocumentError((), f"The file is larger than {largest // 1_000_000} MB.")
    try:
        words = text.decode("utf-8-sig") if isinstance(text, bytes) else text
        return json.loads(words, object_pairs_hook=_object, parse_constant=_constant)
    except DocumentError:
        raise
    except UnicodeDecodeError as error:
        raise DocumentError((), f"The file is not UTF-8 text (byte {error.start}).") from error
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        raise DocumentError((), f"This is not JSON: {error.msg.lower()} at {where}.") from error
    except RecursionError as error:
        raise DocumentError((), "The JSON is nested too deep.") from error
    except ValueError as error:  # a whole number of thousands of digits
        raise DocumentError((), "A number in it has more digits than can be read.") from error


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    fields = dict(pairs)
    if len(fields) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise DocumentError((twice,), "This name is there twice in one object.")
    return fields


def _constant(name: str) -> Any:
    raise DocumentError((), f"{name} is not a number in JSON.")
