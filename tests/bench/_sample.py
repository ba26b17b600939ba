"""A long procedure to measure pages with, its owner, and its step forms as a browser posts them."""

from __future__ import annotations

import json
from html.parser import HTMLParser
from typing import Any

from django.contrib.auth import get_user_model
from django.test import Client

from procedures import actions
from procedures.management.commands.load_demo import DEMO
from procedures.models import Procedure

LONG = ("coat_hook", "gate_strap", "hat_bracket")  # named, so that the bench stays the same as the demo grows


def a_long_procedure(*, public: bool = False) -> tuple[Procedure, Any]:
    """The parts of some of the demo twice over, 66 steps in 8 parts, and their owner alice."""
    demo = [json.loads((DEMO / f"{name}.json").read_bytes()) for name in LONG]
    parts = [part for stored in demo for part in stored["parts"]]
    twice = [_renamed(part, f"{part['key']}{number}") for number in (1, 2) for part in parts]
    return _kept(twice, "Long", public)


def a_demo(name: str) -> tuple[Procedure, Any]:
    """One procedure of the demo, published, and its owner alice."""
    stored = json.loads((DEMO / f"{name}.json").read_bytes())
    return _kept(stored["parts"], stored["title"], public=True)


def _renamed(part: dict[str, Any], key: str) -> dict[str, Any]:
    """A part under another key: its root branch goes by it too."""
    text = json.dumps(part["steps"]).replace(f'"on": "{part["key"]}"', f'"on": "{key}"')
    return {**part, "key": key, "name": key.capitalize(), "steps": json.loads(text)}


def a_long_bar(count: int, *, public: bool = False) -> tuple[Procedure, Any]:
    """One bar worked at so many places along its length, the worst there is, and its owner alice."""
    part = {
        "key": "bar",
        "name": "Bar",
        "stock": {"section": {"shape": "square", "side": 20}, "length": 20.0 * count + 200},
        "steps": [_step(number) for number in range(count)],
    }
    return _kept([part], f"{count} steps", public)


def _kept(parts: list[dict[str, Any]], title: str, public: bool) -> tuple[Procedure, Any]:
    users = get_user_model().objects
    owner = users.filter(username="alice").first() or users.create_user("alice", password="a password")
    stored = {"format": "forgesite.procedure", "version": 1, "title": title, "parts": parts}
    procedure = actions.create_procedure(document=stored, by=owner)
    if public:
        actions.publish(procedure=procedure, by=owner)
        procedure.refresh_from_db()
    return procedure, owner


def _step(number: int) -> dict[str, Any]:
    where = {"on": "bar", "datum": "start", "offset": 18.0 * number + 5, "length": 10}
    params = {"where": where, "target": {"shape": "square", "side": 18}}
    note = "Turn it often, and keep it **square**."
    return {"key": f"s{number}", "operation": "draw_out", "params": params, "heats": 1, "note": note}


def signed_in(owner: Any) -> Client:
    client = Client()
    client.force_login(owner)
    return client


class FormReader(HTMLParser):
    """The fields of the form that posts to an address, as a browser would send them."""

    def __init__(self, address: str) -> None:
        super().__init__()
        self.address = address
        self.fields: dict[str, str] = {}
        self._inside = False
        self._select = self._area = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag == "form":
            self._inside = self.address in (given.get("action") or given.get("hx-post") or "")
        if not self._inside:
            return
        name = given.get("name") or ""
        if tag == "input" and name and given.get("type") not in ("submit", "file"):
            if given.get("type") not in ("checkbox", "radio") or "checked" in given:
                self.fields[name] = given.get("value") or ""
        elif tag == "select":
            self._select = name
        elif tag == "option" and self._select and "selected" in given:
            self.fields[self._select] = given.get("value") or ""
        elif tag == "textarea":
            self._area = name
            self.fields[name] = ""

    def handle_data(self, text: str) -> None:
        if self._area:
            self.fields[self._area] += text

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._inside = False
        elif tag == "select":
            self._select = ""
        elif tag == "textarea":
            self._area = ""


def step_form(client: Client, procedure: Procedure, part: str, step: str) -> tuple[str, dict[str, str]]:
    """The address a step's form posts to, and its fields as they stand."""
    home = procedure.get_absolute_url()
    address = f"{home}steps/{part}/{step}/"
    reader = FormReader(address)
    reader.feed(client.get(f"{home}edit/", {"part": part, "step": step}).content.decode())
    return address, reader.fields
