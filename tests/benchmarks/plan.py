"""Speed of the plan and of its thousand runs; run as a script.

``python -m tests.benchmarks.plan`` prints seconds for a usual and for a large batch beside their
limits, the processor's own time beside the clock's, and the ratio to one sort of as many numbers
as the batch has tasks and runs, measured in the same run, so that slower or busier machines can be
told from slower code.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import statistics
import time
from dataclasses import replace

import numpy as np

from schemeforge import plan
from schemeforge.scheme import Group, Project, Scheme, Sitting, Step, Technique
from tests.builders import coat_step
from tests.plan.batch import BODY, large_project, scheme_of

LIMITS = {(40, 30): 0.2, (200, 60): 2.0}
RUNS = 1000
REPETITIONS = 5


def batch(models: int, steps: int) -> tuple[Project, Scheme]:
    """So many models in three groups, so many steps, evenings of four hours for a month."""
    project = large_project()
    scheme = scheme_of(project)
    more: list[Step] = []
    while len(scheme.steps) + len(more) < steps:
        n = len(more)
        zone = BODY[n % len(BODY)]
        more.append(coat_step(f"more-{n}", f"pot-{zone}", zone, technique=Technique.LAYER))
    last = len(scheme.steps) - 1
    listed = (*scheme.steps[:last], *more, scheme.steps[last])
    scheme = replace(scheme, steps=listed)
    captains, bearers = models // 20, models // 10
    groups = (
        Group(id="rank", name="rank and file", count=models - captains - bearers, priority=3),
        Group(id="bearers", name="bearers", count=bearers, priority=2),
        Group(id="captains", name="captains", count=captains, needed_by="2031-05-20"),
    )
    sittings = tuple(
        Sitting(id=f"s-{day}", minutes=240.0, day=f"2031-05-{day:02d}") for day in range(1, 29)
    )
    return replace(project, groups=groups, schemes=(scheme,), sittings=sittings), scheme


def measure(models: int, steps: int) -> tuple[float, float, float, float, int]:
    """Median seconds of plan, runs, both on the processor, and baseline; and how many tasks."""
    project, scheme = batch(models, steps)
    planned, ran, busy, sorted_ = [], [], [], []
    tasks = 0
    for _ in range(REPETITIONS):
        own = time.process_time()
        begin = time.perf_counter()
        made = plan.schedule(project, scheme)
        half = time.perf_counter()
        plan.spread(project, scheme, made, runs=RUNS)
        end = time.perf_counter()
        busy.append(time.process_time() - own)
        tasks = len(made.order)
        numbers = np.random.default_rng(1).random((tasks, RUNS))
        before = time.perf_counter()
        numbers.sort(axis=1)
        sorted_.append(time.perf_counter() - before)
        planned.append(half - begin)
        ran.append(end - half)
    middle = statistics.median
    return middle(planned), middle(ran), middle(busy), middle(sorted_), tasks


def main() -> None:
    """Prints the table."""
    names = ("tasks", "plan s", "runs s", "both s", "cpu s", "limit", "ratio")
    print(f"{'batch':<22}" + "".join(f"{name:>9}" for name in names))
    for (models, steps), limit in LIMITS.items():
        planned, ran, busy, baseline, tasks = measure(models, steps)
        both = planned + ran
        figures = f"{planned:>9.3f}{ran:>9.3f}{both:>9.3f}{busy:>9.3f}{limit:>9.1f}"
        ratio = f"{both / baseline:>9.1f}"
        over = "" if both <= limit else "  over the limit"
        print(f"{models:>4} models, {steps} steps {tasks:>8}{figures}{ratio}{over}")


if __name__ == "__main__":
    main()
