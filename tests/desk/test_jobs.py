"""Jobs beside the window: latest wins, cancel, errors, and no thread left behind."""

import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from queue import Empty, Queue
from typing import Any

import pytest

from schemeforge.desk import CancelToken, JobRunner

WAIT = 5.0


class Owner:
    """Stands for the thread that owns the views: calls what was delivered when told to."""

    def __init__(self) -> None:
        self.queue: Queue[Callable[[], None]] = Queue()

    def deliver(self, function: Callable[[], None]) -> None:
        self.queue.put(function)

    def call_next(self) -> None:
        self.queue.get(timeout=WAIT)()

    def call_all(self) -> None:
        while True:
            try:
                self.queue.get_nowait()()
            except Empty:
                return


@pytest.fixture
def owner() -> Owner:
    return Owner()


@pytest.fixture
def runner(owner: Owner) -> Iterator[JobRunner]:
    made = JobRunner(owner.deliver)
    yield made
    made.close()
    assert not [t for t in threading.enumerate() if t.name.startswith("job")]


def test_a_result_is_delivered_and_the_job_is_over(runner: JobRunner, owner: Owner) -> None:
    results: list[int] = []
    token = runner.submit("sum", lambda _token: sum(range(10)), results.append)
    assert runner.is_busy("sum")
    assert runner.is_any_busy
    owner.call_next()
    assert results == [45]
    assert not runner.is_busy("sum")
    assert not runner.is_any_busy
    assert not token.is_cancelled


def test_work_runs_on_another_thread_and_results_come_on_the_owners(
    runner: JobRunner, owner: Owner
) -> None:
    threads: list[int] = []
    runner.submit(
        "where",
        lambda _token: threading.get_ident(),
        lambda ident: threads.extend([ident, threading.get_ident()]),
    )
    owner.call_next()
    assert threads[0] != threads[1] == threading.get_ident()


def test_the_latest_of_a_key_wins(runner: JobRunner, owner: Owner) -> None:
    started, go = threading.Event(), threading.Event()
    seen: list[str] = []

    def slow(token: CancelToken) -> str:
        started.set()
        assert go.wait(WAIT)
        assert token.is_cancelled
        return "old"

    runner.submit("k", slow, seen.append)
    assert started.wait(WAIT)
    runner.submit("k", lambda _token: "new", seen.append)
    go.set()
    owner.call_next()
    owner.call_all()
    assert seen == ["new"]


def test_a_result_already_on_its_way_gives_way_to_a_newer_request(
    runner: JobRunner, owner: Owner
) -> None:
    seen: list[str] = []
    runner.submit("k", lambda _token: "old", seen.append)
    delivery = owner.queue.get(timeout=WAIT)
    runner.submit("k", lambda _token: "new", seen.append)
    delivery()
    assert seen == []
    owner.call_next()
    assert seen == ["new"]


def test_other_keys_do_not_disturb_each_other(runner: JobRunner, owner: Owner) -> None:
    seen: list[str] = []
    runner.submit("a", lambda _token: "a", seen.append)
    runner.submit("b", lambda _token: "b", seen.append)
    owner.call_next()
    owner.call_next()
    assert sorted(seen) == ["a", "b"]


@pytest.mark.parametrize("by_token", [True, False])
def test_cancelled_work_delivers_nothing(
    runner: JobRunner, owner: Owner, *, by_token: bool
) -> None:
    started, go = threading.Event(), threading.Event()
    seen: list[Any] = []

    def work(token: CancelToken) -> None:
        started.set()
        assert go.wait(WAIT)
        token.progress(0.5)

    token = runner.submit("k", work, seen.append, progress=seen.append)
    assert started.wait(WAIT)
    if by_token:
        token.cancel()
    else:
        runner.cancel("k")
    go.set()
    runner.close()
    owner.call_all()
    assert seen == []
    assert not runner.is_busy("k")


def test_cancelling_between_result_and_delivery_counts(runner: JobRunner, owner: Owner) -> None:
    seen: list[Any] = []
    token = runner.submit("k", lambda _token: 1, seen.append)
    delivery = owner.queue.get(timeout=WAIT)
    token.cancel()
    delivery()
    assert seen == []


def test_cancelling_what_does_not_run_does_nothing(runner: JobRunner) -> None:
    runner.cancel("nothing")
    assert not runner.is_busy("nothing")


def test_progress_is_delivered_while_wanted(runner: JobRunner, owner: Owner) -> None:
    shares: list[float] = []

    def work(token: CancelToken) -> None:
        token.progress(0.25)
        token.progress(0.75)

    done: list[None] = []
    runner.submit("k", work, done.append, progress=shares.append)
    for _ in range(3):
        owner.call_next()
    assert shares == [0.25, 0.75]
    assert done == [None]


