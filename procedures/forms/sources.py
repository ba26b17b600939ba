"""Sources as they are cited in a field: by their keys, with commas between."""

from __future__ import annotations

import re

from procedures.engine.originals_stored import read_sources


def keys_of_sources(text: str) -> tuple[str, ...]:
    """Return the keys typed as "S1, S4". Raises DocumentError."""
    return read_sources([one.lower() for one in re.split(r"[,;\s]+", text) if one], ("sources",))
