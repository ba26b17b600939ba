"""The bibliography: where the numbers come from, by key.

A source's `standing` says how far the number was followed: "read" in the source itself, "quoted" as another
work gives it, "memory" (remembered, not read again), "derived" here from geometry or physics, or "practice"
(common in shops, no source).
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Source:
    """A book, standard or paper, and how far it was followed."""

    author: str
    title: str
    standing: str
    edition: str = ""
    year: int | None = None
    note: str = ""

    def __str__(self) -> str:
        parts = [self.author, self.title, self.edition, str(self.year or "")]
        return ", ".join(part for part in parts if part)


SOURCES: dict[str, Source] = {
    "DERIVED": Source(
        "forgesite",
        "Derived here from geometry and constant volume",
        "derived",
        note="Checked by another route.",
    ),
    "PRACTICE": Source("", "Common practice, no source", "practice"),
    "MEMORY": Source("", "From memory, no source read", "memory"),
    "ILGEN": Source("W. L. Ilgen", "Forge Work", "read", "American Book Co., New York", 1912),
    "SHOP-PRACTICE": Source(
        "",
        "Shop Practice, volumes 1 and 2, part Forging",
        "quoted",
        note="A technical school's text; author and year not verified (about 1906).",
    ),
    "GOOGERTY": Source(
        "T. F. Googerty", "Hand-Forging and Wrought-Iron Ornamental Work", "quoted", year=1911
    ),
    "STOKES-1": Source(
        "J. B. Stokes",
        "Basic blacksmithing, FAO Agricultural Services Bulletin 88/1",
        "quoted",
        year=1992,
    ),
    "STOKES-2": Source(
        "J. B. Stokes",
        "Intermediate blacksmithing, FAO Agricultural Services Bulletin 88/2",
        "quoted",
        year=1992,
    ),
    "DREW": Source("J. M. Drew", "Farm Blacksmithing", "quoted", year=1918),
    "MANLY": Source(
        "H. P. Manly",
        "Oxy-Acetylene Welding and Cutting, Electric, Forge and Thermit Welding",
        "quoted",
        year=1916,
    ),
    "BLACKSMITHS-CRAFT": Source(
        "Rural Industries Bureau", "The Blacksmith's Craft", "quoted", note="As a smith gives it."
    ),
    "SIMS": Source("L. Sims", "The Backyard Blacksmith", "quoted", note="As a smith gives it."),
    "WHITAKER": Source("F. Whitaker", "The Blacksmith's Cookbook", "quoted", note="As a smith gives it."),
    "BS-275": Source(
        "British Engineering Standards Association",
        "BS 275, Dimensions of rivets",
        "quoted",
        year=1927,
        note="As tabulated by a maker of rivets.",
    ),
    "BS-425": Source(
        "British Standards Institution",
        "BS 425, Rivets for boilers",
        "quoted",
        year=1943,
        note="As tabulated by a maker of rivets.",
    ),
    "BS-4620": Source(
        "British Standards Institution",
        "BS 4620, Rivets for general engineering purposes",
        "quoted",
        year=1970,
        note="As tabulated by a maker of rivets.",
    ),
    "DIN-660": Source(
        "DIN", "DIN 660 and ISO 1051, Round head rivets", "quoted", note="As listed by a seller."
    ),
    "BLUE-BOOK": Source(
        "Tata Steel and SCI",
        "Eurocode 3 Blue Book, general note 2.1",
        "read",
        note="7850 kg/m³, the density behind European section masses.",
    ),
    "EN-1993-1-2": Source(
        "CEN",
        "EN 1993-1-2, Design of steel structures: structural fire design",
        "quoted",
        "with AC:2009",
        2005,
        "Clause 3.4.1: expansion and heat of carbon steel to 1200 °C.",
    ),
    "MACHINERY": Source(
        "Industrial Press",
        "Machinery's Handbook",
        "read",
        "31st edition",
        note="Cold-bent sheet, page 1421: its neutral line lies nearer the inside than a hot bar's.",
    ),
    "DIN-6935": Source(
        "DIN",
        "DIN 6935, Cold bending of flat steel products",
        "quoted",
        note="Cold sheet: K below 0.5 at small radii.",
    ),
    "TOMLINSON": Source(
        "A. Tomlinson and J. D. Stringer",
        "Spread and elongation in flat tool forging, Journal of the Iron and Steel Institute 193, 157-162",
        "memory",
        year=1959,
        note="As given in Dieter, Mechanical Metallurgy. Supported here by an energy upper bound.",
    ),
    "DAVIES": Source(
        "M. H. Davies, M. T. Simnad and C. E. Birchenall",
        "On the mechanism and kinetics of the scaling of iron, Journal of Metals 3, 889-896",
        "memory",
        year=1951,
        note="Iron, 500 to 1100 °C; used to 1250.",
    ),
    "CHAPMAN": Source(
        "W. A. J. Chapman", "Workshop Technology, part 1", "quoted", "5th edition", 1972, "Heat colours."
    ),
    "STIRLING": Source(
        "Stirling Co.", "A Book of Steam for Engineers", "quoted", year=1905, note="Heat colours."
    ),
    "SHIDA": Source(
        "S. Shida",
        "Empirical formula of flow stress of carbon steels, Journal of the JSTP 9, 127-132",
        "memory",
        year=1968,
        note="0.01 to 1.2 % carbon, 700 to 1200 °C, 0.1 to 100 per second, strain to 0.7.",
    ),
    "HARRIS": Source(
        "F. E. Harris",
        "Case depth, an attempt at a practical definition, Metal Progress 44, 265-272",
        "quoted",
        year=1943,
        note="The formula as heat treaters quote it; the paper was not seen and its title is from memory.",
    ),
    "DOOLEY": Source(
        "W. H. Dooley",
        "Applied Science for Metal Workers",
        "quoted",
        year=1919,
        note="Temper colours.",
    ),
    "TEMPER-CHART": Source(
        "", "A steel stockholder's chart of temper colours", "quoted", note="In steps of 10 °C."
    ),
    "CURIE-POINT": Source(
        "R. J. Beichner and R. A. Serway",
        "Physics for Scientists and Engineers with Modern Physics",
        "quoted",
        "5th edition, page 963",
        2000,
        "Iron: 1043 K.",
    ),
    "AUTHOR": Source("", "As the author of the procedure gives it", "quoted"),
    "CIE-1931": Source(
        "CIE",
        "Standard colorimetric observer, 2 degrees",
        "derived",
        year=1931,
        note="Planck's law over its colour-matching functions, computed in 1 nm steps.",
    ),
    "SLIT-DEMONSTRATION": Source(
        "",
        "A trade demonstration: the slit is two sides of the hole less 5 %, or three radii",
        "quoted",
        year=2000,
    ),
}
