"""What does not fit, each with its fix."""

import pytest
from tests.rig import rigs

from spreadwright.rig.assemble import Joints, assemble
from spreadwright.rig.fit import check_fit


def found(gear=None, outfit=None, joints=None, **options):
    gear = gear or rigs.gear()
    chain = assemble(outfit or rigs.outfit(), gear, joints)
    return {finding.code: finding for finding in check_fit(chain, gear, **options)}


def guarded(**changes):
    """A rig with nothing to complain of."""
    return rigs.gear(bite_guard=rigs.bite_guard(), **changes)


def test_a_sound_rig_has_no_findings():
    assert found(guarded()) == {}


def test_monofilament_ahead_of_the_weight():
    finding = found()["line ahead of the weight can be bitten"]
    assert finding.severity == "caution"
    assert finding.place == "double line"
    assert "wire or cable between swivel and weight" in finding.fix


def test_leader_thicker_than_the_bore():
    finding = found(guarded(crimps=(rigs.crimp("1.4 mm"), rigs.crimp("1.6 mm"))))["leader thicker than bore"]
    assert finding.severity == "fails"
    assert finding.place == "shock leader"
    assert "1.6 mm sleeve" in finding.given
    assert "bore" in finding.fix


def test_a_crimp_that_rattles():
    finding = found(guarded(crimps=(rigs.crimp("3.0 mm"),)))["crimp too wide"]
    assert "narrower" in finding.fix
    assert "crimp too wide" not in found(guarded(crimps=(rigs.crimp("2.0 mm"),)))


def test_a_swivel_under_the_line():
    finding = found(guarded(swivel=rigs.swivel("60 lb")))["swivel under-rated"]
    assert finding.severity == "fails"
    assert "60 lb on 80 lb line" in finding.given
    assert "80 lb or more" in finding.fix


def test_no_swivel():
    assert found(guarded(swivel=None))["no swivel"].severity == "caution"


@pytest.mark.parametrize(
    "leader",
    [rigs.shock_leader(strength="150 lb", diameter="1.1 mm"), rigs.shock_leader(length="6 ft")],
    ids=["too thin", "too short"],
)
def test_nothing_to_take_in_hand(leader):
    finding = found(guarded(shock_leader=leader))["no hand-hold"]
    assert finding.severity == "fails"
    assert "thicker or longer shock leader" in finding.fix


def test_the_captain_s_own_hand_hold_diameter_counts():
    assert "no hand-hold" not in found(guarded())
    assert "no hand-hold" in found(guarded(), hand_hold_diameter=2.0e-3)


def test_a_thick_wind_on_is_a_hand_hold_too():
    short = rigs.shock_leader(length="6 ft")
    assert "no hand-hold" not in found(guarded(shock_leader=short), rigs.outfit(wind_on=rigs.wind_on()))


def test_no_wire_at_the_lure_and_too_little():
    assert found(guarded(bite_leader=None))["no bite leader"].severity == "fails"
    assert found(guarded(bite_leader=rigs.bite_leader(length="6 in")))["short bite leader"].severity == "caution"


def test_a_rig_longer_than_the_budget_says_by_how_much():
    finding = found(guarded(), length_budget=10.0)["rig too long"]
    assert "shorten leader or double line by" in finding.fix
    assert "33 ft" in finding.rule or "32.8" in finding.rule


def test_an_unknown_connection_fails_with_the_nearest_name():
    finding = found(guarded(), joints=Joints(shock_leader="crmp"))["unknown connection"]
    assert finding.severity == "fails"
    assert "crimp" in finding.fix


def test_a_wire_label_against_the_standard():
    bold = rigs.bite_leader(strength="400 lb", diameter="0.029 in")
    finding = found(guarded(bite_leader=bold))["wire label too high"]
    assert "188 lb" in finding.rule  # 285 ksi on 0.029 in: 188.25 lbf
    honest = rigs.bite_leader(strength="180 lb", diameter="0.029 in")
    assert "wire label too high" not in found(guarded(bite_leader=honest))
    thick = rigs.bite_leader(strength="900 lb", diameter="2.5 mm")
    assert "wire outside the table" in found(guarded(bite_leader=thick))


def test_a_finding_reads_as_given_rule_and_fix():
    text = str(found()["line ahead of the weight can be bitten"])
    assert "Rule:" in text
    assert "Fix:" in text


def test_the_trade_s_numbers_hold_at_their_edges():
    """Common practice, no source: 3 m to take in hand, about 100 ft from knot to lure, wire of 1 ft or so."""
    assert "no hand-hold" not in found(guarded(shock_leader=rigs.shock_leader(length="3.0 m")))
    assert "no hand-hold" in found(guarded(shock_leader=rigs.shock_leader(length="2.9 m")))
    rest = 12 * 0.3048 + 1 * 0.3048 + 3 * 0.3048 + 9 * 0.0254 + 0.10 + rigs.weight().length
    longest = 100 * 0.3048 - rest
    assert "rig too long" not in found(guarded(shock_leader=rigs.shock_leader(length=longest - 0.01)))
    assert "rig too long" in found(guarded(shock_leader=rigs.shock_leader(length=longest + 0.01)))
    assert "short bite leader" not in found(guarded(bite_leader=rigs.bite_leader(length="30 cm")))
