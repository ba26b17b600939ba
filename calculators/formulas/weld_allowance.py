"""What a fire weld takes of the bar: its scale."""

from __future__ import annotations

from calculators.formula import Answer, Cite, Formula, check_bar, given
from calculators.formulas.scale_depth import depth_per_heat
from calculators.sections import Section
from calculators.wording import Sentence, say

_GOOGERTY = 3 / 8  # thicknesses of the bar
_UNSURE = 1.6  # the depth of scale is good to this factor


class WeldAllowance(Formula):
    """Bar to add for a fire weld: geometry asks for none, the fire takes its share as scale.

        x = n · δ · l / (A/P),  δ the depth of scale of a welding heat

    Args:
        section: of the bar
        length: l, the length that comes to the welding heat [mm]
        heats: n, welding heats
        temperature: of the welding heat [°C]
        soak: time lying at that heat [min]

    Returns:
        Length of bar [mm], low and high; and the two allowances that are taught.

    Valid for clean plain steel; the rate of scaling is carried from 1250 °C to the welding heat, and is good
    to a factor of 1.6. The taught allowances, ⅜ of the thickness (Googerty) and one thickness (widely taught,
    no source), also pay for burnt scarfs.

    Raises:
        ValueError: a size is zero or less, or something is out of range.

    >>> answer = WeldAllowance(section=Section.square(20), heats=2, length=60).answer()
    >>> round(answer.value, 1), answer["by Googerty's 3/8 of the thickness"].value
    (3.4, 7.5)
    """

    id = "weld_allowance"
    title = "Weld allowance: the cost of scale"
    source = Cite(
        "DAVIES", note="carried to the welding heat; the allowances: Googerty, page 69, and common practice"
    )
    group = "joined"
    words = ("fire weld", "forge weld", "scarf", "waste in welding", "allowance")
    result = "Bar to add"
    operations = ("weld_lap", "weld_ring", "weld_fagot", "scarf")

    section: Section = given("Bar", "section", example=("20 sq", "3/4 sq"))
    length: float = given("Length at that heat", "mm", above=0, example=("60", "2 1/2"))
    heats: float = given("Welding heats", "", above=0, at_most=50, default=2.0)
    temperature: float = given("Welding heat", "°C", at_least=1000, at_most=1450, default=1290.0)
    soak: float = given("Soak", "min", at_least=0, at_most=60, default=1.0)

    def answer(self) -> Answer:
        """Return the length [mm] of bar to add."""
        check_bar("section", self.section)
        modulus, thin = self.section.modulus, min(self.section.thickness, self.section.width)
        depth = depth_per_heat(modulus, self.soak, 1.0, self.temperature)
        value = self.heats * depth * self.length / modulus
        working = f"{self.heats:g} × {depth:.3g} × {self.length:g} / {modulus:.4g}"
        further = (
            Answer(value / _UNSURE, "mm", "÷ 1.6", "low"),
            Answer(value * _UNSURE, "mm", "× 1.6", "high"),
            Answer(_GOOGERTY * thin, "mm", f"3/8 × {thin:g}", "by Googerty's 3/8 of the thickness"),
            Answer(thin, "mm", "", "by one thickness"),
        )
        warnings: tuple[Sentence, ...] = ()
        if self.temperature > 1250:
            warnings = (say("The rate of scaling is known to {known:temperature} only.", known=1250),)
        return Answer(value, "mm", working, further=further, warnings=warnings)
