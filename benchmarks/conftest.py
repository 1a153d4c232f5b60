"""Lets the measurements import each other and the outside references, as `python -m benchmarks.bench_tow` does."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
