"""The cautions: each where it belongs, none twice, the grave ones first."""

import pytest

from spreadwright.day.cautions import ALL, NOTICE, Caution, Work, caution, cautions_for


def test_every_id_is_its_own_and_every_part_of_the_work_has_its_cautions():
    assert len({one.id for one in ALL}) == len(ALL)
    for work in Work:
        assert cautions_for([work]), work
    for one in ALL:
        assert one.where
        assert one.text.endswith(".")
        assert one.id == one.id.lower()
        assert " " not in one.id


@pytest.mark.parametrize(
    ("identity", "work", "word"),
    [
        ("no-wrap", Work.LEADERING, "Never wrap"),
        ("gloves", Work.LEADERING, "Gloves"),
        ("dehooker", Work.BOATING_A_FISH, "dehooker"),
        ("hook-path", Work.BOATING_A_FISH, "line's path"),
        ("parted-line", Work.FIGHTING, "recoils"),
        ("swinging-weight", Work.SETTING_OUT, "swings"),
        ("safety-lanyards", Work.SETTING_OUT, "safety lanyard"),
        ("kill-switch", Work.TURNING, "Kill-switch"),
        ("lookout", Work.TURNING, "look out"),
        ("overboard", Work.LEAVING, "person-overboard drill"),
        ("beyond-the-boat", Work.CROSSING, "beyond the boat or the crew"),
        ("estimates", Work.READING_NUMBERS, "estimates"),
    ],
)
def test_what_can_hurt_someone_is_said_where_it_happens(identity, work, word):
    """The list of the trade (common practice, no source), point by point."""
    assert caution(identity) in cautions_for([work])
    assert word in caution(identity).text


def test_the_grave_ones_come_first_and_nothing_twice():
    chosen = cautions_for([Work.TURNING, Work.LEADERING, Work.TURNING])
    assert len(set(chosen)) == len(chosen)
    graves = [one.grave for one in chosen]
    assert graves == sorted(graves, reverse=True)
    assert cautions_for([]) == ()


def test_local_rules_come_first():
    assert "Local rules" in NOTICE
    assert "not a guarantee" in NOTICE


def test_an_unknown_id_is_named():
    with pytest.raises(KeyError, match="helmet"):
        caution("helmet")


def test_a_caution_is_a_value():
    assert Caution("a", (Work.RIGGING,), "b.") == Caution("a", (Work.RIGGING,), "b.")
