"""Words from right to left in drawings on paper, where the print engine draws every letter by itself."""

import pytest

from procedures.printing.right_to_left import drawable, in_line


@pytest.mark.parametrize(
    ("words", "drawn"),
    [
        ("Mark A", "Mark A"),
        ("\u05d5\u05d5", "\u05d5\u05d5"),
        ("\u05e9\u05e2\u05e8", "\u05e8\u05e2\u05e9"),
        # As the Unicode bidirectional algorithm (UAX 9) has it in a line from left to right.
        ("A \u05d0\u05d1 \u05d2 B", "A \u05d2 \u05d1\u05d0 B"),
        ("\u05d0\u05d1; 2 Punch", "\u05d1\u05d0; 2 Punch"),
        ("\u05d0 12.5 \u05d1", "\u05d1 12.5 \u05d0"),
        ("\u05d0 (\u05d1) \u05d2", "\u05d2 (\u05d1) \u05d0"),
        # Initial, medial, final alef; then an alef alone, since the one before joins to nothing after it.
        ("\u062e\u0637\u0627\u0627", "\u0627\ufe8e\ufec4\ufea7"),
        ("\u05d1\u05bc\u05d0", "\u05d0\u05d1\u05bc"),  # the dot stays in its letter
    ],
)
def test_letters_stand_in_the_order_they_are_drawn_in(words, drawn):
    assert in_line(words) == drawn


def test_only_the_words_of_drawings_are_turned():
    html = '<p>\u05d0\u05d1</p><svg><text x="1">\u05d0\u05d1 &amp; c</text></svg>'
    assert drawable(html) == '<p>\u05d0\u05d1</p><svg><text x="1">\u05d1\u05d0 &amp; c</text></svg>'
