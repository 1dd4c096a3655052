"""Who does the work: Dask, with processes of this machine or with a cluster that is there already.

Judging holds the interpreter lock, so threads of one process gain nothing; each process judges on one core.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures.process import BrokenProcessPool
from typing import Any

from service.workshop.fleet.columns import Wanted
from service.workshop.fleet.judging import Done, fleet_edition, judge_partition
from service.workshop.fleet.plan import Partition


class Stopped(Exception):
    """The run cannot go on; what was judged so far is kept, and the same command goes on from there."""


Tell = Callable[[Done], None]
RETRIES = 2
"""A partition whose worker died is judged again so often; judging twice gives the same file."""


def run(
    partitions: list[Partition], out: str, wanted: Wanted, tell: Tell, workers: int, scheduler: str | None
) -> None:
    """Judge partitions, telling each one that is done.

    workers: processes of this machine; 1 is this process itself. scheduler: address of a Dask cluster instead; its
    workers need this package, and must reach input and output by the same addresses.
    """
    if scheduler is not None:
        _on_cluster(partitions, out, wanted, tell, scheduler)
    else:
        _on_this_machine(partitions, out, wanted, tell, workers)


def _on_this_machine(partitions: list[Partition], out: str, wanted: Wanted, tell: Tell, workers: int) -> None:
    import dask
    from dask.callbacks import Callback

    def after(_key: str, result: Any, _graph: Any, _state: Any, _worker: Any) -> None:
        if isinstance(result, Done):
            tell(result)

    judge = dask.delayed(judge_partition, pure=False)
    tasks = [judge(partition, out, wanted, fleet_edition()) for partition in partitions]
    how: dict[str, Any] = {"scheduler": "synchronous"}
    if workers > 1:
        how = {"scheduler": "processes", "num_workers": workers, "chunksize": 1}
    try:
        with Callback(posttask=after):
            dask.compute(*tasks, optimize_graph=False, **how)
    except BrokenProcessPool:
        raise Stopped("a process was ended from outside, perhaps for want of memory") from None


def _on_cluster(partitions: list[Partition], out: str, wanted: Wanted, tell: Tell, scheduler: str) -> None:
    from distributed import Client, as_completed

    try:
        client = Client(scheduler)
    except OSError as error:
        raise Stopped(f"{scheduler}: no cluster answers ({error})") from None
    with client:
        _require_this_edition(client)
        given = {"out": out, "wanted": wanted, "edition": fleet_edition()}
        futures = client.map(judge_partition, partitions, **given, pure=False, retries=RETRIES)
        of = {future.key: partition for future, partition in zip(futures, partitions, strict=True)}
        for future in as_completed(futures):
            partition, raised = of[future.key], future.exception()
            tell(future.result() if raised is None else Done(partition, wrong=f"{partition.name}: {raised}"))


def _require_this_edition(client: Any) -> None:
    """Ask every worker before anything is judged; one that does not even know the question has another edition."""
    editions = client.run(fleet_edition, on_error="return")
    other = sorted(worker for worker, edition in editions.items() if edition != fleet_edition())
    if other:
        raise Stopped(f"another edition of this package is installed on {', '.join(other)}")
