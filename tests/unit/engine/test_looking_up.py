"""Looking an operation up by the words a smith has for it."""

import pytest

from procedures.engine.catalogue import catalogue, gist, nearest, search
from procedures.engine.sayings import sayings


def ids(text):
    return [kind.id for kind in search(text)]


@pytest.mark.parametrize("kind", catalogue().values(), ids=lambda kind: kind.id)
def test_an_operation_comes_first_for_its_own_title(kind):
    assert ids(kind.title)[0] == kind.id
    assert ids(kind.title.upper() + " ")[0] == kind.id


@pytest.mark.parametrize("kind", catalogue().values(), ids=lambda kind: kind.id)
def test_an_operation_is_found_by_everything_it_is_called(kind):
    assert [name for name in kind.synonyms if kind.id not in ids(name)] == []


def test_titles_come_before_synonyms_and_synonyms_before_help():
    found = ids("taper")
    assert found[0] == "taper"
    in_help = [one for one in found if "taper" in catalogue()[one].help]
    named = [one for one in found if any("taper" in name for name in catalogue()[one].synonyms)]
    assert in_help
    for one in set(in_help) - set(named) - {"taper"}:
        assert all(found.index(other) < found.index(one) for other in named)


def test_what_begins_as_typed_comes_before_what_has_it_somewhere():
    found = ids("weld")
    titles = [catalogue()[one].title for one in found]
    first = [one for one in titles if one.startswith("Weld")]
    assert titles[: len(first)] == first
    assert titles.index("Lap weld") == len(first) + [
        one for one in titles[len(first) :] if "weld" in one.casefold()
    ].index("Lap weld")


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("upsetting", "upset"),
        ("draws out", "draw_out"),
        ("punches", "punch"),
        ("drilled", "drill"),
        ("jump up", "upset"),
        ("center punch", "mark_out"),
        ("rat tail", "taper"),
        ("how to make a taper", "taper"),
        ("twi", "twist"),
        ("tire", "weld_ring"),
        ("tyre", "weld_ring"),
    ],
)
def test_endings_spellings_and_small_words_do_not_matter(typed, first):
    assert ids(typed)[0] == first


def test_every_word_counts():
    assert "bend" not in ids("bend zebra")
    assert set(ids("weld ring")) < set(ids("weld"))


def test_no_words_find_everything_in_the_order_of_the_families():
    assert ids("") == ids("  ,. ") == list(catalogue())


@pytest.mark.parametrize("typed", ["zzz", "\0", "(", "[zz-", "ø", "a" * 5000])
def test_nonsense_finds_nothing_and_breaks_nothing(typed):
    assert len(ids(typed)) in (0, len(catalogue()))
    nearest(typed)


def test_a_mistyped_name_has_near_ones():
    assert "Taper" in nearest("tapper")
    assert "Punch" in nearest("punsh")
    assert nearest("zzz") == ()


def test_the_gist_is_what_the_file_says_of_itself_after_the_title():
    assert gist(catalogue()["taper"]) == "Let a run get evenly thinner toward one end."
    for kind in catalogue().values():
        assert gist(kind)[0].isupper(), kind.id
        assert gist(kind).endswith("."), kind.id


def test_what_may_be_said_is_read_off_the_file_with_gaps_for_the_numbers():
    said = {one.code: one for one in sayings(catalogue()["draw_out"])}
    assert said["draw_out.long_draw"].message == "The area goes down … times in this one step."
    assert said["draw_out.long_draw"].level == "caution"
    assert said["draw_out.target_not_thinner"].source == "geometry; 2 % from memory"


def test_what_is_shared_by_two_operations_has_the_code_of_each():
    for name in ("set_down", "shoulder"):
        assert f"{name}.sharp_corner" in {one.code for one in sayings(catalogue()[name])}
    assert "taper.end_not_thinner" in {one.code for one in sayings(catalogue()["point"])}
