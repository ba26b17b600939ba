"""Heat colours against the colour-science library itself, over all forging heats.

Its black body, its CIE 1931 2 degree observer and its sRGB encoding, none of our code. The older test beside
this one holds values that were worked out once.
"""

import warnings

import pytest

from calculators.glow import chromaticity, glow, log10_luminance

with warnings.catch_warnings():  # it tells of libraries for plotting, which nobody needs here
    warnings.simplefilter("ignore")
    import colour

CLOSE = 2e-4  # of x and y: no eye tells it
SHAPE = colour.SpectralShape(380, 780, 5)
OBSERVER = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(SHAPE)
MOST_LUMENS = 683.0  # lm/W
EMISSIVITY = 0.8


def tristimulus(celsius):
    glowing = colour.sd_blackbody(celsius + 273.15, SHAPE)
    return colour.colorimetry.sd_to_XYZ_integration(glowing, OBSERVER, k=MOST_LUMENS, shape=SHAPE)


@pytest.mark.parametrize("celsius", range(550, 1351, 50))
def test_chromaticity_of_a_glowing_bar(celsius):
    x, y = colour.XYZ_to_xy(tristimulus(celsius))
    assert chromaticity(celsius) == pytest.approx((x, y), abs=CLOSE)


@pytest.mark.parametrize("celsius", range(600, 1301, 100))
def test_brightness_rises_as_a_black_bodys_does(celsius):
    # Only the ratio: a spectral radiance comes per nanometre there and per metre here.
    hotter, colder = (tristimulus(at)[1] for at in (celsius, 600))
    assert 10 ** (log10_luminance(celsius) - log10_luminance(600)) == pytest.approx(
        hotter / colder, rel=0.002
    )


@pytest.mark.parametrize("celsius", range(700, 1301, 100))
def test_bar_on_the_screen_has_the_hue_order_of_the_glow(celsius):
    # The tone law is an illustration, but red leads green and green leads blue, as in the light itself.
    linear = colour.XYZ_to_sRGB(tristimulus(celsius) / tristimulus(celsius)[1], apply_cctf_encoding=False)
    assert linear[0] > linear[1] > linear[2]
    red, green, blue = glow(celsius)
    assert red > green >= blue - 5
