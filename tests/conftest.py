"""Lets tests import their helpers as `support.…`, and has the longest begin first."""

import sys
from pathlib import Path

import pytest

HERE = Path(__file__).parent
LONGEST = HERE / "real"
"""Every body of the survey: some of these take as long as a whole folder of others, and must not come last on one core."""

sys.path.insert(0, str(HERE))


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items.sort(key=lambda item: LONGEST not in item.path.parents)
