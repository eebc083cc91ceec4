"""A fit contract as a table: what a block or a style promises, measured on many bodies.

99 of 100 must lie within; rows that hold by geometry hold on all. Rows that hold for fewer stand in `LIMITS`, and README tells
them (tests/real/test_limits_are_told.py).
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from godet.pattern.piece import Reals

MOST = 0.99
ALL = 1.0

LIMITS = {
    "women whose underarm lies below the bust level": (0.989, "bodice to the hip: underarm not below the bust level"),
    "front waist darts, opening / leg": (0.989, "bodice to the hip: front waist darts no wider than 0.36 of their length"),
    "hip less body, centre lines straight": (0.970, "trousers: no more ease at the hip than asked"),
}
"""Rows that hold for fewer than 99 of 100 bodies: the least share, and what README's table of limits calls it."""


@dataclass
class Contract:
    """Rows of a table, each filled part by part: values (L,), how far they may lie either way, and the share that must."""

    title: str
    rows: dict[str, tuple[float, float, float]] = field(default_factory=dict)
    values: dict[str, list[Reals]] = field(default_factory=dict)

    def add(self, name: str, values: Reals, low: float = -np.inf, high: float = np.inf, share: float = MOST) -> None:
        """Values of some bodies; a NaN is a body that the row does not speak of. A share of 0 only tells."""
        assert share in (0.0, MOST, ALL), "what holds for fewer stands in LIMITS"
        self.rows[name] = (low, high, LIMITS[name][0] if name in LIMITS else share)
        self.values.setdefault(name, []).append(np.atleast_1d(np.asarray(values, dtype=np.float64)))

    def column(self, name: str) -> Reals:
        found = np.concatenate(self.values[name])
        return found[~np.isnan(found)]

    def share(self, name: str) -> float:
        low, high, _ = self.rows[name]
        found = self.column(name)
        return float(((found >= low) & (found <= high)).mean()) if found.size else 0.0

    def failing(self) -> list[str]:
        """The rows that hold for fewer bodies than they must."""
        return [f"{self.title}: {line}" for name, line in self._lines() if self.share(name) < self.rows[name][2]]

    def text(self) -> str:
        head = f"{'':52} {'mean':>8} {'SD':>7} {'1 %':>8} {'99 %':>8} {'low':>7} {'high':>7} {'within':>8} {'of':>6}"
        return "\n".join([self.title, head, *(line for _, line in self._lines())])

    def _lines(self) -> list[tuple[str, str]]:
        lines = []
        for name, (low, high, _) in self.rows.items():
            x = self.column(name)
            if not x.size:
                lines.append((name, f"{name:52} on no body"))
                continue
            spread = (x.mean(), x.std(), *np.percentile(x, (1, 99)))
            numbers = " ".join(f"{one:{width}.2f}" for one, width in zip(spread, (8, 7, 8, 8), strict=True))
            shown = f"{100 * self.share(name):7.2f}%"
            lines.append((name, f"{name:52} {numbers} {low:7.4g} {high:7.4g} {shown} {x.size:6d}"))
        return lines
