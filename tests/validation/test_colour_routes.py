"""Heat colours against colour-science and numpy.

Expected values were computed by another route, named beside each, with other libraries and none of our code.
"""

import pytest

from calculators.glow import chromaticity, glow, log10_luminance

CHROMATICITIES = [  # °C, axis, expected
    (1010, 0, 0.6138732194724809),
    (1210, 0, 0.5878564009408878),
    (1340, 0, 0.5716144148810897),
    (560, 0, 0.6765765566700317),
    (640, 0, 0.6651020381692468),
    (710, 0, 0.6551364048898367),
    (815, 0, 0.6404028617402093),
    (930, 0, 0.6246203199428244),
    (1010, 1, 0.3756678342289722),
    (1210, 1, 0.3919687849508372),
    (1290, 1, 0.3971345092649276),
    (1340, 1, 0.3999849801969374),
    (560, 1, 0.3224825548642966),
    (710, 1, 0.34233615734785294),
    (815, 1, 0.3551230806132339),
    (930, 1, 0.3677785685949044),
]


@pytest.mark.parametrize(("temperature", "axis", "expected"), CHROMATICITIES)
def test_chromaticity(temperature, axis, expected):
    """Route: colour-science's black body, 5 nm steps, between the table's temperatures."""
    assert chromaticity(temperature)[axis] == pytest.approx(expected, abs=0.0004)


LUMINANCES = [  # °C, expected
    (600, -1.1399284519830437),
    (815, 1.1622721805475642),
]


@pytest.mark.parametrize(("temperature", "expected"), LUMINANCES)
def test_luminance(temperature, expected):
    """Route: CIE 1924 V(λ) and Planck by the trapezium rule."""
    assert log10_luminance(temperature) == pytest.approx(expected, abs=0.01)


SWATCHES = [  # °C, channel, expected
    (1000, 2, 36.54674042363868),
    (1000, 1, 96.83581434591758),
    (1150, 2, 67.38403098360413),
    (1150, 0, 247.3575943970192),
    (1290, 1, 217.066978612607),
    (1290, 0, 254.23926702538802),
    (560, 2, 23.77087814148882),
    (700, 2, 23.894801872293076),
    (700, 1, 22.921708187697313),
    (700, 0, 102.49818826466253),
    (850, 2, 25.651296935444247),
]


@pytest.mark.parametrize(("temperature", "channel", "expected"), SWATCHES)
def test_swatch(temperature, channel, expected):
    """Route: numpy with colour-science's sRGB matrix and transfer function, the same tone law."""
    assert glow(temperature)[channel] == pytest.approx(expected, abs=1.5)
