"""Did you mean: the nearest of the words that would have been right."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

_CUTOFF = 0.7  # below this the offer is more puzzling than none
# Words a cutter may say, with ours, which no spelling leads to.
_MEANT = {
    "amount": ("as_long_as",),
    "length": ("as_long_as",),
    "reach": ("as_far_as",),
    "worn": ("on",),
    "side": ("on",),
    "kind": ("as",),
    "way": ("going",),
    "share": ("by",),
    "apex": ("ending_at", "to_apex_of"),
    "upper": ("reaching_up_to",),
    "lower": ("reaching_down_to",),
    "deep": ("depth",),
    "wide": ("width",),
    "long": ("as_long_as",),
}
_LONGEST = 60  # nobody mistypes one of our words into something longer


def nearest(word: str, candidates: Iterable[str], limit: int = 3, parts: bool = True) -> tuple[str, ...]:
    """Up to `limit` candidates near to `word`, best first: by spelling, then, with `parts`, those that hold it as a part."""
    if not word or len(word) > _LONGEST:
        return ()
    known = sorted(set(candidates) - {word})
    found = get_close_matches(word.lower(), known, n=limit, cutoff=_CUTOFF)
    if parts and len(word) > 2:
        found += [c for c in known if c not in found and (c.startswith(word + "_") or word in c.split("_"))]
    return tuple(found[:limit])


def is_one_letter_off(word: str, other: str) -> bool:
    """Whether a letter is missing, too many or another, or two have changed places."""
    if len(word) == len(other):
        differing = [i for i, (a, b) in enumerate(zip(word, other, strict=True)) if a != b]
        return len(differing) == 1 or (len(differing) == 2 and sorted(word) == sorted(other))
    short, long = sorted((word, other), key=len)
    return len(long) - len(short) == 1 and any(short == long[:i] + long[i + 1 :] for i in range(len(long)))


def either(words: Iterable[str], joint: str = "or") -> str:
    """"`a`, `b` or `c`"; empty for no words."""
    quoted = [f"`{word}`" for word in words]
    if len(quoted) < 2:
        return "".join(quoted)
    return f"{', '.join(quoted[:-1])} {joint} {quoted[-1]}"


def meant(word: str, candidates: Iterable[str]) -> tuple[str, ...]:
    """The candidates that stand for a word as it is said at the table."""
    known = set(candidates)
    return tuple(one for one in _MEANT.get(word, ()) if one in known)


def did_you_mean(word: str, candidates: Iterable[str], limit: int = 3) -> str:
    """"did you mean `a` or `b`?", or an empty string when nothing is near."""
    found = nearest(word, candidates, limit)
    return f"did you mean {either(found)}?" if found else ""
