"""The words of errors that concern one body, and of those about files. Codes E3xx (bodies), E5xx (files), W3xx."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from .diagnostic import Diagnostic, Severity, Span

FINEST = 3
"""Lengths of errors are told to so many decimals of a mm at most."""


Say = Callable[[float, int], str]
"""How a length (mm) is written, in mm with so many decimals, in the unit of a body."""


def in_mm(mm: float, digits: int = 1) -> str:
    return f"{mm:.{digits}f} mm"


def figures_text(figures: Mapping[str, float], say: Say = in_mm) -> str:
    """`left leg 118.4 mm, right leg 112.2 mm`; a name that ends in `angle` is in degrees, one in `ratio` has no unit.

    `say` writes lengths in the body's unit; those that differ are told so finely that they read differently, as what is allowed
    and what is a little more.
    """
    lengths = [value for name, value in figures.items() if not name.endswith(("angle", "ratio"))]
    apart = len({round(value, FINEST) for value in lengths})
    digits = next(n for n in range(1, FINEST + 1) if len({round(value, n) for value in lengths}) == apart)
    shown = []
    for name, value in figures.items():
        if name.endswith("angle"):
            shown.append(f"{name.removesuffix(' angle')} {value:.1f} deg")
        elif name.endswith("ratio"):
            shown.append(f"{name.removesuffix(' ratio')} {value:.2f}")
        else:
            shown.append(f"{name} {say(value, digits)}")
    return ", ".join(shown)


def sentence_fails(span: Span, message: str, fix: str, figures: Mapping[str, float], say: Say = in_mm) -> Diagnostic:
    return Diagnostic("E301", message, span, note=figures_text(figures, say), fix=fix, data={"figures": dict(figures)})


def unsolved(span: Span, message: str, fix: str, name: str, tries: Sequence[tuple[str, str]]) -> Diagnostic:
    """`tries` are the values tried, and by how much the first side of the equation missed the second."""
    trail = "; ".join(f"{value}: {missed}" for value, missed in tries)
    return Diagnostic("E304", message, span, note=f"the first side with {name} {trail}", fix=fix)


def faulty_piece(span: Span, piece: str, message: str) -> Diagnostic:
    fix = "a choice, or a place or length written as a number, may not suit this body"
    return Diagnostic("E302", f"`{piece}` cannot be cut: {message}", span, fix=fix)


def faulty_cut_line(span: Span, piece: str, message: str) -> Diagnostic:
    fix = "allow less there, or let the edge bend less than its allowance can follow"
    return Diagnostic("E303", f"`{piece}` cannot be cut: {message}", span, fix=fix)


def bound_to_change(choice: str, bound: str, value: str, inside: str) -> Diagnostic:
    return Diagnostic(
        "W301",
        f"this body fails with `{choice}` at {value}, and does not with its default {inside}",
        fix=f"choose a value nearer the default, or change the {bound} bound of `{choice}` in the style",
        severity=Severity.WARNING,
    )


def no_grain(span: Span, piece: str) -> Diagnostic:
    return Diagnostic(
        "W302",
        f"`{piece}` is cut, and nothing says how it lies to the grain",
        span,
        fix="write `grain up` in its braces, or `grain along` and an edge; `as bias` or `as cross` where it lies so",
        data={"of": piece},
        severity=Severity.WARNING,
    )


def fold_off_grain(span: Span, piece: str, fold: str, degrees: float) -> Diagnostic:
    return Diagnostic(
        "W303",
        f"the fold `{fold}` of `{piece}` lies {degrees:.1f} degrees off the grain",
        span,
        note="cloth is folded along the thread, across it, or on the bias",
        fix=f"write `grain along {fold}`, or cut the piece without a fold",
        data={"of": piece, "figures": {"degrees off": degrees}},
        severity=Severity.WARNING,
    )


def fold_bent(span: Span, piece: str, fold: str, bend: float, say: Say) -> Diagnostic:
    return Diagnostic(
        "W305",
        f"the fold `{fold}` of `{piece}` is not straight: it bends by {say(bend, 1)}",
        span,
        note="cloth is folded along one straight line",
        fix=f"let another edge give way, make it straight with `straighten`, or cut the piece as a pair, with a seam at `{fold}`",
        severity=Severity.WARNING,
        data={"of": piece, "figures": {"bend in mm": bend}},
    )


def not_turned(span: Span, piece: str, edge: str, beside: str) -> Diagnostic:
    return Diagnostic(
        "W304",
        f"the allowance of `{edge}` on `{piece}` cannot be folded back where it meets `{beside}`: it is cut straight on there",
        span,
        note=f"folded, it would have to lie along `{beside}`, which turns away sooner",
        fix=f"allow less at `{edge}`, or let `{beside}` leave it more nearly square",
        data={"of": (piece, edge)},
        severity=Severity.WARNING,
    )


def wider_than_cloth(span: Span, piece: str, wide: float, cloth: str, usable: float, say: Callable[[float], str]) -> Diagnostic:
    return Diagnostic(
        "W306",
        f"`{piece}` takes {say(wide)} of the width of `{cloth}`, which is {say(usable)} wide",
        span,
        fix="divide the piece, lay its grain otherwise, or state a wider cloth",
        data={"of": (piece, cloth), "figures": {"cm of its width": wide / 10}},
        severity=Severity.WARNING,
    )


def narrow_dart(span: Span, piece: str, dart: str, wide: float, least: float, say: Say) -> Diagnostic:
    return Diagnostic(
        "W308",
        f"the dart `{dart}` of `{piece}` is only {say(wide, 1)} wide",
        span,
        note=f"a dart narrower than {say(least, 0)} is eased in, not sewn",
        fix=f"leave it in its edge, `leave … .{dart} as ease`, and say in its seam that this edge `eases`",
        data={"of": (piece, dart), "figures": {"mm wide": wide}},
        severity=Severity.WARNING,
    )


def ends_unsettled(span: Span, seam: str) -> Diagnostic:
    return Diagnostic(
        "W309",
        f"which ends of the edges in `{seam}` meet is not told: it gets no notches of its own",
        span,
        fix="say of both pieces on which side they are `worn`, give a notch of both edges one name, "
        "`notch EDGE at PLACE called NAME`, or sew the edges beside them as seams too",
        severity=Severity.WARNING,
    )


def breaks_over_seam(span: Span, seam: str, edges: tuple[str, ...], degrees: float) -> Diagnostic:
    one, other = edges
    over = f"kink {one} over EDGE to {other} meeting EDGE"
    return Diagnostic(
        "W310",
        f"`{one}` does not run on into `{other}` once `{seam}` is sewn: it breaks by {degrees:.0f} degrees",
        span,
        fix=f"draw both square to the seam, or true them with `blend … over …` or `smooth_over`; `{over}` measures it",
        data={"of": (seam, one, other), "figures": {"degrees": degrees}},
        severity=Severity.WARNING,
    )


def breaks_over_dart(span: Span, edge: str, dart: str, degrees: float) -> Diagnostic:
    return Diagnostic(
        "W311",
        f"`{edge}` breaks by {degrees:.0f} degrees over `{dart}` once that is sewn",
        span,
        fix=f"true it over the dart: `blend {edge.partition('.')[2]} over {dart}`",
        data={"of": (edge, dart), "figures": {"degrees": degrees}},
        severity=Severity.WARNING,
    )


def unlike_legs(span: Span, piece: str, dart: str, differ: float, say: Say) -> Diagnostic:
    return Diagnostic(
        "W312",
        f"the legs of `{dart}` on `{piece}` differ by {say(differ, 1)}",
        span,
        fix=f"make them alike: `equalise_legs {dart}`",
        data={"of": (piece, dart), "figures": {"mm": differ}},
        severity=Severity.WARNING,
    )


def no_file(path: str) -> Diagnostic:
    return Diagnostic("E501", f"there is no file `{path}`", fix="check the name and the folder")


def unreadable(path: str, reason: str) -> Diagnostic:
    return Diagnostic("E502", f"`{path}` cannot be read: {reason}", fix="check the file and its permissions")


def leads_out(path: str, folder: str) -> Diagnostic:
    message = f"`{path}` is a link to a file outside of the folder of the style"
    return Diagnostic("E512", message, fix=f"copy the file into `{folder or '.'}`")


def unwritable(path: str, reason: str) -> Diagnostic:
    return Diagnostic(
        "E503", f"`{path}` cannot be written: {reason}; nothing was written", fix="choose another folder with `--out`"
    )


def bad_style_name(name: str, better: str) -> Diagnostic:
    message = f"`{name}` is no name for a style: small letters, digits and `_` make one, a letter first"
    return Diagnostic("E515", message, fix=f"write `{better}`")


def already_there(path: str) -> Diagnostic:
    return Diagnostic("E513", f"`{path}` is there already; nothing was written", fix="choose another name")


def no_bodies(folder: str) -> Diagnostic:
    return Diagnostic("E504", f"the folder `{folder}` holds no body files", fix="body files end in `.toml`")


def body_wanted(command: str) -> Diagnostic:
    return Diagnostic(
        "E505", f"`godet {command}` needs a body", fix="add `--body FILE`, or `--body FOLDER` for all in it"
    )


def style_wanted() -> Diagnostic:
    message = "what a body still has to be measured for depends on the style, and none is given"
    fix = "write `godet measures STYLE --body FILE`; `godet measures` alone lists all measurements"
    return Diagnostic("E510", message, fix=fix)


def other_wearer(asked: str, body: str, wearer: str) -> Diagnostic:
    message = f"`--for {asked}` is asked, and by its file this body is a {wearer}'s"
    fix = "leave `--for` away: the body file says whose it is; or mend `sex` and `age` there"
    return Diagnostic("E511", message, fix=fix, body=body)


def bad_set(written: str, fix: str = "") -> Diagnostic:
    fix = fix or 'write for example `--set overarm="15 cm"`'
    return Diagnostic("E506", f"`--set {written}` is not a choice and its value", fix=fix)


def same_body(names: tuple[str, str], files: tuple[str, str]) -> Diagnostic:
    listed = " and ".join(f"`{file}`" for file in files)
    alike = f"`{names[0]}`" if names[0] == names[1] else f"nearly alike, `{names[0]}` and `{names[1]}`"
    once = files[0] == files[1]
    fix = "give the file once" if once else "give each its own name, since reports and file names go by it"
    return Diagnostic("E507", f"two bodies are called {alike}: {listed}", fix=fix)


def no_such_name(name: str, near: str) -> Diagnostic:
    return Diagnostic(
        "E508", f"the style has nothing called `{name}`", fix=near or "name a definition, such as `base.nape`"
    )


def not_used(measurement: str) -> Diagnostic:
    message = f"the style does not use the measurement `{measurement}`"
    return Diagnostic("E514", message, fix="`godet measures` and the style lists those it uses")


def several(name: str, members: Sequence[str]) -> Diagnostic:
    fix = f"say which: {', '.join(f'`{one}`' for one in members)}"
    return Diagnostic("E509", f"`{name}` stands for several things", fix=fix)


def nothing_cut(span: Span) -> Diagnostic:
    return Diagnostic(
        "E237", "no piece of this style is cut", span, fix="write `cut 1` and `allow 1 cm` in the braces of a piece"
    )


def unsure_numbers(where: Sequence[str]) -> Diagnostic:
    return Diagnostic(
        "W901",
        "a number of this pattern may not be what it should: look at its pieces before you cut them",
        None,
        note="; ".join(where),
        fix="this is a fault of godet, not of the style; please report it with the style",
        severity=Severity.WARNING,
    )


def internal(what: str) -> Diagnostic:
    return Diagnostic(
        "E901",
        f"the compiler failed on its own account: {what}",
        fix="this is a fault of godet, not of the style; please report it",
    )
