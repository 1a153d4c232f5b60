"""Lets the tests of the towed line import their helpers as tests.tow."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))
