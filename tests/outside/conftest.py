"""Lets the outside checks import their independent references as tests.outside.references."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))
