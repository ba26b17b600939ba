"""Begin a new operation: write its file from a template whose tests fail until its examples are right.

Exit code 0 when the file was made; 2, with one line saying why, when it was not.
"""

import builtins
import keyword
import re
import sys
from argparse import ArgumentParser
from pathlib import Path
from string import Template
from typing import Any, NoReturn

from django.core.management.base import BaseCommand

from procedures.engine import operations
from procedures.engine.catalogue import catalogue

FOLDER = Path(operations.__path__[0])
TEMPLATE = Path(__file__).resolve().parents[1] / "operation.txt"
NAME = re.compile(r"[a-z]+(_[a-z]+)*", re.ASCII)  # it begins the codes of its findings, which are so written
LONGEST = 40
NEXT = """Made {file}. What is next:

  1. Fill in all that stands in <brackets>, and say what it does: problems, transform, cautions, instruction.
  2. Reckon its examples by hand and write in what must come of them.
  3. python3 manage.py test tests/spec -k {name}     until everything passes
  4. python3 manage.py test                          for the rest of the house
  5. python3 manage.py start                         and look at /operations/{name}/

DEVELOPERS.md, "Add an operation", tells each in full."""


class Command(BaseCommand):
    help = "Write the file of a new operation, to be filled in."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("name", help="its id for good: a verb phrase such as draw_out")

    def handle(self, *args: Any, **options: Any) -> None:
        name: str = options["name"]
        if fault := fault_of(name):
            self._refuse(fault)
        file = FOLDER / f"{name}.py"
        words = {"id": name, "title": title_of(name), "class_name": class_name_of(name)}
        file.write_text(Template(TEMPLATE.read_text(encoding="utf-8")).substitute(words), encoding="utf-8")
        self.stdout.write(NEXT.format(file="/".join(file.parts[-4:]), name=name))

    def _refuse(self, line: str) -> NoReturn:
        self.stderr.write(line)  # by itself: a CommandError would put its own name before it
        sys.exit(2)


def fault_of(name: str) -> str:
    """Return why an operation cannot have this name, in a line; "" where it can."""
    if not NAME.fullmatch(name) or len(name) > LONGEST:
        return (
            f"{name[:60]!r} cannot be an id: it takes small letters and single _ between them, "
            f"{LONGEST} at most, such as draw_out."
        )
    if keyword.iskeyword(name) or hasattr(builtins, name):
        return f"{name!r} is a word of Python itself: choose another, such as {name}_bar."
    if name in catalogue():
        return f"There is an operation called {name} already: {catalogue()[name].title}."
    if (FOLDER / f"{name}.py").exists():
        return f"There is a file {name}.py among the operations already."
    titles = {one.title.casefold(): one.id for one in catalogue().values()}
    if title_of(name).casefold() in titles:
        return (
            f"{titles[title_of(name).casefold()]} is called {title_of(name)!r} already: choose another name."
        )
    return ""


def title_of(name: str) -> str:
    """Return the title proposed for an id: "Draw out" of "draw_out"."""
    return name.replace("_", " ").capitalize()


def class_name_of(name: str) -> str:
    """Return the name of its class: "DrawOut" of "draw_out"."""
    return "".join(word.capitalize() for word in name.split("_"))
