"""Lets the tests of the sheets import their example plan as tests.sheets.example_plan, however pytest is started."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))
