"""Lets the tow-file tests import their texts as tests.towfile.texts, however pytest is started."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))
