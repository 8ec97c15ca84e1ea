"""Work beside the window: a frozen request, run off the GUI thread, latest wins.

A job is a function of a token alone; all it needs is bound in beforehand as immutable values, so
that there is nothing to lock. Results come back through ``deliver``, which the window's bridge
turns into a call on its own thread.
"""

import threading
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Any


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


class JobRunner:
    """Runs at most one job per key; a newer request under the same key cancels the older.

    Args:
        deliver: Takes a function and has it called on the thread that owns the views.
        workers: How many jobs run at once.
    """

    def __init__(self, deliver: Deliver, workers: int = 2) -> None:
        self._deliver = deliver
        self._pool = ThreadPoolExecutor(max_workers=workers, thread_name_prefix="job")
        self._current: dict[str, CancelToken] = {}
        self._lock = threading.Lock()
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

        Args:
            key: What the job is about; one job per key is wanted at a time.
            work: The job.
            done: Takes its result.
            failed: Takes what it raised; where None the exception is raised in delivery.
            progress: Takes its progress, 0 to 1.

        After ``close`` nothing runs any more, and the token given is a cancelled one.
        """
        token = CancelToken()
        if progress is not None:
            report = progress
            token.on_progress = lambda share: self._deliver(
                lambda: None if token.is_cancelled else report(share)
            )
        with self._lock:
            if self._closed:
                token.cancel()
                return token
            previous = self._current.get(key)
            self._current[key] = token
            future = self._pool.submit(lambda: None if token.is_cancelled else work(token))
        if previous is not None:
            previous.cancel()
        future.add_done_callback(lambda f: self._finished(key, token, f, done, failed))
        return token

    def cancel(self, key: str) -> None:
        """The result of that job is no longer wanted."""
        with self._lock:
            token = self._current.pop(key, None)
        if token is not None:
            token.cancel()

    def is_busy(self, key: str) -> bool:
        """True while a job of that key is wanted and not finished."""
        with self._lock:
            return key in self._current

    @property
    def is_any_busy(self) -> bool:
        """True while any job is wanted and not finished."""
        with self._lock:
            return bool(self._current)

    def close(self) -> None:
        """Cancel everything and wait for the threads to end."""
        with self._lock:
            self._closed = True
            tokens = list(self._current.values())
            self._current.clear()
        for token in tokens:
            token.cancel()
        self._pool.shutdown(wait=True, cancel_futures=True)

    def _finished(
        self,
        key: str,
        token: CancelToken,
        future: "Future[Any]",
        done: Callable[[Any], None],
        failed: Callable[[Exception], None] | None,
    ) -> None:
        if token.is_cancelled or future.cancelled():
            self._forget(key, token)
            return

        def call() -> None:
            if token.is_cancelled or not self._forget(key, token):
                return
            error = future.exception()
            if error is None:
                done(future.result())
            elif failed is not None and isinstance(error, Exception):
                failed(error)
            else:
                raise error

        self._deliver(call)

    def _forget(self, key: str, token: CancelToken) -> bool:
        """Strike the job off; False where a newer one of its key is wanted, or none."""
        with self._lock:
            if self._current.get(key) is not token:
                return False
            del self._current[key]
            return True
