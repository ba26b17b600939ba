"""The rules about whole procedures: what a master sees to, each with why and where it comes from."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from procedures.access import anyone
from procedures.engine.rulebook import SUBJECTS, rulebook
from procedures.middleware import ReaderRequest
from procedures.presenting.rules import shown_rule


@anyone
@require_safe
def rules(request: ReaderRequest) -> HttpResponse:
    """Anyone: all rules by what they are about; a finding of one links to it by its code."""
    shown = [shown_rule(one, request.units) for one in rulebook().values()]
    subjects = [
        {"title": title, "rules": [one for one in shown if one.code.startswith(f"{key}.")]}
        for key, title in SUBJECTS.items()
    ]
    return render(request, "procedures/guide/rules.html", {"subjects": subjects, "count": len(shown)})
