"""Where plain floats come in, docstrings name their units; the rule is seen to find one that does not."""

import pytest

import house

TOP = '"""Says what it is for."""\n'
RIG = "src/spreadwright/rig/strength.py"


def function(parameters: str, docstring: str, name: str = "sag") -> str:
    return f'{TOP}def {name}({parameters}):\n    """{docstring}"""\n'


@pytest.mark.parametrize(
    "parameters", ["depth: float", "depth: float | None", "*, depth: float", "a: int, depth: float"]
)
@pytest.mark.parametrize("docstring", ["How deep.", "Shape [T, L, N].", "See [1994].", "Of [name]."])
def test_a_float_without_a_unit_is_found(parameters, docstring):
    (found,) = house.check(RIG, function(parameters, docstring))
    assert found.line == 2
    assert "sag takes floats" in found.rule


@pytest.mark.parametrize(
    "unit",
    [
        "m",
        "-",
        "m/s",
        "kg/m3",
        "kg/m^3",
        "N m2",
        "m s-1",
        "N·s/m",
        "rad",
        "°C",
        "g/kg",
        "m2",
        "1/s",
        "kn",
        "any",
        "m/s, mean of ten minutes",
    ],
)
def test_a_named_unit_passes(unit):
    assert house.check(RIG, function("depth: float", f"How deep [{unit}].")) == []


def test_units_are_asked_only_where_bare_numbers_are_the_language():
    bare = function("depth: float", "How deep.")
    assert house.check("src/spreadwright/stock/counts.py", bare) == []
    assert house.check(RIG, function("depth: float", "How deep.", name="_sag")) == []
    assert house.check(RIG, function("count: int, name: str", "How many.")) == []
    for room in house.UNIT_ROOMS:
        assert len(house.check(room + "part.py", bare)) == 1


def test_a_class_may_name_its_units_beside_its_fields():
    bare = TOP + 'class Section:\n    """A piece of line."""\n\n    length: float\n'
    (found,) = house.check(RIG, bare)
    assert "Section takes floats" in found.rule
    assert house.check(RIG, bare.rstrip() + "  # [m]\n") == []


def test_a_method_is_covered_by_what_its_class_says():
    method = '    def scaled(self, factor: float):\n        """Made longer."""\n'
    (found,) = house.check(RIG, TOP + 'class Section:\n    """A piece of line."""\n\n' + method)
    assert "Section takes floats" in found.rule
    assert house.check(RIG, TOP + 'class Section:\n    """A piece of line [m]."""\n\n' + method) == []


def test_a_function_inside_another_is_its_own_affair():
    inner = TOP + 'def sag():\n    """How deep."""\n\n    def at(depth: float):\n        return depth\n'
    assert house.check(RIG, inner) == []
