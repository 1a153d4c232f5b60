"""Long work: one at a time for a key, told step by step, stopped when asked, and its end always told."""

from __future__ import annotations

import threading
import time

from spreadwright.faults import Fault, Faults
from spreadwright.web.jobs import LONGEST_TALE, Job, Jobs


def waits(go: threading.Event) -> None:
    go.wait(5)


def ended(job: Job, within: float = 5.0) -> Job:
    until = time.monotonic() + within
    while not job.over and time.monotonic() < until:
        time.sleep(0.01)
    return job


def test_a_job_tells_its_steps_and_its_end():
    def work(tell):
        assert tell("towing", 1, 2)
        assert tell("choosing", 2, 2)

    job = ended(Jobs().start("a", work))
    assert [step.words for step in job.steps] == ["waiting for its turn", "towing", "choosing", "done"]
    assert [step.number for step in job.steps] == [1, 2, 3, 4]
    assert job.state == "done"
    assert [step.words for step in job.after(2)] == ["choosing", "done"]


def test_for_one_key_there_is_one_job_at_a_time():
    go = threading.Event()
    jobs = Jobs()
    first = jobs.start("a", lambda tell: waits(go))
    assert jobs.start("a", lambda tell: None) is first
    go.set()
    ended(first)
    assert jobs.start("a", lambda tell: None) is not first


def test_a_job_stops_when_asked():
    def work(tell):
        while tell("towing", 0, 0):
            time.sleep(0.01)
        raise RuntimeError("left in the middle")

    jobs = Jobs()
    job = jobs.start("a", work)
    waiting = jobs.start("b", work)
    time.sleep(0.05)
    jobs.stop("b")
    jobs.stop("a")
    assert ended(job).state == "stopped"
    assert ended(waiting).state == "stopped"
    assert waiting.steps[-1].words == "stopped before it began"


def test_what_goes_wrong_is_told():
    def faulty(tell):
        raise Faults([Fault("rod red", "no rig", "a rod needs one", "buy one")])

    def broken(tell):
        raise ZeroDivisionError("by nought")

    jobs = Jobs()
    assert "buy one" in ended(jobs.start("a", faulty)).steps[-1].words
    job = ended(jobs.start("b", broken))
    assert job.state == "failed"
    assert "please report" in job.steps[-1].words


def test_a_long_tale_is_shortened_but_keeps_its_end():
    job = Job("a")
    for number in range(LONGEST_TALE + 10):
        job.add("running", f"step {number}")
    assert len(job.steps) <= LONGEST_TALE
    assert job.steps[-1].number == LONGEST_TALE + 10
