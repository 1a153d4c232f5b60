"""Every rule of a tow file alone, with its place, what was given and the next step; and all of them at once."""

from __future__ import annotations

import pytest
from tests.towfile.texts import BODY, LINE, SECTION, STRAIGHT, TURN, WATER, faults_of, only_fault, small

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
        "'-3 m to port'",
        "a length here must be at least zero",
        "write it as '4 ft to port'",
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
        "a turn is an angle with its side",
        "'90 deg to port'",
    ),
    "a side alone": (
        small(motion=TURN + 'turns = ["port"]\n'),
        "motion.turns[1]",
        "'port'",
        "this must be an angle",
        "write it as '90 deg to port'",
    ),
    "no turn": (
        small(motion=TURN + 'turns = ["0 deg to port"]\n'),
        "motion.turns[1]",
        "'0 deg to port'",
        "a turn of no angle is no turn",
        "leave it out",
    ),
    "a side nobody knows": (
        small(line=LINE + 'tip_from_transom = "2 m left"\n'),
        "lines[1].tip_from_transom",
        "'2 m left'",
        "this is a length with its side: forward or aft",
        "'4 ft forward' or '4 ft aft'",
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
        "a direction is an angle with its side",
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
