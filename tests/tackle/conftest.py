"""Lets the tackle tests import their trip files as tests.tackle.trips, however pytest is started."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))
