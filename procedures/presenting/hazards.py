"""What to beware of, put together: safety lines that say alike as one, and all of them by what they guard."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Alike:
    """Lines that come to one: what each of them adds to it, between its beginning and its end."""

    begin: str
    says: Mapping[str, str]
    end: str = "."
    last: str = " and "
    between: str = ", "

    def said(self, lines: Iterable[str]) -> str:
        """Return the one line for several of them."""
        *first, last = dict.fromkeys(self.says[one] for one in self.says if one in set(lines))
        return f"{self.begin}{self.between.join(first)}{self.last if first else ''}{last}{self.end}"


_ALIKE = (
    Alike(
        "Stuck fast, ",
        {
            "A punch stuck in the hole is never prised: cool it and knock it back.": "a punch",
            "A drift stuck fast is cooled and knocked out from behind, never prised.": "a drift",
            "A tenon stuck in the monkey tool is cooled, not prised.": "a tenon in the monkey tool",
        },
        " is cooled and knocked back out, never prised.",
        last=" or ",
    ),
    Alike(
        "Black heat looks cold: feel for it with the back of the hand, a hand's breadth away",
        {
            "Black heat looks cold: hold the back of the hand near before touching.": "",
            "Black heat burns hands: feel for it with the back of the hand, a hand's breadth away.": "",
        },
    ),
    Alike(
        "Grind the mushroomed head off ",
        {
            "Grind the mushroomed head off a punch before it is struck.": "a punch before it is struck",
            "Cool the chisel often and grind off its mushroom.": "the chisel, and cool it often",
        },
        last=" and off ",
    ),
    Alike(
        "Cold ",
        {
            "Cold bars spring back: stand clear of the ends.": "bars spring back: stand clear of the ends",
            "Vice screws stay hot; cold bends spring back.": "bends spring back too, and vice "
            "screws stay hot",
        },
        last="; cold ",
    ),
    Alike(
        "What lifts, carries people or holds a building up is not certified here: ",
        {
            "Welds that lift, carry people or hold a building up are for coded welders: nothing here "
            "certifies one.": "its welds are for coded welders",
            "Nothing that lifts or carries people hangs on a weld without its own test.": "no weld of it "
            "goes without its own test",
            "Nothing that lifts or carries people hangs on an eye that is only turned.": "it hangs on no eye "
            "that is only turned",
            "Rivets that hold a building up or lift are for engineers to reckon; nothing is certified "
            "here.": "its rivets are for engineers to reckon",
            "Chain, lifting rings and hooks come only from makers licensed to test them.": "chain, lifting "
            "rings and hooks come only from makers licensed to test them",
        },
        last="; ",
        between="; ",
    ),
    Alike(
        "Water ",
        {
            "Water on the hot end spits steam.": "on the hot end",
            "Water beside a yellow heat spits steam.": "beside a yellow heat",
        },
        " spits steam.",
        last=" or ",
    ),
    Alike(
        "",
        {
            "Fume of wax, oil and paint: coat outside or under extraction.": "Wax, oil and paint give off "
            "fume: coat outside or under extraction",
            "Linseed oil and wax burn: no open flame beside them.": "No open flame beside linseed oil or wax",
            "Oil and its film smoke: air the shop.": "Oil and its film smoke: air the shop",
        },
        last=". ",
        between=". ",
    ),
    Alike(
        "Wear eye protection: ",
        {
            "Scale flies: wear eye protection.": "scale flies",
            "Brush wires fly: wear eye protection.": "brush wires fly",
            "Brush wires and scale fly: wear eye protection.": "brush wires and scale fly",
            "Eye protection against swarf.": "swarf flies",
            "Cold heads chip: eyes covered.": "cold heads chip",
            "A thin lip sparkles and spits at a welding heat: wear eye protection.": "a thin lip sparkles "
            "and spits at a welding heat",
        },
        last=", ",
    ),
    Alike(
        "Long bars ",
        {
            "Long bars roll: rest the free end.": "roll: rest the free end",
            "Long bars whip when they are jumped: mind the feet and the people behind.": "whip when they are "
            "jumped: mind the feet and the people behind",
        },
        last="; they ",
    ),
    Alike(
        "Flux sprays ",
        {
            "A pocket of flux spits when the fold is closed.": "when a fold is closed on it",
            "Flux and slag spray at the first blow: eyes and onlookers behind a shield.": "with slag at the "
            "first blow",
        },
        ": eyes and onlookers behind a shield.",
    ),
)

# What a line guards, by its words; the first that is found. What is told of none is told last.
_LIFTING = "Not for lifting"
_GUARDED = (
    (_LIFTING, r"\b(lifts|lifting rings|certif|engineers)"),
    ("Eyes and lungs", r"\b(eyes?|fume|smoke|dust|shield|monoxide|lungs|poison|asbestos|extraction)"),
    ("What flies, falls or swings", r"\b(fl(y|ies)|swings?|whip|roll|spring|rebound|jumps|bursts|legs)"),
    ("Burns", r"\b(burns?|hot|heat up|steam|black heat|looks cold|yellow|sparks?|fire|flame|alight|red|°C)"),
)
_REST = "Hands and tools"


def put_together(lines: Iterable[str]) -> tuple[str, ...]:
    """Return safety lines in order, each once, those that say alike as one in the place of the first."""
    found = dict.fromkeys(lines)
    for alike in _ALIKE:
        mine = [one for one in found if one in alike.says]
        if len(mine) > 1:
            said = alike.said(mine)
            found = dict.fromkeys(said if one == mine[0] else one for one in found if one not in mine[1:])
    return tuple(found)


def by_guarded(lines: Iterable[str]) -> list[tuple[str, tuple[str, ...]]]:
    """Return (what is guarded, its lines) of safety lines put together, none left out."""
    groups: dict[str, list[str]] = {title: [] for title, _ in _GUARDED[1:]}
    groups[_REST] = []
    groups[_LIFTING] = []
    for line in put_together(lines):
        titles = (title for title, words in _GUARDED if re.search(words, line, re.IGNORECASE))
        groups[next(titles, _REST)].append(line)
    return [(title, tuple(found)) for title, found in groups.items() if found]
