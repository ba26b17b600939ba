"""Sections and lengths for hypothesis to try."""

from hypothesis import strategies as st

from calculators.sections import Section

sizes = st.floats(0.5, 300)


def _cornered(make):
    return st.builds(
        lambda width, thickness, share: make(width, thickness, share * min(width, thickness)),
        sizes,
        sizes,
        st.floats(0.01, 0.49),
    )


named = st.one_of(
    st.builds(Section.round, sizes),
    st.builds(Section.square, sizes),
    st.builds(Section.flat, sizes, sizes),
    st.builds(Section.hexagon, sizes),
    st.builds(Section.octagon, sizes),
    st.builds(Section.half_round, sizes),
    st.builds(Section.triangle, sizes),
    _cornered(Section.rounded_flat),
    _cornered(Section.chamfered_flat),
    st.builds(lambda diameter, share: Section.tube(diameter, share * diameter), sizes, st.floats(0.05, 0.45)),
)
fractions = st.floats(0, 1)
blends = st.builds(lambda start, end, x: start.blend(end, x), named, named, fractions)
ends = st.one_of(named, st.just(Section.point()), st.builds(Section.edge, sizes))
