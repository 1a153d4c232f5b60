"""Throws away compiled kernels that are older than the newest source, so that no test runs yesterday's physics.

numba keeps a compiled function beside its source and compiles it again when that one file changes. It does not
notice a change in another file whose functions were compiled in: edit `forces.py` and a kernel of `march.py` that
calls it goes on with the old forces. So when a module in any room that holds kernels is newer than a kernel, the
kernel goes.
"""

from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent / "src" / "spreadwright"


def drop_stale(package: Path = PACKAGE) -> int:
    """Delete the kernels under `package` older than the newest module they may use; return how many files went."""
    kernels = [*package.rglob("*.nbi"), *package.rglob("*.nbc")]
    rooms = {_room(package, kernel) for kernel in kernels}
    newest = max((module.stat().st_mtime_ns for room in rooms for module in room.rglob("*.py")), default=0)
    stale = [kernel for kernel in kernels if kernel.stat().st_mtime_ns <= newest]
    for kernel in stale:
        kernel.unlink(missing_ok=True)
    return len(stale)


def _room(package: Path, kernel: Path) -> Path:
    """The sub-package whose kernel this is, or the package itself; kernels lie in a __pycache__ folder."""
    inside = kernel.parent.parent.relative_to(package).parts
    return package.joinpath(*inside[:1])


if __name__ == "__main__":
    drop_stale()
