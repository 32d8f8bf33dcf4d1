"""What must come before what at the bench, and why. Values, so that a route can be held against them.

They speak of what operations do, never of their names, so an operation the studio adds is held to them as one
of ours is. DEVELOPERS.md has the same table, and a test reads it.
"""

from dataclasses import dataclass
from enum import StrEnum

from studio.craft.operations import Does

PRACTICE = "common practice, no source"


class Way(StrEnum):
    """How two doings stand to each other in a route."""

    BEFORE = "before"  # each `what` stands before each `other`
    NEEDS_BEFORE = "needs before"  # each `what` has an `other` before it, after the last `since`
    NEEDS_AFTER = "needs after"  # each `what` has an `other` after it
    NEVER = "never with"  # no route has both
    NOT_HARDER = "not harder"  # each `what` solders no harder than the one before


@dataclass(frozen=True, slots=True)
class Constraint:
    """One rule of order, with its reason in words and where it comes from."""

    key: str
    way: Way
    what: Does
    other: Does
    reason: str
    source: str = PRACTICE
    since: Does | None = None


_BEFORE, _NEEDS, _AFTER = Way.BEFORE, Way.NEEDS_BEFORE, Way.NEEDS_AFTER
_STACKED = "US maker's tutorial on stacked rings"
_ONE_RING = "UK maker's log of a bespoke ring"
_COLD = "forum thread on annealing and cold work"
_LOG = "workshop log of an anticlastic bangle"
_STEPS = "articles on carat gold solders and on solder"
_SIZING = "bench articles on resizing"

