"""A step of sewing beside the seams."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

Kind = Literal["closure", "buttons", "mounted", "darts", "pleats", "gathers", "ends", "mouth", "hem", "edges"]

WhyStep = Literal["set_into", "closes_over", "covers", "finished", "mounted", "shut", "laid", "gathered", "turned", "hemmed"]
"""A closure comes after the seam it is set into, and after one its run goes on over; before the seam that covers its end;
buttons and hems after all that their piece is sewn in; what is mounted on it, and darts, before; pleats, gathers and the ends of
a folded piece before the seams of the edge they are in, or which they are beside; the mouth of what is sewn on inside another
piece before that."""


@dataclass(frozen=True)
class Step:
    """A closure, buttons, interlinings, darts, pleats, gathers, ends that are turned, hems or other edges: the seams it comes
    after, and those it comes before, with the reason."""

    name: str
    kind: Kind
    after: Mapping[str, WhyStep] = field(default_factory=dict)
    before: Mapping[str, WhyStep] = field(default_factory=dict)
