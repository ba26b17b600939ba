"""A procedure as values: its parts, their steps and photos, as a document holds them once it is read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from calculators.materials import MATERIALS, Material
from calculators.sections import Section
from procedures.engine.parameters.params import ParamError
from procedures.engine.pieces.place import Place

from .annotation import Annotation
from .catalogue import find
from .evidence import Evidence
from .operation import Operation
from .originals import Original
from .scale import ScaleHabit

LEVELS = {"beginner": "Beginner", "intermediate": "Intermediate", "advanced": "Advanced"}
LICENCES = {
    "CC-BY-4.0": "Creative Commons Attribution 4.0",
    "CC-BY-SA-4.0": "Creative Commons Attribution-ShareAlike 4.0",
    "CC0-1.0": "Creative Commons Zero 1.0 (public domain)",
}


@dataclass(frozen=True)
class Photo:
    """A photo of a step, by the digest of its stored file, and what is laid over it.

    `credit` is who took it; one `of_original` shows the piece that is reproduced.
    """

    digest: str
    alt: str
    caption: str = ""
    annotations: tuple[Annotation, ...] = ()
    credit: str = ""
    of_original: bool = False


@dataclass(frozen=True)
class Step:
    """One step as stored: which operation, with which parameters, and what people add to it.

    `heats` are planned, for each member of a group; `heated` is the hot range where it is longer than the
    range worked. `silenced` are the reasons for letting cautions and notes stand, by their code. `evidence`
    and `deviation` are a reproduction's: how the step is known, and where it is done otherwise now.
    """

    key: str
    operation: str
    params: Mapping[str, Any] = field(default_factory=dict)
    version: int = 1
    heats: int = 0
    welding_heats: int = 0
    heated: Place | None = None
    tongs: str = ""
    note: str = ""
    photos: tuple[Photo, ...] = ()
    silenced: Mapping[str, str] = field(default_factory=dict)
    evidence: Evidence | None = None
    deviation: str = ""

    @property
    def kind(self) -> type[Operation] | None:
        """The operation's class, or None when there is none of that id."""
        return find(self.operation)

    def build(self) -> Operation:
        """Return the operation with its parameters. Raises ParamError."""
        kind = self.kind
        if kind is None:
            raise ParamError(f"There is no operation called {self.operation!r}.")
        return kind.from_params(self.params)


@dataclass(frozen=True)
class Part:
    """One part: the bar it starts from and its steps. Lengths in mm."""

    key: str
    name: str
    section: Section
    length: float
    material: Material = MATERIALS["mild_steel"]
    quantity: int = 1
    steps: tuple[Step, ...] = ()


@dataclass(frozen=True)
class Document:
    """A whole procedure."""

    title: str
    parts: tuple[Part, ...]
    summary: str = ""
    level: str = "beginner"
    licence: str = "CC-BY-4.0"
    credits: tuple[str, ...] = ()
    scale: ScaleHabit = field(default_factory=ScaleHabit)
    original: Original | None = None

    def part(self, key: str) -> Part | None:
        """Return the part of this key, or None."""
        return next((one for one in self.parts if one.key == key), None)
