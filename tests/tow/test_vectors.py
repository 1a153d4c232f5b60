"""The loops over lanes become vector instructions: a compiler that refuses makes all three times slower, and is silent.

Only on x86-64 with AVX, whose instructions tell by their names whether they work on one number or on several.
"""

import re

import llvmlite.binding as machine
import numpy as np
import pytest
from numba import njit

from spreadwright.tow import bodies, forces, system, time_rule
from spreadwright.tow.lanes import COMPILE, RECORD

pytestmark = pytest.mark.skipif(
    not machine.get_process_triple().startswith("x86_64") or not machine.get_host_cpu_features().get("avx2"),
    reason="the names of this machine's instructions are not known here",
)

SEGMENTS = 12
KERNELS = {
    "forces": (forces.forces_between, (0, SEGMENTS, 1025.0, 1.2, 9.8, 0.05, 0.1, 1.0, 0.0)),
    "assemble": (system.assemble, (SEGMENTS, 0.1, 1.0, 0.0, 0.0)),
    "solve": (system.solve, (SEGMENTS,)),
    "bodies": (bodies.body_forces, (5, 4, 6, 3, 7, 1025.0, 1.2, 9.8, 0.05, 0.1, 1.0, 1.0, 0.0, 0.0)),
    "predict": (time_rule.predict, (SEGMENTS, 1.3, 0.3, 0.1, 1.0)),
}


@pytest.mark.parametrize("name", KERNELS)
def test_most_of_a_kernels_arithmetic_is_on_vectors(name: str) -> None:
    kernel, numbers = KERNELS[name]
    whole = sum(isinstance(each, int) for each in numbers)
    table = np.ones((SEGMENTS + 1) * RECORD)
    options = {key: value for key, value in COMPILE.items() if key != "cache"}
    compiled = njit(**options)(kernel.py_func)
    compiled(*numbers[:whole], table, *numbers[whole:])
    text = next(iter(compiled.inspect_asm().values()))
    vectors, singles = (
        len(re.findall(rf"\bv(?:f?n?m?(?:add|sub|mul)|div|sqrt)\w*{kind}\b", text)) for kind in ("pd", "sd")
    )
    assert vectors > 3 * singles, (vectors, singles)
    assert vectors > 20
