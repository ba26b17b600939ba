"""The piece that is reproduced: what it is, who permits what, what was measured on it, what is known.

"original" of a document: its texts (ORIGINAL, IDENTITY), "seen_on" (a date), "permits" by name (PERMITS),
"references" (the sources cited, by their keys) and "measurements". All of it may be left out. Lengths in mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from procedures.engine.parameters.params import Length
from procedures.engine.pieces.metal_left import LENGTH_LIMIT

# What is said of an original: the label, the help and the most letters.
IDENTITY = {
    "what": ("What it is", "Strap hinge, one of a pair.", 200),
    "maker": ("Maker", "Known, said to be, or unknown.", 200),
    "place": ("Where it was made", "", 200),
    "date": ("When it was made", "About 1790; 1780 to 1810; and who says so.", 200),
    "owner": ("Owner or museum", "", 200),
    "inventory": ("Inventory number", "", 100),
    "seen_at": ("Where it was seen", "On the door, in the store, on the bench.", 200),
    "seen_by": ("By whom", "", 200),
    "material": ("Iron or steel", "As far as known, and how.", 300),
    "repairs": ("Repairs", "What is not of its first making.", 1000),
}
ORIGINAL = {
    "identity": ("More about it", "Context, position on the building, what else it belongs to.", 500),
    "permission": ("Permission in general", "What does not fit below.", 500),
    "condition": ("Condition", "Complete or broken, corrosion, what is missing.", 1000),
    "sources": ("Sources in general", "What is not in the list of sources.", 2000),
}
TEXTS = {**IDENTITY, **ORIGINAL}
PERMITS = {
    "measure": "To measure it",
    "photograph": "To photograph it",
    "publish": "To publish photos of it",
}
ANSWERS = {"yes": "Permitted", "asked": "Asked, no answer yet", "no": "Not permitted"}
SOURCE_KINDS = {
    "book": "Book or article",
    "letter": "Letter or account",
    "drawing": "Drawing",
    "photo": "Photo",
    "x_ray": "X-ray",
    "piece": "Comparison piece",
    "person": "Told by a person",
    "other": "Other",
}
# What an instrument is usually good to is told on the page: common practice, no source.
TOOLS = {
    "calipers": "Calipers",
    "tape": "Tape",
    "rule": "Rule",
    "pi_tape": "Pi tape",
    "string": "String along a curve",
    "gauge": "Gauge or template",
    "photo": "Photo with a scale",
    "x_ray": "X-ray",
    "other": "Other",
}
MOST_MEASUREMENTS = 100
MOST_REFERENCES = 60
MOST_FACES = 6
WORDS = 200
REFERENCE_LIMIT = 500
SIZES = ("length", "total", "ring", "width", "thickness")  # of the piece, as the stock page asks for them
VALUE = Length("The measured value", above=0, most=LENGTH_LIMIT, unit="mm")
DOUBT = Length("The uncertainty", least=0, most=LENGTH_LIMIT, unit="mm")
DEPTH = Length("The allowance", least=0, most=LENGTH_LIMIT, unit="mm")


@dataclass(frozen=True)
class Permit:
    """Whether something is permitted, by whom, on which day and on what terms."""

    answer: str
    by: str = ""
    on: str = ""
    terms: str = ""


@dataclass(frozen=True)
class Reference:
    """A source that steps and measurements cite by its key."""

    key: str
    kind: str
    text: str


@dataclass(frozen=True)
class Allowance:
    """What corrosion took from one face [mm], how well that is known [mm], and why it is thought so."""

    face: str
    depth: float
    reason: str
    uncertainty: float = 0.0


@dataclass(frozen=True)
class Measurement:
    """A size as found [mm], and what it was before it corroded.

    Metal was larger by what its faces lost, an `opening` smaller. The doubts of value and faces are taken to
    be independent, so they add as squares. `part` and `size` say which size of the piece it is:
    "thickness:taper" is that after the step of this key, "length:bar" that of a branch,
    as the stock page has it.
    """

    key: str
    what: str
    value: float
    uncertainty: float
    tool: str
    opening: bool = False
    faces: tuple[Allowance, ...] = ()
    sources: tuple[str, ...] = ()
    note: str = ""
    part: str = ""
    size: str = ""

    @property
    def allowance(self) -> float:
        """What all faces lost together [mm]."""
        return math.fsum(one.depth for one in self.faces)

    @property
    def corrected(self) -> float:
        """How large it was when it was made [mm]."""
        return self.value - self.allowance if self.opening else self.value + self.allowance

    @property
    def doubt(self) -> float:
        """How well that is known [mm]: the root of the sum of squares."""
        return math.hypot(self.uncertainty, *(one.uncertainty for one in self.faces))

    @property
    def bounds(self) -> tuple[float, float, float]:
        """The corrected size [mm] at the least, typically and at the most."""
        return max(self.corrected - self.doubt, 0.0), self.corrected, self.corrected + self.doubt


@dataclass(frozen=True)
class Original:
    """The piece that is reproduced, in its author's words and measurements."""

    what: str = ""
    maker: str = ""
    place: str = ""
    date: str = ""
    owner: str = ""
    inventory: str = ""
    seen_at: str = ""
    seen_by: str = ""
    material: str = ""
    repairs: str = ""
    identity: str = ""
    permission: str = ""
    condition: str = ""
    sources: str = ""
    seen_on: str = ""
    permits: Mapping[str, Permit] = field(default_factory=dict)
    references: tuple[Reference, ...] = ()
    measurements: tuple[Measurement, ...] = ()

    @property
    def photos_may_be_published(self) -> bool:
        """Whether its owner permits photos of it to be published."""
        permit = self.permits.get("publish")
        return permit is not None and permit.answer == "yes"

    def words(self) -> Iterator[str]:
        """Yield all that is said of it in words."""
        yield from (text for key in TEXTS if (text := getattr(self, key)))
        yield from (one.text for one in self.references)
        yield from (one.what for one in self.measurements)
