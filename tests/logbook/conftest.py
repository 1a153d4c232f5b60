"""Lets the logbook tests import their logs as tests.logbook.logs, however pytest is started."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))
