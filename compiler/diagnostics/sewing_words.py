"""The words in which is told what holds by its numbers and goes wrong at the machine. Codes W321 to W348."""

from __future__ import annotations

from collections.abc import Sequence

from .diagnostic import Diagnostic, Severity, Span
from .running_words import Say
from .suggest import either


def turns_back(span: Span, piece: str, edge: str, degrees: float) -> Diagnostic:
    return Diagnostic(
        "W321",
        f"`{piece}.{edge}` turns back on itself: within 15 mm it bends by {degrees:.0f} degrees against its own curve",
        span,
        note="no edge is cut so: its end was turned over too short a stretch, or a curve has too much tension",
        fix=f"let it turn over a longer stretch, or draw it smooth: `smooth {edge}`",
        data={"of": (piece, edge), "figures": {"degrees": degrees}},
        severity=Severity.WARNING,
    )


def unlike_allowances(span: Span, seam: str, edges: tuple[str, str], left: float, right: float, say: Say) -> Diagnostic:
    one, other = edges
    return Diagnostic(
        "W322",
        f"the allowances of `{seam}` are not alike: {say(left, 1)} at `{one}`, {say(right, 1)} at `{other}`",
        span,
        note="cut edges laid together, one of the two is sewn beside its line",
        fix="allow as much on both; where one edge is meant to stand out, as in a lapped or bound seam, let the seam say how it "
        'is `sewn`, and its `sewing` the class, as `seam "2.04.05"`',
        data={"of": (seam, one, other), "figures": {"mm apart": abs(left - right)}},
        severity=Severity.WARNING,
    )


def makes_a_step(span: Span, seam: str, edges: tuple[str, str], step: float, say: Say) -> Diagnostic:
    one, other = edges
    return Diagnostic(
        "W323",
        f"`{one}` and `{other}` make a step of {say(step, 1)} at an end of `{seam}`: the two sides of this differ by so much",
        span,
        fix=f"make the sides of `{seam}` as long as each other, or say that the longer one `eases` in",
        data={"of": (seam, one, other), "figures": {"mm": step}},
        severity=Severity.WARNING,
    )


def eased_too_much(span: Span, seam: str, share: float) -> Diagnostic:
    return Diagnostic(
        "W324",
        f"`{seam}` eases {100 * share:.0f} percent of its length in: no cloth takes so much without puckers",
        span,
        fix="make the longer side shorter, take a part of it out in a dart or a tuck, or say that it `gathers`",
        data={"of": seam, "figures": {"percent": 100 * share}},
        severity=Severity.WARNING,
    )


def gathers_nothing(span: Span, seam: str, ratio: float) -> Diagnostic:
    return Diagnostic(
        "W335",
        f"`{seam}` gathers, and its sides are as long as each other: {ratio:.2f} to 1",
        span,
        fix="write `joins` where nothing is gathered; else make the gathered side longer, or count each as it is "
        "sewn: a half on the fold that is named once is half of it",
        data={"of": seam, "figures": {"to 1": ratio}},
        severity=Severity.WARNING,
    )


def narrower_than_allowed(span: Span, piece: str, edge: str, wide: float, allowed: float, say: Say) -> Diagnostic:
    beyond = "so little beyond it rolls out" if wide > allowed else "that shows below it"
    return Diagnostic(
        "W325",
        f"`{piece}` is {say(wide, 1)} wide at `{edge}`, whose seam has an allowance of {say(allowed, 1)}: {beyond}",
        span,
        fix=f"make `{piece}` deeper, or allow less on `{edge}` and on what it is sewn to",
        data={"of": (piece, edge), "figures": {"mm wide": wide}},
        severity=Severity.WARNING,
    )


def stops_short(span: Span, piece: str, faced: str, beyond: str, seam: str) -> Diagnostic:
    return Diagnostic(
        "W326",
        f"`{piece}` stops where `{faced}` ends, and the edge runs on there as `{beyond}`, to which nothing is sewn",
        span,
        note="an edge that runs on without a corner is faced to where it turns, or its raw part stands beside a clean one",
        fix=f"trace the facing on, `to {beyond}`, and name both edges in `{seam}`; or say how `{beyond}` is finished: "
        f"`sewing NAME … on {faced.partition('.')[0]}.{beyond}`",
        data={"of": (piece, faced, beyond)},
        severity=Severity.WARNING,
    )


