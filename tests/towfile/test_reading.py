"""Reading a tow file: what it says in SI, and what is no tow file at all."""

from __future__ import annotations

import math
import time
from typing import Any

import pytest
from tests.towfile.texts import BODY, LINE, SECTION, STRAIGHT, TURN, WATER, faults_of, only_fault, read, small

from spreadwright.faults import Faults
from spreadwright.tow.line import Body, Sea, Section
from spreadwright.towfile import read_tow_file, tow_file_from_text
from spreadwright.towfile.values import Circle, Current, Numerics, Propeller, Straight, STurn, Waves

KNOT = 1852.0 / 3600.0
approx: Any = pytest.approx  # stands where the values want a float


def test_a_small_file_reads_as_it_is_written() -> None:
    file = read(small())
    assert file.title == "Towed lines"
    assert file.units == "us"
    assert file.sea == Sea(1025.0, 9.80665, 1.2)
    assert file.motion == Straight(15 * KNOT)
    assert not file.over_time
    assert file.numerics == Numerics(1.0, 0.05, 10)
    (one,) = file.lines
    assert one.line.tip == (0.0, 0.0, 2.0)
    assert all(isinstance(value, float) for value in one.line.tip)  # whole numbers would make whole-metre places
    assert one.line.sections == (Section(60.0, 1e-3, 1140.0, 1300.0),)
    assert one.line.bodies == (Body(1.0, 1.0 / 11340.0, drag_area=approx(2.9e-4)),)
    assert (one.sections, one.bodies) == (("main",), ("lead",))


def test_every_key_of_a_section_and_a_body_arrives() -> None:
    section = SECTION.replace('"1300 N"', '"inextensible"') + (
        'stiffening = 12\ndamping_time = "2 ms"\nnormal_drag = 1.5\ntangential_drag = "2 %"\nadded_mass = 0.9\n'
        'tangential_force = "0.72 N/m"\n'
    )
    body = (
        '[lines.sections.body]\nmass = "32 oz"\nvolume = "80 cm3"\ndrag_law = "slender"\naxial_area = "3 cm2"\n'
        'normal_area = "90 cm2"\nadded_mass = 1\nforce = ["1 N", "-2 N", "3 N"]\n'
    )
    line = LINE + 'tip_from_transom = "2 m aft"\ntip_from_centreline = "3 m to starboard"\n'
    (one,) = read(small(line=line, section=section, body=body)).lines
    assert one.line.tip == (-2.0, -3.0, 2.0)
    assert one.line.sections == (
        Section(60.0, 1e-3, 1140.0, math.inf, 12.0, approx(2e-3), 1.5, 0.02, 0.9, approx(0.72)),
    )
    (hung,) = one.line.bodies
    assert hung is not None
    assert hung.mass == approx(32 * 0.028349523125)
    assert (hung.volume, hung.law, hung.added_mass) == (approx(80e-6), "slender", 1.0)
    assert (hung.axial_area, hung.normal_area) == (approx(3e-4), approx(90e-4))
    assert hung.force == (1.0, -2.0, 3.0)


def test_weight_in_water_becomes_density() -> None:
    section = SECTION.replace('density = "1140 kg/m3"', 'weight_in_water = "0.00086 N/m"')
    (one,) = read(small(water=WATER, section=section)).lines
    wet = (one.line.sections[0].density - 1025.0) * 9.81 * math.pi / 4 * 1e-6
    assert wet == approx(0.00086)


def test_the_motions() -> None:
    circle = '[motion]\nkind = "circle"\nspeed = "7 m/s"\nradius = "40 m"\nside = "starboard"\nduration = "20 s"\n'
    assert read(small(motion=circle)).motion == Circle(7.0, -40.0, 20.0)
    assert read(small(motion=circle.replace('side = "starboard"\n', ""))).motion == Circle(7.0, 40.0, 20.0)
    turn = (
        TURN + 'turns = ["90 deg to port", "45 deg starboard"]\n'
        'lead_in = "14 m"\nstraight_run = "5 s"\nlead_out = "20 s"\nturn_time = "2 s"\nspeed_loss = "10 %"\n'
    )
    got = read(small(motion=turn)).motion
    assert got == STurn(7.0, 40.0, (math.pi / 2, -math.pi / 4), 2.0, 5.0, 20.0, 2.0, approx(0.1))


def test_what_a_manoeuvre_leaves_out_is_what_the_manual_says() -> None:
    turn = TURN + 'turns = ["90 deg to port"]\n'
    assert read(small(motion=turn)).motion == STurn(7.0, 40.0, (math.pi / 2,), 3.0, 0.0, 15.0, 1.5, 0.0)


