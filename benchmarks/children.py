"""What is measured in processes of their own: start of a process, growth of memory, a thousand candidates.

Each job prints one line of JSON when it is done. Run by bench_tow.py as `python -m benchmarks.children job ...`.
Only what the first result needs is imported at the top, for the start of a process is timed.
"""

from __future__ import annotations

import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from benchmarks import case
from spreadwright.tow.march import Settings, march
from spreadwright.tow.mesh import Grading

# The six lines. The first setting keeps the bodies within 2 cm of a converged run, as MoorDyn's does; its errors in
# time and in space have opposite signs and partly cancel. In the second each stays within 2 cm by itself. Measured anew
# in every run.
SIX_LINES = Settings(step=1 / 6, store_every=3, tolerance=5e-2, grading=Grading(2.2, 2.2, 0.0), workers=1)
SIX_LINES_STRICT = Settings(step=0.125, store_every=4, tolerance=5e-2, grading=Grading(1.5, 1.5, 0.0), workers=1)


def peak_memory() -> int:
    """Largest memory this process ever held [bytes].

    From the kernel's own record where there is one: getrusage also counts what the parent held when it started us.
    """
    try:
        status = Path("/proc/self/status").read_text(encoding="ascii")
        return 1024 * int(status.split("VmHWM:")[1].split()[0])
    except (OSError, IndexError):
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024


def six_lines() -> dict[str, Any]:
    """The six lines once: the first result of a process, and what memory it took beyond the imports."""
    before = peak_memory()
    march(case.lines(), case.track(), case.SEA, settings=SIX_LINES)
    return {"ready": time.time(), "processor": time.process_time(), "memory": peak_memory() - before}


def ask(*job: str, cold: bool = False) -> dict[str, Any]:
    """Run a job in a process of its own; "begun" says when it was started [s since the epoch].

    cold: with an empty store of compiled kernels, so that all are compiled.
    """
    with tempfile.TemporaryDirectory() as folder:
        environment = {**os.environ, "NUMBA_CACHE_DIR": folder} if cold else dict(os.environ)
        environment.pop("PYTHONDONTWRITEBYTECODE", None)  # a person's second start finds its modules compiled
        begun = time.time()
        told = subprocess.run(
            [sys.executable, "-m", "benchmarks.children", *job],
            env=environment,
            cwd=os.path.dirname(os.path.dirname(os.path.abspath(__file__))),
            check=True,
            capture_output=True,
            text=True,
        )
    return {"begun": begun, **json.loads(told.stdout)}


def main() -> None:
    """Do the job that the command line names."""
    job, *rest = sys.argv[1:]
    if job == "six":
        print(json.dumps(six_lines()))
    elif job == "many":
        from benchmarks.candidates import many

        print(json.dumps(many(int(rest[0]), int(rest[1]), rest[2], float(rest[3]))))
    else:
        raise SystemExit(f"no job named {job!r}: six, many")


if __name__ == "__main__":
    main()