def sewn_behind(span: Span, seam: str, piece: str, behind: Sequence[str], before: Sequence[str]) -> Diagnostic:
    inner, outer = (either(names, "and") for names in (behind, before))
    verb = "lies" if len(before) == 1 else "lie"
    return Diagnostic(
        "W327",
        f"`{piece}` is sewn to {inner} alone, and {outer} {verb} before: nothing holds it to the garment itself",
        span,
        fix=f"name {outer} in `{seam}`, in place of {inner}",
        data={"of": (seam, piece)},
        severity=Severity.WARNING,
    )


def to_the_point(span: Span, piece: str, dart: str, point: str, short: float, say: Say) -> Diagnostic:
    where = "at" if short < 1.0 else f"{say(short, 1)} from"
    return Diagnostic(
        "W328",
        f"the dart `{dart}` of `{piece}` ends {where} `{point}`: sewn so far it makes a tip there",
        span,
        note="a dart ends 2 to 3 cm short of the bust point",
        fix=f"end it sooner: `then shorten {dart} by 2.5 cm`",
        data={"of": (piece, dart), "figures": {"mm short": short}},
        severity=Severity.WARNING,
    )


def threads_crossed(span: Span, seam: str, across: str, along: str) -> Diagnostic:
    return Diagnostic(
        "W329",
        f"`{across}` lies across the thread and `{along}`, to which `{seam}` sews it, along it",
        span,
        note="cut so, one of the two hangs and gives otherwise than the other",
        fix=f"write `grain up` in the braces of `{across}`; where it is meant, say that: `grain up as cross`",
        data={"of": (seam, across, along)},
        severity=Severity.WARNING,
    )


def too_narrow_to_turn(span: Span, edge: str, means: str, wide: float, say: Say) -> Diagnostic:
    return Diagnostic(
        "W332",
        f"`{edge}` has an allowance of {say(wide, 1)}: too little for what it is sewn as, {means}",
        span,
        fix=f"allow more on `{edge.partition('.')[2]}`: its depth, and what is turned under besides",
        data={"of": edge, "figures": {"mm": wide}},
        severity=Severity.WARNING,
    )


def unlike_hems(span: Span, seam: str, edges: tuple[str, str], left: float, right: float, say: Say) -> Diagnostic:
    one, other = edges
    return Diagnostic(
        "W330",
        f"`{one}` has an allowance of {say(left, 1)} and `{other}` of {say(right, 1)}: turned up, they do not meet at `{seam}`",
        span,
        fix="allow as much on both",
        data={"of": (seam, one, other), "figures": {"mm apart": abs(left - right)}},
        severity=Severity.WARNING,
    )


def marked_over_a_dart(span: Span, piece: str, mark: str, dart: str, over: float, say: Say) -> Diagnostic:
    return Diagnostic(
        "W333",
        f"`{mark}` is marked over the dart `{dart}` of `{piece}`: sewn shut, that takes {say(over, 1)} out of it",
        span,
        fix="lay it beside the dart, move the dart, or mark it on the piece with the dart closed",
        data={"of": (piece, mark, dart), "figures": {"mm": over}},
        severity=Severity.WARNING,
    )


def nothing_allowed(span: Span, seam: str, edges: tuple[str, str]) -> Diagnostic:
    one, other = edges
    return Diagnostic(
        "W331",
        f"`{seam}` has no allowance on either side: `{one}` and `{other}` are cut where they should be sewn",
        span,
        fix=f"write `allow 1 cm on {one.partition('.')[2]}` in the braces of one, and as much in those of the other; where "
        'they meet edge to edge or are bound, let the seam say how it is `sewn`, and its `sewing` the class, as `seam "4.01.01"`',
        data={"of": (seam, one, other)},
        severity=Severity.WARNING,
    )


def more_holes(span: Span, piece: str, holes: int, buttons: int) -> Diagnostic:
    return Diagnostic(
        "W334",
        f"{holes} buttonholes are marked and {buttons} buttons: a hole has none to close over",
        span,
        fix=f"mark as many `buttons` as `buttonholes`, as those of `{piece}`",
        data={"figures": {"holes": holes, "buttons": buttons}},
        severity=Severity.WARNING,
    )


