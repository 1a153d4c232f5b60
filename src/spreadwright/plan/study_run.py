"""Runs the cases of a study side by side: on threads here, or on the workers of a dask.distributed cluster.

A case is one task, whatever the number of workers, and outcomes are put in the order of the cases: the table is the
same to the last bit, on machines with the same processor and the same installed versions.
"""

from __future__ import annotations

import importlib
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ThreadPoolExecutor, wait
from contextlib import contextmanager
from typing import Any

from spreadwright.faults import Fault, Faults
from spreadwright.plan.study import Case, Outcome
from spreadwright.plan.study_case import compute_case
from spreadwright.spread.motions import Progress

RUNNING = "towing the spread through every case"
PATIENCE = 0.3  # [s] between two looks whether a stop was asked for


class StudyStopped(Exception):  # noqa: N818 (the captain's wish is no error)
    """The captain asked to stop."""


def run_here(cases: Sequence[Case], workers: int, progress: Progress | None = None) -> tuple[Outcome, ...]:
    """Every case's outcome, in order, on that many threads of this machine. Raises StudyStopped."""
    with ThreadPoolExecutor(max(workers, 1)) as pool:
        futures = [pool.submit(compute_case, case) for case in cases]
        try:
            _watch(futures, progress)
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            raise
        return tuple(future.result() for future in futures)


def _watch(futures: Sequence[Future[Outcome]], progress: Progress | None) -> None:
    waiting = set(futures)
    while waiting:
        done, waiting = wait(waiting, PATIENCE, FIRST_COMPLETED)
        for future in done:
            future.result()  # an error of one is an error of all, at once
        if progress is not None and not progress(RUNNING, len(futures) - len(waiting), len(futures)):
            raise StudyStopped


def run_on_cluster(
    cases: Sequence[Case], workers: int, scheduler: str = "", progress: Progress | None = None
) -> tuple[Outcome, ...]:
    """Every case's outcome, in order, on a dask.distributed cluster: the one at the scheduler's address, or else one of
    `workers` processes started on this machine and ended after. Raises StudyStopped, and Faults without the extra."""
    with _cluster(workers, scheduler) as client:
        futures = [client.submit(compute_case, case, pure=False) for case in cases]
        try:
            _watch_cluster(futures, progress)
        except BaseException:
            client.cancel(futures)
            raise
        return tuple(client.gather(futures))


def _watch_cluster(futures: Sequence[Any], progress: Progress | None) -> None:
    waiting = list(futures)
    while waiting:
        time.sleep(PATIENCE)
        for future in waiting:
            if future.status in ("error", "cancelled", "lost"):
                future.result()  # raises what went wrong
        waiting = [future for future in waiting if future.status != "finished"]
        if progress is not None and not progress(RUNNING, len(futures) - len(waiting), len(futures)):
            raise StudyStopped


@contextmanager
def _cluster(workers: int, scheduler: str) -> Iterator[Any]:
    try:
        distributed: Any = importlib.import_module("distributed")
    except ImportError:
        rule = "many machines need the optional extra 'cluster' (dask.distributed)"
        step = "install spreadwright[cluster], or leave --cluster and --scheduler out"
        raise Faults([Fault("--cluster", "dask.distributed is not installed", rule, step)]) from None
    if scheduler:
        try:
            client = distributed.Client(scheduler, timeout="10s", set_as_default=False)
        except (OSError, ValueError, TimeoutError) as error:
            rule, step = "a scheduler answers at its address", "start it with `dask scheduler`, and give what it prints"
            raise Faults([Fault("--scheduler", f"{scheduler} ({str(error)[:80]})", rule, step)]) from None
        with client:
            yield client
        return
    with (
        distributed.LocalCluster(n_workers=max(workers, 1), threads_per_worker=1, dashboard_address=None) as local,
        distributed.Client(local, set_as_default=False) as client,
    ):
        yield client
