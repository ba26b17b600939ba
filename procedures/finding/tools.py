"""Tools that not every shop has, and which of them a step asks for.

Read out of what the operations say of their tools, so that a new operation needs no list of its own.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from procedures.engine.catalogue import catalogue

# What a tool is called, and the words by which it is known in a sentence. Hammer, anvil, tongs and fire go
# without saying.
TOOLS: dict[str, tuple[str, str]] = {
    "bending_fork": ("bending fork", r"(bending|scroll) forks?"),
    "bolster": ("bolster", r"bolsters?"),
    "cone": ("cone mandrel", r"cone"),
    "drift": ("drifts", r"drifts?"),
    "drill": ("drill", r"drill\w*"),
    "fuller": ("fullers", r"fullers?"),
    "flatter": ("flatter", r"flatters?"),
    "hardy": ("hardy", r"hardy"),
    "heading_tool": ("heading tool", r"heading tool|nail header"),
    "hot_set": ("hot set", r"hot sets?"),
    "jig": ("jig", r"jigs?|joggle blocks?"),
    "mandrel": ("mandrel", r"mandrels?( pin)?"),
    "monkey_tool": ("monkey tool", r"monkey tools?"),
    "punch": ("hot punches", r"(?<!centre )(?<!centre-)punch(es)?(?! mark)"),
    "rivet_set": ("rivet set", r"rivet (set|snap)|cupping tool"),
    "saw": ("saw", r"saw"),
    "scroll_iron": ("scroll iron", r"scroll irons?"),
    "set_hammer": ("set hammer", r"set hammers?"),
    "swage": ("swages", r"swages?(?! block)"),
    "swage_block": ("swage block", r"swage block"),
    "twisting_wrench": ("twisting wrench", r"twisting wrench"),
    "upsetting_plate": ("upsetting plate", r"(upsetting|floor) plate"),
    "vice": ("vice", r"vice"),
}
_EVERYWHERE = re.compile(r"\banvil\b.* or | or .*\banvil\b")
_BESIDE = re.compile(r"\b(to finish|for )")


@cache
def need_of(text: str) -> str:
    """Return the tools that a line about tools asks for, any of which will do: "hardy|hot_set"; "" for none.

    A line that also names what every shop has ("anvil horn, bending fork or vice") needs nothing more, nor
    does one that says what a tool is good for beside the main work ("flatter to finish").
    """
    if _EVERYWHERE.search(text) or _BESIDE.search(text):
        return ""
    return "|".join(sorted(key for key, (_, words) in TOOLS.items() if re.search(rf"\b({words})\b", text)))


def needs_of(lines: Iterable[str]) -> tuple[str, ...]:
    """Return what several lines ask for, each once."""
    return tuple(dict.fromkeys(need for need in map(need_of, lines) if need))


@cache
def needs() -> tuple[str, ...]:
    """Return every need there is, of all operations."""
    return needs_of(line for kind in catalogue().values() for line in kind.tools)


def is_met(need: str, owned: frozenset[str]) -> bool:
    """Whether somebody who owns these tools has one that will do."""
    return not owned.isdisjoint(need.split("|"))