def test_progress_on_its_way_when_cancelled_is_not_shown(runner: JobRunner, owner: Owner) -> None:
    shares: list[float] = []
    token = runner.submit(
        "k", lambda t: t.progress(0.5), lambda _none: None, progress=shares.append
    )
    report = owner.queue.get(timeout=WAIT)
    token.cancel()
    report()
    assert shares == []


def test_progress_without_anyone_to_tell(runner: JobRunner, owner: Owner) -> None:
    done: list[None] = []
    runner.submit("k", lambda t: t.progress(0.5), done.append)
    owner.call_next()
    assert done == [None]


def test_an_error_goes_to_who_takes_it_else_is_raised_in_delivery(
    runner: JobRunner, owner: Owner
) -> None:
    failed: list[str] = []

    def bad(_token: CancelToken) -> None:
        raise ValueError("no good")

    runner.submit("k", bad, lambda _none: None, failed=lambda e: failed.append(str(e)))
    owner.call_next()
    assert failed == ["no good"]
    runner.submit("k", bad, lambda _none: None)
    with pytest.raises(ValueError, match="no good"):
        owner.call_next()
    assert not runner.is_busy("k")


def test_closing_drops_what_waits_and_nothing_runs_afterwards(owner: Owner) -> None:
    runner = JobRunner(owner.deliver, workers=1)
    started, seen = threading.Event(), list[Any]()

    def until_cancelled(token: CancelToken) -> None:
        started.set()
        while not token.is_cancelled:
            started.wait(0.001)

    running = runner.submit("a", until_cancelled, seen.append)
    waiting = runner.submit("b", lambda _token: 1, seen.append)
    assert started.wait(WAIT)
    runner.close()
    runner.close()
    after = runner.submit("c", lambda _token: 2, seen.append)
    owner.call_all()
    assert seen == []
    assert running.is_cancelled
    assert waiting.is_cancelled
    assert after.is_cancelled
    assert not runner.is_busy("c")


def test_of_those_that_wait_the_newest_is_run_first_and_the_dropped_never(owner: Owner) -> None:
    runner = JobRunner(owner.deliver, workers=1)
    started, go = threading.Event(), threading.Event()
    begun: list[str] = []

    def hold(_token: CancelToken) -> None:
        started.set()
        assert go.wait(WAIT)

    def job(name: str) -> Callable[[CancelToken], None]:
        return lambda _token: begun.append(name)

    runner.submit("hold", hold, lambda _none: None)
    assert started.wait(WAIT)
    for name in ("a", "b", "c", "d"):
        runner.submit(name, job(name), lambda _none: None)
    runner.submit("a", job("a again"), lambda _none: None)
    runner.cancel("c")
    go.set()
    for _ in range(4):
        owner.call_next()
    runner.close()
    assert begun == ["a again", "d", "b"]


def test_no_more_threads_than_are_needed(runner: JobRunner, owner: Owner) -> None:
    for _ in range(5):
        runner.submit("one after the other", lambda _token: None, lambda _none: None)
        owner.call_next()
    assert len([t for t in threading.enumerate() if t.name.startswith("job")]) <= 2


def test_a_program_that_ends_without_closing_stops_its_jobs_and_ends() -> None:
    program = (
        "import time\n"
        "from schemeforge.desk.jobs import JobRunner\n"
        "def work(token):\n"
        "    while not token.is_cancelled:\n"
        "        time.sleep(0.001)\n"
        "    print('stopped')\n"
        "JobRunner(lambda f: f()).submit('k', work, print)\n"
        "time.sleep(0.05)\n"
    )
    ran = subprocess.run(  # noqa: S603 - our own program
        [sys.executable, "-c", program], capture_output=True, text=True, timeout=60, check=True
    )
    assert (ran.stdout, ran.stderr) == ("stopped\n", "")


def test_even_leaving_the_program_is_raised_in_delivery(runner: JobRunner, owner: Owner) -> None:
    def leave(_token: CancelToken) -> None:
        raise SystemExit

    runner.submit("k", leave, lambda _none: None, failed=lambda _error: None)
    with pytest.raises(SystemExit):
        owner.call_next()


def test_what_was_cancelled_by_its_token_while_it_waited_is_not_begun(owner: Owner) -> None:
    runner = JobRunner(owner.deliver, workers=1)
    started, go = threading.Event(), threading.Event()
    begun: list[int] = []

    def hold(_token: CancelToken) -> None:
        started.set()
        assert go.wait(WAIT)

    runner.submit("hold", hold, lambda _none: None)
    assert started.wait(WAIT)
    runner.submit("k", lambda _token: begun.append(1), lambda _none: None).cancel()
    go.set()
    owner.call_next()
    runner.close()
    assert begun == []
    assert not runner.is_busy("k")
