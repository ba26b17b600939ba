"""Metal lost as the slug of a hot-punched hole, and the boss the rest raises."""

from __future__ import annotations

from calculators.formula import SHARE, Answer, Cite, Formula, GivenError, given

SLUG_SHARE = 0.3  # of the hole's volume; 0.2 to 0.5 (from memory)


def slug_volume(hole_area: float, thickness: float, share: float = SLUG_SHARE) -> float:
    """Return the volume [mm³] of the slug of a hole's area [mm²] through a thickness [mm]."""
    return hole_area * thickness * share


class PunchSlug(Formula):
    """Volume of the slug from a hot-punched hole; the rest of the hole's metal stands round it as a boss.

        slug = φ · A_hole · t,  peak width = w + 2 (1 - φ) A_hole · t / (t (d + w))

    Args:
        hole_area: area of the hole [mm²]
        hole_width: width of the hole across the bar [mm]
        bar_width: width of the bar [mm]
        thickness: thickness punched through [mm]
        share: φ, the slug's share of the hole; 0 with a slit or chisel

    Returns:
        Volume of the slug [mm³], the bar's width at the hole, and how much longer it gets if dressed back to
        its width.

    Valid for a hole in the middle of the bar. φ is from memory (0.2 to 0.5).

    Raises:
        ValueError: a size is zero or less, the share is outside 0 to 1, or the hole is as wide as the bar.

    >>> result = PunchSlug(hole_area=78.54, hole_width=10, bar_width=25, thickness=8).answer()
    >>> round(result.value, 1), round(result["width at the hole"].value, 1)
    (188.5, 28.1)
    """

    id = "punch_slug"
    title = "Punched hole: slug and boss"
    source = Cite("MEMORY", note="volume derived here; the slug's share from memory")
    group = "holes"
    words = ("punch", "hot punch", "slug", "pritchel")
    result = "Metal in the slug"
    operations = ("punch",)
    any_unit = True

    hole_area: float = given("Hole", "mm²", above=0, of="area", example=("round 10", "round 3/8"))
    hole_width: float = given("Hole across the bar", "mm", above=0, example=("10", "3/8"))
    bar_width: float = given("Bar width", "mm", above=0, example=("25", "1"))
    thickness: float = given("Thickness", "mm", above=0, example=("8", "5/16"))
    share: float = given("Slug's share", SHARE, at_least=0, at_most=1, default=SLUG_SHARE)

    def answer(self) -> Answer:
        """Return the volume [mm³] of the slug."""
        if self.hole_width >= self.bar_width:
            raise GivenError(
                f"A hole {self.hole_width:g} mm wide leaves nothing of a bar {self.bar_width:g} mm wide.",
                "hole_width",
            )
        hole = self.hole_area * self.thickness
        boss = (1 - self.share) * hole
        wide = self.bar_width + 2 * boss / (self.thickness * (self.hole_width + self.bar_width))
        longer = boss / (self.bar_width * self.thickness)
        further = (
            Answer(wide, "mm", f"w + 2 × {boss:.4g} / (t × (d + w))", "width at the hole"),
            Answer(longer, "mm", f"{boss:.4g} / (w × t)", "longer by if dressed back"),
        )
        slug = slug_volume(self.hole_area, self.thickness, self.share)
        working = f"{self.share:g} × {self.hole_area:g} × {self.thickness:g}"
        return Answer(slug, "mm³", working, further=further)
