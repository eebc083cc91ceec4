"""The reserved words of the language, by the part they play in a sentence."""

from __future__ import annotations

# fmt: off
# Kinds that are kinds only where a line begins with them, or behind a word that heads it: elsewhere a cutter may call something
# so. First those of the specification, written in words and their values only, never with `=`.
WORDED = frozenset(("finished", "shown", "cloth", "trim", "closure", "sewing", "care", "fit"))
HEADED = WORDED | {"dart", "seam", "table", "edges"}
KINDS = frozenset((
    "point", "length", "angle", "number", "flag", "line", "curve", "edge", "lines", "shape", "piece", "block", "choice",
)) | HEADED
UNITS = ("mm", "cm", "m", "inch", "deg", "percent", "gsm")
DIRECTIONS = frozenset(("up", "down", "outward", "inward"))
# Words that join a value to what stands before it; `from` opens what a verb is told, or counts a place from an end.
JOINERS = frozenset((
    "from", "to", "at", "along", "toward", "on", "into", "through", "across", "by", "as", "in", "using",
))
# Words that make a direction out of the value after them.
HEADINGS = frozenset(("toward", "away_from", "along", "square_to"))
# Words that begin a sentence, beside the kinds.
HEADS = frozenset((
    "language", "style", "use", "check", "tell", "takes", "gives", "needs", "each", "recipe", "solve", "add",
    "change", "without",
))

_OWN_TYPE = (
    "with", "of", "then", "when", "otherwise", "and", "or", "not", "that", "between", "equals",
    "from", "to", "by", "at", "along", "toward",
)
# fmt: on

# The type a word has in the grammar; every other word is a NAME.
WORD_TYPES: dict[str, str] = {
    **dict.fromkeys(KINDS - HEADED, "KIND"),
    **dict.fromkeys(UNITS, "UNIT"),
    **dict.fromkeys(DIRECTIONS, "DIR"),
    **dict.fromkeys(JOINERS, "JOINER"),
    **dict.fromkeys(HEADINGS, "HEADING"),
    **{word: word.upper() for word in HEADS},
    **{word: word.upper() for word in _OWN_TYPE},
    **dict.fromkeys(("at_least", "at_most", "more_than", "less_than"), "COMPARE"),
    "yes": "YESNO",
    "no": "YESNO",
}
RESERVED = frozenset(WORD_TYPES)

# Units that people write and the language does not have, with the unit to offer.
FOREIGN_UNITS: dict[str, str] = {
    **dict.fromkeys(("inches", "ins"), "inch"),
    **dict.fromkeys(("centimetre", "centimetres", "centimeter", "centimeters", "cms"), "cm"),
    **dict.fromkeys(("millimetre", "millimetres", "millimeter", "millimeters", "mms"), "mm"),
    **dict.fromkeys(("metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("degree", "degrees", "degs"), "deg"),
    **dict.fromkeys(("foot", "feet", "ft", "yard", "yards", "yd"), "inch"),
    **dict.fromkeys(("g", "grams", "gram"), "gsm"),
    **dict.fromkeys(("pct", "percents"), "percent"),
    **dict.fromkeys(("kg", "oz", "px", "pt"), ""),
}
