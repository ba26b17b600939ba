"""What is drawn on the pages of a PDF, in mm from the upper left corner of the sheet."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator

import pypdfium2
import pypdfium2.raw as pdfium

POINT = 25.4 / 72  # mm
Spot = tuple[float, float]


def paths(page: pypdfium2.PdfPage) -> Iterator[list[list[Spot]]]:
    """Yield each path as its runs of spots; a closed run ends where it began."""
    height = page.get_height()
    for drawn in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=4):
        matrix = drawn.get_matrix()
        runs: list[list[Spot]] = []
        for index in range(pdfium.FPDFPath_CountSegments(drawn.raw)):
            segment = pdfium.FPDFPath_GetPathSegment(drawn.raw, index)
            x, y = ctypes.c_float(), ctypes.c_float()
            pdfium.FPDFPathSegment_GetPoint(segment, x, y)
            across, up = matrix.on_point(x.value, y.value)
            if pdfium.FPDFPathSegment_GetType(segment) == pdfium.FPDF_SEGMENT_MOVETO or not runs:
                runs.append([])
            runs[-1].append((across * POINT, (height - up) * POINT))
            if pdfium.FPDFPathSegment_GetClose(segment):
                runs[-1].append(runs[-1][0])
        yield runs


def runs(page: pypdfium2.PdfPage) -> list[list[Spot]]:
    """Every run of every path, the ground of the page left out."""
    width = page.get_width() * POINT
    found = [run for path in paths(page) for run in path]
    return [one for one in found if max(x for x, _ in one) - min(x for x, _ in one) < width - 0.5]


def level(page: pypdfium2.PdfPage, length: float, *, within: float = 0.2) -> list[tuple[Spot, Spot]]:
    """The level lines of two spots and this length [mm]."""
    return [
        (one[0], one[1])
        for one in runs(page)
        if len(one) == 2
        and abs(one[0][1] - one[1][1]) < 1e-3
        and abs(abs(one[1][0] - one[0][0]) - length) < within
    ]


def upright(page: pypdfium2.PdfPage) -> list[tuple[float, float, float]]:
    """The upright lines of two spots: how far across, upper end, lower end."""
    return [
        (one[0][0], min(one[0][1], one[1][1]), max(one[0][1], one[1][1]))
        for one in runs(page)
        if len(one) == 2 and abs(one[0][0] - one[1][0]) < 1e-3
    ]


def word_boxes(page: pypdfium2.PdfPage) -> Iterator[tuple[float, float, float, float]]:
    """Yield the box of every run of words: left, top, right, foot."""
    height = page.get_height()
    for drawn in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT], max_depth=4):
        left, foot, right, top = drawn.get_bounds()
        yield left * POINT, (height - top) * POINT, right * POINT, (height - foot) * POINT
