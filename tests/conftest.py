"""What every test run needs: kernels compiled from the sources as they are now."""

import pytest

import fresh_kernels


def pytest_configure(config: pytest.Config) -> None:
    if not hasattr(config, "workerinput"):  # once, not again in each worker of a parallel run
        fresh_kernels.drop_stale()
