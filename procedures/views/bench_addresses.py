"""Where the links of the author's page lead."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from .rows import address_of, bench_address

if TYPE_CHECKING:
    from procedures.access import MemberRequest
    from procedures.engine.document import Document
    from procedures.models import Procedure
    from procedures.presenting import ShownPart, ShownStep

    from .rows import Row


class Addresses:
    """The addresses that lead on from the step at the bench; Bench says which it is."""

    if TYPE_CHECKING:
        request: MemberRequest
        procedure: Procedure
        part_key: str
        step_key: str

        @property
        def document(self) -> Document: ...
        @property
        def part(self) -> ShownPart: ...
        @property
        def step(self) -> ShownStep | None: ...
        @property
        def rows(self) -> tuple[Row, ...]: ...

    @property
    def tabs(self) -> list[dict[str, Any]]:
        """The parts as links."""
        return [
            {"text": one.name, "href": self.address(one.key), "current": one.key == self.part_key}
            for one in self.document.parts
        ]

    @property
    def before(self) -> str:
        """The address of the step before, or of the bar; "" before the bar."""
        if self.step is None:
            return ""
        at = self.step.number - 2
        return self.address(self.part_key, self.part.steps[at].key) if at >= 0 else self.bar_bench_address

    @property
    def following(self) -> str:
        """The address of the step after, or ""."""
        at = self.step.number if self.step else 0
        return self.address(self.part_key, self.part.steps[at].key) if at < len(self.part.steps) else ""

    def address(self, part: str, step: str = "") -> str:
        """Return the address of the page with this part and step at the bench."""
        return bench_address(self.procedure.slug, part, step)

    @property
    def piece_address(self) -> str:
        """The address of the large drawing alone."""
        address = address_of("procedures:piece", self.procedure.slug, self.part_key)
        return f"{address}?step={self.step.key}" if self.step else address

    @property
    def small_address(self) -> str:
        """The address of the small drawing of the step at the bench, for a telephone; "" for none."""
        if self.step is None or self.step.status != "done":
            return ""
        return self.rows[self.step.number - 1].drawing_address

    @property
    def bar_address(self) -> str:
        """The address of the list of the open part; where there is room, its bar is at the bench."""
        return self.address(self.part_key)

    @property
    def bar_bench_address(self) -> str:
        """The address of the page with the bar of the open part at the bench, on a telephone too."""
        return f"{self.bar_address}&at=bar"

    @property
    def insert_address(self) -> str:
        """The address for choosing a step to put in after the one at the bench, or first."""
        return f"{self.bar_address}&after={self.step.key if self.step else ''}"

    @property
    def add_address(self) -> str:
        """The address for choosing a step to put at the end."""
        return f"{self.bar_address}&after={self.part.steps[-1].key if self.part.steps else ''}"

    @property
    def at_bar(self) -> bool:
        """Whether the bar was asked for by itself, and not only as what stands beside the list."""
        return self.step is None and self.request.GET.get("at") == "bar"

    @property
    def here(self) -> str:
        """The address of the page as it is."""
        if self.at_bar:
            return self.bar_bench_address
        return self.address(self.part_key, self.step_key if self.step else "")
