"""What is called proved without a body is the same to the bit on every body it is drawn on."""

from __future__ import annotations

from functools import lru_cache
from random import Random

from godet.difference.cloth import BodyCloth, compare
from godet.difference.roots import piece_proof, roots
from godet.jobs.difference_cloth import body_cloth
from godet.jobs.outcome import results_of
from godet.jobs.prepare import Prepared
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from support.edited import analysed, edited_at_random, text_of
from support.style_runs import invented


@lru_cache(maxsize=8)
def drawn(text: str) -> tuple[Prepared, BodyCloth]:
    made = analysed(text)
    prepared = Prepared(made, (invented("alto_3"),), made.diagnostics, made.texts)
    return prepared, body_cloth(next(iter(results_of(prepared))))


@settings(max_examples=2, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.sampled_from(("gored_skirt", "pleated_skirt", "cowl_top")), st.integers(0, 2**32).map(Random))
def test_a_piece_that_is_proved_is_the_same_to_the_bit(name: str, random: Random) -> None:
    text = text_of(name)
    (before, old), (after, new) = drawn(text), drawn(edited_at_random(text, random))
    assert before.style is not None
    assert after.style is not None
    one, two = roots(before.style), roots(after.style)
    proofs = {piece: piece_proof(root, two.pieces[piece]) for piece, root in one.pieces.items()}
    if old.errors or new.errors:
        return
    for piece in compare([old], [new]).pieces:
        if proofs[piece.name] == "same":
            assert piece.is_same
            assert piece.most == 0.0
        if proofs[piece.name] == "outline":
            assert all(edge.most == 0.0 for body in piece.bodies for edge in body.edges if edge.kind != "level")