def comes_to_a_point(span: Span, edges: Sequence[str], at: str, is_seam: bool, degrees: float) -> Diagnostic:
    what, verb = ("a peak" if degrees > 0.0 else "a V"), "comes" if len(edges) == 1 else "come"
    where = f"where `{at}` is sewn" if is_seam else f"at `{at}`, once the piece is opened there"
    way, edge = ("seam" if is_seam else "fold"), edges[0].partition(".")[2]
    return Diagnostic(
        "W337",
        f"{either(edges, 'and')} {verb} to {what} {where}: {abs(degrees):.0f} degrees off running on",
        span,
        fix=f"let it leave the {way} at a right angle: `arriving` or `leaving square_to` it where it is drawn, or "
        f"`square_off {edge} at …` before the {way}; a point that is meant is drawn as a line, or steeper",
        data={"of": (*edges, at), "figures": {"degrees": abs(degrees)}},
        severity=Severity.WARNING,
    )


def fold_parted(span: Span, seam: str, pieces: tuple[str, str], degrees: float) -> Diagnostic:
    one, other = pieces
    return Diagnostic(
        "W338",
        f"the fold of `{one}` does not run on into that of `{other}` once `{seam}` is sewn: it breaks by {degrees:.0f} degrees",
        span,
        note="sewn so, the cloth stands up in a point there",
        fix="give the two edges the same slope at the fold, or let both cross it at a right angle",
        data={"of": (seam, one, other), "figures": {"degrees": degrees}},
        severity=Severity.WARNING,
    )


def casing_too_narrow(span: Span, trim: str, edge: str, wide: float, inside: float, say: Say) -> Diagnostic:
    return Diagnostic(
        "W339",
        f"`{trim}` is {say(wide, 1)} wide, and the casing of `{edge}` {say(inside, 1)} inside its stitching: it does not go in",
        span,
        fix="allow more there, or turn less of it under; a folded band is made deeper; or take a narrower one",
        data={"of": (trim, edge), "figures": {"mm inside": inside}},
        severity=Severity.WARNING,
    )


def cap_turned_round(span: Span, piece: str, at_front: str, at_back: str) -> Diagnostic:
    return Diagnostic(
        "W340",
        f"`{piece}` is turned round: `{at_back}`, the half of its cap that is hollowed more, is sewn to the back",
        span,
        note="the front half of a cap is hollowed more, since the arm is moved forward",
        fix=f"sew `{piece}.{at_back}` to the front armhole and `{piece}.{at_front}` to the back one; where the seams are right, "
        "hollow the front half more",
        data={"of": (piece, at_front, at_back)},
        severity=Severity.WARNING,
    )


def too_short_to_close(span: Span, trim: str, bought: float, closure: str, long: float, say: Say) -> Diagnostic:
    return Diagnostic(
        "W341",
        f"`{trim}` is {say(bought, 1)} long, and `{closure}`, which it closes, opens {say(long, 1)}",
        span,
        fix="take both from one length",
        data={"of": (trim, closure), "figures": {"mm short": long - bought}},
        severity=Severity.WARNING,
    )


def fewer_bought(span: Span, piece: str, needed: int, bought: int, marked: bool) -> Diagnostic:
    """Of buttons that are `marked`, or else of buttonholes, fewer bought than there are."""
    what = "buttons are marked" if marked else "buttonholes are worked"
    count = f"button_count of {piece}" if marked else str(needed)
    return Diagnostic(
        "W342",
        f"{needed} {what}, and {bought} of anything {'is' if bought == 1 else 'are'} bought by number",
        span,
        fix=f"buy a button for each: `trim button count {count}`",
        data={"of": piece, "figures": {"needed": needed, "bought": bought}},
        severity=Severity.WARNING,
    )


