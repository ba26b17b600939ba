"""Random runs of features: drafted they replay without a stop and give their sizes back, or words say why."""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calculators.sections import Section
from procedures.drafting.catalogue import all_features
from procedures.drafting.description import Description
from procedures.drafting.drafting import drafted
from procedures.drafting.refusing import Undraftable
from procedures.engine.finding import Level
from procedures.engine.scale import ScaleHabit

SLOW = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
EXACT = 1e-6  # mm
POINT = {"shape": "point"}
OWN_ORDER = ("order.", "access.", "holding.", "heat.too_few_heats", "shape.", "place.", "mark.")


def square(side):
    return {"shape": "square", "side": side}


def flat(width, thickness):
    return {"shape": "flat", "width": width, "thickness": thickness}


def rod(diameter):
    return {"shape": "round", "diameter": diameter}


def one_of(*values):
    return st.sampled_from(values)


def made(kind, **params):
    return st.fixed_dictionaries(params).map(
        lambda found: all_features()[kind].read({k: v for k, v in found.items() if v is not None})
    )


def stems(b):
    sections = (None, None, square(0.7 * b), rod(0.8 * b), flat(1.5 * b, 0.45 * b), square(1.2 * b))
    return made("stem", length=st.floats(12, 200), section=one_of(*sections))


def joined(b):
    """What lies between two stems, with what must come after it."""
    bend = made(
        "bend", angle=st.floats(10, 180), inside_radius=st.floats(3, 40), turn=one_of("up", "left", "down")
    )
    hole = made(
        "hole",
        distance=st.floats(5, 30),
        size=st.floats(0.2 * b, 0.6 * b),
        way=one_of("punch", "slit_drift", "drill"),
    )
    return st.one_of(
        st.tuples(stems(b)),
        st.tuples(bend, stems(b)),
        st.tuples(made("corner", turn=one_of("up", "right")), stems(b)),
        st.tuples(stems(b), hole),
        st.tuples(made("twist", length=st.floats(40, 90), turns=st.floats(0.2, 1.2)), stems(b)),
        st.tuples(made("knob", section=one_of(square(1.25 * b), rod(1.5 * b)), length=st.floats(6, 15))),
        st.tuples(made("taper", length=st.floats(30, 120), to=one_of(square(0.6 * b), flat(b, 0.4 * b)))),
        st.tuples(made("flat", width=st.just(1.6 * b), thickness=st.just(0.4 * b), length=st.floats(15, 60))),
        st.tuples(made("shoulder"), made("stem", length=st.just(50.0), section=st.just(square(0.7 * b)))),
    )


def ends(b):
    tips = one_of(None, square(0.4 * b), flat(b, 0.25 * b))
    return st.one_of(
        st.just(()),
        made("taper", length=st.floats(30, 120), to=one_of(POINT, square(0.3 * b), rod(0.4 * b))),
        made("eye", inside_diameter=st.floats(10, 50), sweep=one_of(330.0, 360.0)),
        made("eye", inside_diameter=st.floats(10, 30), made=st.just("welded"), seat=st.floats(25, 60)),
        made("hook", inside_diameter=st.floats(15, 50), tip=tips),
        made(
            "scroll", inner=st.floats(6, 12), outer=st.floats(25, 45), turns=st.floats(0.5, 1.3), tip=tips,
            law=one_of("archimedes", "logarithmic"),
        ),
        made("tenon", section=one_of(rod(0.6 * b), square(0.5 * b)), length=st.floats(8, 30)),
        made("head", form=one_of("square", "dome", "round"), size=st.just(1.7 * b), height=st.just(0.7 * b)),
        made("leaf", length=st.floats(40, 80), width=st.just(2 * b), thickness=st.just(0.25 * b)),
        made("fishtail", length=st.floats(25, 45), width=st.just(1.6 * b), thickness=st.just(0.3 * b)),
    ).map(lambda one: (one,) if one else ())  # fmt: skip


@st.composite
def descriptions(draw):
    b = draw(one_of(8.0, 12.0, 16.0, 20.0))
    bar = draw(one_of(Section.square(b), Section.round(b), Section.flat(1.6 * b, 0.6 * b)))
    middle = [one for few in draw(st.lists(joined(b), max_size=4)) for one in few]
    run = (*draw(ends(b)), draw(stems(b)), *middle, *draw(ends(b)))
    fire = draw(one_of(ScaleHabit(), ScaleHabit(fire="coke"), ScaleHabit(fire="gas")))
    return Description(run, bar, scale=fire, kerf=draw(one_of(0.0, 2.0)))


def draft_of(description):
    try:
        return drafted(description), ()
    except Undraftable as fault:
        return None, fault.refusals


@SLOW
@given(description=descriptions())
def test_random_run_replays_without_a_stop_and_gives_its_sizes_back(description):
    draft, refusals = draft_of(description)
    if draft is None:
        assert refusals
        assert all(str(one.message) for one in refusals)
        return
    assert draft.part.is_complete
    assert not draft.replayed.stops
    off = [size for row in draft.rows for size in row.sizes if not size.why and size.off > EXACT]
    assert not off
    own = [found.code for _, found in draft.cautions if found.code.startswith(OWN_ORDER)]
    assert not own
    low, typical, high = (draft.bars[one] for one in ("low", "typical", "high"))
    assert min(low, high) <= typical <= max(low, high)  # an eye of thinner bar takes less of it
    assert Level.STOP not in {found.level for frame in draft.part.frames for found in frame.findings}
