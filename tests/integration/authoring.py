"""Authoring as a browser does it: forms read from the page, changed, and sent."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from typing import Any

from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from procedures.models import Procedure

HTMX = {"hx-request": "true"}
VOID = {"input", "br", "img", "meta", "link", "hr"}


class FormReader(HTMLParser):
    """The fields of the form with an id, as a browser would send them."""

    def __init__(self, form_id: str) -> None:
        super().__init__()
        self.form_id = form_id
        self.action = ""
        self.fields: dict[str, str] = {}
        self._inside = False
        self._select = self._area = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if tag == "form":
            self._inside = given.get("id") == self.form_id
            self.action = given.get("action", "") if self._inside else self.action
        if not self._inside:
            return
        name = given.get("name", "")
        chosen = given.get("type") not in ("checkbox", "radio") or "checked" in given
        if tag == "input" and name and given.get("type") != "file" and chosen:
            self.fields[name] = given.get("value", "on" if given.get("type") == "checkbox" else "")
        elif tag == "select":
            self._select = name
        elif tag == "option" and self._select and ("selected" in given or self._select not in self.fields):
            self.fields[self._select] = given.get("value", "")
        elif tag == "textarea":
            self._area = name
            self.fields[name] = ""

    def handle_data(self, text: str) -> None:
        if self._area:
            self.fields[self._area] += text.removeprefix("\n") if not self.fields[self._area] else text

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._inside = False
        elif tag == "select":
            self._select = ""
        elif tag == "textarea":
            self._area = ""


def the_form(html: str, form_id: str) -> FormReader:
    """The form with this id on a page."""
    reader = FormReader(form_id)
    reader.feed(html)
    assert reader.action, f"there is no form #{form_id} on the page"
    return reader


def bench_of(client: Client, procedure: Procedure, step: str = "", part: str = "bar") -> str:
    """The author's page with a step at the bench, or the bar."""
    query = {"part": part} | ({"step": step} if step else {})
    response = client.get(reverse("procedures:edit", args=[procedure.slug]), query)
    assert response.status_code == 200
    return response.content.decode()


def typed(
    client: Client, procedure: Procedure, step: str, *, part: str = "bar", parts: bool = False, **values: str
) -> HttpResponse:
    """Type values into a step's form and save it; `parts` asks as htmx does. A name's "__" stands for "-"."""
    form = the_form(bench_of(client, procedure, step, part), "step-form")
    named = {name.replace("__", "-"): value for name, value in values.items()}
    return client.post(form.action, form.fields | named, headers=HTMX if parts else None)


def stored(procedure: Procedure, step: str | None = None, part: str = "bar") -> dict[str, Any]:
    """What is stored now: the document, or one of its steps."""
    procedure.refresh_from_db()
    if step is None:
        return procedure.document
    found = next(one for one in procedure.document["parts"] if one["key"] == part)
    return next(one for one in found["steps"] if one["key"] == step)


def step_keys(procedure: Procedure, part: str = "bar") -> list[str]:
    """The keys of the steps of a part, in order."""
    found = next(one for one in stored(procedure)["parts"] if one["key"] == part)
    return [one["key"] for one in found["steps"]]


def words(response: HttpResponse | str) -> str:
    """The text of an answer, tags and doubled space taken out."""
    html = response if isinstance(response, str) else response.content.decode()
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html)).replace("\u202f", " ")


def swapped(response: HttpResponse) -> set[str]:
    """The ids of what an answer swaps out of band."""
    html = response.content.decode()
    return {found[1] for found in re.finditer(r'id="([^"]+)"[^>]*hx-swap-oob', html)}
