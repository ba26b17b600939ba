"""The colour of glowing iron: Planck's law seen by the CIE 1931 observer, and a picture of it in sRGB.

The chromaticity is physics: a grey oxide leaves it as Planck gives it. The brightness a screen can show is
not; the tone law below is an illustration, tuned by eye to the names of the heats.
"""

from __future__ import annotations

from math import exp

EMISSIVITY = 0.8  # oxidised steel; it dims the glow and does not change its colour

# Temperature [°C], chromaticity x and y, and the common logarithm of the luminance [cd/m²] at that
# emissivity. Computed from Planck's law and the CIE 1931 2 degree colour-matching functions of
# colour-science, in 1 nm steps from 360 to 830 nm.
_GLOW = (
    (475, 0.68875, 0.31076, -3.0494),
    (500, 0.68518, 0.31422, -2.6210),
    (525, 0.68160, 0.31768, -2.2179),
    (550, 0.67801, 0.32112, -1.8379),
    (575, 0.67442, 0.32453, -1.4792),
    (600, 0.67083, 0.32792, -1.1399),
    (625, 0.66725, 0.33127, -0.8186),
    (650, 0.66367, 0.33458, -0.5138),
    (675, 0.66010, 0.33785, -0.2242),
    (700, 0.65655, 0.34107, 0.0512),
    (725, 0.65301, 0.34423, 0.3134),
    (750, 0.64949, 0.34734, 0.5635),
    (775, 0.64598, 0.35038, 0.8022),
    (800, 0.64249, 0.35337, 1.0302),
    (825, 0.63901, 0.35628, 1.2484),
    (850, 0.63556, 0.35913, 1.4573),
    (875, 0.63212, 0.36192, 1.6574),
    (900, 0.62870, 0.36463, 1.8495),
    (925, 0.62530, 0.36726, 2.0338),
    (950, 0.62191, 0.36983, 2.2109),
    (975, 0.61855, 0.37231, 2.3813),
    (1000, 0.61520, 0.37473, 2.5452),
    (1025, 0.61188, 0.37706, 2.7031),
    (1050, 0.60857, 0.37932, 2.8552),
    (1075, 0.60528, 0.38151, 3.0019),
    (1100, 0.60201, 0.38361, 3.1435),
    (1125, 0.59876, 0.38564, 3.2802),
    (1150, 0.59553, 0.38759, 3.4123),
    (1175, 0.59232, 0.38947, 3.5400),
    (1200, 0.58913, 0.39127, 3.6636),
    (1225, 0.58595, 0.39300, 3.7832),
    (1250, 0.58280, 0.39465, 3.8989),
    (1275, 0.57966, 0.39622, 4.0111),
    (1300, 0.57655, 0.39773, 4.1199),
    (1325, 0.57346, 0.39916, 4.2253),
    (1350, 0.57038, 0.40052, 4.3277),
    (1375, 0.56733, 0.40181, 4.4270),
    (1400, 0.56430, 0.40304, 4.5235),
    (1425, 0.56129, 0.40419, 4.6172),
    (1450, 0.55830, 0.40528, 4.7083),
    (1475, 0.55533, 0.40630, 4.7969),
    (1500, 0.55239, 0.40726, 4.8831),
)
_COLDEST, _STEP = 475, 25

# Linear sRGB of CIE XYZ (IEC 61966-2-1), row by row.
_RED = (3.2406, -1.5372, -0.4986)
_GREEN = (-0.9689, 1.8758, 0.0415)
_BLUE = (0.0557, -0.2040, 1.0570)
_LUMINANCE = (0.2126, 0.7152, 0.0722)

_DARK_SHOP = (0.007, 0.008, 0.009)  # what is seen of the cold oxide, linear
_WHITE = 3000.0  # cd/m² that the tone law is scaled by
_BLEACH = (1.0, 1.0, 0.35)  # a bright glow drifts to yellow and then pale


def chromaticity(temperature: float) -> tuple[float, float]:
    """Return the CIE 1931 x and y of the glow at a temperature [°C], held at the ends of 475 to 1500."""
    x, y, _ = _at(temperature)
    return x, y


def log10_luminance(temperature: float) -> float:
    """Return the common logarithm of the glow's luminance [cd/m²] at a temperature [°C]."""
    return _at(temperature)[2]


def glow(temperature: float) -> tuple[float, float, float]:
    """Return the sRGB colour (0 to 255, not rounded) of iron at a temperature [°C] in a dark shop."""
    x, y, log_luminance = _at(temperature)
    whole = (x / y, 1.0, (1 - x - y) / y)
    linear = [max(sum(a * b for a, b in zip(row, whole, strict=True)), 0.0) for row in (_RED, _GREEN, _BLUE)]
    luminance = sum(a * b for a, b in zip(_LUMINANCE, linear, strict=True))
    brightness = 0.8 * (10**log_luminance / _WHITE) ** 0.42  # near Stevens' power law
    red, green, blue = (
        _encoded(1 - (1 - dark) * exp(-(brightness * own / luminance + (brightness / 2) ** 2 * bleach)))
        for own, dark, bleach in zip(linear, _DARK_SHOP, _BLEACH, strict=True)
    )
    return red, green, blue


def glow_hex(temperature: float) -> str:
    """Return the sRGB colour of iron at a temperature [°C] as "#dc6125"."""
    return "#" + "".join(f"{round(part):02x}" for part in glow(temperature))


def _at(temperature: float) -> tuple[float, float, float]:
    place = min(max((temperature - _COLDEST) / _STEP, 0.0), len(_GLOW) - 1.0)
    row = min(int(place), len(_GLOW) - 2)
    over = place - row
    (_, x0, y0, log0), (_, x1, y1, log1) = _GLOW[row], _GLOW[row + 1]
    return x0 + over * (x1 - x0), y0 + over * (y1 - y0), log0 + over * (log1 - log0)


def _encoded(linear: float) -> float:
    part = 12.92 * linear if linear <= 0.0031308 else 1.055 * linear ** (1 / 2.4) - 0.055
    return 255 * min(max(part, 0.0), 1.0)
