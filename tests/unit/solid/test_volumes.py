"""The solids hold the metal that the ledger says, and are closed, after every example and demo step."""

from __future__ import annotations

from collections import Counter

import pytest

from procedures.solid.bodies import MOST_FACES, Body, bodies_of
from procedures.solid.export import glb
from procedures.solid.glowing import glowing, temperature_of

from .every_piece import DEMOS, OPERATIONS, of_demo, of_operation

SHARE = 0.005  # by which a mesh may miss the volume of its ledger; nothing is left out of the reckoning


def is_closed(body: Body) -> bool:
    """Whether every edge is run through as often one way as the other."""
    edges = Counter((int(face[start]), int(face[start - 2])) for face in body.faces for start in range(3))
    return all(edges[two, one] == count for (one, two), count in edges.items())


def check(name, frame):
    bodies = bodies_of(frame.after, glowing(frame))
    assert bodies, name
    made = sum(one.volume for one in bodies)
    assert made == pytest.approx(frame.after.volume, rel=SHARE), name
    assert sum(len(one.faces) for one in bodies) <= MOST_FACES, name
    for one in bodies:
        assert one.volume > 0, f"{name}: {one.name}"
        assert is_closed(one), f"{name}: {one.name}"


@pytest.mark.parametrize("operation", OPERATIONS)
def test_example_has_the_volume_of_its_ledger(operation):
    for name, frame in of_operation(operation):
        check(name, frame)


@pytest.mark.parametrize("demo", DEMOS)
def test_demo_step_has_the_volume_of_its_ledger(demo):
    for name, frame in of_demo(demo):
        check(name, frame)


@pytest.mark.parametrize("demo", DEMOS)
def test_file_of_a_demo_step_is_well_below_a_megabyte(demo):
    for name, frame in of_demo(demo):
        made = glb(bodies_of(frame.after, glowing(frame)), temperature_of(frame))
        assert len(made) < 600_000, name
