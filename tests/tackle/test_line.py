"""Lines and what they are made of: sizes against published tables, stretch against closed forms."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from spreadwright.quantity import read
from spreadwright.tackle import MATERIALS, MainLine, ShockLeader

POUND_FORCE = 4.4482216152605  # N, exact by definition


def nylon(**changes: object) -> MainLine:
    return MainLine.model_validate({"material": "nylon", "strength": "80 lb", "length": "600 yd", **changes})


# ASTM A313 type 302 class 1, least tensile strength in ksi by diameter in inches: the standard's table as
# reproduced by two wire makers. The break is the strength times the wire's section.
A313 = {0.018: 304.0, 0.020: 300.0, 0.022: 296.0, 0.024: 292.0, 0.026: 291.0, 0.031: 285.0, 0.041: 275.0}


@pytest.mark.parametrize(("inches", "ksi"), A313.items())
def test_single_strand_of_a_published_strength_has_about_its_published_diameter(inches: float, ksi: float) -> None:
    breaks_at = ksi * 1000.0 * math.pi * inches**2 / 4.0 * POUND_FORCE
    size = MATERIALS["single strand"].diameter_for(breaks_at)
    assert size.low <= inches * 0.0254 <= size.high
    assert size.value == pytest.approx(inches * 0.0254, rel=0.07)


# Size number of the Japan Fishing Tackle Manufacturers Association (2010) -> diameter [mm]. One size number is
# sold as about 4 lb, +-15 % (rule of thumb of Japanese trade writers): the strong end of nylon.
@pytest.mark.parametrize(("size", "millimetres"), {1: 0.165, 2: 0.235, 3: 0.285, 5: 0.370, 8: 0.470, 10: 0.520}.items())
def test_the_thin_end_of_nylons_doubt_is_the_published_size_table(size: int, millimetres: float) -> None:
    known = MATERIALS["nylon"].diameter_for(4.0 * size * POUND_FORCE)
    assert known.low == pytest.approx(millimetres * 1e-3, rel=0.015)


def test_wet_loss_of_nylon_covers_both_published_values() -> None:
    """10-15 % (Tension Technology International, fibre table); about 15 % (Commercial Fisheries Review 1957, p. 27)."""
    loss = MATERIALS["nylon"].wet_strength_loss
    assert (loss.low, loss.high) == (0.10, 0.15)
    assert nylon().wet_strength == pytest.approx(80 * POUND_FORCE * (1 - loss.value))


def test_densities_are_those_of_the_fibre_table() -> None:
    """Specific gravities: nylon 1.14, HMPE 0.94 to 0.97 (same fibre table). A soaked braid holds some sea water."""
    assert MATERIALS["nylon"].density.value == 1140.0
    braid = MATERIALS["braid"].density
    assert braid.low == 940.0
    assert 970.0 <= braid.value <= 1025.0


def test_a_steel_cable_weighs_what_its_wires_and_the_water_between_them_weigh() -> None:
    """Seven strands of seven wires of diameter 1 fit a circle of diameter 9: 49/81 steel, the rest sea water."""
    steel = 49.0 / 81.0
    expected = steel * 7900.0 + (1.0 - steel) * 1025.0
    assert MATERIALS["cable"].density.value == pytest.approx(expected, rel=0.002)


def test_stiffness_over_length_is_a_spring() -> None:
    """Closed form k = E pi d^2 / (4 L): wet E 1.5 GPa, d 1 mm, L 60 m gives 19.634954 N/m."""
    line = nylon(diameter="1 mm", length="60 m")
    assert line.stiffness / line.length == pytest.approx(19.634954, rel=1e-7)


@pytest.mark.parametrize("name", MATERIALS)
def test_every_material_meets_its_breaking_point_or_says_it_is_near_linear(name: str) -> None:
    """T = EA e (1 + s e^2) at the break strain is the wet strength, per area; s is zero where E alone overshoots."""
    material = MATERIALS[name]
    strain = material.break_strain.value
    stress = material.modulus.value * strain * (1.0 + material.stiffening * strain**2)
    wet = material.strength.value * (1.0 - material.wet_strength_loss.value)
    assert material.stiffening >= 0.0
    assert stress == pytest.approx(wet, rel=1e-9) if material.stiffening else stress >= wet * (1 - 1e-9)


def test_only_nylon_and_fluorocarbon_stiffen_much() -> None:
    stretch = {name: m.stiffening * m.break_strain.value**2 for name, m in MATERIALS.items()}
    assert stretch["nylon"] == pytest.approx(490.0 / 375.0 - 1.0, rel=1e-9)
    assert stretch["braid"] < 0.05


@pytest.mark.parametrize("name", MATERIALS)
def test_every_number_has_a_range_around_it_and_a_source(name: str) -> None:
    material = MATERIALS[name]
    for key in ("density", "modulus", "strength", "break_strain", "wet_strength_loss"):
        known = getattr(material, key)
        assert known.low <= known.value <= known.high, key
        assert len(known.source) > 10, key


@given(pounds=st.floats(min_value=2, max_value=400), name=st.sampled_from(sorted(MATERIALS)))
def test_a_diameter_from_strength_gives_the_strength_back(pounds: float, name: str) -> None:
    material = MATERIALS[name]
    strength = pounds * POUND_FORCE
    size = material.diameter_for(strength)
    assert material.strength.value * math.pi * size.value**2 / 4.0 == pytest.approx(strength, rel=1e-12)
    assert size.low < size.value < size.high


def test_a_given_diameter_is_kept_with_a_small_doubt() -> None:
    line = nylon(diameter="0.95 mm")
    assert line.diameter == pytest.approx(0.95e-3)
    assert line.diameter_known.high == pytest.approx(1.03 * 0.95e-3)
    assert line.mass_per_length == pytest.approx(1140.0 * math.pi * 0.95e-3**2 / 4.0)
    assert nylon().diameter_given is None


@pytest.mark.parametrize("diameter", ["0.095 mm", "9.5 mm", "0.95 in"])
def test_a_slip_of_ten_in_a_diameter_is_seen(diameter: str) -> None:
    with pytest.raises(ValidationError, match=r"is usually 0\.74 mm to 1\.0 mm thick|at most 20 mm"):
        nylon(diameter=diameter)


def test_main_line_is_no_wire() -> None:
    with pytest.raises(ValidationError, match="'nylon', 'braid' or 'fluorocarbon'"):
        nylon(material="cable")


def test_a_shock_leader_is_nylon_unless_said_otherwise() -> None:
    leader = ShockLeader.model_validate({"name": "a", "strength": "300 lb", "length": "30 ft", "count": 1})
    assert leader.material == "nylon"
    assert leader.length == pytest.approx(read("30 ft", "length"))
