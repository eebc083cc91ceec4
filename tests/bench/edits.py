"""What an edit of the concert top makes anew, counted: `python tests/bench/edits.py`. `budgets.py` times the same edits."""

from __future__ import annotations

from dataclasses import astuple, dataclass, fields
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import godet

PATTERNS = Path(__file__).resolve().parents[2] / "patterns"


@dataclass(frozen=True)
class Edit:
    """What is written for what, `{}` being a digit that makes each edit another; how many yards it may take, and which share of
    the same text opened afresh."""

    name: str
    old: str
    new: str
    yards: float
    share: float | None = None


EDITS = (
    Edit("a comment", "language 1\n", "language 1\n# {}\n", 8, 0.3),
    Edit("a hem allowance", "    allow 3 cm on hem ", "    allow 3.0{} cm on hem ", 8, 0.5),
    Edit("the slit, a choice used late", "choice opening = 14 cm", "choice opening = 14.0{} cm", 8),
    Edit("the depth of a facing", "along neckline depth 5 cm then", "along neckline depth 5.0{} cm then", 8),
    Edit("the ease of the bust, early", "bust_ease 8 cm", "bust_ease 8.0{} cm", 34),
)


def texts_of(edit: Edit, text: str) -> list[str]:
    """The text edited nine times."""
    assert edit.old in text, f"{edit.name}: {edit.old!r} is not in the style"
    return [text.replace(edit.old, edit.new.format(number)) for number in range(1, 10)]


def sheet(style: godet.Style, body: str) -> godet.Style:
    """The style, its sheet drawn on a body."""
    for result in style.on(body):
        result.svg()
    return style


def main() -> None:
    import godet
    from godet.jobs.keeping import Work

    path, body = str(PATTERNS / "concert_top.style"), str(PATTERNS / "bodies" / "alto_3.toml")
    text = Path(path).read_text("utf-8")
    first = sheet(godet.open_style(path), body)
    print(f"{'':32}" + "".join(f"{one.name:>11}" for one in fields(Work)))
    made = {"opened afresh": first.work}
    made.update({one.name: sheet(first.edited(texts_of(one, text)[0]), body).work for one in EDITS})
    for name, work in made.items():
        print(f"{name:32}" + "".join(f"{count:>11}" for count in astuple(work)))


if __name__ == "__main__":
    main()
