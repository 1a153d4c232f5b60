"""The worked examples in the docstrings of this room come out as printed."""

import doctest
import importlib
import pkgutil

import pytest

import spreadwright.tackle

MODULES = sorted(module.name for module in pkgutil.iter_modules(spreadwright.tackle.__path__))


@pytest.mark.parametrize("name", MODULES)
def test_worked_examples(name):
    module = importlib.import_module(f"spreadwright.tackle.{name}")
    failed, _ = doctest.testmod(module, optionflags=doctest.ELLIPSIS)
    assert failed == 0


def test_a_wrong_example_is_found():
    parsed = doctest.DocTestParser().get_doctest(">>> 1 + 1\n3\n", {}, "wrong", None, 0)
    runner = doctest.DocTestRunner(verbose=False)
    assert runner.run(parsed, out=lambda _: None).failed == 1
