"""Reading a tow file: what it says in SI, and every rule with its place, what was given and the next step."""

from __future__ import annotations

import math
import time
from typing import Any

import pytest
from tests.towfile.texts import BODY, LINE, SECTION, STRAIGHT, WATER, faults_of, only_fault, read, small

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


TURN = '[motion]\nkind = "s-turn"\nspeed = "7 m/s"\nradius = "40 m"\n'
FOLLOWED = STRAIGHT + 'duration = "9 s"\n'
CURRENT = '[water.current]\nspeed = "1 kn"\n'
WAVES = '[water.waves]\nperiod = "5 s"\ntowards = "0 deg"\n'
WEIGHED = SECTION.replace('density = "1140 kg/m3"', 'weight_in_water = "1 N/m"')


def change(piece: str, old: str, new: str) -> str:
    assert old in piece
    return piece.replace(old, new)


RULES = {
    "wrong unit": (
        small(section=change(SECTION, '"60 m"', '"60 kn"')),
        "lines[1].sections[1].length",
        "'60 kn'",
        "this must be a length, and 'kn' measures a speed",
        "write a length",
    ),
    "no unit": (
        small(motion=change(STRAIGHT, '"15 kn"', "15")),
        "motion.speed",
        "15",
        "a bare number has no unit",
        "write a unit, such as '15 kn'",
    ),
    "not a number": (
        small(body=change(BODY, '"1 kg"', "nan")),
        "lines[1].sections[1].body.mass",
        "nan",
        "not-a-number and infinity measure nothing",
        'such as "32 oz"',
    ),
    "negative length": (
        small(section=change(SECTION, '"60 m"', '"-60 m"')),
        "lines[1].sections[1].length",
        "'-60 m'",
        "a length here must be at least 0.01 m",
        "check the number",
    ),
    "too long": (
        small(section=change(SECTION, '"60 m"', '"60 km"')),
        "lines[1].sections[1].length",
        "'60 km'",
        "at most 5000 m (16400 ft)",
        "check the number",
    ),
    "no thickness": (
        small(section=change(SECTION, '"1 mm"', '"0 mm"')),
        "lines[1].sections[1].diameter",
        "'0 mm'",
        "a diameter here must be more than zero",
        "check the number",
    ),
    "unknown key": (
        small(section=SECTION + 'colour = "green"\n'),
        "lines[1].sections[1].colour",
        "colour = 'green'",
        "there is no key colour in [lines[1].sections[1]];",
        "remove or rename it",
    ),
    "misspelt key": (
        small(section=change(SECTION, "stiffness", "stifness")),
        "lines[1].sections[1].stifness",
        "stifness = '1300 N'",
        "there is no key stifness",
        "did you mean 'stiffness'?",
    ),
    "missing key": (
        small(section=change(SECTION, 'length = "60 m"\n', "")),
        "lines[1].sections[1].length",
        "nothing",
        "'length' is needed: length without pull",
        'add length = "300 ft"',
    ),
    "both densities": (
        small(section=SECTION + 'weight_in_water = "0.1 N/m"\n'),
        "lines[1].sections[1].density",
        "both density and weight_in_water",
        "give one of the two",
        "remove weight_in_water",
    ),
    "no density": (
        small(section=change(SECTION, 'density = "1140 kg/m3"\n', "")),
        "lines[1].sections[1]",
        "nothing",
        "give one of the two: density or weight_in_water",
        "add density or",
    ),
    "floats too much": (
        small(section=change(SECTION, 'density = "1140 kg/m3"', 'weight_in_water = "-1 N/m"')),
        "lines[1].sections[1].weight_in_water",
        "'-1 N/m'",
        "a density must be above 0",
        "check the weight",
    ),
    "weightless": (
        small(water='[water]\ngravity = "0 m/s2"\n', section=WEIGHED),
        "lines[1].sections[1].weight_in_water",
        "'1 N/m'",
        "nothing weighs where gravity is zero",
        "give density",
    ),
    "stiffness in words": (
        small(section=change(SECTION, '"1300 N"', '"stiff"')),
        "lines[1].sections[1].stiffness",
        "'stiff'",
        "this must be a force",
        "or 'inextensible'",
    ),
    "no volume": (
        small(body=change(BODY, 'density = "11340 kg/m3"\n', "")),
        "lines[1].sections[1].body",
        "nothing",
        "give one of the two: volume or density",
        "add volume or density",
    ),
    "area of the other law": (
        small(body=BODY + 'normal_area = "9 cm2"\n'),
        "lines[1].sections[1].body.normal_area",
        "'9 cm2'",
        'a body with drag_law "isotropic" has no normal_area',
        'remove it, or write drag_law = "slender"',
    ),
    "no area": (
        small(body=change(BODY, 'drag_area = "2.9 cm2"\n', "")),
        "lines[1].sections[1].body.drag_area",
        "nothing",
        "needs 'drag_area': isotropic: drag coefficient",
        'add drag_area = "2.9 cm2"',
    ),
    "unknown law": (
        small(body=BODY + 'drag_law = "isotropc"\n'),
        "lines[1].sections[1].body.drag_law",
        "'isotropc'",
        "one of: isotropic, slender",
        "did you mean 'isotropic'?",
    ),
    "one force of three": (
        small(body=BODY + 'force = ["1 N", "2 kn", "3 N"]\n'),
        "lines[1].sections[1].body.force[2]",
        "'2 kn'",
        "this must be a force, and 'kn' measures a speed",
        "write a force",
    ),
    "two forces": (
        small(body=BODY + 'force = ["1 N", "2 N"]\n'),
        "lines[1].sections[1].body.force",
        "2 entries",
        "this is a list of 3 entries",
        "square brackets",
    ),
    "single brackets": (
        small(section=change(SECTION, "[[lines.sections]]", "[lines.sections]")),
        "lines[1].sections",
        "{",
        "this is a list of tables: its header has double brackets",
        "write [[lines.sections]]",
    ),
    "a body in a list": (
        small(body=change(BODY, "[lines.sections.body]", "[[lines.sections.body]]")),
        "lines[1].sections[1].body",
        "[",
        "this must be a table",
        "write it under a header [lines.sections.body]",
    ),
    "no sections": (
        small(section="sections = []\n", body=""),
        "lines[1].sections",
        "0 tables",
        "there must be 1 to 20",
        "[[lines.sections]]",
    ),
    "tip under water": (
        small(line=change(LINE, '"2 m"', '"-2 m"')),
        "lines[1].tip_above_water",
        "'-2 m'",
        "a rod tip under water needs water without a surface",
        "surface = false",
    ),
    "side left out": (
        small(line=LINE + 'tip_from_centreline = "3 m"\n'),
        "lines[1].tip_from_centreline",
        "'3 m'",
        "this is a length with its side: port or starboard",
        "4 ft to port",
    ),
    "minus and side": (
        small(line=LINE + 'tip_from_centreline = "-3 m to port"\n'),
        "lines[1].tip_from_centreline",
        "'-3 m'",
        "a length here must be at least zero",
        "check",
    ),
    "two lines of one name": (
        small(more='[[lines]]\nname = "one"\nlike = "one"\n'),
        "lines[2].name",
        "'one'",
        "no two lines have the same name",
        "another name",
    ),
    "like nothing": (
        small(more='[[lines]]\nname = "two"\nlike = "onne"\n'),
        "lines[2].like",
        "'onne'",
        "'like' names a line further up: 'one'",
        "did you mean 'one'?",
    ),
    "like without a name": (
        small(more='[[lines]]\nlike = "one"\n'),
        "lines[2].name",
        "nothing",
        "'name' is needed: the line's name",
        "add name =",
    ),
    "unknown kind": (
        small(motion=change(STRAIGHT, '"straight"', '"circel"')),
        "motion.kind",
        "'circel'",
        "this must be one of: straight, circle, s-turn, track",
        "did you mean 'circle'?",
    ),
    "no kind": (
        small(motion='[motion]\nspeed = "15 kn"\n'),
        "motion.kind",
        "nothing",
        "'kind' is needed",
        'add kind = "straight"',
    ),
    "a key of another motion": (
        small(motion=STRAIGHT + 'radius = "40 m"\n'),
        "motion.radius",
        "radius = '40 m'",
        "there is no key radius in [motion]; known are: kind, speed, duration",
        "remove",
    ),
    "a turn without a side": (
        small(motion=TURN + 'turns = ["60 deg to port", "90 deg"]\n'),
        "motion.turns[2]",
        "'90 deg'",
        "a turn says its side",
        "'90 deg to port'",
    ),
    "a run in kilograms": (
        small(motion=TURN + 'turns = ["60 deg to port"]\nlead_in = "5 kg"\n'),
        "motion.lead_in",
        "'5 kg'",
        "this must be a time or a length, and 'kg' measures a mass",
        "'5 s' or as '40 m'",
    ),
    "a direction without a side": (
        small(water=CURRENT + 'towards = "30 deg"\n', motion=FOLLOWED),
        "water.current.towards",
        "'30 deg'",
        "a direction says its side",
        "'30 deg to port'",
    ),
    "half a shear": (
        small(water=CURRENT + 'towards = "0 deg"\ndepth = "9 m"\n', motion=FOLLOWED),
        "water.current.speed_below",
        "nothing",
        "'depth' and 'speed_below' go together",
        "add speed_below, or remove depth",
    ),
    "waves that break": (
        small(water=WAVES + 'height = "6 m"\n', motion=FOLLOWED),
        "water.waves.height",
        "'6 m'",
        "waves of 5 s are 39 m long and break above 5.57 m",
        "lower the height",
    ),
    "waves without a surface": (
        small(water=WATER + WAVES + 'height = "1 m"\n', motion=FOLLOWED),
        "water.waves",
        "waves in water without a surface",
        "waves need a surface",
        "remove",
    ),
    "surface in words": (
        small(water='[water]\nsurface = "no"\n'),
        "water.surface",
        "'no'",
        "this must be true or false, without quotes",
        "write true or false",
    ),
    "seed in words": (
        small(water=WAVES + 'height = "1 m"\nseed = 1.5\n', motion=FOLLOWED),
        "water.waves.seed",
        "1.5",
        "this must be a whole number",
        "write 1",
    ),
    "stored too often": (
        small(numerics='[numerics]\nstep = "0.1 s"\nstore_every = "0.05 s"\n'),
        "numerics.store_every",
        "'0.05 s'",
        "a moment cannot be stored more often than it is computed",
        "lengthen it",
    ),
    "too much work": (
        small(motion=STRAIGHT + 'duration = "2 h"\n', numerics='[numerics]\nstep = "0.1 ms"\nstore_every = "60 s"\n'),
        "numerics.step",
        "pieces in 72000000 steps",
        "some minutes of computing",
        "shorten the run, or lengthen the step",
    ),
    "too much to keep": (
        small(
            motion=STRAIGHT + 'duration = "2 h"\n',
            numerics='[numerics]\nstep = "5 ms"\nstore_every = "5 ms"\nmesh_scale = 1\n',
        ),
        "numerics.store_every",
        "at 1440000 moments",
        "pieces of mesh times stored moments",
        "store less often",
    ),
    "name of two lines": (
        small(top='title = "a\\nb"'),
        "title",
        "'a\\nb'",
        "1 to 80 printable characters, all on one line",
        "plainer name",
    ),
    "units": (
        small(top='units = "imperial"'),
        "units",
        "'imperial'",
        "this must be one of: us, metric",
        "write one of them",
    ),
}


