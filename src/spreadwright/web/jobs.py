"""Long work beside the pages: one piece at a time, told step by step, stoppable; whoever comes back hears it all.

A job's steps are numbered and kept, so that a page whose connection dropped asks for what came after the last it heard.
"""

from __future__ import annotations

import logging
import threading
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Literal

from spreadwright.faults import Faults

State = Literal["waiting", "running", "done", "stopped", "failed"]
Tell = Callable[[str, int, int], bool]
APART = 0.2  # [s] between steps that are kept
LONGEST_TALE = 3000  # steps kept of one job
ENDED: tuple[State, ...] = ("done", "stopped", "failed")

log = logging.getLogger(__name__)


@dataclass(frozen=True)
class Step:
    """One step of a job: its number from 1, the state, what is being done, and how much of it."""

    number: int
    state: State
    words: str
    done: int
    total: int


@dataclass
class Job:
    """One piece of long work; key: what it is for; result: what came of it, once it is done."""

    key: str
    steps: list[Step] = field(default_factory=list)
    faults: Faults | None = None
    result: object = None
    stop: threading.Event = field(default_factory=threading.Event)
    _last: float = 0.0

    @property
    def state(self) -> State:
        """How it stands."""
        return self.steps[-1].state if self.steps else "waiting"

    @property
    def over(self) -> bool:
        """True once it has ended, one way or another."""
        return self.state in ENDED

    def after(self, number: int) -> list[Step]:
        """The steps that came after the one of that number."""
        return [step for step in self.steps if step.number > number]

    def add(self, state: State, words: str, done: int = 0, total: int = 0) -> None:
        """Note a step."""
        number = self.steps[-1].number + 1 if self.steps else 1
        self.steps.append(Step(number, state, words, done, total))
        if len(self.steps) > LONGEST_TALE:
            del self.steps[: LONGEST_TALE // 2]

    def tell(self, words: str, done: int, total: int) -> bool:
        """Progress from the work; False asks it to stop."""
        now = time.monotonic()
        fresh = not self.steps or self.steps[-1].words != words
        if fresh or now - self._last >= APART:
            self._last = now
            self.add("running", words, done, total)
        return not self.stop.is_set()


class Jobs:
    """All jobs, done one after another; for one key there is never more than one at a time."""

    def __init__(self) -> None:
        self._jobs: dict[str, Job] = {}
        self._lock = threading.Lock()
        self._pool = ThreadPoolExecutor(1, thread_name_prefix="long work")

    def get(self, key: str) -> Job | None:
        """The last job of that key, or None."""
        return self._jobs.get(key)

    def start(self, key: str, work: Callable[[Tell], object]) -> Job:
        """Begin a job, or hand back the one that is under way."""
        with self._lock:
            job = self._jobs.get(key)
            if job is not None and not job.over:
                return job
            job = self._jobs[key] = Job(key)
            job.add("waiting", "waiting for its turn")
        self._pool.submit(self._run, job, work)
        return job

    def stop(self, key: str) -> Job | None:
        """Ask a job to stop; it may take a moment."""
        job = self._jobs.get(key)
        if job is not None:
            job.stop.set()
        return job

    def close(self) -> None:
        """Stop everything, and wait for no one."""
        for job in self._jobs.values():
            job.stop.set()
        self._pool.shutdown(wait=False, cancel_futures=True)

    def _run(self, job: Job, work: Callable[[Tell], object]) -> None:
        if job.stop.is_set():
            job.add("stopped", "stopped before it began")
            return
        try:
            job.result = work(job.tell)
        except Faults as faults:
            job.faults = faults
            job.add("failed", str(faults))
        except Exception as error:  # a thread's end must be told, whatever it was
            if job.stop.is_set():
                job.add("stopped", "stopped")
            else:
                log.exception("a job failed")
                job.add("failed", f"{error}: this should not happen; please report it with the trip file")
        else:
            job.add("done", "done")
