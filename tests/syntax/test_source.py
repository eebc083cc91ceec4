"""Bytes of a file -> text."""

import pytest
from godet.syntax.source import decode


def test_line_ends_and_byte_order_mark_are_made_plain() -> None:
    assert decode(b"\xef\xbb\xbflanguage 1\r\nuse a from b\r", "a.style") == ("language 1\nuse a from b\n", ())


@pytest.mark.parametrize(
    ("data", "message"),
    [
        ("style \"Ärmel\"".encode("latin-1"), "`a.style` is not UTF-8 text: line 1 holds the byte C4"),
        (b"language 1\n\nlength \xff", "`a.style` is not UTF-8 text: line 3 holds the byte FF"),
        (b"language 1\n\x00", "`a.style` is not a text: line 2 holds a zero byte"),
        ("language 1".encode("utf-16"), "`a.style` is not a text: line 1 holds a zero byte"),
    ],
)
def test_what_is_no_text_is_said_so(data: bytes, message: str) -> None:
    text, found = decode(data, "a.style")
    assert text is None
    assert [d.message for d in found] == [message]
