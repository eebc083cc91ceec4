"""The words of errors in chains, lists, sums and `each piece`, and of what is cut. Codes E255 to E259 and E290 to E299."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from .diagnostic import Diagnostic, Label, Lack, Severity, Span
from .suggest import did_you_mean, either


def piece_in_hand(span: Span, verb: str) -> Diagnostic:
    fix = f"leave it away: write `then {verb}` and the words, after `with` where a name comes first"
    return Diagnostic("E290", f"`then {verb}` works on the piece in hand, and names another thing here", span, fix=fix)


def gives_no_piece(span: Span, verb: str, found: str) -> Diagnostic:
    fix = "end the chain before it, and give that a name of its own"
    return Diagnostic("E291", f"a chain goes on with a piece, and `{verb}` gives none: {found}", span, fix=fix)


def one_of_several(span: Span, verb: str, role: str) -> Diagnostic:
    fix = f"write `block made = {verb} …` in a sentence of its own, then `made.{role}`"
    if verb == "divide":
        edge = role.removeprefix("with_")
        fix = f"{fix}; for one part alone, `crop … keeping {edge}`, or another edge that only that part has"
    return Diagnostic("E258", f"one piece is wanted here, and `{verb}` gives several", span, fix=fix)


def on_both_parts(span: Span, owner: str, role: str, parts: Sequence[Sequence[str]]) -> Diagnostic:
    """`parts` are the roles of each part."""
    edge = role.removeprefix("with_")
    offered = "; or ".join(", ".join(f"`{one}`" for one in roles[:3]) for roles in parts)
    fix = f"name the part by what only one has: {offered}"
    return Diagnostic("E259", f"`{owner}` has `{edge}`, or may have it, on more than one part", span, fix=fix)


def left_lying(span: Span, role: str, other: str) -> Diagnostic:
    fix = f"make a piece of it; or where only the other part is wanted, write `crop … keeping {other.removeprefix('with_')}`"
    if not role.startswith("with_"):  # not divided: changed together with the other
        fix = f"make a piece of this `{role}` too: with the old one `{other}` would not go together"
    return Diagnostic("W202", f"the part `{role}` goes into nothing", span, fix=fix, severity=Severity.WARNING)


def goes_on_with_nothing(span: Span, verb: str) -> Diagnostic:
    fix = "write it in a sentence of its own"
    return Diagnostic("E292", f"`{verb}` does not work on a piece or a part of one", span, fix=fix)


def part_of_another(span: Span, name: str) -> Diagnostic:
    fix = "name an edge or a dart as it is called on the piece so far, without the name of a piece before it"
    return Diagnostic("E293", f"`{name}` is no part of the piece in hand", span, fix=fix, lack=Lack.PART)


def part_missing(span: Span, verb: str, wanted: str) -> Diagnostic:
    part = "dart" if wanted == "dart" else "edge"
    fix = f"write it after the verb, as it is called on the piece so far: `then {verb} hem …`"
    if part == "dart":
        fix = f"write it after the verb, as it is called on the piece so far: `then {verb} bust_dart …`"
    message = f"`{verb}` works on one {part} of the piece in hand, and none is named"
    return Diagnostic("E646", message, span, fix=fix, lack=Lack.PART)


def either_point(span: Span, name: str, in_chain: bool) -> Diagnostic:
    fix = "give the one of the style another name"
    if in_chain:
        fix += ", or end the chain before this link and name the piece"
    piece = "the piece in hand" if in_chain else "this piece"
    return Diagnostic("E294", f"`{name}` is a point of the style and of {piece}", span, fix=fix)


def coordinates(span: Span, across: str, up: str) -> Diagnostic:
    fix = f"say how the point lies from another, as in `starting_point outward {across} up {up}`"
    return Diagnostic("E661", "two lengths in brackets are no point", span, fix=fix)


def one_wanted(span: Span, each: Sequence[str] = ()) -> Diagnostic:
    """`each` are the sentences that say it of one, where there may be several."""
    fix = f"write a sentence for each: {either(each, 'and')}" if each else "name one of them"
    return Diagnostic("E295", "one thing is wanted here, and several are listed", span, fix=fix)


def sum_of_edges(span: Span, whole: str) -> Diagnostic:
    """`whole` is the sum measured, where only its brackets are missing."""
    fix = f"to measure edges put end to end, write `{whole or 'length of (front.hem + back.hem)'}`"
    return Diagnostic("E296", "a length and an edge cannot be added", span, fix=fix)


def never_cut(span: Span, name: str) -> Diagnostic:
    fix = f"say in its braces how many are cut, as in `cut 2 as pair`; or write `shape {name}`, which is worked on only"
    return Diagnostic("E297", f"`{name}` is a piece and is not cut", span, fix=fix)


def shape_is_cut(span: Span, name: str) -> Diagnostic:
    fix = f"write `piece {name}`"
    return Diagnostic("E298", f"`{name}` is a shape, which is worked on, and says that it is cut", span, fix=fix)


def cut_in_recipe(span: Span, name: str) -> Diagnostic:
    fix = f"write `shape {name}`; the style that takes it says how it is cut"
    return Diagnostic("E299", f"`{name}` would be cut by a recipe: recipes give shapes", span, fix=fix)


def each_piece_twice(span: Span, first: Span) -> Diagnostic:
    fix = "say all of it in one place"
    return Diagnostic("E255", "what each piece starts from is said twice", span, fix=fix, labels=(Label(first, "here first"),))


def not_of_each_piece(span: Span, written: str, known: Sequence[str]) -> Diagnostic:
    """`written` is the word the sentence begins with."""
    fix = did_you_mean(written, known) or f"{either(known)} may stand here; write the rest in the braces of the pieces"
    return Diagnostic("E256", "this is no thing that each piece starts from", span, fix=fix)


def edge_of_no_piece(span: Span, edge: str, known: Iterable[str]) -> Diagnostic:
    """`known` are the edges of the pieces that are cut."""
    fix = did_you_mean(edge, known) or "name edges as the pieces that are cut call them, or take it out"
    return Diagnostic("E257", f"no piece that is cut has an edge `{edge}` of its own outline to allow for", span, fix=fix)


def braces_in_text(span: Span) -> Diagnostic:
    fix = "write a name in them, or a word before `of` and a name: `{length of front.hem}`; give anything longer a name first"
    return Diagnostic("E231", "braces in a text hold what is to be shown there", span, fix=fix)