@pytest.mark.parametrize(("text", "place", "given", "rule", "step"), RULES.values(), ids=RULES.keys())
def test_each_rule_alone(text: str, place: str, given: str, rule: str, step: str) -> None:
    fault = only_fault(text)
    assert fault.place == place
    assert given in fault.given
    assert rule in fault.rule
    assert step in fault.next_step


def test_all_faults_of_a_file_at_once_in_its_order() -> None:
    text = small(
        top='units = "miles"',
        water='[water]\ndensity = "1025 kg"\nsurface = 1\n',
        motion='[motion]\nkind = "circle"\nspeed = "15 km"\n',
        numerics='[numerics]\nstep = "-1 s"\nmesh = 3\n',
        line='[[lines]]\ntip_above_water = "2 kg"\n',
        section=SECTION.replace('"60 m"', '"nan m"').replace('"1 mm"', "{}"),
        body='[lines.sections.body]\nvolume = "1 cm3"\ndensity = "1 kg/m3"\ndrag_law = "slender"\n',
        more='[[lines]]\nname = "two"\nlike = "one"\n',
    )
    faults = faults_of(text)
    assert {fault.place for fault in faults} == {
        "units", "water.density", "water.surface", "motion.speed", "motion.radius", "numerics.step", "numerics.mesh",
        "lines[1].name", "lines[1].tip_above_water", "lines[1].sections[1].length", "lines[1].sections[1].diameter",
        "lines[1].sections[1].body.mass", "lines[1].sections[1].body.volume", "lines[1].sections[1].body.axial_area",
        "lines[1].sections[1].body.normal_area", "lines[2].like",
    }  # fmt: skip
    numbers = [fault.line for fault in faults]
    assert all(number is not None for number in numbers)
    assert numbers == sorted(numbers)  # type: ignore[type-var]


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
