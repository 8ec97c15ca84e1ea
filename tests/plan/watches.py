"""A watch that goes as it is told, in place of the computer's clocks."""

from schemeforge.plan.clock import Moment

EPOCH = 1_900_000_000.0


class Watch:
    """Two clocks that go as they are told."""

    def __init__(self) -> None:
        self.wall = EPOCH
        self.monotonic = 500.0
        self.run = "one"

    def passes(self, seconds: float) -> "Watch":
        self.wall += seconds
        self.monotonic += seconds
        return self

    def sleeps(self, seconds: float) -> "Watch":
        self.wall += seconds
        return self

    def starts_anew(self, after: float, run: str = "two") -> "Watch":
        self.wall += after
        self.monotonic, self.run = 3.0, run
        return self

    def __call__(self) -> Moment:
        return Moment(wall=self.wall, monotonic=self.monotonic, run=self.run)
