"""What a piece costs to make."""

from __future__ import annotations

from calculators.formula import SHARE, Answer, Cite, Formula, given


class JobCost(Formula):
    """Cost of one piece: metal, fire, time, and what the shop adds.

        cost = (m · price / (1 - waste) + h · (wage + fire)) · (1 + added)

    Args:
        mass: m, of the finished piece [kg]
        price: of the metal [a kg]
        waste: share of the metal bought that is lost to cutting, scale and offcuts
        hours: h, at the fire and the bench [h]
        wage: for an hour of work
        fire: fuel, gas and power for an hour
        added: for overheads, risk and gain

    Returns:
        Cost of the piece, in the money the prices are in; the metal's, the time's and the fire's share of it.

    Valid for what is put in: it is arithmetic, and leaves out tools worn, finishing bought in and delivery
    unless they are added. Prices are your own.

    Raises:
        ValueError: a number is out of range.

    >>> JobCost(mass=2, price=2.5, waste=0.2, hours=3, wage=30, fire=5, added=0.25).answer().value
    139.0625
    """

    id = "job_cost"
    title = "Cost of a piece"
    source = Cite("PRACTICE", note="plain arithmetic")
    group = "work"
    words = ("price", "cost", "quote", "estimate", "wage", "money")
    result = "Cost"

    mass: float = given("Finished piece", "kg", above=0, example=("2 kg", "4 lb"))
    price: float = given("Price of metal", "a kg", at_least=0, at_most=1e6, example=("2.50", "1.25"))
    hours: float = given("Time", "h", at_least=0, at_most=10_000, example=("3", "3"))
    wage: float = given("Work, an hour", "", at_least=0, at_most=1e6, example=("30", "30"))
    waste: float = given("Metal wasted", SHARE, at_least=0, at_most=0.95, default=0.1)
    fire: float = given("Fire and power, an hour", "", at_least=0, at_most=1e6, default=0.0)
    added: float = given("Added for the shop", SHARE, at_least=0, at_most=10, default=0.0)

    def answer(self) -> Answer:
        """Return the cost."""
        metal = self.mass * self.price / (1 - self.waste)
        work, fire = self.hours * self.wage, self.hours * self.fire
        value = (metal + work + fire) * (1 + self.added)
        further = (
            Answer(metal, "", f"{self.mass:.4g} × {self.price:.4g} / {1 - self.waste:g}", "metal"),
            Answer(work, "", f"{self.hours:g} × {self.wage:g}", "work"),
            Answer(fire, "", f"{self.hours:g} × {self.fire:g}", "fire and power"),
            Answer(value - metal - work - fire, "", f"{self.added:g} × {metal + work + fire:.6g}", "added"),
        )
        working = f"({metal:.6g} + {work:.6g} + {fire:.6g}) × {1 + self.added:g}"
        return Answer(value, "", working, further=further)
