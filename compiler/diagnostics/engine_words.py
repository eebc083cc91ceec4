"""The words of errors that concern other machines. Codes E556 to E559, E56x."""

from __future__ import annotations

from .diagnostic import Diagnostic

HERE = "without `--engine` all is done on this machine"


def no_address(written: str) -> Diagnostic:
    message = f"`{written}` is no engine: one is the scheduler of a cluster, its machine and its port"
    return Diagnostic("E556", message, fix="write it as `--engine dask://192.168.1.20:8786`")


def not_installed() -> Diagnostic:
    message = "what shares work with other machines (dask.distributed) is not installed"
    return Diagnostic("E557", message, fix='install it with `pip install "godet[dask]"`, here and on every worker')


def no_answer(address: str) -> Diagnostic:
    message = f"no scheduler answers at `{address}`"
    return Diagnostic("E558", message, fix=f"start one there with `dask scheduler`, or mend the address; {HERE}")


def no_workers(address: str) -> Diagnostic:
    message = f"the scheduler at `{address}` has no workers"
    return Diagnostic("E559", message, fix=f"start some with `dask worker {address}`; {HERE}")


def unlike(address: str) -> Diagnostic:
    message = f"a worker of `{address}` has another version of godet than this machine, or of the libraries it reckons with"
    fix = "install the same godet, numpy, shapely, svgwrite and reportlab on all, so that all draw the same"
    return Diagnostic("E560", message, fix=fix)


def ended(address: str) -> Diagnostic:
    message = f"several workers of `{address}` were ended by one part of the work: as a rule they have too little memory"
    return Diagnostic("E561", message, fix=f"give each worker 1 GiB or more; {HERE}")


def undone(address: str, why: str) -> Diagnostic:
    message = f"the cluster at `{address}` could not do its part"
    fix = f"the scheduler and all workers need godet as it is here, and stay until the work is done; {HERE}"
    return Diagnostic("E562", message, note=why, fix=fix)


def not_with_jobs() -> Diagnostic:
    fix = "take one of them: the cluster has as many workers as were started for it"
    return Diagnostic("E563", "`--engine` and `--jobs` stand together", fix=fix)
