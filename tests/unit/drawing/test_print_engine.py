"""Drawings through the print engine, which reads no page CSS inside SVG: they must carry all their looks."""

import pypdfium2
import pytest
import weasyprint

from procedures.drawing import PartDrawing

from .pieces import drawn_down, scrolled_at_both_ends

DOTS = 4  # a millimetre


def printed(svg: str):
    """Return the page as rows of grey, 0 black to 255 white."""
    html = f"<style>@page {{ size: 190mm 120mm; margin: 10mm }} svg {{ display: block }}</style>{svg}"
    page = pypdfium2.PdfDocument(weasyprint.HTML(string=html).write_pdf())[0]
    return page.render(scale=DOTS * 25.4 / 72, grayscale=True).to_numpy()


@pytest.mark.parametrize("case", [drawn_down, scrolled_at_both_ends])
def test_a_printed_drawing_is_lines_on_white_not_black(case):
    replayed, frame = case()
    grey = printed(PartDrawing(replayed, size="print").step(frame))
    assert 0.001 < (grey < 80).mean() < 0.08
    assert (grey > 245).mean() > 0.8


def test_the_worked_tone_is_a_light_grey():
    replayed, frame = drawn_down()
    grey = printed(PartDrawing(replayed, size="print").step(frame))
    assert ((grey > 210) & (grey < 230)).mean() > 0.005


def test_a_length_is_true_on_paper():
    """The bar of 300 at the stated scale, from its first to its last dark column below the heavy lines."""
    replayed, _ = drawn_down()
    drawing = PartDrawing(replayed, size="print")
    drawn, true = (float(one) for one in drawing.plot.ratio.split(":"))
    grey = printed(drawing.start())
    upper = grey[: grey.shape[0] // 2]
    dark = [x for x in range(upper.shape[1]) if (upper[:, x] < 80).sum() > 4 * DOTS]
    assert (dark[-1] - dark[0]) / DOTS == pytest.approx(300 * drawn / true, abs=0.8)
