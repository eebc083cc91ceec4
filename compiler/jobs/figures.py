"""Figures of the reference: what each example does, before and after, drawn from the example itself."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import PurePath
from typing import Any

import numpy as np

from ..drawing.figure import FigureContent, figure, side_by_side
from ..drawing.wording import cut_words, remark_words
from ..geometry.path import Path
from ..meaning.payloads import Apex, DartOn, EdgeOf, Landmark
from ..meaning.style import CheckedStyle
from ..output.svg import svg_text
from ..pattern.piece import Piece
from ..pattern.slash import drawn_cut
from ..verbs.kinds import QUANTITIES
from ..verbs.registry import Verb, verbs
from ..verbs.slash_lines import placed
from ..verbs.values import Cuts, Edge, Run, Seam
from .examples import Example, example, values, without
from .vocabulary import LibraryRecipe, has_figure, recipes

MOST_NEW = 12
"""New names written on one figure: more than these say no more."""


def figures(word: str = "") -> dict[str, str]:
    """Figures as texts of SVG files, by the name of their verb or recipe: of one, or of all."""
    wanted: dict[str, Callable[[], FigureContent]] = {
        verb.name: partial(_of_verb, verb) for verb in verbs().values() if has_figure(verb.example, verb.statement)
    }
    wanted |= {recipe.name: partial(_of_recipe, recipe) for recipe in recipes() if recipe.is_drawn}
    found: dict[str, str] = {}
    for name, shown in wanted.items():
        if word in ("", name):
            try:
                found[name] = svg_text(figure(shown(), name))
            except AssertionError as wrong:
                wrong.add_note(f"in the example of `{name}`")
                raise
    return found


def figure_files(folder: str, word: str = "") -> dict[str, bytes]:
    """The figures by the paths they are written to."""
    return {str(PurePath(folder) / f"{name}.svg"): text.encode("utf-8") for name, text in figures(word).items()}


def _of_verb(verb: Verb) -> FigureContent:
    made = example(verb.example, verb.statement)
    assert made.style is not None, made.problems
    if verb.statement:
        return _of_block(made, verb.name)
    if made.made not in made.style.names:
        return _of_several(made)
    return _of_definition(made, made.style.names[made.made])


def _of_several(made: Example) -> FigureContent:
    """A verb that gives several pieces: these side by side, each called by the first of its roles."""
    assert made.style is not None
    roles: dict[int, str] = {}
    for name, node in made.style.names.items():
        if name.startswith(f"{made.made}."):
            roles.setdefault(node, name.removeprefix(f"{made.made}."))
    found = values(made.style, list(roles))
    pieces = side_by_side([value for value in found if isinstance(value, Piece)])
    names = dict.fromkeys(name for piece in pieces for name in piece.edge_names() if "." not in name)
    return FigureContent(made.sentence, new=pieces, names=tuple(names), called=tuple(roles.values()))


def _of_recipe(recipe: LibraryRecipe) -> FigureContent:
    """A use of a recipe: of a block all pieces it gives side by side, or where it gives none its points."""
    made = example(recipe.example, use=recipe.use)
    assert made.style is not None, made.problems
    if recipe.recipe.kind.text != "block":
        return _of_definition(made, made.style.names[made.made])
    given = {name: made.style.names[f"{made.made}.{name}"] for kind, name in recipe.gives if kind in ("shape", "point")}
    found = dict(zip(given, values(made.style, list(given.values())), strict=True))
    pieces = side_by_side([value for value in found.values() if isinstance(value, Piece)])
    points = {} if pieces else {name: value[0] for name, value in found.items() if isinstance(value, np.ndarray)}
    called = tuple(name for name, value in found.items() if isinstance(value, Piece))
    names = dict.fromkeys(name for piece in pieces for name in piece.edge_names() if "." not in name)
    return FigureContent(made.sentence, new=pieces, made_points=points, names=tuple(names), called=called)


def _of_block(made: Example, verb: str) -> FigureContent:
    """A sentence of a block: the piece without it and with it."""
    assert made.style is not None
    before, after = (values(style, [style.names[made.made]])[0] for style in (without(), made.style))
    assert isinstance(before, Piece)
    assert isinstance(after, Piece)
    said = _said(made.style, _stated(made.style, made.style.names[made.made], verb))
    cutting = bool(after.finish.allowances)
    return FigureContent(
        made.sentence,
        old=() if cutting else (before,),
        new=(after,),
        cutting=cutting,
        names=_named([before], after, said),
        words=_words(before, after),
    )


def _stated(style: CheckedStyle, node: int, verb: str) -> int:
    """The node of the last sentence of a block with this verb: statements follow each other by their piece."""
    while style.nodes[node].verb != verb:
        node = style.nodes[node].args["piece"]
    return node


def _words(before: Piece, after: Piece) -> tuple[str, ...]:
    """What a sentence of a block says in words on the piece."""
    rows = ["; ".join(cut_words(after))] if cut_words(after) != cut_words(before) else []
    rows += [] if after.worn == before.worn else [f"worn {after.worn}"]
    return (*rows, *(remark_words(one, "cm") for one in after.finish.remarks[len(before.finish.remarks) :]))


def _of_definition(made: Example, node: int) -> FigureContent:
    """A definition: what its sentence names, and what it gives."""
    style = made.style
    assert style is not None
    found = dict(_inputs(style, node, made.made))
    (result, *given) = values(style, [node, *found.values()])
    inputs = dict(zip(found, given, strict=True))
    pieces = [value for value in inputs.values() if isinstance(value, Piece)]
    fields: dict[str, Any] = {
        "points": {name: value[0] for name, value in inputs.items() if isinstance(value, np.ndarray) and value.ndim == 2},
        "guides": {name: value for name, value in inputs.items() if isinstance(value, Path)},
        "names": tuple(dict.fromkeys(_said(style, node))),
        "old": tuple(pieces),
        "cuts": tuple(line for value in (result, *given) if isinstance(value, Cuts) for line in _cut_lines(value)),
    }
    match result:
        case Piece():
            fields |= {"new": (result,), "names": _named(pieces, result, fields["names"])}
        case Seam():
            edges = [*_edges(result.left), *_edges(result.right)]
            apart = {edge.piece.ring[0].drawn.controls.tobytes(): edge.piece for edge in edges}  # each piece once
            names = tuple(dict.fromkeys(edge.name for edge in edges))
            fields |= {"new": side_by_side(list(apart.values())), "old": (), "names": names, "sewn": names}
        case Cuts():
            fields |= {"new": (result.piece,), "old": ()}
        case Path():
            fields |= {"made_lines": {made.made: result}}
        case np.ndarray() if result.ndim == 2:
            fields |= {"made_points": {made.made: result[0]}}
    return FigureContent(made.sentence, **fields)


def _edges(sewn: Edge | Run) -> tuple[Edge, ...]:
    return sewn.edges if isinstance(sewn, Run) else (sewn,)


def _cut_lines(cuts: Cuts) -> list[np.ndarray[Any, np.dtype[np.float64]]]:
    return [drawn_cut(cuts.piece, cut)[0] for cut in placed(cuts.piece, cuts)]


def _inputs(style: CheckedStyle, node: int, made: str) -> Iterator[tuple[str, int]]:
    """The named values a definition is made from: name and node, in the order of the sentence, without its own parts.
    What is only measured for it is not part of the picture."""
    names = {index: name for name, index in reversed(list(style.names.items())) if not f"{name}.".startswith(f"{made}.")}
    for arg in style.nodes[node].args.values():
        if arg in names:
            yield names[arg], arg
        elif style.nodes[arg].kind not in QUANTITIES:
            yield from _inputs(style, arg, made)


def _said(style: CheckedStyle, node: int) -> Iterator[str]:
    """Names of pieces that a sentence says: edges, darts and points, bare or behind the name of a piece."""
    at = style.nodes[node]
    yield from (value for value in at.words.values() if isinstance(value, str))
    for several in ("edges", "ends"):
        yield from at.words.get(several, ())
    for arg in at.args.values():
        inner = style.nodes[arg].payload
        if isinstance(inner, EdgeOf | DartOn | Landmark | Apex):
            yield inner.name
        elif style.origins[arg].sentence == style.origins[node].sentence:
            yield from _said(style, arg)


def _named(before: Sequence[Piece], after: Piece, said: Iterator[str] | Sequence[str]) -> tuple[str, ...]:
    """The names to be written: those the sentence says, then those that are new, parts of edges last."""
    known = {name for piece in before for name in (*piece.edge_names(), *piece.dart_names(), *piece.points)}
    edges = after.edge_names()
    parts = [name for name in edges if name.rpartition(".")[0] in edges]
    inner = [side.names[-1] for side in after.lines]
    found = dict.fromkeys([*after.dart_names(), *after.points, *inner, *(name for name in edges if name not in parts), *parts])
    new = [name for name in found if name not in known]
    return tuple(dict.fromkeys([*said, *new[:MOST_NEW]]))
