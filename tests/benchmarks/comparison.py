"""Speed of comparing candidates; run as a script.

``python -m tests.benchmarks.comparison`` measures the demo's three schemes whole, one of them
changed with the others known, and sentences alone. The baseline, timed in the same run, is the
ramps of the same three schemes after every coat: what a page shows of them at once.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import statistics
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import replace

from schemeforge.appearance import scheme_ramps
from schemeforge.comparison import compare
from schemeforge.gui.files import demo_project
from schemeforge.scheme import Coat, Project

REPETITIONS = 15
# 150 ms where the ramps take 5 ms: unnoticed beside the painting of the page.
MOST_TIMES_BASELINE = 30.0


def fresh(project: Project) -> Iterator[Project]:
    """The project again and again, with other films each time so that nothing kept answers."""
    for n in range(REPETITIONS + 2):
        factor = 1.0 + 0.001 * n
        schemes = tuple(
            replace(
                scheme,
                steps=tuple(
                    replace(s, layer=replace(s.layer, wet_um=s.layer.wet_um * factor))
                    if isinstance(s.layer, Coat)
                    else s
                    for s in scheme.steps
                ),
            )
            for scheme in project.schemes
        )
        yield replace(project, schemes=schemes)


def median_ms(work: Callable[[Project], object], project: Project) -> float:
    """Median of the repetitions after two that only warm up."""
    times = []
    for document in fresh(project):
        start = time.perf_counter()
        work(document)
        times.append(1000.0 * (time.perf_counter() - start))
    return statistics.median(times[2:])


def main() -> int:
    """Prints the table; exit code 1 where the whole comparison is slower than its target."""
    project = demo_project()
    first = compare(project)
    if first is None:
        print("The demo has no schemes")
        return 1
    known = {entry.scheme.id: entry.measures for entry in first.schemes}
    others = {key: value for key, value in known.items() if key != project.schemes[-1].id}

    def ramps(document: Project) -> object:
        return [scheme_ramps(document, scheme, count=64) for scheme in document.schemes]

    base = median_ms(ramps, project)
    rows = (
        ("ramps of all schemes (baseline)", base),
        ("all measured and told apart", median_ms(compare, project)),
        ("one changed, others known", median_ms(lambda p: compare(p, known=others), project)),
        ("sentences alone", median_ms(lambda p: compare(p, known=known), project)),
    )
    print(f"{len(project.schemes)} schemes, {len(project.zones)} zones, medians of {REPETITIONS}")
    for name, ms in rows:
        print(f"{name:34} {ms:8.1f} ms {ms / base:7.1f} x")
    return 0 if rows[1][1] <= MOST_TIMES_BASELINE * base else 1


if __name__ == "__main__":
    sys.exit(main())
