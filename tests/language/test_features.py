"""One small style for each feature of the language, and what it comes to on one body in round numbers.

The numbers beside the styles can be checked by hand: lengths in mm, angles in radians, points as x and y."""

from pathlib import Path

import pytest
from support.styles import stored, values

FEATURES = sorted((Path(__file__).parent / "features").glob("*.style"))


@pytest.mark.parametrize("file", FEATURES, ids=lambda file: file.stem)
def test_feature(file: Path) -> None:
    assert values(stored(file)) + "\n" == file.with_suffix(".txt").read_text("utf-8")
