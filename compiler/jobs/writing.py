"""How a sentence is written: what every sentence may hold, told before the verbs in the reference."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Written:
    """One thing that is written everywhere: what it is called, what is said of it, and whole sentences that hold it."""

    title: str
    said: str
    examples: tuple[str, ...]


WRITTEN: tuple[Written, ...] = (
    Written(
        "sentence",
        "One to a line, in any order; a line indented deeper goes on with it, and `#` begins a comment. After a verb and what "
        "it works on come words, each with its value. A text in quotes comes last.",
        ("shape sharper = shorten draft.bust_dart by 2 cm",),
    ),
    Written(
        "value",
        "A length is a number and its unit: mm, cm, m, in; an angle takes deg, a share may be written in percent, a weight of "
        "cloth in gsm. `+ - * /` stand between spaces, brackets around what is reckoned first; `of` takes the one name or "
        "bracket behind it. A measurement of the body stands wherever a length may.",
        ("length quarter_waist = (natural_waist_girth + 1 1/2 inch) / 4 - 5 mm", "length half_hem = length of front.hem / 2"),
    ),
    Written(
        "starting_point",
        "The point of the paper that every draft may start from: it is there before anything is drawn, and the first points are "
        "said from it, so far `outward`, `inward`, `up` and `down`. Where it lies on the body is yours to say, as on the centre "
        "line at the waist; pieces that start from it lie on one another in the draft, not on the sheet.",
        ("point centre_waist = starting_point", "point side_waist = starting_point outward 24 cm up 1 cm"),
    ),
    Written(
        "name",
        "`piece.edge` is an edge of a piece, `piece.dart` a dart, `piece.dart.inner_leg` its leg, `piece.dart.apex` its tip "
        "(`upper_apex` and `lower_apex` where it has two ends), `piece.landmark` a point, `block.piece` what a block gives. "
        "Where the piece is known, as behind `along` of a verb that works on it, the edge stands bare. `from` "
        "an end of an edge names the edge it meets there.",
        (
            "length leg = length of front.bust_dart.inner_leg",
            "point seven_down = front.side at 7 cm from armhole",
            "shape sharper = repoint front.waist_dart to front.bust_dart.apex",
        ),
    ),
    Written(
        "place",
        "`at` and a place behind an edge, or behind a line or curve of the draft, is a spot on it: a point, and where a verb "
        "wants an edge at a place, both. So far from an end is a length, a share of the edge a number; an end is named by what "
        "the edge meets there, that of a curve by its point. Darts are shut and pleats laid where it is measured. The name of a "
        "notch is a place too, and goes with the cloth: of an unfolded piece it is `left_zip_end` and `right_zip_end`, and on "
        "the edge of one side stands bare; on a divided one it is where its cloth is; drawn anew, an edge keeps it at its share.",
        (
            "point pitch = front.armhole at 1/3 from shoulder",
            "point tip = front.shoulder at armhole",
            "length slope = distance from (front.shoulder at neckline) to (front.shoulder at armhole)",
            "piece ready = front {\n    cut 1 on fold\n    allow 1 cm\n    notch side at 7 cm from hem called zip_end\n"
            "    buttons on side between zip_end and 1 cm from hem count 3 inset_by 1 cm\n}\n"
            "point low_end = ready.side at zip_end",
        ),
    ),
    Written(
        "part",
        "`between` two places behind an edge, or behind a line or curve of the draft, is the part from one to the other, either "
        "way round: a curve. A place is an end, so far or a share from an end, a notch with a name, or a point on the edge; "
        "one `from`, behind the second, serves both. Where an edge of a piece is wanted, a part of one is an edge: in an "
        "allowance, a seam, a closure, a facing. `edge name = side between … and …` in the braces of a piece gives it a name, "
        "which stands for it wherever an edge may stand, and stays with its cloth as a place does: cut through it is on both, "
        "what opens inside it is of it, and one that ends on the fold of a half is one on the whole. A seam names parts of "
        "pieces that are cut.",
        (
            "length below = length of (front.side between 7 cm from armhole and hem)",
            "curve upper = front.armhole between 1/4 and 3/4 from shoulder",
            "piece ready = front {\n    cut 1 on fold\n    allow 1 cm\n"
            "    notch side at 7 cm from hem called vent_top\n"
            "    edge vent = side between vent_top and hem\n    allow 3 cm on vent\n}\n"
            "piece other = back {\n    cut 1 on fold\n    allow 1 cm\n}\n"
            "seam sides joins ready.side between vent_top and armhole to other.side between 7 cm from hem and armhole",
        ),
    ),
    Written(
        "operation",
        "An operation inside another stands in brackets; give it a name of its own where an edge or a dart of what it makes is "
        "wanted. `with` follows a verb or recipe that works on nothing.",
        (
            "shape longer = leave draft.waist_dart as ease then lengthen side at waistline by 2 cm",
            "length reach = distance from (front.shoulder at armhole) to front.bust_point",
        ),
    ),
    Written(
        "small_words",
        "For the ear `by` stands between a direction and what is no plain measure, where `godet fmt` writes it: `up 3 cm`, `up "
        "by collar_depth`. Behind a word that is a noun `of` may stand before a name: `depth of facing_deep`. Neither says more "
        "than is said without it.",
        (
            "choice deep = 5 cm between 3 cm and 8 cm\nshape faced = facing front along neckline depth of deep",
            "choice deep = 5 cm between 3 cm and 8 cm\npoint lower = waist down by deep outward 2 cm",
        ),
    ),
    Written(
        "using",
        "Hands on to a verb or a recipe what is called here as its words are: `using reach, shoulder` is `reach reach shoulder "
        "shoulder`. In a recipe, `using all` is each word it takes itself that the other has too, but those written out. It "
        "stands last, and in place of `with` where nothing else follows.",
        ("choice bust_ease = 8 cm between 4 cm and 12 cm\nblock drafted = draft using bust_ease",),
    ),
    Written(
        "chain",
        "`then` goes on with the piece in hand: each link is one more thing done to it, and its bare names are those the piece "
        "has by then. Braces end a sentence: no chain goes on behind them, but in a sentence of its own. There and in the "
        "braces of a piece its own edges, darts and points come before what the style calls so; a "
        "point that both have is refused. A link that works on a whole piece leaves it out, with `with` where a name would come "
        "first; one that works on an edge or a dart names it. What another sentence needs gets a name of its own.",
        ("shape opened = base.front then leave bust_dart as ease then open waist_dart to hem",),
    ),
    Written(
        "both_sides",
        "Of an unfolded piece, which has its edges as `left_side` and `right_side`, the bare name means each of them in `allow`, "
        "`turn_under`, `notch`, `cut_corner`, `press`, `drill`, and `on` of a way of sewing. A seam of such names is sewn twice, "
        "left with left and right with right, and is then `NAME.left` and `NAME.right`; an edge that is one across the fold is "
        "sewn by its halves, and of a piece cut as a pair the same edge on either. Where one edge is wanted, one is named.",
        (
            "piece whole = unfold base.front across centre {\n    cut 1\n    allow 1 cm\n    allow 2 cm on side\n"
            "    notch side at 7 cm from hem\n}\npiece sides = base.back {\n    cut 2 as pair\n    allow 1 cm\n}\n"
            "seam side_seams joins whole.side to sides.side tolerance 3 cm",
        ),
    ),
    Written(
        "list",
        "A comma stands between things that are treated alike; `+` puts edges, curves, slash lines or pieces end to end, in "
        "order.",
        (
            "curve armhole from shoulder_point to underarm through chest_point, side_mark",
            "length round = length of (front.hem + back.hem)",
        ),
    ),
    Written(
        "direction",
        "`up` is toward the head, `down`, `outward` away from the centre, `inward` toward it; behind a point they lead to "
        "another. On the sheet `outward` is to the right and `inward` to the left, of a loose piece as well: half a collar has "
        "its centre on the left, as the figure of `collar_fall` shows. A curve also leaves or arrives `toward` or `away_from` a "
        "point, `along` an edge or line, or `square_to` it.",
        (
            "point dart_place = waist outward 9 cm up 5 mm",
            "curve armhole from shoulder_point to underarm leaving square_to shoulder arriving outward",
            "curve lapel from front_neck to tip leaving along neckline arriving away_from waist",
        ),
    ),
    Written(
        "condition",
        "`at_least`, `at_most`, `more_than`, `less_than`, `between … and …`, and `equals … tolerance …`, whose tolerance is "
        "always said; joined by `and`, `or`, turned by `not`; `measured` asks whether a measurement was taken or follows exactly "
        "from others.",
        (
            "check side_is_long that length of front.side at_least 12 cm and length of front.side less_than 1 m",
            "check sides_agree that length of front.side equals length of back.side tolerance 2 mm",
            "length depth = bust_height / 6 when measured bust_height otherwise 21 cm",
        ),
    ),
    Written(
        "braces",
        "`shape name { … }` draws an outline, edge by edge; braces behind `piece name = …` say how that piece is cut, marked "
        "and named; a piece that says `cut` is drawn in the pattern.",
        ("piece ready = front {\n    grain up\n    cut 1 on fold\n    allow 1 cm\n    allow 3 cm on hem\n}",),
    ),
    Written(
        "traced_edge",
        "An edge of an outline is drawn between two points, or traced: `curve name = EDGE between POINT and POINT` copies that "
        "part of an edge of another piece, and begins and ends at these points, at which the edges beside it are named too.",
        (
            "point middle = back.neckline at centre\npoint neck_end = back.neckline at shoulder\npoint fall = middle down 9 cm\n"
            "point corner = fall outward 12 cm\nshape collar_back {\n"
            "    curve neckline = back.neckline between middle and neck_end\n    line shoulder from neck_end to corner\n"
            "    line outer from corner to fall\n    line centre from fall to middle\n    fold centre\n}",
        ),
    ),
    Written(
        "patch_pocket",
        "A piece of its own, cut as often as it is worn. `place` draws its outline where it is to lie; the seam names its edges "
        "one after the other, all but the mouth, and the line of the place for each. The mouth is hemmed in a way of sewing.",
        (
            "piece patch = pocket {\n    cut 2 as pair\n    grain up\n    allow 1 cm\n"
            "    allow 3 cm on mouth with_corners shaped_to_fold\n}\npiece ready = leave front.waist_dart as ease {\n"
            "    cut 1 on fold\n    grain up\n    allow 1 cm\n    place patch by pocket_corner onto dart_middle called laid\n}\n"
            "seam pocket_on joins patch.outer_edge + patch.outer_base + patch.inner_base + patch.inner_edge\n"
            "        to ready.laid.outer_edge + ready.laid.outer_base + ready.laid.inner_base + ready.laid.inner_edge\n"
            "        sewn topstitched\n"
            'sewing topstitched stitch 301 seam "2.02.01" "round three sides, the mouth hemmed first"\n'
            'sewing hemmed stitch 301 seam "6.03.01" on patch.mouth',
        ),
    ),
    Written(
        "caught_in",
        "A seam that is `caught_in` another is sewn first, on the same edge, and lies in that: a collar is laid on the neck edge "
        "under the facing. It tells when it is sewn, not to what: the seam itself names the edge. Here a flat collar, its upper "
        "and its under piece sewn round their outer edge, held together at the neck, laid on, and faced.",
        (
            "use flat_collar from collars/flat\neach piece {\n    grain up\n    allow 1 cm\n"
            "    allow 0 cm on inner_edge\n}\nshape half_way = back then blend neckline over shoulder to front.neckline\n"
            "shape trued_front = front then blend neckline over shoulder to half_way.neckline\n"
            "shape trued = half_way then blend neckline over shoulder to trued_front.neckline\n"
            "shape traced = flat_collar trued_front back trued depth 6 cm\n"
            "piece collar = traced {\n    cut 2 as pair\n}\npiece under_collar = traced {\n    lies inside\n"
            "    cut 2 as pair\n}\npiece ready = trued_front {\n    cut 1 on fold\n}\npiece ready_back = trued {\n"
            "    cut 2 as pair\n}\npiece front_facing = facing trued_front along neckline depth 4 cm {\n    cut 1 on fold\n}\n"
            "piece back_facing = facing trued along neckline depth 4 cm {\n    cut 2 as pair\n}\n"
            "seam shoulders joins ready.shoulder to ready_back.shoulder\n"
            "seam facing_shoulders joins front_facing.shoulder to back_facing.shoulder tolerance 2 mm\n"
            "seam collar_edge joins collar.centre_back + collar.outer_edge\n"
            "        to under_collar.centre_back + under_collar.outer_edge\n"
            "seam collar_held joins under_collar.neckline to collar.neckline after collar_edge caught_in laid\n"
            "seam laid joins collar.neckline to ready_back.neckline + ready.neckline\n"
            "        after shoulders, collar_edge caught_in neck\n"
            "seam neck joins back_facing.neckline + front_facing.neckline\n"
            "        to ready_back.neckline + ready.neckline after shoulders, facing_shoulders",
        ),
    ),
    Written(
        "table",
        "A value by rows of a measurement or a choice. `between_rows` says what holds there: straight, nearest, row_below or "
        "row_above; `beyond_rows` what holds before the first and after the last: held, straight or refused.",
        (
            "table zip_long by hip_girth between_rows row_above beyond_rows held {\n    row 95 cm is 18 cm\n"
            "    row 110 cm is 20 cm\n}\ntrim zip as_long_as zip_long",
        ),
    ),
)


def written_entry(one: Written) -> str:
    """The reference entry of a way of writing."""
    rows = ["example: " + example.replace("\n", "\n    ") for example in one.examples]
    return "\n".join([f"{one.title} (how it is written)", f"  {one.said}", *(f"  {row}" for row in rows)]) + "\n"
