"""A chain comes to what its links come to with a name for every stage, whatever is done."""

import numpy as np
from godet.geometry.path import Path as Drawn
from godet.jobs.outcome import outcomes
from godet.pattern.piece import Piece
from hypothesis import given, settings
from hypothesis import strategies as st
from support.styles import written

HEAD = "language 1\nuse plain_half from shapes\nblock base = plain_half with bust_ease 8 cm\n"

# Each link, and the sentence it stands for, with `{}` for the piece it is done to.
LINKS = (
    ("shorten side_dart by 1 cm", "shorten {}.side_dart by 1 cm"),
    ("repoint side_dart to bust_point", "repoint {0}.side_dart to {0}.bust_point"),
    ("lengthen side at hem by 2 cm", "lengthen {}.side at hem by 2 cm"),
    ("square_off hem at centre up_to 5 cm", "square_off {}.hem at centre up_to 5 cm"),
    ("straighten armhole up_to 20 cm", "straighten {}.armhole up_to 20 cm"),
    ("bow waist_dart by 2 mm", "bow {}.waist_dart by 2 mm"),
    ("mirror", "mirror {}"),
)


@settings(max_examples=20, deadline=None)
@given(st.lists(st.sampled_from(LINKS), min_size=1, max_size=5))
def test_a_chain_is_its_links_by_name(links: list[tuple[str, str]]) -> None:
    chain = "".join(f"\n    then {link}" for link, _ in links)
    stages = "".join(
        f"shape s{k + 1} = {sentence.format('base.front' if not k else f's{k}')}\n" for k, (_, sentence) in enumerate(links)
    )
    prepared = written(f"{HEAD}shape whole = base.front{chain}\n{stages}")
    assert prepared.style is not None, prepared.diagnostics
    names = prepared.style.names
    results, evaluated = outcomes(prepared, [names["whole"], names[f"s{len(links)}"]])
    if results[0].errors:  # both fail, at the same thing
        return
    one, other = (evaluated.parts[0].values[names[name]] for name in ("whole", f"s{len(links)}"))
    assert isinstance(one, Piece)
    assert isinstance(other, Piece)
    assert one.edge_names() == other.edge_names()
    for mine, theirs in zip(one.ring, other.ring, strict=True):
        assert isinstance(mine.drawn, Drawn)
        np.testing.assert_array_equal(mine.drawn.start, theirs.drawn.start)
        np.testing.assert_array_equal(mine.drawn.end, theirs.drawn.end)
