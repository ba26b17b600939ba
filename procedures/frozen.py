"""The figures of a published revision, frozen: packed to be kept, and held against what is reckoned today."""

from __future__ import annotations

import json
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

NOTHING = None  # what a figure is compared with that is not there any more
# Texts of the report that tell of figures and are none: they may be worded better without changing anything.
WORDS = {"title", "instruction", "check", "message", "hint", "source", "material_title"}


@dataclass(frozen=True, slots=True)
class Difference:
    """One value of a report that is another now: `path` as in "parts.0.steps.2.mass"."""

    path: str
    before: Any
    after: Any

    @property
    def is_figure(self) -> bool:
        """Whether it is a figure, or what was decided by one, and not the wording of a sentence."""
        return self.path.rpartition(".")[2] not in WORDS


def pack(report: Any) -> bytes:
    """Return a report (`report.report`) packed: it says much twice, so it comes to a few per cent."""
    text = json.dumps(report, separators=(",", ":"), ensure_ascii=False)
    return zlib.compress(text.encode(), level=9)


def unpack(packed: bytes | memoryview) -> Any:
    """Return the report that was packed."""
    return json.loads(zlib.decompress(packed))


def differences(frozen: Any, today: Any, path: str = "") -> Iterator[Difference]:
    """Yield every value of the frozen report that is not the same in today's, in the order of the steps.

    Names that are only in today's are of a later version of the report and change nothing that was published.
    """
    if isinstance(frozen, dict) and isinstance(today, dict):
        for name, value in frozen.items():
            yield from differences(value, today.get(name, NOTHING), _under(path, name))
    elif isinstance(frozen, list) and isinstance(today, list):
        for index in range(max(len(frozen), len(today))):
            before, after = (one[index] if index < len(one) else NOTHING for one in (frozen, today))
            yield from differences(before, after, _under(path, str(index)))
    elif frozen != today:
        yield Difference(path, frozen, today)


def _under(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name
