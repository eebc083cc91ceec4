"""Seams as they are sewn: a sentence is sewn once for each half that all its edges have, or once where one spans both."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from ..pattern.ends import SIDES
from ..pattern.piece import Worn
from ..pattern.which_ends import Name
from .faults import Fault
from .panels import HALVES, Atom, Half, Layer, Lying, Pieces
from .said import SeamSaid


@dataclass(frozen=True)
class Stretch:
    """An edge of a run with the cloths of it that are sewn there, the outer first."""

    edge: Name
    layers: tuple[Layer, ...]


@dataclass(frozen=True)
class SewnOnce:
    """A seam as it is sewn once: the half it is on, None where it spans both or lies on neither, and its two sides."""

    seam: SeamSaid
    half: Half
    left: tuple[Stretch, ...]
    right: tuple[Stretch, ...]

    @property
    def name(self) -> str:
        return self.seam.name

    def stretches(self) -> tuple[Stretch, ...]:
        return (*self.left, *self.right)

    def turned(self) -> SewnOnce:
        """The same with the cloths of each edge that it names several times in the other order, which no sentence tells."""
        layers = {edge: [one.layers for one in self.stretches() if one.edge == edge][::-1] for edge in self.seam.edges}
        left, right = ([Stretch(one.edge, layers[one.edge].pop(0)) for one in run] for run in (self.left, self.right))
        return replace(self, left=tuple(left), right=tuple(right))

    @property
    def may_turn(self) -> bool:
        """Whether it is sewn once and names an edge several times, each time with other cloths."""
        named = [one.edge for one in self.stretches()]
        return self.half is None and self.seam.left != self.seam.right and len(set(named)) < len(named)


class Unsewable(Exception):
    """A seam that cannot be sewn as it is said."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.kind)
        self.fault = fault


def sewn(pieces: Pieces, seams: Sequence[SeamSaid]) -> tuple[list[SewnOnce], list[Fault]]:
    """All seams as often as they are sewn, in the order of the sentences, and what is wrong with those that cannot be."""
    taking, found, faults = _Taking(pieces, seams), list[SewnOnce](), list[Fault]()
    for seam in seams:
        try:
            found += taking.of(seam)
        except Unsewable as one:
            faults.append(replace(one.fault, of=seam.edges))
    return found, _each_cause(faults)


def laid_open(pieces: Pieces, seams: Sequence[SeamSaid]) -> Pieces:
    """The pieces, each that is folded and does not say which half is drawn laid open where it covers a part of the body, or a
    seam of one edge with one, or of one that runs up to its fold, is sewn on both of its halves. The long edge of a band that is
    folded lengthwise goes over both, as a whole one does: several are sewn to it."""
    folded = {name for name, piece in pieces.items() if piece.lying is Lying.DOUBLED and piece.count == 1}
    covering = {name for name in folded if pieces[name].said.piece.covers is not None}
    pieces, folded = _opened(pieces, covering), folded - covering
    alone = {seam.name for seam in seams if len(seam.edges) == 2}
    while folded:
        once = [one for one in sewn(pieces, seams)[1] if one.kind == "cut_once"]
        found = folded & {one.edges[0][0] for one in once if _lies_open(pieces, one, alone)}
        if not found:
            break
        pieces, folded = _opened(pieces, found), folded - found
    return pieces


def _lies_open(pieces: Pieces, once: Fault, alone: Collection[str]) -> bool:
    owner, edge = once.edges[0]
    on_fold = pieces[owner].ends_on_fold(edge)
    return on_fold == 1 or (once.sentences[0] in alone and not (once.pieces and pieces[owner].is_opposite_fold(edge)))


def _opened(pieces: Pieces, found: Collection[str]) -> Pieces:
    return Pieces.of({name: replace(one.said, laid_open=one.said.laid_open or name in found) for name, one in pieces.items()})


