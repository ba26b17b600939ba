"""How many blows, and how many heats, a change of section takes."""

from __future__ import annotations

from math import ceil, log, sqrt

from calculators.formula import Answer, Cite, Formula, GivenError, given
from calculators.formulas.working_time import anvil_seconds
from calculators.hot_steel import flow_stress
from calculators.wording import Sentence, say

# All from memory or judgement: nobody measured hand hammers well.
HAMMERS = {  # energy of a blow [J]: ½ m v², and what tables give for air hammers used at 60 %
    "novice": ("hand hammer of 1 kg, a novice", 12.5),
    "hand": ("hand hammer of 1.2 kg, a smith", 25.35),
    "striker": ("sledge of 4 kg, a striker", 98.0),
    "power": ("air hammer of 25 kg", 162.0),
    "power_40": ("air hammer of 40 kg", 318.0),
    "power_75": ("air hammer of 75 kg", 600.0),
}
_RATES = ((60.0, 1.7), (150.0, 0.8), (float("inf"), 4.0))  # blows a second, by energy up to [J]
EFFICIENCY = 0.75  # of a blow's energy that goes into soft metal
USEFUL = 0.75  # of the blows; the rest straighten and turn
FRICTION = 1.15  # more than the metal alone asks for, under a narrow face
CROSSWISE = 1.55  # strain of drawing on two sides to the strain that is left, with a bite of 15 mm
_CARBON, _STRAIN, _RATE = 0.15, 0.3, 100.0  # what the flow stress is taken at
_UNSURE = 1.7


def blows_per_second(energy: float) -> float:
    """Return how fast a hammer of an energy [J] is swung."""
    return next(rate for most, rate in _RATES if energy <= most)


def forging_work(volume: float, strain: float, temperature: float) -> float:
    """Return the work [J] of straining a volume [mm³] of mild steel at a temperature [°C]."""
    return volume * strain * flow_stress(temperature, _CARBON, _STRAIN, _RATE) * FRICTION / 1000


class Blows(Formula):
    """Blows and heats to draw a run down or to jump it up.

        n = V · ε · σ(T) · 1.15 / (E · 0.75 · 0.75)

    Args:
        length: worked, before [mm]
        area_before: its section
        area_after: what it becomes; larger is upsetting
        energy: E, of a blow [J]
        temperature: T, mean heat while working [°C]

    Returns:
        Blows, low and high; the seconds of hammering; and the heats, always whole.

    Valid for mild steel under a narrow face, 850 to 1200 °C; ε = ln(A₀/A₁), times 1.55 when drawing on two
    sides. Good to a factor of 1.7 either way: count your own blows and compare. The constants were settled
    once by judgement, not fitted.

    Raises:
        ValueError: something is out of range, or nothing changes.

    >>> answer = Blows(length=35, area_before=500, area_after=168).answer()
    >>> round(answer.value, -1), answer["heats"].value
    (450.0, 7)
    """

    id = "blows"
    title = "Blows and hammer: how much work it is"
    source = Cite("SHIDA", note="hammers, friction and efficiency from judgement")
    group = "work"
    words = ("blows", "hammer", "power hammer", "striker", "heats", "effort")
    result = "Blows"
    operations = ("draw_out", "upset")

    length: float = given("Length worked, before", "mm", above=0, example=("60", "2 1/2"))
    area_before: float = given("Section before", "mm²", above=0, of="area", example=("20 sq", "3/4 sq"))
    area_after: float = given("Section after", "mm²", above=0, of="area", example=("12 sq", "1/2 sq"))
    energy: float = given("Hammer", "J", above=0, at_most=5000, default=25.35, choices=HAMMERS)
    temperature: float = given("Mean heat", "°C", at_least=700, at_most=1250, default=1000.0)

    def answer(self) -> Answer:
        """Return the number of blows."""
        if self.area_before == self.area_after:
            raise GivenError("Nothing changes: the section after is the section before.", "area_after")
        drawn = self.area_before > self.area_after
        strain = abs(log(self.area_before / self.area_after)) * (CROSSWISE if drawn else 1)
        volume = self.length * self.area_before
        work = forging_work(volume, strain, self.temperature)
        count = work / (self.energy * EFFICIENCY * USEFUL)
        stress = flow_stress(self.temperature, _CARBON, _STRAIN, _RATE)
        seconds = count / blows_per_second(self.energy)
        window = self._window()
        further = (
            Answer(count / _UNSURE, "", "÷ 1.7", "low"),
            Answer(count * _UNSURE, "", "× 1.7", "high"),
            Answer(seconds, "s", f"{count:.3g} / {blows_per_second(self.energy):g} a second", "hammering"),
            Answer(
                ceil(seconds / window), "", f"{seconds:.3g} / {window:.3g}, up to the next whole", "heats"
            ),
            Answer(
                work,
                "J",
                f"{volume:.6g} × {strain:.4g} × {stress:.4g} × {FRICTION} / 1000",
                "work in the metal",
            ),
        )
        working = f"{work:.4g} / ({self.energy:g} × {EFFICIENCY:g} × {USEFUL:g})"
        return Answer(count, "", working, further=further, warnings=tuple(self._warnings()))

    def _window(self) -> float:
        """Return how long a heat lasts [s], by a square bar of the mean of the sections."""
        side = (sqrt(self.area_before) + sqrt(self.area_after)) / 2
        return anvil_seconds(side / 4, 1180.0, 850.0)

    def _warnings(self) -> list[Sentence]:
        found = []
        if not 850 <= self.temperature <= 1200:
            found.append(
                say(
                    "The formula was made for {low:temperature} to {high:temperature} at the anvil.",
                    low=850,
                    high=1200,
                )
            )
        if self.energy < 60 and max(self.area_before, self.area_after) > 1600:
            found.append(say("A hand hammer does not reach the middle of bar this thick."))
        return found
