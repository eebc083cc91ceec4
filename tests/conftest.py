"""Lets tests import their helpers as `support.…`, has the longest begin first, holds no law to a time, looks for rings of values
as seldom as the commands do, and keeps what is compiled in a cache folder of the run."""

import atexit
import gc
import os
import shutil
import sys
import tempfile
from pathlib import Path

import pytest
from hypothesis import settings

HERE = Path(__file__).parent
LONGEST = HERE / "real"
"""Every body of the survey: some of these take as long as a whole folder of others, and must not come last on one core."""

sys.path.insert(0, str(HERE))

if "PYTEST_XDIST_WORKER" not in os.environ:  # whose folder is that of who started it
    CACHE = tempfile.mkdtemp(prefix="godet-tests-")
    os.environ["XDG_CACHE_HOME"] = CACHE
    atexit.register(shutil.rmtree, CACHE, ignore_errors=True)

settings.register_profile("untimed", deadline=None)  # an example takes as long as the other work of the machine lets it
settings.load_profile("untimed")

gc.set_threshold(100_000)  # as `godet` itself (`compiler/cli/main.py`): looking as often as usual took a tenth of the suite


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items.sort(key=lambda item: LONGEST not in item.path.parents)
