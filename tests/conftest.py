"""Lets tests import their helpers as `support.…`, has the longest begin first, and holds no law to a time."""

import sys
from pathlib import Path

import pytest
from hypothesis import settings

HERE = Path(__file__).parent
LONGEST = HERE / "real"
"""Every body of the survey: some of these take as long as a whole folder of others, and must not come last on one core."""

sys.path.insert(0, str(HERE))

settings.register_profile("untimed", deadline=None)  # an example takes as long as the other work of the machine lets it
settings.load_profile("untimed")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items.sort(key=lambda item: LONGEST not in item.path.parents)
