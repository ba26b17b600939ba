"""Findings as the author's page shows them: at their fields, and as links to their steps."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.urls import reverse

from calculators.retelling import retold
from calculators.wording import UnitSystem
from procedures.engine.finding import Finding, Level
from procedures.engine.replay import Frame
from procedures.engine.rulebook import rulebook
from procedures.forms import StepForm
from procedures.models import Procedure

from .rows import bench_address


@dataclass(frozen=True)
class BenchFinding:
    """A finding as the bench shows it: at its field, with what mends it or lets it stand."""

    level: str
    text: str
    hint: str
    source: str
    code: str
    field: str
    href: str
    mend: str  # what the button says, "" for none
    silenced: str  # why it is let stand
    can_stand: bool
    why: str  # the address of the rule it comes from, "" for a check of the step itself


def bench_finding(finding: Finding, form: StepForm, step: str, units: UnitSystem) -> BenchFinding:
    """Return a finding of the step of this key, with the field of its form that it is about."""
    entry = form.entry(finding.field) if finding.field else None
    mend = finding.mending(step)
    return BenchFinding(
        level=str(finding.level),
        text=retold(finding.message.text(units), units),
        hint=retold(finding.hint.text(units), units) if finding.hint else "",
        source=retold(finding.source, units),
        code=finding.code,
        field=finding.field,
        href=f"#{entry.line.id_for_label}" if entry else "",
        mend=mend.label.text(units) if mend else "",
        silenced=finding.silenced,
        can_stand=finding.level == Level.CAUTION,
        why=f"{reverse('procedures:rules')}#{finding.code}" if finding.code in rulebook() else "",
    )


def stop_link(procedure: Procedure, frame: Frame, finding: Finding, units: UnitSystem) -> dict[str, Any]:
    """Return a stop as a link to its step."""
    return {
        "href": bench_address(procedure.slug, frame.part.key, frame.key),
        "part": frame.part.name,
        "number": frame.number,
        "title": frame.title,
        "text": retold(finding.text(units), units),
    }
