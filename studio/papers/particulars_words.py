"""Inscriptions, stones and marks in words: for the customer in sentences, for the bench short."""

from collections.abc import Sequence
from dataclasses import replace

from studio.craft.directions import apart
from studio.craft.inscriptions import letters_of, room_of
from studio.craft.particulars import Inscription, Lettering, MarkPlace, Marks, MarkWish, Risk, Stone, Whose
from studio.craft.reckonings import Reckoning
from studio.craft.units import figure_words

_HALLMARK = {
    MarkWish.AS_RULE: "Hallmarked as the rule asks",
    MarkWish.THOUGH_EXEMPT: "Hallmarked though exempt",
    MarkWish.NONE: "No hallmark where the rule leaves it free",
}
_LETTERING = {
    Lettering.ROMAN: "in roman letters",
    Lettering.SCRIPT: "in script",
    Lettering.CAPITALS: "in capitals",
    Lettering.OWN_HAND: "in your own hand, as drawn",
}


def inscription_sentence(words: Inscription) -> str:
    """'“Ada & Jon”, inside, in script.' The text stands as it is to be cut."""
    return f"“{apart(words.text)}”, {words.face}, {_LETTERING[words.lettering]}."


def inscription_line(words: Inscription, reckoning: Reckoning) -> str:
    """The same for the bench, with letters, height and room; and whether it was read back."""
    room = room_of(words, reckoning)
    told = (
        f"“{apart(words.text)}”, {words.face}, {words.lettering}, {room.letters} letters "
        f"{figure_words(room.letter_mm)} high, about {room.takes_mm:.0f} of {room.has_mm:.0f} mm."
    )
    return told if words.is_read_back else f"{told} Not read back yet."


def room_sentences(words: Inscription, reckoning: Reckoning) -> tuple[str, ...]:
    """What an inscription takes, and what stands against it.

    '8 letters, 2 mm high, about 13 mm of the 48 there are.' Then, where it is so: that it is too long, that
    the ring is narrow for it.
    """
    room = room_of(words, reckoning)
    many = f"{room.letters} letter{'' if room.letters == 1 else 's'}, {figure_words(room.letter_mm)} mm high,"
    takes, has = f"{room.takes_mm:.0f}", f"{room.has_mm:.0f}"
    told = [f"{many} about {takes} mm of the {has} there are."]
    if room.is_too_long:
        told = [f"Too long: {many} take about {takes} mm of the {has} there are."]
    if room.is_narrow:
        told.append("A ring below 3 mm wide is hard to read.")
    return tuple(told)


def read_back_words(words: Inscription) -> str:
    """The text letter by letter, as it is read back: 'A | d | a | (space) | &'."""
    return " | ".join("(space)" if sign.isspace() else sign for sign in letters_of(words.text))


def marks_sentence(marks: Marks | None) -> str:
    """What the customer reads of the marks, '' where nobody asked.

    'Hallmarked though exempt; our sponsor's mark; inside the shank.'
    """
    if marks is None:
        return ""
    parts = [_HALLMARK[marks.hallmark]]
    parts.append("our sponsor's mark" if marks.has_sponsor else "without our sponsor's mark")
    parts += {MarkPlace.INSIDE: ["inside the shank"], MarkPlace.OUTSIDE: ["outside"]}.get(marks.where, [])
    return f"{'; '.join(parts)}."


def kept_apart(stone: Stone) -> Stone:
    """The stone with each of its words ready to go into a sentence, whichever way they are written."""
    return replace(
        stone,
        shape=apart(stone.shape),
        size=apart(stone.size),
        stated=apart(stone.stated),
        tested=apart(stone.tested),
        condition=apart(stone.condition),
        value=apart(stone.value),
    )


def stones_sentence(stones: Sequence[Stone]) -> str:
    """What the customer reads.

    '1 round stone, 3 mm, said to be sapphire, bezel set, yours; you bear the risk of setting.'
    """
    return " ".join(_stone_sentence(kept_apart(stone)) for stone in stones)


def _stone_sentence(stone: Stone) -> str:
    what = f"{stone.count} {stone.shape} stone{'' if stone.count == 1 else 's'}".replace("  ", " ")
    parts = [what, stone.size]
    parts.append(f"said to be {stone.stated}" if stone.stated else "")
    parts.append(f"found to be {stone.tested}" if stone.tested else "")
    parts.append(stone.condition)
    parts.append(f"{stone.setting} set" if stone.setting else "")
    parts.append(f"declared at {stone.value}" if stone.value else "")
    told = ", ".join(part for part in parts if part)
    if stone.whose is not Whose.CUSTOMER:
        return f"{told}."
    risk = {Risk.CUSTOMER: "; you bear the risk of setting", Risk.STUDIO: "; we bear the risk of setting"}
    return f"{told}, yours{risk[stone.risk] if stone.risk else ''}."
