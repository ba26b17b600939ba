"""The finished sizes of two demo procedures, reckoned by hand without scale."""

from math import pi

import pytest

from procedures.engine.document import read
from procedures.engine.document_text import parse
from procedures.engine.replay import Replay, replay
from procedures.management.commands.load_demo import DEMO

NEAR = 0.05  # mm
STEEL = 7.85e-3  # g/mm³


def nominal(name: str) -> Replay:
    return replay(read(parse((DEMO / name).read_bytes())), nominal=True)


def lengths(replayed: Replay, part: str) -> dict[str, float]:
    """Return the length of the part's own bar after each step, by the key of the step."""
    return {one.key: one.after.root.length for one in replayed.part(part).frames}


@pytest.fixture(scope="module")
def stand() -> Replay:
    return nominal("pot_stand.json")


@pytest.fixture(scope="module")
def hinge() -> Replay:
    return nominal("door_hinge.json")


def test_hoop_of_the_pot_stand(stand):
    hoop = lengths(stand, "hoop")
    upset = 24 * (25 * 8) / (25 * 10)  # 19.2
    scarf = 14 - 14 * (10 + 3) / 2 / 10  # what a slope of 14 from 10 to 3 gains: 4.9
    assert hoop["upset1"] == pytest.approx(570 - 24 + upset, abs=NEAR)
    assert hoop["scarf2"] == pytest.approx(570 - 2 * (24 - upset) + 2 * scarf, abs=NEAR)
    assert hoop["weld"] == pytest.approx(570, abs=NEAR)  # all of the bar in one section again
    closed = stand.part("hoop").frames[6].after
    assert closed.is_closed("hoop")
    assert closed.root.length / pi - 8 == pytest.approx(172, abs=0.01 * 172)


def test_feet_of_the_pot_stand(stand):
    foot = lengths(stand, "foot")
    tab = 16 * 14**2 / (18 * 7)  # 24.9
    leg = 90 * 14**2 * 6 / (14**2 + 4 * 11.5**2 + 9**2)  # 131.3
    assert foot["tab"] == pytest.approx(130 - 16 + tab, abs=NEAR)
    assert foot["leg"] == pytest.approx(tab + 24 + leg, abs=NEAR)
    slug = 0.3 * pi / 4 * 8.5**2 * 7
    grams = (130 * 14**2 - slug) * STEEL
    final = stand.part("foot").final
    assert final.mass * 1000 == pytest.approx(grams, abs=0.1)
    assert final.root.mark("L").at == pytest.approx(tab, abs=NEAR)


def test_feet_stand_on_the_hoop_a_third_of_the_way_round_apart(stand):
    done = stand.part("hoop").final
    assert done.groups["foot"] == ("foot 1", "foot 2", "foot 3")
    held = sorted(joint.on("hoop")[0] for joint in done.joints if joint.kind == "rivet")
    first, second, third = held
    assert [second - first, third - second] == pytest.approx([570 / 3, 570 / 3], abs=1.5)
    assert [first, 570 - third] == pytest.approx([570 / 6, 570 / 6], abs=3.5)  # the weld lies half way
    # the hole lies half the width of the hoop above the ledge it sits on
    foot = done.branch("foot 1")
    hole = next(one for one in foot.features if one.is_hole)
    assert foot.mark("L").at - hole.at == pytest.approx(25 / 2)


def test_strap_of_the_door_hinge(hinge):
    strap = lengths(hinge, "strap")
    turn, eye = pi / 2 * (8 + 15.5), pi * (15.5 + 8)
    flap = 60 + turn / 2 - eye / 2  # 41.5, and as much seat
    welded = 480 - 2 * flap + 2 * flap * 8 / 11
    assert strap["weld"] == pytest.approx(welded, abs=NEAR)
    taper = 200 * 40 * 8 * 6 / (40 * 8 + 4 * 33 * 7 + 26 * 6)  # 274.3
    assert strap["taper"] == pytest.approx(welded - 200 + taper, abs=NEAR)
    share = 40 / taper  # of the way back up the taper
    wide, middle = (26 + 14 * share, 6 + 2 * share), (26 + 7 * share, 6 + share)
    metal = 40 / 6 * (26 * 6 + 4 * middle[0] * middle[1] + wide[0] * wide[1])
    leaf = metal / (2 / 3 * 38 * 4.5)  # two arcs on an even plate: 58.3
    assert strap["leaf"] == pytest.approx(welded - 200 + taper - 40 + leaf, abs=NEAR)


def test_holes_of_the_door_hinge(hinge):
    strap = hinge.part("strap").final
    holes = {one.name: one for one in strap.root.features if one.is_hole}
    eye = strap.root.mark("eye").at
    assert {name: one.at - eye for name, one in holes.items()} == pytest.approx(
        {"bolt hole 1": 120, "bolt hole 2": 220, "nail hole 1": 290, "nail hole 2": 355, "nail hole 3": 425}
    )
    assert {one.shape for one in holes.values()} == {"square"}
    assert [holes["bolt hole 1"].width, holes["nail hole 1"].width] == [10.5, 6]
    # the round punch took a slug of three tenths, the drift nothing
    assert strap.lost("slug") == pytest.approx(
        0.3 * 2 * pi / 4 * 9**2 * 8 + sum(0.3 * 36 * thickness_at(strap, one) for one in nails(holes)),
        rel=0.01,
    )


def nails(holes):
    return [one for name, one in holes.items() if name.startswith("nail")]


def thickness_at(piece, hole):
    return piece.root.section_at(hole.at).thickness


def test_pintle_of_the_door_hinge(hinge):
    pintle = lengths(hinge, "pintle")
    bar = 58 * pi / 4 * 15**2 / 22**2  # 21.2 of it make the pin
    assert pintle["pin"] == pytest.approx(190 - bar + 58, abs=NEAR)
    hung = hinge.part("pintle").final
    assert [hung.branch(one).length for one in ("left claw", "right claw")] == [45, 45]
    (joint,) = (one for one in hung.joints if one.moves)
    assert joint.on("pintle") == (38,)  # half the strap's 40 above the shoulder at 58
    assert hung.root.mark("shoulder").at - 38 == pytest.approx(40 / 2)