def test_moving_water() -> None:
    water = (
        '[water.current]\nspeed = "1 m/s"\ntowards = "90 deg to port"\ndepth = "20 m"\nspeed_below = "0.5 m/s"\n'
        '[water.waves]\nheight = "1 m"\nperiod = "6 s"\ntowards = "180 deg"\nseed = 7\nspread = false\n'
        '[[water.wash]]\nfrom_centreline = "1 m to starboard"\ndepth = "0.5 m"\ndiameter = "0.4 m"\nspeed = "8 m/s"\n'
    )
    moving = read(small(water=water, motion=STRAIGHT + 'duration = "30 s"\n')).moving
    assert moving.current == Current((approx(0, abs=1e-12), 1.0), (approx(0, abs=1e-12), 0.5), 20.0)
    assert moving.current.shear[1] == approx(-0.025)
    assert moving.waves == Waves(1.0, 6.0, approx(math.pi), 7, False)
    assert moving.wash == (Propeller(-1.0, 0.5, approx(0.4), 8.0),)


def test_moving_water_needs_a_duration() -> None:
    water = '[water.current]\nspeed = "1 m/s"\ntowards = "0 deg"\n'
    fault = only_fault(small(water=water))
    assert fault.place == "motion.duration"
    assert "nothing is steady then" in fault.rule


def test_a_line_like_another_takes_what_it_leaves_out() -> None:
    more = '[[lines]]\nname = "two"\nlike = "one"\ntip_from_centreline = "3 m to port"\n'
    one, two = read(small(more=more)).lines
    assert two.line.tip == (0.0, 3.0, 2.0)
    assert two.line.sections == one.line.sections
    assert two.line.bodies == one.line.bodies
    assert two.bodies == ("lead",)


def test_a_line_like_another_may_have_its_own_sections() -> None:
    more = '[[lines]]\nname = "two"\nlike = "one"\n' + SECTION.replace("60 m", "90 m")
    _, two = read(small(more=more)).lines
    assert two.line.length == 90.0
    assert two.line.bodies == (None,)
    assert two.line.tip == (0.0, 0.0, 2.0)


def test_what_a_line_copies_is_told_once() -> None:
    more = '[[lines]]\nname = "two"\nlike = "one"\n[[lines]]\nname = "three"\nlike = "two"\n'
    fault = only_fault(small(section=SECTION.replace('"60 m"', '"60 kg"'), more=more))
    assert fault.place == "lines[1].sections[1].length"
    assert fault.item == "main"


def test_sections_and_bodies_without_names_are_numbered() -> None:
    text = small(section=SECTION.replace('name = "main"\n', ""), body=BODY.replace('name = "lead"\n', ""))
    (one,) = read(text).lines
    assert (one.sections, one.bodies) == (("section 1",), ("body",))


def test_an_empty_file_lacks_a_motion_and_lines() -> None:
    assert [fault.place for fault in faults_of("")] == ["motion", "lines"]


def test_what_is_no_toml_says_where() -> None:
    fault = only_fault("[motion]\nspeed = 15 kn\n")
    assert fault.line == 2
    assert fault.rule == "the file must be readable as TOML"


def test_brackets_without_end() -> None:
    assert "nested too deeply" in only_fault("a = " + "[" * 50_000).given


def test_no_such_file_and_a_folder(tmp_path) -> None:
    for path, given in (
        (tmp_path / "none.toml", "no such file"),
        (tmp_path, "a folder"),
        ("a\0b", "embedded null byte"),
    ):
        with pytest.raises(Faults) as caught:
            read_tow_file(path)
        assert given in caught.value.faults[0].given
        assert caught.value.source == str(path)


def test_not_text_and_too_much(tmp_path) -> None:
    path = tmp_path / "tow.toml"
    for data, given, line in ((b'a = 1\nb = "\xff"', "the byte 0xff", 2), (b"#" * 2_000_000, "more than 1 MiB", None)):
        path.write_bytes(data)
        with pytest.raises(Faults) as caught:
            read_tow_file(path)
        assert (caught.value.faults[0].given, caught.value.faults[0].line) == (given, line)


@pytest.mark.parametrize(
    "junk",
    [
        "".join(f"key{number} = 1\n" for number in range(15_000)),
        small() + "".join(f"[[lines]]\nname='{number}'\n" for number in range(6_000)),
        small(section="[[lines.sections]]\n" * 6_000),
        small(motion='[motion]\nkind = "s-turn"\nturns = [' + "1," * 60_000 + "]\n"),
        '"' + "k" * 200_000 + '" = 1\n',
    ],
    ids=["keys", "lines", "sections", "turns", "key"],
)
def test_a_large_file_of_nonsense_is_refused_soon_and_in_short(junk: str) -> None:
    start = time.perf_counter()
    faults = faults_of(junk)
    assert 0 < len(faults) <= 201
    assert all(len(str(fault)) < 2000 for fault in faults)
    assert time.perf_counter() - start < 10.0


def test_the_source_stands_in_the_message() -> None:
    with pytest.raises(Faults, match=r"2 faults in a\.toml:"):
        tow_file_from_text("", "a.toml")
