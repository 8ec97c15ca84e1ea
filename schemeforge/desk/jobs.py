"""Work beside the window: a frozen request, run off the GUI thread, latest wins.

A job is a function of a token alone; all it needs is bound in beforehand as immutable values, so
that there is nothing to lock. Results come back through ``deliver``, which the window's bridge
turns into a call on its own thread.
"""

import atexit
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, NamedTuple


@dataclass(slots=True)
class CancelToken:
    """Asked by a job now and then; also carries its progress, 0 to 1."""

    on_progress: Callable[[float], None] = lambda _share: None
    _event: threading.Event = field(default_factory=threading.Event)

    def cancel(self) -> None:
        """Ask the job to stop."""
        self._event.set()

    @property
    def is_cancelled(self) -> bool:
        """True once the result is no longer wanted."""
        return self._event.is_set()

    def progress(self, share: float) -> None:
        """Report how far the job is, 0 to 1; silent once cancelled."""
        if not self.is_cancelled:
            self.on_progress(share)


Deliver = Callable[[Callable[[], None]], None]


class _Job(NamedTuple):
    """One request."""

    key: str
    token: CancelToken
    work: Callable[[CancelToken], Any]
    done: Callable[[Any], None]
    failed: Callable[[Exception], None] | None


class JobRunner:
    """Runs at most one job per key; a newer request under the same key cancels the older.

    Of those that wait the newest is run first: it is what the user asked for last, perhaps on
    another page than the others.

    Args:
        deliver: Takes a function and has it called on the thread that owns the views.
        workers: How many jobs run at once.
    """

    def __init__(self, deliver: Deliver, workers: int = 2) -> None:
        self._deliver = deliver
        self._workers = workers
        self._threads: list[threading.Thread] = []
        self._idle = 0
        self._waiting: list[_Job] = []
        self._current: dict[str, CancelToken] = {}
        self._wake = threading.Condition()
        self._closed = False

    def submit(
        self,
        key: str,
        work: Callable[[CancelToken], Any],
        done: Callable[[Any], None],
        *,
        failed: Callable[[Exception], None] | None = None,
        progress: Callable[[float], None] | None = None,
    ) -> CancelToken:
        """Run ``work(token)``; ``done(result)`` is delivered unless a newer request came.

        After ``close`` nothing runs any more, and the token given is a cancelled one.

        Args:
            key: What the job is about; one job per key is wanted at a time.
            work: The job.
            done: Takes its result.
            failed: Takes what it raised; where None the exception is raised in delivery.
            progress: Takes its progress, 0 to 1.
        """
        token = CancelToken()
        if progress is not None:
            report = progress
            token.on_progress = lambda share: self._deliver(
                lambda: None if token.is_cancelled else report(share)
            )
        with self._wake:
            if self._closed:
                token.cancel()
                return token
            self._drop(key)
            self._current[key] = token
            self._waiting.append(_Job(key, token, work, done, failed))
            if len(self._waiting) > self._idle and len(self._threads) < self._workers:
                name = f"job {len(self._threads) + 1}"
                thread = threading.Thread(target=self._run, name=name, daemon=True)
                if not self._threads:  # a program that ends without closing must not hang
                    atexit.register(self.close)
                self._threads.append(thread)
                thread.start()
            self._wake.notify()
        return token

    def cancel(self, key: str) -> None:
        """The result of that job is no longer wanted."""
        with self._wake:
            self._drop(key)

    def is_busy(self, key: str) -> bool:
        """True while a job of that key is wanted and not finished."""
        with self._wake:
            return key in self._current

    @property
    def is_any_busy(self) -> bool:
        """True while any job is wanted and not finished."""
        with self._wake:
            return bool(self._current)

    def close(self) -> None:
        """Cancel everything and wait for the threads to end."""
        with self._wake:
            self._closed = True
            for key in tuple(self._current):
                self._drop(key)
            self._wake.notify_all()
        for thread in self._threads:
            thread.join()
        self._threads.clear()
        atexit.unregister(self.close)

    def _drop(self, key: str) -> None:
        """Cancel the job of that key, and do not begin it; the lock is held."""
        token = self._current.pop(key, None)
        if token is not None:
            token.cancel()
            self._waiting = [job for job in self._waiting if job.key != key]

    def _run(self) -> None:
        while (job := self._next()) is not None:
            self._finish(job, *_outcome(job))

    def _next(self) -> _Job | None:
        """Waits for a job to be begun; None at the end."""
        with self._wake:
            self._idle += 1
            self._wake.wait_for(lambda: self._waiting or self._closed)
            self._idle -= 1
            return self._waiting.pop() if self._waiting else None

    def _finish(self, job: _Job, result: Any, error: BaseException | None) -> None:
        if job.token.is_cancelled:
            self._forget(job)
            return

        def call() -> None:
            if job.token.is_cancelled or not self._forget(job):
                return
            if error is None:
                job.done(result)
            elif job.failed is not None and isinstance(error, Exception):
                job.failed(error)
            else:
                raise error

        self._deliver(call)

    def _forget(self, job: _Job) -> bool:
        """Strike the job off; False where a newer one of its key is wanted, or none."""
        with self._wake:
            if self._current.get(job.key) is not job.token:
                return False
            del self._current[job.key]
            return True


def _outcome(job: _Job) -> tuple[Any, BaseException | None]:
    """What the job gives, or raises."""
    if job.token.is_cancelled:
        return None, None
    try:
        return job.work(job.token), None
    except BaseException as error:  # noqa: BLE001 - raised again in delivery
        return None, error
