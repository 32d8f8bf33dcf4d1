"""An inscription laid along the face it goes on: a strip once around the ring, in rows as long as a page.

Lengths in mm. A place is told along the way the words are read, from their beginning.
"""

from dataclasses import dataclass

from studio.craft.inscriptions import SPACE_FOR_HIGH, WIDE_FOR_HIGH, Room, letters_of


@dataclass(frozen=True, slots=True)
class StripRow:
    """One row: where it begins and ends on the way, where the ring's own strip ends in it, and its words.

    `words` take from `words_from_mm` to `words_to_mm`. `is_cut_before` and `is_cut_after` say at which end
    the strip goes on in another row; beyond `ring_to_mm` the words run over the ring.
    """

    from_mm: float
    to_mm: float
    ring_to_mm: float
    words: str
    words_from_mm: float
    words_to_mm: float
    is_cut_before: bool
    is_cut_after: bool

    @property
    def ring_mm(self) -> float:
        """How much of the ring's circumference lies in this row."""
        return max(0.0, self.ring_to_mm - self.from_mm)


def strip_rows(text: str, room: Room, longest_mm: float) -> tuple[StripRow, ...]:
    """The strip of an inscription in rows of `longest_mm` at most; the rows' `ring_mm` sum to the way around.

    Every sign has the place that `room_of` reckons for it. A row ends before a word where one ends in its
    second half, else between two signs, never within one.
    """
    signs = letters_of(text)
    ends, at = [], 0.0
    for sign in signs:
        at += room.letter_mm * (SPACE_FOR_HIGH if sign.isspace() else WIDE_FOR_HIGH)
        ends.append(at)
    whole_mm = max(room.round_mm, at)
    rows: list[StripRow] = []
    start_mm, first = 0.0, 0
    while not rows or rows[-1].is_cut_after:
        reach_mm = start_mm + longest_mm
        last = len(signs) if ends[-1] <= reach_mm else _last_sign(signs, ends, first, reach_mm, longest_mm)
        end_mm = whole_mm
        if whole_mm > reach_mm:
            end_mm = reach_mm if last == len(signs) else ends[last - 1]
        words_to_mm = ends[last - 1] if last > first else start_mm
        rows.append(
            StripRow(
                from_mm=start_mm,
                to_mm=end_mm,
                ring_to_mm=min(end_mm, room.round_mm),
                words="".join(signs[first:last]),
                words_from_mm=start_mm,
                words_to_mm=words_to_mm,
                is_cut_before=bool(rows),
                is_cut_after=end_mm < whole_mm,
            )
        )
        start_mm, first = end_mm, last
    return tuple(rows)


def _last_sign(
    signs: tuple[str, ...], ends: list[float], first: int, reach_mm: float, longest_mm: float
) -> int:
    """How many signs are laid when the row is full: up to a space in its second half, if there is one."""
    fits = next(place for place in range(first, len(signs)) if ends[place] > reach_mm)
    fits = max(fits, first + 1)
    half_mm = reach_mm - longest_mm / 2
    for place in range(fits, first, -1):
        if signs[place - 1].isspace() and ends[place - 1] >= half_mm:
            return place
    return fits
