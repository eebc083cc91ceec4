"""The sentences of the language beside definitions: what each says, and how it is written."""

from __future__ import annotations

# word -> (what it says, examples)
FORMS: dict[str, tuple[str, tuple[str, ...]]] = {
    "language": ("The version of the language a file is written in.", ("language 1",)),
    "style": (
        "The title of a style; with `from`, the style it is built from, which stands beside it or in the library.",
        ('style "Concert top"', 'style "Long top" from concert_top'),
    ),
    "use": ("Brings recipes of a module into the file.", ("use round_neck, round_necks from necklines/round",)),
    "recipe": (
        "A recipe gives one thing; a `block` gives several, reached by name. Both take, need, define, check and give.",
        (
            'recipe let_down "Hem let down at the side" {\n    takes shape draft "a half front or back"\n'
            '    takes length further = 2 cm between 0 cm and 10 cm "how far"\n    needs draft.side\n'
            "    gives shape longer = lengthen draft.side at hem by further\n}\nshape low_front = let_down front further 3 cm",
            'block both_let_down "Front and back let down alike" {\n    takes shape front_draft "a half front"\n'
            '    takes shape back_draft "a half back"\n    length further = 2 cm\n'
            "    gives shape front = lengthen front_draft.side at hem by further\n"
            "    gives shape back = lengthen back_draft.side at hem by further\n}\n"
            "block low = both_let_down front back_draft back",
        ),
    ),
    "takes": (
        "What a recipe is given: kind, name, default, bounds and a text. Without a default it must be written. `takes all of` "
        "another recipe is every word of that one, alike in all, but those this recipe takes itself; `using all` hands them on.",
        ('takes length lowered = 1.3 cm between 0 cm and 10 cm "at the centre"', "takes all of gores"),
    ),
    "needs": ("What a piece that is given must have.", ('needs draft.shoulder "the top line starts from it"',)),
    "gives": (
        "A definition that is seen outside the recipe. `gives all of` a block made in it is everything that block gives, but "
        "what the recipe gives by the same name itself.",
        ("gives shape back = mirror half", "gives all of panels"),
    ),
    "each": (
        "Definitions written out for each number; what they define is reached as `name.k1`. `each piece` in a style: grain and "
        "allowances that all pieces that are cut start from; of an edge, what a piece says of it by name comes first, then what "
        "is said of it here by name, then what the piece says of its other edges, then what is said of them here. So an edge "
        "named here wins over a piece's plain `allow 2 cm`.",
        (
            "each k from 1 to 4 up_to 20 {\n    point mark = waist down k * 5 cm\n}\npoint lowest = mark.k4",
            "each piece {\n    grain up\n    allow 1 cm\n    allow 3 cm on hem with_corners shaped_to_fold\n}",
        ),
    ),
    "check": (
        "A condition that is proved on every body, with advice for when it fails.",
        ('check head_room that neck at_least head_girth + 2 cm "the opening is too short"',),
    ),
    "tell": (
        "A word to whoever cuts, on every body on which the condition holds, with its numbers; nothing fails.",
        ('tell wide_shoulders when shoulder_width more_than 44 cm "the yoke may want a seam at the shoulder"',),
    ),
    "solve": (
        "Finds a length, angle or number between bounds so that two measured things are equal within a tolerance; "
        "its text advises when none is found. `kept between`: then it is the bound at which less is left over, and a check "
        "tells what is missing. A solve may stand inside another: it is found anew for every value the outer one tries.",
        (
            "solve cap_depth between 0.5 cm and 12 cm that length of sleeve.cap equals armhole_round + 3 cm tolerance 0.5 mm\n"
            '    "the sleeve is too wide for this armhole"',
            "solve intake kept between 0 cm and 5 cm that waist_drawn equals waist_girth / 2 tolerance 0.1 mm",
        ),
    ),
    "when": (
        "Chooses between two values by a condition; behind a whole piece, seam, check or sentence of the specification: it is "
        "there only when a choice says so, and takes with it the seams and checks that rest on it.",
        ("length intake = 3 cm when bust_girth more_than 90 cm otherwise 2 cm", "shape pocket = mirror patch when with_pocket"),
    ),
    "otherwise": (
        "The other value of a choice; without `when`, what stands in for a measurement that was not taken and does "
        "not follow exactly from others, as a stretch does from two heights. No estimate stands before it.",
        ("length back_across = across_back_width otherwise bust_girth / 4 + 12 cm",),
    ),
    "change": (
        "In a style built from another: a sentence in place of the one of that name, or words in it with other values. What it "
        "does not say stays: the braces of a piece, the bounds and text of a choice, a `when`. Braces of `change`, `add` and "
        "`without` change the braces there; braces of plain sentences replace them. Braces behind one name or several, without "
        "a value, change those of each.",
        (
            "change choice overarm = 18 cm",
            "change front_neck, back_neck with lowered 2 cm",
            "change allow 2 cm on hem",
            "change front, back {\n    allow 2 cm on hem\n    without notch side\n}",
        ),
    ),
    "add": (
        "In a style built from another: a sentence it does not have.",
        ('add check drapes that fullness of drape_seam more_than 1.5 "spread more"',),
    ),
    "without": (
        "In a style built from another: takes sentences away, in braces also statements. What still uses them is listed.",
        ("without drape, drape_seam", "without notch side"),
    ),
}


def form_entry(word: str) -> str:
    """The reference entry of a sentence."""
    said, examples = FORMS[word]
    shown = ["  example: " + one.replace("\n", "\n    ") for one in examples]
    return "\n".join([f"{word} (sentence)", f"  {said}", *shown]) + "\n"