def _each_cause(faults: Sequence[Fault]) -> list[Fault]:
    """The faults, that a piece is cut once told at the first of its seams."""
    found: dict[object, Fault] = {}
    for one in faults:
        key = (one.kind, one.edges[0][0]) if one.kind == "cut_once" else one
        known = found.setdefault(key, one)
        found[key] = replace(known, of=(*known.of, *one.of))
    return list(found.values())


class _Taking:
    """Takes the cloths of each edge for the seams that name it."""

    def __init__(self, pieces: Pieces, seams: Sequence[SeamSaid]) -> None:
        self.pieces = pieces
        self.named = Counter(edge for seam in seams for edge in set(seam.edges))
        self.sentences: dict[tuple[Name, Half], dict[str, None]] = {}
        for seam in seams:
            for half in (*HALVES, None):
                if half is None or seam.worn not in HALVES or seam.worn == half:
                    for edge in seam.edges:
                        self.sentences.setdefault((edge, half), {})[seam.sentence] = None
        self.chained: dict[Name, list[Layer]] = {}  # of edges of panels sewn in a row, those at its ends

    def of(self, seam: SeamSaid) -> list[SewnOnce]:
        self._not_on_the_fold(seam)
        self._no_halves(seam)
        if seam.left == seam.right:
            return self._to_itself(seam)
        if len(seam.edges) == 2 and seam.left[0][0] == seam.right[0][0]:
            return self._within(seam)
        if max(Counter(seam.edges).values()) > 1:
            return [self._once_in_turn(seam)]
        return self._on_halves(seam)

    def _not_on_the_fold(self, seam: SeamSaid) -> None:
        for owner, edge in seam.edges:
            piece = self.pieces[owner]
            fold = piece.said.piece.fold if piece.folds_open else None
            if fold is not None and all(fold in side.names for side in piece.said.piece.sides(edge)):
                raise Unsewable(Fault("on_fold", (seam.name,), ((owner, edge),)))

    def _no_halves(self, seam: SeamSaid) -> None:
        """Edges that run up to the fold of a piece that says no side of the wearer, several to one that does not: each is sewn as
        long as it is drawn on both halves, and its sentence counts one."""
        for run, across in ((seam.left, seam.right), (seam.right, seam.left)):
            short = [self._ends_on_fold(edge) for edge in run]
            if len(run) > 1 and all(short) and not any(map(self._ends_on_fold, across)):
                raise Unsewable(Fault("half_counted", (seam.name,), tuple(dict.fromkeys(run))))

    def _ends_on_fold(self, edge: Name) -> bool:
        piece = self.pieces[edge[0]]
        return piece.lying is Lying.DOUBLED and piece.ends_on_fold(edge[1]) == 1

    # ---- an ordinary seam ---------------------------------------------------------------------

    def _on_halves(self, seam: SeamSaid) -> list[SewnOnce]:
        options = {edge: self._layers(edge, seam) for edge in seam.edges}
        spans = [edge for edge, layers in options.items() if None in layers and self.pieces[edge[0]].lying is Lying.CENTRED]
        if spans and seam.worn in (None, "both"):
            return [self._spanning(seam, options)]
        if seam.worn == "both":
            return [self._of_half(seam, half, options) for half in HALVES]
        halves = [half for half in HALVES if all(half in layers or None in layers for layers in options.values())]
        sided = [edge for edge, layers in options.items() if None not in layers]
        if not sided:
            return [SewnOnce(seam, None, *self._sides(seam, options))]
        if seam.worn is not None:
            halves = [half for half in halves if half == seam.worn]
        if not halves:
            raise Unsewable(Fault("left_to_right", (seam.name,), tuple(sided)))
        single = [edge for edge, layers in options.items() if None in layers]
        if len(halves) > 1 and single:
            folded = [owner for owner, _ in sided if self.pieces[owner].folds_open]
            raise Unsewable(self._once(seam, single[0], folded))
        return [self._of_half(seam, half, options) for half in halves]

    def _once(self, seam: SeamSaid, edge: Name, folded: Sequence[str]) -> Fault:
        count = self.pieces[edge[0]].count
        return Fault("cut_once", (seam.name,), (edge,), (count,), tuple(dict.fromkeys(folded)))

    def _layers(self, edge: Name, seam: SeamSaid) -> Mapping[Half, Sequence[Layer]]:
        """The cloths of an edge that go into a seam: all, or where it is on a half in as many seams as it has layers there one
        into each."""

        def own(half: Half, layers: Sequence[Layer]) -> Sequence[Layer]:
            names = [*self.sentences.get((edge, half), ())]
            share = len(names) > 1 and len(layers) == len(names) and seam.sentence in names
            return [layers[names.index(seam.sentence)]] if share else layers

        owner, name = edge
        return {half: own(half, layers) for half, layers in self.pieces[owner].layers(name).items()}

    def _sides(
        self, seam: SeamSaid, options: Mapping[Name, Mapping[Half, Sequence[Layer]]]
    ) -> tuple[tuple[Stretch, ...], tuple[Stretch, ...]]:
        runs = (seam.left, seam.right)
        left, right = (tuple(Stretch(edge, self._all(edge, options[edge][None])) for edge in run) for run in runs)
        return left, right

    def _all(self, edge: Name, layers: Sequence[Layer]) -> tuple[Layer, ...]:
        """The cloths of an edge that a seam takes which names it once: of many panels alike, one after the other, only one."""
        many = self.pieces[edge[0]].lying is Lying.ALIKE and self.pieces[edge[0]].count > len(HALVES)
        return tuple(layers[:1] if many else layers)

    def _of_half(self, seam: SeamSaid, half: Worn, options: Mapping[Name, Mapping[Half, Sequence[Layer]]]) -> SewnOnce:
        """The seam on one half; written for one and sewn on both, of a whole piece the same edge of the other half."""

        def stretch(edge: Name) -> Stretch:
            layers = options[edge]
            if half not in layers and None not in layers:
                written, edge = edge, self._twin(edge)
                layers = self._layers(edge, seam)
                there = self.pieces[edge[0]].said.piece.sides(edge[1])
                if not there or (half not in layers and None not in layers):
                    raise Unsewable(self._once(seam, written, ()))
            return Stretch(edge, tuple(layers.get(half, layers.get(None, ()))))

        left, right = (tuple(stretch(edge) for edge in run) for run in (seam.left, seam.right))
        return SewnOnce(seam, half, left, right)

    def _twin(self, edge: Name) -> Name:
        """The same edge of the other half of a whole piece, which unfolding called so."""
        owner, name = edge
        one = next((k for k, side in enumerate(SIDES) if name.startswith(side)), None)
        return edge if one is None else (owner, SIDES[1 - one] + name.removeprefix(SIDES[one]))

    def _spanning(self, seam: SeamSaid, options: Mapping[Name, Mapping[Half, Sequence[Layer]]]) -> SewnOnce:
        """A seam with an edge that spans both halves: all cloths of each edge go into it."""

        def layers(edge: Name) -> tuple[Layer, ...]:
            return tuple(dict.fromkeys(layer for each in options[edge].values() for layer in each))

        def run(edges: Sequence[Name]) -> Iterator[Stretch]:
            for edge in edges:
                if self.pieces[edge[0]].lying in (Lying.PAIR, Lying.CENTRED) and set(options[edge]) == set(HALVES):
                    yield from (Stretch(edge, tuple(options[edge][half])) for half in HALVES)
                else:
                    yield Stretch(edge, layers(edge))

        return SewnOnce(seam, None, tuple(run(seam.left)), tuple(run(seam.right)))

    # ---- edges named more than once -----------------------------------------------------------

    def _once_in_turn(self, seam: SeamSaid) -> SewnOnce:
        """A seam that names an edge several times: each time the next of its cloths; an edge named once with all it has there."""
        many, turns = Counter(seam.edges), dict[Name, Iterator[list[Layer]]]()

        def stretch(edge: Name) -> Stretch:
            if many[edge] == 1:
                return Stretch(edge, self._all(edge, [layer for each in self._free(edge, seam) for layer in each]))
            turn = turns.setdefault(edge, iter(self._free(edge, seam)))
            layers = next(turn, None)
            if layers is None:
                raise Unsewable(Fault("too_few", (seam.name,), (edge,), (many[edge], self.pieces[edge[0]].count)))
            return Stretch(edge, tuple(layers))

        left, right = ([stretch(edge) for edge in run] for run in (seam.left, seam.right))
        return SewnOnce(seam, None, tuple(left), tuple(right))

    def _free(self, edge: Name, seam: SeamSaid) -> list[list[Layer]]:
        """The cloths of an edge one after the other: by half, or panel by panel; of a row of panels those that are left."""
        if edge in self.chained:
            return [[layer] for layer in self.chained[edge]]
        layers = self._layers(edge, seam)
        if None in layers and self.pieces[edge[0]].lying is Lying.ALIKE:
            return [[layer] for layer in layers[None]]
        return [list(each) for each in layers.values()]

    # ---- an edge to itself, two edges of one piece ----------------------------------------------

    def _to_itself(self, seam: SeamSaid) -> list[SewnOnce]:
        """Of two layers outside to inside, else left to right at a centre."""
        options = {edge: self._layers(edge, seam) for edge in seam.left}
        wanted = [half for half in (*HALVES, None) if all(half in layers for layers in options.values())]
        layered = [half for half in wanted if all(len(layers[half]) > 1 for layers in options.values())]
        if seam.worn in HALVES:
            layered = [half for half in layered if half in (seam.worn, None)]
        if layered:
            return [
                SewnOnce(seam, half, *(tuple(Stretch(e, (options[e][half][k],)) for e in seam.left) for k in (0, 1)))
                for half in layered
            ]
        if all(half in layers for layers in options.values() for half in HALVES):
            sides = (tuple(Stretch(edge, tuple(options[edge][half])) for edge in seam.left) for half in HALVES)
            return [SewnOnce(seam, None, *sides)]
        raise Unsewable(Fault("no_other", (seam.name,), (seam.left[0],)))

    def _within(self, seam: SeamSaid) -> list[SewnOnce]:
        """Two edges of one piece: each panel closed, or panels in a row where both edges stand in another seam too."""
        (one,), (two,) = seam.left, seam.right
        piece = self.pieces[one[0]]
        whole = SewnOnce(seam, None, (Stretch(one, ()),), (Stretch(two, ()),))
        panels = range(piece.count)
        if piece.lying is Lying.ALIKE and piece.count > 1 and all(self.named[edge] > 1 for edge in (one, two)):
            self.chained[one], self.chained[two] = [Layer(panels[-1])], [Layer(0)]
            return [_with_layers(whole, None, Layer(n), Layer(n + 1)) for n in panels[:-1]]
        copies = (0, 1) if piece.folds_open else (0,)
        return [_with_layers(whole, piece.half_of(n), Layer(n, copy), Layer(n, copy)) for n in panels for copy in copies]


def _with_layers(seam: SewnOnce, half: Half, left: Layer, right: Layer) -> SewnOnce:
    one, two = replace(seam.left[0], layers=(left,)), replace(seam.right[0], layers=(right,))
    return replace(seam, half=half, left=(one,), right=(two,))


def atoms(pieces: Pieces, run: Sequence[Stretch]) -> list[Atom]:
    """The sides of all cloths of a run."""
    return [atom for stretch in run for layer in stretch.layers for atom in pieces.atoms_of(stretch.edge, layer)]
