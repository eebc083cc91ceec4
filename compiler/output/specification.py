"""The specification as text: what goes with the style once, and what each body adds. It takes the report's plain rows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from textwrap import wrap
from typing import Any

from .columns import table

Row = Mapping[str, Any]


def style_lines(report: Row) -> list[str]:
    """Cloths, ways of sewing and care: the same for every body."""
    lines = _headed("cloths", [(one["name"], "; ".join(_cloth(one))) for one in report["cloths"]])
    ways = _headed("ways of sewing", [(one["name"], "; ".join(_sewing(one))) for one in report["sewing"]])
    if ways:
        ways.append("  (stitch types by ISO 4915, seam types by ISO 4916; the words beside them are from memory)")
    care = [(one["name"], "; ".join([*one["words"], *_text(one)])) for one in report["care"]]
    return [*lines, *ways, *_headed("care (symbols of ISO 3758 in words)", care)]


WIDTH, NARROW = 118, 40  # characters in a line, and at least in what stands last in it
MOST_BODIES = 12  # side by side; more do not fit on a page


def sizes_lines(bodies: Sequence[Row]) -> list[str]:
    """Finished measurements of several bodies side by side, with their tolerances where these are the same for all."""
    sound = [body for body in bodies if body["finished"]]
    if not 2 <= len(sound) <= MOST_BODIES:
        return []
    rows = [("", "over", "under", *(body["name"] for body in sound))]
    for each in zip(*(body["finished"] for body in sound), strict=True):
        limits = {(one["over_mm"], one["under_mm"]) for one in each}
        over, under = next(iter(limits)) if len(limits) == 1 else (None, None)
        tolerance = ("varies", "varies") if over is None else (f"+{over:.1f}", f"-{under:.1f}")
        rows.append((each[0]["name"], *tolerance, *(f"{one['measures_mm']:.1f}" for one in each)))
    return _headed("finished measurements, body by body", rows, (0,))


def body_lines(body: Row) -> list[str]:
    """Finished measurements, cut list, trims, closures and the order of sewing of one body."""
    finished = [
        (one["name"], f"{one['measures_mm']:.1f}", f"+{one['over_mm']:.1f}", f"-{one['under_mm']:.1f}", _and_sizes(one))
        for one in body["finished"]
    ]
    cuts = [(one["cloth"], "; ".join(_cut(piece) for piece in one["pieces"])) for one in body["cut_list"]]
    trims = [(one["name"], _amount(one), _and_sizes(one)) for one in body["trims"]]
    closures = [(one["name"], "; ".join(_closure(one))) for one in body["closures"]]
    sewn = [(f"{k}", one["name"], *_sewn(one)) for k, one in enumerate(body["seams"], 1)]
    told = any(one["sewn"] or one["after"] or one["note"] for one in body["seams"])
    return [
        *_headed("finished measurements, and how far over and under they may be", finished, (0, 4)),
        *_fit(body["fit"]),
        *_headed("cut list", cuts),
        *_headed("trims", trims, (0, 2)),
        *_headed("closures", closures),
        *(_headed("order of sewing", sewn, (1, 2, 3)) if told else []),
    ]


def _fit(rows: Sequence[Row]) -> list[str]:
    """What was promised of the body, and what the garment gives."""
    if not rows:
        return []
    head = ("", "body", "garment", "asked", "given", "", "")
    made = [head, *((_place(one), *_figures(one), _held(one), "; ".join(_told(one))) for one in rows)]
    return _headed("fit: girths at their levels as sewn, all pieces together; lengths as drafted", made, (0, 5, 6))


def _place(row: Row) -> str:
    return str(row["name"]).replace("_", " ").replace(".", " ")


def _figures(row: Row) -> tuple[str, ...]:
    body, given = (f"{row[key]:.1f}" if row[key] is not None else "-" for key in ("body_mm", "given_mm"))
    sign = "" if row["over_mm"] is None else ("" if row["over_mm"] == row["under_mm"] else " to " + _more(row))
    return body, f"{row['garment_mm']:.1f}", f"{row['asked_mm']:+.1f}{sign}", given if given == "-" else f"{row['given_mm']:+.1f}"


def _more(row: Row) -> str:
    return f"{row['asked_mm'] + row['over_mm']:+.1f}"


def _held(row: Row) -> str:
    return "not measured" if row["body_mm"] is None else "holds" if row["holds"] else "FAILS"


def _told(row: Row) -> list[str]:
    said = [row["wrong"], "the body's own is estimated" if row["estimated"] and row["body_mm"] is not None else "", row["text"]]
    return [one for one in said if one]


def _headed(heading: str, rows: Sequence[tuple[str, ...]], words: tuple[int, ...] = (0, 1)) -> list[str]:
    """A heading and its table, what stands last in a row broken to lines; nothing for no rows."""
    if not rows:
        return []
    before = sum(max(len(row[k]) for row in rows) + 2 for k in range(len(rows[0]) - 1)) + 2
    lines: list[tuple[str, ...]] = []
    for row in rows:
        first, *rest = wrap(row[-1], max(WIDTH - before, NARROW), break_on_hyphens=False) or [""]
        blank = ("",) * (len(row) - 1)
        lines += [(*row[:-1], first), *((*blank, more) for more in rest)]
    return ["", heading, *table(lines, words)]


def _sewn(seam: Row) -> tuple[str, str]:
    """What is sewn to what, and how."""
    said = [seam["sewn"], f"after {seam['after']}" if seam["after"] else "", seam["note"]]
    edges = f"{' + '.join(seam['left'])} to {' + '.join(seam['right'])}"
    return edges, "; ".join(one for one in said if one)


def _text(row: Row) -> list[str]:
    return [row["text"]] if row["text"] else []


def _and_sizes(row: Row) -> str:
    """The text of a row, and by what its values differ from size to size."""
    return "; ".join([*_text(row), *(f"by size: {rule}" for rule in row["holds_for"])])


def _cloth(row: Row) -> list[str]:
    said = [*_text(row), f"{row['width_mm']:.0f} wide"]
    if row["weight_gsm"] is not None:
        said.append(f"{row['weight_gsm']:g} g per square metre")
    said.append("with a nap, all pieces one way" if row["nap"] else "no nap")
    shares = [(way, row[f"shrinks_{way}"]) for way in ("along", "across") if row[f"shrinks_{way}"]]
    if shares:
        said.append(f"shrinks {' and '.join(f'{100 * share:g} % {way}' for way, share in shares)}")
        drawn = " and ".join(f"{1000 / (1 - share):.1f} {way}" for way, share in shares)
        said.append(f"pieces are drawn without: {drawn} become 1000")
    if row["stretch"]:
        said.append(f"stretches {100 * row['stretch']:g} % across")
    return said


def _sewing(row: Row) -> list[str]:
    said = [_numbered("stitch", row["stitch"], row["stitch_means"])]
    if row["seam_type"]:
        said.append(_numbered("seam", row["seam_type"], row["seam_type_means"]))
    if row["neatened"]:
        said.append(_numbered("edges neatened", row["neatened"], row["neatened_means"]))
    if row["stitch_length_mm"] is not None:
        said.append(f"stitch length {row['stitch_length_mm']:g}")
    said += _text(row)
    return [*said, f"on {' + '.join(row['place'])}"] if row["place"] else said


def _numbered(what: str, number: str, means: str) -> str:
    return f"{what} {number}" + ("" if means == number else f" ({means})")


def _cut(piece: Row) -> str:
    fold = " on the fold" if piece["on_fold"] else ""
    pairs = ", half of them mirrored" if piece["mirrored"] else ""
    return f"{piece['count']} x {piece['name']}{fold}{pairs}"


def _amount(row: Row) -> str:
    return f"{row['count']}" if row["amount_mm"] is None else f"{row['amount_mm']:.1f}"


def _closure(row: Row) -> list[str]:
    side = "" if row["on"] == "both" else f", on the wearer's {row['on']}"
    said = [f"{row['long_mm']:.1f} long in {' and '.join(row['place'])} ({row['place_mm']:.1f}){side}", _and_sizes(row)]
    said = [one for one in said if one]
    if row["needed_mm"] is None:
        return said if row["holds"] else [*said, "FAILS: it is longer than that"]
    opened = row["girth_mm"] + 2 * row["long_mm"]
    said.append(f"{row['girth_mm']:.1f} round closed, {opened:.1f} open; {row['passes_mm']:.1f} must pass")
    return [*said, f"{'holds' if row['holds'] else 'FAILS'}: {row['needed_mm']:.1f} is needed"]
