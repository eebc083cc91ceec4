"""The words for what is wrong with a garment as it is sewn together. Codes E601 to E661, W605 to W652."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

from .diagnostic import Diagnostic, Label, Severity, Span
from .suggest import either

TURNED_ROUND = "E623"
"""What is told where the strokes of notches show that a piece is turned round."""

WHY: Mapping[str, str] = {
    "said": "its sentence says so",
    "caught": "it is caught in that",
    "run_over": "the run goes on over it",
    "faced_over": "the edge is faced over it",
    "as_one": "both cross one seam at one place",
    "set_into": "the closure is set into it",
    "closes_over": "the closure goes on over it",
    "covers": "it covers the end of the closure",
    "finished": "it is done when its piece is sewn in",
    "mounted": "it is mounted while its pieces lie flat",
    "shut": "darts are shut first",
    "flat": "it is sewn on while the piece lies flat",
    "turned_through": "the layers are turned right side out before that shuts them",
    "taken_along": "its end is taken along in that",
    "laid": "pleats are laid first",
    "gathered": "gathering threads are run first",
    "turned": "ends are turned in first",
    "hemmed": "its mouth is hemmed before the piece is sewn on",
}
"""Why a step of sewing comes before another."""


def ends_in_nothing(span: Span, edges: Sequence[str], half: str | None, hint: str) -> Diagnostic:
    """`hint` is what the edges beside it, or that of the other half, tell of the fix."""
    where = f" on the {half}" if half else ""
    verb, it = ("ends", "it ends") if len(edges) == 1 else ("end", "they end")
    return Diagnostic(
        "E601",
        f"{either(edges, 'and')} {verb} in nothing{where}: no seam, no hem, no binding",
        span,
        fix=hint or f"add the seam, or say how {it}: in a way of sewing, `sewing hemmed … on {edges[0]}`, or bare, "
        f"`allow 0 cm on {_own(edges[0])}`; or that it is left to another garment, `unsewn {_own(edges[0])}`",
        data={"of": tuple(edges)},
    )


def _own(edge: str) -> str:
    return edge.partition(".")[2]


def its_twin_is_sewn(edge: str, seam: str) -> str:
    return f"the same edge on the other half is in `{seam}`: add `on both` to that, or name both in it"


def lies_on_sewn(across: str, seam: str) -> str:
    return f"it lies on `{across}`, which is sewn in `{seam}`: sew it to the facing beside it there, or say how it ends"


def sewn_twice(span: Span, other: Span, edge: str, seams: Sequence[str]) -> Diagnostic:
    return Diagnostic(
        "E602",
        f"`{edge}` is sewn twice: in {either(seams, 'and')}",
        span,
        fix=f"an edge of one layer takes one seam; where it is laid on before the other is sewn, say `caught_in {seams[1]}`; a "
        "piece that lies under it, as a facing or the bag of a pocket, says `lies inside`; a side that stops at a "
        "pocket is two seams, above and below",
        labels=(Label(other, "and here"),),
        data={"of": (edge, *seams)},
    )


def seam_and_hem(span: Span, other: Span, edge: str, way: str, seam: str) -> Diagnostic:
    how = f"is also sewn by itself, as `{way}`" if way else "is said to be left unsewn"
    return Diagnostic(
        "E603",
        f"`{edge}` is in seam `{seam}` and {how}",
        span,
        fix="an edge ends in one way: take it out of one of them",
        labels=(Label(other, "here too"),),
        data={"of": (edge, way, seam)},
    )


def left_to_right(span: Span, seam: str, edges: Sequence[str]) -> Diagnostic:
    return Diagnostic(
        "E604",
        f"seam `{seam}` sews a left to a right: {either(edges, 'and')}",
        span,
        fix="name edges of the same side; a bare name, as `side`, is both",
        data={"of": seam},
    )


def no_other(span: Span, seam: str, edge: str) -> Diagnostic:
    piece = edge.partition(".")[0]
    return Diagnostic(
        "E608",
        f"seam `{seam}` sews `{edge}` to itself, and `{piece}` is cut once: there is no other to sew it to",
        span,
        fix=f"cut `{piece}` as a pair, or name the edge it is sewn to",
        data={"of": seam},
    )


def cut_once(span: Span, seam: str, edge: str, halves: Sequence[str], count: int) -> Diagnostic:
    """`halves` are the pieces of the seam that lie on the fold, each sewn on the left and on the right; `count` is how many are
    cut of the piece, all alike."""
    piece = edge.partition(".")[0]
    fix = "cut two, as a pair if they are not alike turned over; or say in the seam which side it is on: `on left`, `right`"
    if count > 1:
        fix = f"cut half of them turned over, `cut {count} as pair`" if count % 2 == 0 else "cut as many for each side"
        fix += "; or say in the seam which side it is on: `on left`, `right`"
    elif halves:
        verb = "is a half" if len(halves) == 1 else "are halves"
        fix = f"{either(halves, 'and')} {verb} on the fold, and `{edge}` goes over both: `unfold {halves[0]}`, whose edge is "
        fix += "whole; or name the edge of each half twice, in the order in which they are sewn"
    told = f"`{piece}` is cut {_times(count)}" + (", all alike and none of them for one side" if count > 1 else "")
    return Diagnostic(
        "E609",
        f"{told}, but seam `{seam}` is sewn on the left and on the right",
        span,
        fix=fix,
        data={"of": (seam, piece)},
    )


def half_counted(span: Span, seam: str, edges: Sequence[str]) -> Diagnostic:
    owners, run = [edge.partition(".")[0] for edge in edges], "runs" if len(edges) == 1 else "run"
    return Diagnostic(
        "E632",
        f"seam `{seam}` counts halves: {either(edges, 'and')} {run} up to the fold, and on the cloth there is twice as much",
        span,
        fix=f"`unfold` {either(owners, 'and')}, so that the edge is whole; or write in the braces of `{owners[0]}` which half is "
        "drawn, `worn left` or `worn right`, and name its edge twice in the seam",
        data={"of": seam},
    )


def too_few(span: Span, seam: str, edge: str, named: int, there: int) -> Diagnostic:
    return Diagnostic(
        "E625",
        f"seam `{seam}` names `{edge}` {named} times, and fewer are free there: `{edge.partition('.')[0]}` is cut {there} times",
        span,
        fix="cut as many as are sewn, or name the edge so often as it is there",
        data={"of": (seam, edge)},
    )


def on_fold(span: Span, seam: str, edge: str) -> Diagnostic:
    piece = edge.partition(".")[0]
    return Diagnostic(
        "E622",
        f"seam `{seam}` sews `{edge}`, which lies on the fold: there is no edge there",
        span,
        fix=f"cut `{piece}` as a pair, or take the seam away",
        data={"of": (seam, edge)},
    )


def two_things(span: Span, pieces: Sequence[str], things: int, loose: Sequence[str], caught: Sequence[str]) -> Diagnostic:
    """`loose` are the edges that end in nothing by it, `caught` seams of these pieces alone that say in which they are caught."""
    verb, it = ("is", "it is") if len(pieces) == 1 else ("are", "they are")
    note = f"in no seam: {either(loose, 'and')}" if loose else ""
    fix = f"add the seam; or say in the piece that {it} worn alone, as a belt: `lies apart`"
    if caught:
        note = f"`caught_in` of `{caught[0]}` tells when it is sewn, not to what"
        fix = f"write the seam that sews {either(pieces, 'and')} on, as `seam NAME joins {pieces[0]}.neckline to …`"
    return Diagnostic(
        "E611",
        f"{either(pieces, 'and')} {verb} sewn to nothing of the rest: the style makes {things} things",
        span,
        note=note,
        fix=fix,
        data={"of": tuple(pieces)},
    )


def not_fastened(spans: Sequence[Span], pieces: Sequence[str], edges: Sequence[str]) -> Diagnostic:
    verb, it = ("is", "it") if len(edges) == 1 else ("are", "them")
    return Diagnostic(
        "W621",
        f"{either(edges, 'and')} {verb} turned in, and nothing fastens {it}",
        spans[0],
        fix="sew them together, or put `buttons` and `buttonholes` on them, or a `closure` in one",
        severity=Severity.WARNING,
        labels=tuple(Label(one, "and here") for one in spans[1:]),
        data={"of": tuple(pieces)},
    )


def spare(span: Span, other: Span, piece: str, seam: str, cut: int, layers: int) -> Diagnostic:
    """`layers` of the panels that are cut lie on each other in every seam."""
    each = "both" if layers == 2 else f"all {layers}"
    write = f"cut {cut // layers}" + (" as pair" if cut > layers else "")
    return Diagnostic(
        "E633",
        f"`{piece}` is cut {_times(cut)}, but its seams use it {_times(cut // layers)}: {each} lie on each other in every seam",
        span,
        fix=f"write `{write}`; a lining or an interlining is a cut `in` its own cloth; a second layer that is meant is a piece "
        "of its own that `lies inside`",
        labels=(Label(other, "as here, where nothing tells one from the other"),),
        data={"of": piece},
    )


def _times(count: int) -> str:
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def closed_bag(spans: Sequence[Span], seams: Sequence[str], lining: Sequence[str]) -> Diagnostic:
    """`seams` sew the lining to what it lies behind, the last of them first."""
    return Diagnostic(
        "E637",
        f"the right side cannot be turned out: {either(lining, 'and')} and what is worn before are sewn right sides together "
        "all round, and no part of a seam is left open",
        spans[0],
        fix="leave a hand's breadth open in one of these seams, or in one of the lining: name a part of its edges there, "
        "`between` two places, and close the rest in a seam of its own, by hand: `sewing felled stitch 202`",
        labels=tuple(Label(one, "this too") for one in spans[1:]),
        data={"of": tuple(seams)},
    )


def sewn_shut(span: Span, other: Span, seams: Sequence[str], edges: Sequence[str]) -> Diagnostic:
    bag, edge = edges
    return Diagnostic(
        "E615",
        f"seam `{seams[0]}` sews both layers of `{bag}` to `{edge}`: it is shut, and nothing lies across in `{seams[1]}`",
        span,
        fix=f"sew the other layer to the edge across, in a seam of its own: `joins {bag} to …`",
        labels=(Label(other, "the seam it opens in"),),
        data={"of": (*seams, bag)},
    )


def facing_shut(span: Span, other: Span, seams: Sequence[str], edge: str) -> Diagnostic:
    seam, closure = seams
    return Diagnostic(
        "E634",
        f"closure `{closure}` opens the edge that is faced, and seam `{seam}` sews the facing shut across it",
        span,
        fix=f"leave `{edge}` open there, turned in along the closure: sew only the other half, with `on left` or "
        "`on right` of a facing cut as a pair, or by the names of its edges, as `right_side`; else take the seam away",
        labels=(Label(other, "opens from this edge"),),
        data={"of": (*seams, edge)},
    )


def facing_whole(span: Span, other: Span, both: Sequence[str], edge: str) -> Diagnostic:
    facing, closure = both
    return Diagnostic(
        "E638",
        f"closure `{closure}` opens the edge that is faced, and `{facing}` goes on in one piece across it: it stays shut",
        span,
        fix=f"cut `{facing}` in two halves, `cut 2 as pair`, with an allowance where `{edge}` ends, turned in along the closure",
        labels=(Label(other, "opens the edge that is faced"),),
        data={"of": (facing, closure)},
    )


def opening_shut(span: Span, seam: str, edges: Sequence[str]) -> Diagnostic:
    verb = "is marked as an opening" if len(edges) == 1 else "are marked as openings"
    owner, _, edge = edges[0].partition(".")
    return Diagnostic(
        "E635",
        f"seam `{seam}` is sewn over {either(edges, 'and')}, which {verb}: it is shut",
        span,
        fix=f"let the seam stop there: one seam up to `{edge}` and one beyond it, each of a part of the edge, as "
        f"`{owner}.side between waistline and mouth_top`; what a zip or buttons open there is said in a `closure`",
        data={"of": (seam, *edges)},
    )


def strip_open(span: Span, other: Span, sentences: Sequence[str], edges: Sequence[str]) -> Diagnostic:
    piece, seam = sentences
    return Diagnostic(
        "W636",
        f"`{piece}` goes all round in `{seam}`: its ends, {either(edges, 'and')}, meet there, bare, and nothing joins them",
        span,
        fix=f"join them, `seam {piece}_ends joins {edges[0]} to {edges[1]}`, with an allowance",
        severity=Severity.WARNING,
        labels=(Label(other, "sewn on here"),),
        data={"of": (piece, seam)},
    )


def wrong_hand(span: Span, other: Span, wrong: str, right: str, only_named: bool) -> Diagnostic:
    """`only_named` where its cloth comes out right and only what is called left is right."""
    comes = "what is called left on one of them is worn on the right" if only_named else "one comes out wrong side out"
    return Diagnostic(
        "W605" if only_named else "E605",
        f"`{wrong}` and `{right}` are drawn for the same hand: sewn as the seams say, {comes}",
        span,
        fix="say in the half it is drawn as on which side that is worn: as a rule `worn left` for a front, `right` for a back",
        labels=(Label(other, "and this one"),),
        severity=Severity.WARNING if only_named else Severity.ERROR,
        data={"of": (wrong, right)},
    )


def twist(spans: Sequence[Span], seams: Sequence[str], pieces: Sequence[str]) -> Diagnostic:
    """`seams` are those of a round of seams that do not go together with the rest of it."""
    what, twist, it = ("seam", "twists", "it names") if len(seams) == 1 else ("seams", "twist", "they name")
    return Diagnostic(
        "E610",
        f"{what} {either(seams, 'and')} {twist} the cloth: with the edges beside sewn as they are, {either(pieces, 'or')} shows "
        "its wrong side",
        spans[0],
        fix=f"look at which edges {it}, and which ends of them meet: a notch of one name on both tells",
        labels=tuple(Label(one, "and here") for one in spans[1:]),
        data={"of": tuple(seams)},
    )


def unmet(span: Span, seam: str, one: str, two: str) -> Diagnostic:
    return Diagnostic(
        "E612",
        f"seam `{seam}` runs on from `{one}` to `{two}`, but these are not sewn together where they meet",
        span,
        fix="add that seam, or write two",
        data={"of": (seam, one, two)},
    )


def which_side(span: Span, other: Span, closure: str, seam: str) -> Diagnostic:
    return Diagnostic(
        "E613",
        f"closure `{closure}` is set into `{seam}`, which is sewn on the left and on the right: into which is not said",
        span,
        fix="write `on left` or `on right`; `on both` where there are two of it; of a front worn open name the edge that is shut "
        "over the other, as the fold of its band: `in PIECE.EDGE`",
        labels=(Label(other, "sewn on both sides"),),
        data={"of": (closure, seam)},
    )


def not_reached(span: Span, closure: str) -> Diagnostic:
    return _shut(span, closure, "ends at no opening: what lies between is sewn shut")


def begins_nowhere(span: Span, closure: str) -> Diagnostic:
    return _shut(span, closure, "opens from its upper end, and no opening is there: what lies above is sewn shut")


def _shut(span: Span, closure: str, how: str) -> Diagnostic:
    return Diagnostic(
        "E614",
        f"closure `{closure}` {how}",
        span,
        fix="let it run on through all that is between: name the edges one after the other with `+`, as in "
        "`in (band.left_side + front.left_side)`; one that begins further down or opens from below is set into a part of "
        "the edge, `in back.centre between vent_end and hem`",
        data={"of": closure},
    )


def other_girth(span: Span, closure: str, stated: str, opening: str, girth: str, laps: bool) -> Diagnostic:
    """`laps`: the edges it closes may lie over each other."""
    lapped = "; where its edges lie over each other, as those of a wrap, say how far: `lapping 20 cm`" if laps else ""
    return Diagnostic(
        "W629",
        f"closure `{closure}` is said to widen {stated}, but what it opens, {opening}, is {girth} round "
        f"{'from edge to edge' if laps else 'when it is closed'}",
        span,
        fix="write behind `which_widens` what is measured round there: whether all that must pass does is reckoned from it"
        f"{lapped}",
        severity=Severity.WARNING,
        data={"of": (closure, opening)},
    )


def too_soon(span: Span, other: Span, first: str, second: str) -> Diagnostic:
    return Diagnostic(
        "E616",
        f"seam `{first}` is to be sewn after `{second}`, but that one runs over it and needs it done",
        span,
        fix="take the `after` that says so away; where none does, sew the layers to each other, and catch that in this seam with "
        "`caught_in`",
        labels=(Label(other, "this one runs over it"),),
        data={"of": (first, second)},
    )


def between(span: Span, others: Sequence[Span], seam: str, crossing: Sequence[str]) -> Diagnostic:
    return Diagnostic(
        "E617",
        f"seam `{seam}` crosses {either(crossing, 'and')}, and comes after the one and before the other",
        span,
        fix="sew both before it (in the round), or both after it in one go (flat)",
        labels=tuple(Label(one, "crosses it") for one in others),
        data={"of": (seam, *crossing)},
    )


def written_in_two(span: Span, other: Span, seams: Sequence[str], over: str) -> Diagnostic:
    one, two = seams
    return Diagnostic(
        "E618",
        f"seams `{one}` and `{two}` are sewn over `{over}`, the one on into the other: neither can be done before the other",
        span,
        fix=f"write them as one seam, each side with `+`, behind `{over}`, as for a cap: "
        "`seam … eases sleeve.front_cap + sleeve.back_cap to front.armhole + back.armhole`",
        labels=(Label(other, "goes on into it"),),
        data={"of": (one, two, over)},
    )


def turned_round(span: Span, seam: str, piece: str, edges: tuple[str, str], strokes: tuple[int, int]) -> Diagnostic:
    mine, its = ("one stroke" if one == 1 else f"{one} strokes" for one in strokes)
    return Diagnostic(
        TURNED_ROUND,
        f"in seam `{seam}` a notch of {mine} meets one of {its}: as its strokes stand, `{piece}` is turned round",
        span,
        note=f"`{edges[0]}` is sewn to `{edges[1]}`",
        fix="change which edges meet, or the strokes",
        data={"of": seam},
    )


def no_sheet(span: Span, seam: str) -> Diagnostic:
    return Diagnostic(
        "W624",
        "the seams do not come out as one sheet with its openings",
        span,
        fix=f"look at the ends that meet in `{seam}` and beside it",
        severity=Severity.WARNING,
    )


def hem_not_sewn(span: Span, edges: Sequence[str], idle: str) -> Diagnostic:
    """`idle` is a way of sewing by which nothing is sewn, "" where there is none."""
    verb = "is" if len(edges) == 1 else "are"
    on = f"`on {' + '.join(edges)}`"
    return Diagnostic(
        "W626",
        f"{either(edges, 'and')} {verb} turned up, and nothing says how that is sewn",
        span,
        fix=f"add {on} to `sewing {idle}`" if idle else f"add it to the way of sewing: `sewing hemmed …` {on}",
        severity=Severity.WARNING,
        data={"of": tuple(edges)},
    )


def way_idle(spans: Sequence[Span], ways: Sequence[str]) -> Diagnostic:
    return Diagnostic(
        "W627",
        f"nothing is sewn by {either(ways, 'and')}: no seam names it, and it is on no edge",
        spans[0],
        fix=f"name it in a seam, `sewn {ways[0]}`, or say on which edge it is, `on piece.edge`; else take it away",
        severity=Severity.WARNING,
        labels=tuple(Label(one, "nor by this") for one in spans[1:]),
        data={"of": tuple(ways)},
    )


def exchanged(spans: Sequence[Span], seams: Sequence[str], edges: Sequence[str], unsaid: Sequence[str]) -> Diagnostic:
    """`edges`: of each seam that of the facing and the first one it lies on; `unsaid` are facings only by their cloth."""
    cloth = f"; {either(unsaid, 'and')}, in another cloth than most, is taken to lie inside: worn outside, cut it in that"
    of = [f"`{facing}` to `{on}`" for facing, on in zip(edges[::2], edges[1::2], strict=True)]
    return Diagnostic(
        "E630",
        f"a facing of the front is sewn to a back, or one of the back to a front: {', '.join(of)}",
        spans[0],
        fix="exchange the facings, so that each lies on the piece it was drawn on" + (cloth if unsaid else ""),
        labels=tuple(Label(one, "and here") for one in spans[1:]),
        data={"of": tuple(seams)},
    )


def notch_beside(span: Span, notch: str, edge: str, ends: str, apart: str) -> Diagnostic:
    """`ends` is what the sheet says where the closure ends."""
    return Diagnostic(
        "W631",
        f"notch `{notch}` on `{edge}` is {apart} from where `{ends}` is marked, as the closure is `as_long_as`",
        span,
        fix="take both from one length; the sheet marks the end of a closure without a notch",
        severity=Severity.WARNING,
        data={"of": (notch, edge)},
    )


def no_trim(spans: Sequence[Span], names: Sequence[str], buttons: bool) -> Diagnostic:
    """`buttons` where they are pieces that have some."""
    what = f"the buttons of {either(names, 'and')}" if buttons else f"closure {either(names, 'and')}"
    trim = "`trim button count 5`" if buttons else "`trim zip as_long_as …` or `trim button count …`, and `closed_by zip` in it"
    return Diagnostic(
        "W628",
        f"nothing is bought for {what}: the style has no `trim`",
        spans[0],
        fix=f"say what is bought: {trim}",
        severity=Severity.WARNING,
        labels=tuple(Label(one, "nor for this") for one in spans[1:]),
        data={"of": tuple(names)},
    )


def not_closed_by(spans: Sequence[Span], names: Sequence[str]) -> Diagnostic:
    return Diagnostic(
        "W635",
        f"of what is bought nothing is said to close {either(names, 'or')}",
        spans[0],
        fix="name its trim behind `closed_by`, as `closed_by zip, hook`; or buy it: `trim zip as_long_as …`",
        severity=Severity.WARNING,
        labels=tuple(Label(one, "nor this") for one in spans[1:]),
        data={"of": tuple(names)},
    )


def not_alike(span: Span, piece: str) -> Diagnostic:
    return Diagnostic(
        "E607",
        f"`{piece}` is cut twice alike and sewn on the left and on the right, but turned over it is another shape",
        span,
        fix="write `cut 2 as pair`",
        data={"of": piece},
    )


Opens = Literal["closure", "elastic", "nothing"]
"""By what an opening gets wider; elastic opens it no further than its cloth is long."""


def does_not_pass(span: Span, part: str, around: str, opening: str, girth: str, by: Opens, stretched: str = "") -> Diagnostic:
    """`girth` is that of an opening, or of a level in between, with what opens it open; `stretched` what its cloth gives it."""
    how, fix = {
        "closure": ("with its closure open", "make its closure longer, or the edge wider"),
        "elastic": (
            "with its elastic stretched, which opens it no further than its cloth",
            "make the edge wider, and draw it in more; or say where it opens, `closure … in EDGE`",
        ),
        "nothing": ("and no closure is there", "say where it opens, `closure … in EDGE`, or make it wider"),
    }[by]
    return _not_passed(span, (part, around), (opening, girth + (f", stretched {stretched}" if stretched else "")), how, fix)


def does_not_pass_within(
    span: Span, part: str, around: str, level: str, girth: str, opens: bool, stretched: str = ""
) -> Diagnostic:
    """As `does_not_pass`, of a level between two openings; `opens`: whether a closure runs past it."""
    how, fix = "with its closure open", "let its closure run on farther past it, or give the garment more girth there"
    if not opens:
        how, fix = "closed all round", (
            "open it there: let a closure run past it from the edge above, or from end to end, as in the centre back or the "
            "side; or give the garment more girth there, or a cloth that stretches"
        )
    told = girth + (f", stretched {stretched}" if stretched else "")
    return _not_passed(span, (part, around), (f"the {level} of the garment", told), how, fix)


def _not_passed(span: Span, what: tuple[str, str], where: tuple[str, str], how: str, fix: str) -> Diagnostic:
    return Diagnostic(
        "W620",
        f"the {what[0]} ({what[1]}) does not pass {where[0]}: {where[1]}, {how}",
        span,
        fix=fix,
        severity=Severity.WARNING,
        data={"of": where[0]},
    )


def narrower_than_limb(span: Span, limb: str, around: str, opening: str, girth: str, drawn: bool) -> Diagnostic:
    return Diagnostic(
        "W652",
        f"{opening} ({girth}) is narrower than the {limb} it goes round: about {around} there",
        span,
        fix="cut its edge wider" + (", and draw it in more" if drawn else ", or wider still and drawn in with elastic"),
        severity=Severity.WARNING,
        data={"of": opening},
    )


def not_judged(loose: int) -> str:
    """What is told of a style that says nothing of how it is sewn."""
    ends = "1 edge ends" if loose == 1 else f"{loose} edges end"
    told = f", {ends} in nothing" if loose else ""
    return f"assembly: not judged, since no `sewing` says how its seams and hems are sewn{told}"