def hung_unlike(span: Span, seam: str, edges: tuple[str, str], offs: tuple[float, float]) -> Diagnostic:
    (one, less), (other, more) = sorted(zip(edges, offs, strict=True), key=lambda pair: pair[1])
    return Diagnostic(
        "W343",
        f"`{seam}` sews `{other}`, {more:.0f} degrees off the thread, to `{one}`, {less:.0f} degrees off it",
        span,
        note="the one that lies nearer the bias gives and the other holds it: the seam puckers, and the garment turns",
        fix="give front and back the same flare at the seam, or turn the grain of one; where a piece is meant on the bias, say "
        "`grain up as bias`",
        data={"of": (seam, one, other), "figures": {"degrees apart": more - less}},
        severity=Severity.WARNING,
    )


def unmirrored(span: Span, seam: str, edges: tuple[str, str], offs: tuple[float, float], both: bool) -> Diagnostic:
    """Of a front and a back of which one lies on the bias at least."""
    (one, other), (first, second) = edges, offs
    turn = f"turn the grain of `{one.partition('.')[0]}` or `{other.partition('.')[0]}` by a right angle"
    mirrored = "`grain outward as bias` in place of `grain up as bias`, or the other way round"
    return Diagnostic(
        "W347",
        f"`{seam}` sews `{one}`, {first:.0f} degrees off its thread, to `{other}`, {second:.0f} degrees off its own",
        span,
        note=f"{abs(first - second):.0f} degrees apart on the bias: one gives where the other holds it, and the garment turns",
        fix=f"{turn}, {mirrored}" if both else f"lay both on the bias; where they still differ then, {turn}, {mirrored}",
        data={"of": (seam, one, other), "figures": {"degrees apart": abs(first - second)}},
        severity=Severity.WARNING,
    )


def bound_stiffly(span: Span, seam: str, strip: str, edge: str, turns: float) -> Diagnostic:
    return Diagnostic(
        "W348",
        f"`{strip}` binds `{edge}`, which is round, and lies along a thread: it does not give",
        span,
        note=f"the edge turns by {turns:.0f} degrees; only a strip on the bias goes round it without pleats",
        fix=f"write `grain outward as bias` in the braces of `{strip}`, or take `binding` from finishing/bias as it is",
        data={"of": (seam, strip, edge), "figures": {"degrees": turns}},
        severity=Severity.WARNING,
    )


def beyond_the_point(span: Span, piece: str, dart: str, point: str, beyond: float, say: Say) -> Diagnostic:
    return Diagnostic(
        "W344",
        f"the dart `{dart}` of `{piece}` runs {say(beyond, 1)} beyond `{point}`: it takes in what that needs",
        span,
        note="a dart ends 2 to 3 cm short of the bust point",
        fix=f"end it sooner: `then shorten {dart} by …`, or let it run to another place, `repoint {dart} to …`",
        data={"of": (piece, dart), "figures": {"mm beyond": beyond}},
        severity=Severity.WARNING,
    )


def closed_at_an_edge(span: Span, piece: str, mark: str, edge: str, near: float, wide: float, say: Say) -> Diagnostic:
    """`wide`: how wide a button is, where its buttonhole tells."""
    where = f"over `{edge}`" if near < 0.05 else f"{say(near, 1)} from `{edge}`"
    stands_out = 0.05 < near < wide / 2.0
    why = f"{say(wide, 1)} wide, it stands out over the edge" if stands_out else "it cannot be worked so near an edge"
    return Diagnostic(
        "W345",
        f"a {mark} of `{piece}` lies {where}: {why}",
        span,
        fix=f"move the row in, `inset_by 1.5 cm`, or the edge out, as with a band or an overlap beyond `{edge}`",
        data={"of": (piece, mark, edge), "figures": {"mm": near}},
        severity=Severity.WARNING,
    )


def hem_too_deep(span: Span, edge: str, deep: float, share: float, how: str, least: float, say: Say) -> Diagnostic:
    """`how` its raw edge is, by which `share`: longer, or shorter."""
    return Diagnostic(
        "W346",
        f"`{edge}` is turned up by {say(deep, 1)}, and so curved that its raw edge is {100 * share:.0f} percent {how} than what "
        "it lies on",
        span,
        fix=f"turn up {say(least, 0)} at most, face it, `facing … along {edge.partition('.')[2]}`, or bind it",
        data={"of": edge, "figures": {"percent": 100 * share}},
        severity=Severity.WARNING,
    )
