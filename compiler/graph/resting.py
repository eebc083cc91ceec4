"""What nodes rest on: what must be evaluated for a result, what only where it is chosen, what a solve tries again."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from ..meaning.payloads import Chosen, Fallback, Known, Payload
from ..meaning.style import CheckedStyle, Node
from ..verbs.kinds import PieceKind

# Inputs evaluated only where they are chosen.
ARMS: Mapping[type[Payload], tuple[str, ...]] = {Chosen: ("first", "second"), Fallback: ("second",), Known: ("first",)}


def arms_of(node: Node) -> tuple[str, ...]:
    return ARMS.get(type(node.payload), ())


def needed(style: CheckedStyle, extra: Iterable[int] = ()) -> tuple[int, ...]:
    """Nodes that results rest on, inputs first (a node is always made after its inputs)."""
    return closure(style.nodes, [*drawn_from(style), *_drafted(style), *style.fits.values(), *extra])


def _drafted(style: CheckedStyle) -> Iterator[int]:
    """The shapes of a style that cuts nothing yet: what is wrong in them would not be told else."""
    if not style.pieces:
        yield from (index for index in style.names.values() if isinstance(style.nodes[index].kind, PieceKind))


def drawn_from(style: CheckedStyle) -> tuple[int, ...]:
    """Nodes of the pieces, seams, checks and the specification: not those that are only held against the body."""
    checked = (check.node for check in (*style.checks, *style.tidings))
    return (*style.pieces.values(), *style.seams.values(), *style.attached.values(), *checked)


def closure(nodes: Sequence[Node], results: Iterable[int], known: Container[int] = ()) -> tuple[int, ...]:
    """Nodes that must be evaluated for results, inputs first; arms of choices are left to be asked for."""
    wanted: set[int] = set()
    todo = list(results)
    while todo:
        index = todo.pop()
        if index not in wanted and index not in known:
            wanted.add(index)
            node = nodes[index]
            lazily = arms_of(node)
            todo.extend(arg for name, arg in node.args.items() if name not in lazily)
    return tuple(sorted(wanted))


@dataclass(frozen=True)
class Inside:
    """What a solve evaluates, inputs first: `still` once, `moving`, which rests on the unknown, at every trial. `resting` is all
    that rests on it, arms of choices too."""

    still: tuple[int, ...]
    moving: tuple[int, ...]
    resting: frozenset[int]


def inside_of(nodes: Sequence[Node], unknown: int, told: frozenset[int]) -> Inside:
    """What a solve evaluates where the solves `told` are known: what rests on its unknown may do so by an arm of a choice or
    another solve."""
    sides = nodes[unknown].equation()
    users: dict[int, list[int]] = {}
    seen, todo = set(told), list(sides)
    while todo:
        index = todo.pop()
        if index not in seen:
            seen.add(index)
            for one in nodes[index].inputs():
                users.setdefault(one, []).append(index)
                todo.append(one)
    resting, todo = {unknown}, [unknown]
    while todo:
        found = [one for one in users.get(todo.pop(), ()) if one not in resting]
        resting.update(found)
        todo += found
    wanted = closure(nodes, sides, {unknown, *told})
    still, moving = (tuple(one for one in wanted if (one in resting) is moves) for moves in (False, True))
    return Inside(still, moving, frozenset(resting))
