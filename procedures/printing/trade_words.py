"""Words of the trade that a student may not know, in the house's own sentences.

Common usage in English-speaking forges, written from memory; places differ.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

TRADE_WORDS = {
    "bevel": "A gauge of two arms, set to an angle and held against the work.",
    "bick": "A small horn, often on a stake, for narrow curves.",
    "bolster": "A block with a hole under the work, so that a punch or drift can come through.",
    "calliper": "Two legs set to a size; they feel thickness and width while the work is hot.",
    "centre punch": "A pointed punch. Its dot is still seen at forging heat.",
    "chamfer": "A corner taken off along its length.",
    "collar": "A strip closed hot round two bars to hold them together.",
    "drift": "A smooth tapered bar driven through a punched or slit hole to give it its size.",
    "drift hole": "A hole opened with a drift: its metal is pushed aside, not taken away.",
    "flatter": "A flat-faced tool held on the work and struck, to leave it smooth.",
    "flux": "A powder that keeps scale off the faces of a weld and makes it run out.",
    "forging heat": "The heat at which the metal moves and does not crack or burn.",
    "fuller": "A rounded tool, or the groove it leaves: metal is spread to both sides of it.",
    "hammer face": "The flat end of the hammer.",
    "hardy": "A chisel that stands in the square hole of the anvil, edge upward.",
    "heading tool": "A plate with a hole that holds a bar while its end is spread into a head.",
    "heat": "One stay in the fire, and the work done until the metal is too cold.",
    "horn": "The rounded beak of the anvil, for curves.",
    "hot cut": "Cutting hot metal with a chisel or on the hardy.",
    "hot set": "A chisel on a handle, held on hot work and struck.",
    "kerf": "The width that a saw turns to dust.",
    "mandrel": "A shape that metal is bent or closed round.",
    "offcut": "What is left over of a bar, and kept.",
    "peen": "The narrow end of a hammer head; it spreads metal across itself.",
    "pritchel hole": "The round hole of the anvil, for punching through.",
    "quench": "To cool in water or oil.",
    "rivet set": "A tool with a hollow that shapes the head of a rivet.",
    "scale": "The black skin that iron grows in the fire. It flies off, and the bar is thinner for it.",
    "scarf": "The end shaped for a weld, so that two ends lie close and leave no step.",
    "scroll iron": "A pattern of thick bar that scrolls are rolled round, all alike.",
    "set hammer": "A square-faced tool held on the work and struck, to make a sharp shoulder.",
    "shoulder": "A step from one thickness to another.",
    "slug": "The small piece that a punch pushes out.",
    "soapstone": "A soft stone that writes on steel; it is seen cold and warm, not hot.",
    "striker": "A second person who swings the sledge where the smith points.",
    "swage": "A tool with a hollow in it that gives the metal its round or other form.",
    "temper": "To warm hardened steel until it is tough.",
    "tenon": "A thinner end that goes through a hole and is spread there.",
    "tongs": "What hot work is held with. The jaws must fit the bar.",
    "upset": "To make metal shorter and thicker by striking on its end.",
    "vice": "A vice for hot work has a leg to the floor and takes blows.",
    "welding heat": "The heat at which clean iron sticks to iron: the surface is wet and about to spark.",
}


def words_in(texts: Iterable[str]) -> dict[str, str]:
    """Return the words of the trade that occur in any of the texts, in order, with what they mean."""
    said = "\n".join(texts).lower()
    return {
        word: meaning
        for word, meaning in sorted(TRADE_WORDS.items())
        if re.search(rf"\b{re.escape(word)}(?:s|es)?\b", said)
    }
