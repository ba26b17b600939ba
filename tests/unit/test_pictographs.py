"""Pictographs on paper: their names in words, a sign in a drawing, and nothing else touched."""

import pytest

from procedures.printing.pictographs import legible

ANVIL_MAN = "\N{MAN}\N{EMOJI MODIFIER FITZPATRICK TYPE-4}\N{ZERO WIDTH JOINER}\N{WRENCH}"


@pytest.mark.parametrize(
    ("typed", "printed"),
    [
        ("Hook \N{HAMMER AND WRENCH}\N{VARIATION SELECTOR-16}", "Hook (hammer and wrench)"),
        (f"by {ANVIL_MAN}.", "by (man, wrench)."),
        ("\N{FIRE}\N{FIRE}", "(fire)"),
        ("\N{FIRE} a \N{FIRE}b", "(fire) a b"),
        ("a\N{VARIATION SELECTOR-16}b", "ab"),
        ("ø12 × 40, □10, 3½\u2033, 1 → 2", "ø12 × 40, □10, 3½\u2033, 1 → 2"),
        ("קרס and خطاف", "קרס and خطاف"),
    ],
)
def test_each_is_told_by_its_name(typed, printed):
    assert legible(f"<p>{typed}</p>") == f"<p>{printed}</p>"


def test_in_a_drawing_each_keeps_to_the_room_of_a_letter():
    html = "<p>\N{FIRE}</p><svg a='1'><text>A\N{FIRE}</text>\n</svg><p>\N{FIRE}</p>"
    assert legible(html) == "<p>(fire)</p><svg a='1'><text>A*</text>\n</svg><p>(fire)</p>"
