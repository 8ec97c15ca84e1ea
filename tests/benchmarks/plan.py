"""Speed of the plan and of its thousand runs; run as a script.

``python -m tests.benchmarks.plan`` prints seconds for a usual and for a large batch beside their
limits, and as ratios to one sort of as many numbers as the batch has tasks and runs, measured in
the same run, so that slower machines can be told from slower code.
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


def measure(models: int, steps: int) -> tuple[float, float, float, int]:
    """Median seconds of the plan, of its runs, and of the baseline; and the number of tasks."""
    project, scheme = batch(models, steps)
    planned, ran, sorted_ = [], [], []
    tasks = 0
    for _ in range(REPETITIONS):
        begin = time.perf_counter()
        made = plan.schedule(project, scheme)
        half = time.perf_counter()
        plan.spread(project, scheme, made, runs=RUNS)
        end = time.perf_counter()
        tasks = len(made.order)
        numbers = np.random.default_rng(1).random((tasks, RUNS))
        before = time.perf_counter()
        numbers.sort(axis=1)
        sorted_.append(time.perf_counter() - before)
        planned.append(half - begin)
        ran.append(end - half)
    middle = statistics.median
    return middle(planned), middle(ran), middle(sorted_), tasks


def main() -> None:
    """Prints the table."""
    print(f"{'batch':<22}{'tasks':>7}{'plan s':>9}{'runs s':>9}{'both':>9}{'limit':>7}{'ratio':>8}")
    for (models, steps), limit in LIMITS.items():
        planned, ran, baseline, tasks = measure(models, steps)
        both = planned + ran
        print(
            f"{models:>4} models, {steps} steps {tasks:>6}{planned:>9.3f}{ran:>9.3f}{both:>9.3f}"
            f"{limit:>7.1f}{both / baseline:>8.1f}{'' if both <= limit else '  over the limit'}"
        )


if __name__ == "__main__":
    main()
