"""Lets the rig tests import their invented tackle as tests.rig.rigs, however pytest is started."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))
