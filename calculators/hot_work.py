"""The work of moving hot metal: how far it is strained on its way, and the blows and heats that takes.

All from judgement where no source is named; good to a factor of 1.7 on blows and on heats.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from math import exp, log, sqrt

from calculators.formulas.flattening_spread import spread_coefficient
from calculators.hot_steel import (
    DENSITY,
    cooling_flux,
    cooling_seconds_per_mm,
    enthalpy,
    flow_stress,
)

BITE = 12.0  # mm of bar under a hand hammer's face or over the anvil's edge
FRICTION = 0.6  # m, of a scaly face on hot steel
WARMING = 0.9  # of the work, that stays in the metal as heat (from memory)
STRAIN, RATE = 0.3, 300.0  # to which the flow stress is averaged, and the rate [1/s] of a hand blow
_PARTS = 4  # of a change of section, along which the spread is followed, and of a very long job
_BEATS = 6  # steps of time in a heat, which is good to 1 %
_LEAST = 1e-9  # of a job
_LEAST_USED = 0.01  # of a heat, where blows keep the metal as hot as it was
_LAST = 2000.0  # J/kg, three degrees: so near to its end a heat is over
_SHORTER = 0.7  # of the seconds to the anvil that a heat is shorter by there: air takes less than the anvil
_MOST_HEATS = 12  # followed one by one
_LOWEST, _HIGHEST, _APART = 100.0, 1400.0, 10.0  # °C of the table of heat content


def path_strain(width: float, thickness: float, to_width: float, to_thickness: float, bite: float) -> float:
    """Return the strain spent on the way from one section to another, all in mm.

    A blow on one face spreads the metal to the other, where the next blow drives it back: so more is spent
    than is left. A section that grows both ways is upset and spends what is left. Never less than the net
    strain.
    """
    thinner, narrower = log(thickness / to_thickness), log(width / to_width)
    net = _net_strain(thinner, narrower)
    if thinner + narrower <= 0 or net == 0:
        return net
    spent = 0.0
    for part in range(_PARTS):
        done = (part + 0.5) / _PARTS
        flat = spread_coefficient(bite, width * exp(-narrower * done))
        edge = spread_coefficient(bite, thickness * exp(-thinner * done))
        on_face = (thinner + edge * narrower) / (1 - flat * edge)
        on_edge = (narrower + flat * thinner) / (1 - flat * edge)
        if on_edge < 0:  # it is to get wider than that by itself: nobody works the edge
            on_face, on_edge = max(thinner, 0.0), 0.0
        elif on_face < 0:
            on_face, on_edge = 0.0, max(narrower, 0.0)
        spent += on_face * strain_of(flat) + on_edge * strain_of(edge)
    return max(spent / _PARTS, net)


def strain_of(spread: float) -> float:
    """Return the strain (von Mises) that each unit of reduction costs where a share of it spreads."""
    return sqrt(2 / 3 * (1 + spread * spread + (1 - spread) ** 2))


def _net_strain(thinner: float, narrower: float) -> float:
    longer = thinner + narrower
    return sqrt(2 / 3 * (thinner**2 + narrower**2 + longer**2))


def slab_factor(contact: float, thickness: float, friction: float = FRICTION) -> float:
    """Return how many times its flow stress a slab under friction withstands, both in mm: slab equation."""
    return 1 + friction * contact / (4 * thickness)


def pressure_factor(contact: float, thickness: float, friction: float = FRICTION) -> float:
    """Return how many times its flow stress metal withstands under a face, both in mm.

    The larger of a thin slab under friction (slab equation) and of a thick one that is dented (ends of the
    slip-line curve, Hill, from memory).
    """
    return max(slab_factor(contact, thickness, friction), min(0.8 + 0.2 * thickness / contact, 2.57))


@dataclass(frozen=True, slots=True)
class Job:
    """What is to be done to a run: volume [mm³], strain, and modulus and pressure factor, first and last.

    The modulus is area over perimeter [mm].
    """

    volume: float
    strain: float
    modulus: tuple[float, float]
    factor: tuple[float, float]
    carbon: float = 0.15


@dataclass(frozen=True, slots=True)
class Striking:
    """How it is struck: blows of an energy [J] at a rate [1/s], and the shares that count.

    `efficiency` is what soft metal takes of a blow, `useful` the share of the blows that shape.
    """

    energy: float
    rate: float
    efficiency: float
    useful: float

    @property
    def power(self) -> float:
        """What goes into the metal [W]."""
        return self.energy * self.rate * self.efficiency * self.useful


@dataclass(frozen=True, slots=True)
class HeatLimits:
    """A heat: out of the fire and back to it [°C], seconds to the anvil, and its contact [W/(m² K)]."""

    start: float
    stop: float
    transfer: float = 2.0
    contact: float = 60.0


@dataclass(frozen=True, slots=True)
class Forged:
    """Blows, seconds of hammering, and heats with the share of the last one that is used.

    `first` and `last` are the seconds of hammering that a heat allows at the beginning and at the end.
    """

    blows: float
    seconds: float
    heats: float
    first: float
    last: float


def forged(job: Job, striking: Striking, limits: HeatLimits) -> Forged:
    """Return what a job takes, heat by heat: it cools, is struck, warms by the blows, and is heated again."""
    done, seconds, heats = 0.0, 0.0, 0.0
    while done < 1 - _LEAST and heats < _MOST_HEATS:
        share, spent, used = _one_heat(job, striking, limits, done)
        heats += 1.0 if done + share < 1 - _LEAST else used
        seconds, done = seconds + spent, done + share
    for part in range(_PARTS if done < 1 - _LEAST else 0):  # the rest by a few of its heats
        there = done + (1 - done) * (part + 0.5) / _PARTS
        share, spent, _ = _one_heat(job, striking, limits, there, ends=there + 1)
        many = (1 - done) / _PARTS / share
        heats, seconds = heats + many, seconds + spent * many
    first, last = (_allowed(job, limits, at) for at in (0.0, 1.0))
    return Forged(seconds * striking.rate, seconds, heats, first, last)


def _modulus(job: Job, done: float) -> float:
    return job.modulus[0] + (job.modulus[1] - job.modulus[0]) * min(done, 1.0)


def _allowed(job: Job, limits: HeatLimits, done: float) -> float:
    """Return the seconds at the anvil that a heat lasts if nothing warms the metal."""
    whole = cooling_seconds_per_mm(limits.start, limits.stop, limits.contact) * _modulus(job, done)
    return max(whole - limits.transfer * _SHORTER, whole * 0.1)


def _one_heat(
    job: Job, striking: Striking, limits: HeatLimits, done: float, ends: float = 1.0
) -> tuple[float, float, float]:
    """Return the share of a job that a heat does, its seconds, and the share of its heat that is used.

    `done` is the share of the job that is done already; at the share `ends` the heat ends too.
    """
    top, bottom = heat_content(limits.start), heat_content(limits.stop)
    warmed = WARMING * striking.power / (job.volume * DENSITY) * 1e9
    skin = 1000 / (_modulus(job, done) * DENSITY)
    content = whole = max(top - limits.transfer * cooling_flux(limits.start) * skin, bottom + _LAST)
    share = seconds = 0.0
    while content > bottom + _LAST / 2 and done + share < ends - _LEAST:
        at = temperature_of(content)
        skin = 1000 / (_modulus(job, done + share) * DENSITY)
        cooling = cooling_flux(at, limits.contact) * skin
        speed = _speed(job, striking, at, done + share)
        beat = min((top - bottom) / cooling / _BEATS, (ends - done - share) / speed)
        middle = min(content - (cooling - warmed) * beat / 2, top)
        at = temperature_of(middle)
        lost = cooling_flux(at, limits.contact) * skin - warmed
        if lost > 0:
            beat = min(beat, (content - bottom) / lost)
        share += beat * _speed(job, striking, at, done + share)
        seconds += beat
        content = min(content - lost * beat, top)
    used = (whole - content) / (whole - bottom)
    return share, seconds, min(max(used, _LEAST_USED), 1.0)


def _speed(job: Job, striking: Striking, temperature: float, done: float) -> float:
    """Return the share of a job done in a second."""
    factor = job.factor[0] + (job.factor[1] - job.factor[0]) * min(done, 1.0)
    stress = stress_at(temperature, job.carbon) * factor
    return striking.power / (stress * job.volume * job.strain / 1000)


# -- tables: a plan of sixty steps asks thousands of times ----------------------------------------------


@cache
def _stresses(carbon: float) -> tuple[float, ...]:
    return tuple(_mean_stress(at, carbon) for at in _degrees())


def _mean_stress(temperature: float, carbon: float) -> float:
    """Return the mean of the flow stress [MPa] from no strain to that of a heat, by the middles of parts."""
    parts = [STRAIN * (part + 0.5) / 20 for part in range(20)]
    return sum(flow_stress(temperature, carbon, strain, RATE) for strain in parts) / len(parts)


def stress_at(temperature: float, carbon: float) -> float:
    """Return the flow stress [MPa] at a temperature [°C], by a straight line between ten degrees."""
    return _between(_stresses(carbon), temperature)


@cache
def _contents() -> tuple[float, ...]:
    found, total, before = [], 0.0, _LOWEST
    for at in _degrees():
        total += enthalpy(before, at) if at > before else 0.0
        found.append(total)
        before = at
    return tuple(found)


def heat_content(temperature: float) -> float:
    """Return the heat [J/kg] of steel above 100 °C at a temperature [°C]."""
    return _between(_contents(), temperature)


def temperature_of(content: float) -> float:
    """Return the temperature [°C] of steel of this heat content [J/kg]."""
    table = _contents()
    place = min(max(bisect_left(table, content), 1), len(table) - 1)
    low, high = table[place - 1], table[place]
    return _LOWEST + _APART * (place - 1 + (content - low) / (high - low))


def _degrees() -> Iterator[float]:
    count = round((_HIGHEST - _LOWEST) / _APART)
    return (_LOWEST + _APART * step for step in range(count + 1))


def _between(table: tuple[float, ...], temperature: float) -> float:
    place = min(max((temperature - _LOWEST) / _APART, 0.0), len(table) - 1.0)
    row = min(int(place), len(table) - 2)
    return table[row] + (place - row) * (table[row + 1] - table[row])
