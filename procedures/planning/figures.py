"""The figures a shop profile holds: what each is called, what it may be, and what it rests on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from calculators.formulas.scale_depth import FIRES

_MEMORY = "from memory"
_JUDGEMENT = "judgement"
_OWN = "your own reckoning"


@dataclass(frozen=True, slots=True)
class Figure:
    """A number of a profile: its name, its unit, the least and the most it may be, and what it rests on.

    `zero` is what is said of 0 and below where that needs words of its own.
    """

    label: str
    unit: str
    least: float
    most: float
    basis: str
    help: str = ""
    zero: str = ""


FIGURES: Mapping[str, Figure] = {
    "start": Figure(
        "Out of the fire at",
        "°C",
        700,
        1350,
        f"{_JUDGEMENT}: the heat that hand work begins at when it is at the anvil",
        "No step is planned hotter than its own heat.",
    ),
    "stop": Figure(
        "Back to the fire at",
        "°C",
        500,
        1100,
        "common practice, no source: below it mild steel stiffens fast",
        "No step of hot forging is planned colder than its steel is forged.",
    ),
    "fire_heat": Figure(
        "Heat of the fire", "°C", 800, 1600, f"{_MEMORY}: a furnace or gas forge near a welding heat"
    ),
    "slower": Figure(
        "Times as long in the fire",
        "",
        0.1,
        10,
        f"{_JUDGEMENT}: 1 is bar hanging free in an even heat, 2 lying on the floor of it; time your own",
        "1 hanging free or banked all round, 2 lying on the floor.",
    ),
    "hot_length": Figure("Hot length", "mm", 10, 5000, f"{_MEMORY}: 150 mm in coal or coke, 250 mm in gas"),
    "transfer": Figure("From the fire to the anvil", "s", 0, 60, _JUDGEMENT),
    "contact": Figure(
        "Contact with anvil and tools",
        "W/m²K",
        0,
        500,
        f"{_JUDGEMENT}: a quarter of the skin, half the time, at 500 W/m²K; 20 to 150 is likely",
        "How fast the anvil takes heat. 0 is still air.",
    ),
    "hand_energy": Figure(
        "Energy of a hand blow",
        "J",
        0.5,
        200,
        f"½ m v² of 1.2 kg at 6.5 m/s, a student's of 1 kg at 5 m/s: speeds are {_JUDGEMENT}",
        zero="A hand hammer of {given} J moves no metal.",
    ),
    "hand_rate": Figure(
        "Hand blows a second", "1/s", 0.1, 5, f"{_JUDGEMENT}, below the two a second that were once timed"
    ),
    "useful": Figure(
        "Share of the blows that shape",
        "",
        0.05,
        1,
        f"{_JUDGEMENT}: the rest straighten and turn; a student's 0.6",
        "0.75 when practised, 0.6 for a student.",
    ),
    "sledge_energy": Figure(
        "Energy of a sledge blow",
        "J",
        1,
        1000,
        f"½ m v² of 4 kg at 7 m/s; the speed is {_JUDGEMENT}",
        zero="A sledge of {given} J moves no metal: give its energy, or plan without a striker.",
    ),
    "sledge_rate": Figure("Sledge blows a second", "1/s", 0.05, 5, _JUDGEMENT),
    "power_energy": Figure(
        "Energy of a power hammer blow",
        "J",
        1,
        20000,
        f"{_MEMORY}: an air hammer of 25 kg gives 270 J, and is used at 60 %",
        "As you use it, not at its hardest. Leave it empty where there is none.",
        zero="A power hammer of {given} J strikes nothing: give its energy, or say that there is none.",
    ),
    "power_rate": Figure("Power hammer blows a second", "1/s", 0.2, 20, f"{_MEMORY}: 250 a minute"),
    "hourly_cost": Figure("Cost of an hour at the forge", "", 0, 100_000, _OWN),
    "fuel_cost": Figure("Fuel for an hour of fire", "", 0, 100_000, _OWN),
}
FIRE_CHOICES: Mapping[str, str] = {key: one.title for key, one in FIRES.items()}
SKILLS: Mapping[str, str] = {"practised": "a practised smith", "student": "a student"}
HAMMERS: Mapping[str, str] = {
    "hand": "hand hammer",
    "striker": "striker with a sledge",
    "power": "power hammer",
}