CONSTRAINTS = (
    Constraint("weigh-cut", _BEFORE, Does.WEIGHS_OUT, Does.CUTS,
        "Metal that is sawn before it is weighed out is nobody's."),
    Constraint("trial-cut", _BEFORE, Does.TRIES, Does.CUTS,
        "The trial says how long the strip has to be."),
    Constraint("roll-cut", _BEFORE, Does.ROLLS, Does.CUTS,
        "Rolling lengthens the strip: a mark set before it is wrong after it."),
    Constraint("cut-square", _BEFORE, Does.CUTS, Does.SQUARES,
        "There are no ends to square before the blank is sawn off."),
    Constraint("pattern-square", _BEFORE, Does.STRETCHES_STRIP, Does.SQUARES,
        "A pattern stretches the strip: ends trued before it are out of true, and too long, after it.",
        _STACKED),
    Constraint("square-bend", _BEFORE, Does.SQUARES, Does.BENDS,
        "Ends are squared while they can be seen and held: bent, they close on what they are.", _ONE_RING),
    Constraint("pattern-bend", _BEFORE, Does.PATTERNS_STRIP, Does.BENDS,
        "A pattern for the flat strip needs a flat strip."),
    Constraint("anneal-bend", _NEEDS, Does.BENDS, Does.ANNEALS,
        "Rolling, hammering and stamping harden the strip: hard, it springs open and may crack.",
        _COLD, Does.HARDENS),
    Constraint("bend-close", _BEFORE, Does.BENDS, Does.CLOSES,
        "Solder fills no gap: the ends meet first.", "encyclopedic article on soldering"),
    Constraint("close-round", _BEFORE, Does.CLOSES, Does.ROUNDS,
        "A seam that is not soldered opens under the mallet.", _STACKED),
    Constraint("close-file", _BEFORE, Does.CLOSES, Does.FILES_SEAM,
        "There is no seam to clean before it is soldered.", _ONE_RING),
    Constraint("close-pattern", _BEFORE, Does.CLOSES, Does.PATTERNS_RING,
        "A pattern on the ring needs a closed ring.", _STACKED),
    Constraint("seam-pattern", _BEFORE, Does.FILES_SEAM, Does.PATTERNS_RING,
        "Cleaning the seam would file the pattern away there."),
    Constraint("seam-mend", _BEFORE, Does.FILES_SEAM, Does.MENDS_PATTERN,
        "The pattern is worked over a seam that is clean, or it is filed away again."),
    Constraint("mend-seam", _AFTER, Does.PATTERNS_STRIP, Does.MENDS_PATTERN,
        "The seam cuts through a pattern that was there before it, and shows until it is worked over."),
    Constraint("file-strip", _BEFORE, Does.FILES_OUTSIDE, Does.PATTERNS_STRIP,
        "A file on the outside takes the pattern off, and nothing brings it back."),
    Constraint("file-ring", _BEFORE, Does.FILES_OUTSIDE, Does.PATTERNS_RING,
        "A file on the outside takes the pattern off, and nothing brings it back."),
    Constraint("wheel-strip", _BEFORE, Does.WHEELS_OUTSIDE, Does.PATTERNS_STRIP,
        "A wheel erases the pattern."),
    Constraint("wheel-ring", _BEFORE, Does.WHEELS_OUTSIDE, Does.PATTERNS_RING,
        "A wheel erases the pattern."),
    Constraint("close-form", _BEFORE, Does.CLOSES, Does.FORMS,
        "Edges that are sunk before the seam is closed do not meet any more."),
    Constraint("round-form", _BEFORE, Does.ROUNDS, Does.FORMS,
        "A flared ring goes on no mandrel."),
    Constraint("ring-form", _BEFORE, Does.PATTERNS_RING, Does.FORMS,
        "A flared ring lies on no mandrel to be patterned."),
    Constraint("mend-form", _BEFORE, Does.MENDS_PATTERN, Does.FORMS,
        "A flared ring lies on no mandrel to have its seam worked over."),
    Constraint("anneal-form", _NEEDS, Does.FORMS, Does.ANNEALS,
        "What came before has hardened the metal, and hard edges crack before they stretch.",
        _LOG, Does.HARDENS),
    Constraint("size-after", _AFTER, Does.RESIZES, Does.CHECKS_SIZE,
        "It moves the size, so the size is checked after it.", _STACKED),
    Constraint("size-engrave", _NEEDS, Does.ENGRAVES, Does.CHECKS_SIZE,
        "Letters are cut once the size is right: resizing distorts them.", "trade pages on engraving",
        Does.RESIZES),
    Constraint("engrave-still", _BEFORE, Does.RESIZES, Does.ENGRAVES,
        "Moving the size after the letters are cut distorts them.", "trade pages on engraving"),
    Constraint("size-setting", _NEEDS, Does.JOINS_SETTING, Does.CHECKS_SIZE,
        "With a setting on, the ring is hard to resize and goes under no mallet.", since=Does.RESIZES),
    Constraint("setting-still", _BEFORE, Does.RESIZES, Does.JOINS_SETTING,
        "With a setting on, the ring goes under no mallet."),
    Constraint("size-seats", _NEEDS, Does.CUTS_SEATS, Does.CHECKS_SIZE,
        "Seats close or open when the size is moved after them.", since=Does.RESIZES),
    Constraint("seats-still", _BEFORE, Does.RESIZES, Does.CUTS_SEATS,
        "Seats close or open when the size is moved after them."),
    Constraint("size-set", _NEEDS, Does.SETS, Does.CHECKS_SIZE,
        "A ring that is resized with its stones in loosens or breaks them.", _SIZING, Does.RESIZES),
    Constraint("set-still", _BEFORE, Does.RESIZES, Does.SETS,
        "A ring that is resized with its stones in loosens or breaks them.", _SIZING),
    Constraint("close-setting", _BEFORE, Does.CLOSES, Does.JOINS_SETTING,
        "The ring is closed with the hardest solder before anything is soldered onto it.", _STEPS),
    Constraint("solder-falls", Way.NOT_HARDER, Does.SOLDERS, Does.SOLDERS,
        "Each later joint takes no harder solder than the one before, or that one opens again.", _STEPS),
    Constraint("setting-set", _BEFORE, Does.JOINS_SETTING, Does.SETS,
        "The fire that solders the setting on would break the stone in it.", _ONE_RING),
    Constraint("seats-set", _BEFORE, Does.CUTS_SEATS, Does.SETS,
        "A stone is set into a seat that is cut."),
    Constraint("heat-set", _BEFORE, Does.HEATS, Does.SETS,
        "Fire cracks, clouds or discolours stones."),
    Constraint("pickle-set", _BEFORE, Does.PICKLES, Does.SETS,
        "Acid etches stones and stays under them."),
    Constraint("platinum-pickle", Way.NEVER, Does.FIRES_PLATINUM, Does.PICKLES,
        "Platinum and palladium come clean from an oxidising flame; copper in the pickle and flux spoil"
        " them.",
        "from memory of bench handbooks"),
    Constraint("solder-mark", _BEFORE, Does.SOLDERS, Does.MARKS,
        "Solder counts in the assay, and fire blurs a mark.", "UK minimum finenesses of solder"),
    Constraint("size-mark", _NEEDS, Does.MARKS, Does.CHECKS_SIZE,
        "Resizing after it stretches the marks or cuts them out.", _SIZING, Does.RESIZES),
    Constraint("mark-still", _BEFORE, Does.RESIZES, Does.MARKS,
        "Resizing after it stretches the marks or cuts them out.", _SIZING),
    Constraint("seats-mark", _BEFORE, Does.CUTS_SEATS, Does.MARKS,
        "What is drilled out no longer counts in the weight that is marked."),
    Constraint("mark-engrave", _BEFORE, Does.MARKS, Does.ENGRAVES,
        "The marks take their place on the inside first; letters go round them."),
    Constraint("mark-polish", _BEFORE, Does.MARKS, Does.POLISHES,
        "Punch and scrape leave traces that the last polish takes."),
    Constraint("mark-set", _BEFORE, Does.MARKS, Does.SETS,
        "The blow of the punch loosens stones."),
    Constraint("engrave-polish", _BEFORE, Does.ENGRAVES, Does.POLISHES,
        "The graver leaves a burr that the finish takes."),
    Constraint("heat-polish", _BEFORE, Does.HEATS, Does.POLISHES,
        "Fire stains what was polished."),
    Constraint("seats-polish", _BEFORE, Does.CUTS_SEATS, Does.POLISHES,
        "Drill and bur leave burrs that the finish takes."),
    Constraint("polish-set", _BEFORE, Does.POLISHES, Does.SETS,
        "The wheel drags at claws and bezels and heats the stones.", _ONE_RING),
    Constraint("polish-match", _BEFORE, Does.POLISHES, Does.MATCHES,
        "Two rings are compared as they will be worn."),
    Constraint("polish-plate", _BEFORE, Does.POLISHES, Does.PLATES,
        "Any polish goes through the plating."),
    Constraint("heat-plate", _BEFORE, Does.HEATS, Does.PLATES,
        "Fire burns the plating into the metal."),
    Constraint("mark-plate", _BEFORE, Does.MARKS, Does.PLATES,
        "Marks are struck in the metal, not in its coat."),
    Constraint("engrave-plate", _BEFORE, Does.ENGRAVES, Does.PLATES,
        "A graver cuts through the plating."),
    Constraint("set-plate", _BEFORE, Does.SETS_STURDY, Does.PLATES,
        "The pusher scratches the plating: it comes last."),
    Constraint("plate-delicate", _BEFORE, Does.PLATES, Does.SETS_DELICATE,
        "The plating bath etches this stone, so it is set after."),
)  # fmt: skip
"""Every rule of order."""
