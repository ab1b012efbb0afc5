"""A sweep on a cluster of three processes, one of which is killed on the way.

    python tests/examples/on_a_cluster.py 500 renders/on-a-cluster

What it had is done by the others, and the table is that of one process, to the byte. Prints how
long either took; processes beyond the cores of the machine gain nothing. With a scheduler of your
own, `sidehill sweep STUDY --dask tcp://host:8786` does the same. A model compares; it does not
permit.
"""

import os
import signal
import sys
from pathlib import Path
from time import perf_counter

from distributed import Client, LocalCluster

import sidehill as sh

WORKERS = 3


def study(n: int) -> sh.Study:
    """Short drives over the shipped stone."""
    changes = {"course.length": 4.0, "feature.1.at": 2.9, "run.step": 0.002}
    bank = sh.load_scenario("bank-stone", **changes)
    vary = {
        "ground.slope": {"low": "2 deg", "high": "20 deg"},
        "drive.speed": {"low": "4 km/h", "high": "8 km/h"},
    }
    plan = sh.Sample(method="latin", n=n, seed=5)
    return sh.make_study("bramble", bank, sh.Outfit(bucket_load=200), vary=vary, sample=plan)


def on_a_cluster(n: int, folder: Path, kill: bool) -> tuple[sh.Results, float]:
    """The results, and how long they took [s]; one worker is killed once something came back."""
    with (
        LocalCluster(n_workers=WORKERS, threads_per_worker=1, dashboard_address=None) as local,
        Client(local) as client,
    ):
        left = sorted(client.run(os.getpid).values()) if kill else []

        def watch(progress: sh.Progress) -> None:
            if progress.done and left:
                os.kill(left.pop(), signal.SIGKILL)
                left.clear()

        began = perf_counter()
        found = sh.run_study(
            study(n), folder, engine="compiled", executor=client.get_executor(pure=False),
            workers=WORKERS, watch=watch,
        )  # fmt: skip
        return found, perf_counter() - began


if __name__ == "__main__":
    cases, place = int(sys.argv[1]), Path(sys.argv[2])
    start = perf_counter()
    alone = sh.run_study(study(cases), place / "alone", engine="compiled", workers=1)
    one = perf_counter() - start
    together, three = on_a_cluster(cases, place / "together", kill=False)
    killed, less = on_a_cluster(cases, place / "killed", kill=True)
    same = alone.file.read_bytes() == together.file.read_bytes() == killed.file.read_bytes()
    print(f"{cases} cases on {os.cpu_count()} cores: {one:.1f} s in one process, {three:.1f} s in")
    print(f"{WORKERS}, {less:.1f} s with one of them killed; the same bytes: {same}")
