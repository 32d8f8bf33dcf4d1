"""The operations that stones bring with them: settings made and soldered on, seats cut, stones set."""

from studio.craft.cautions import Caution
from studio.craft.operations import SET, Does, Operation, acid, after_fire, fire, what_it_does
from studio.craft.particulars import Particulars, Setting, Stone
from studio.craft.reckonings import Reckoning
from studio.craft.solders import Grade, admits, next_solder, solder_name
from studio.craft.stones import is_delicate, stone_line
from studio.craft.working import Input

SOLDERED_ON = frozenset({Setting.BEZEL, Setting.CLAW})
CUT_IN = frozenset({Setting.FLUSH, Setting.CHANNEL, Setting.PAVE})


def stones_held(particulars: Particulars, settings: frozenset[Setting]) -> tuple[Stone, ...]:
    """The stones that are held in one of these ways."""
    return tuple(stone for stone in particulars.stones or () if stone.setting in settings)


def has_delicate(particulars: Particulars) -> bool:
    """Whether any of the ring's stones stands neither bath nor fire."""
    return any(is_delicate(stone) for stone in particulars.stones or ())


def settings_made(reckoning: Reckoning, particulars: Particulars) -> tuple[Operation, ...]:
    """Bezels and claws, made to the stones and soldered on with the next lower solder, the stones out."""
    stones = stones_held(particulars, SOLDERED_ON)
    if not stones:
        return ()
    alloy = reckoning.alloy
    what = _what(stones)
    hard, lower = alloy.solder_hard_name, solder_name(alloy, Grade.MEDIUM)
    admitted = admits(alloy, next_solder(alloy))
    by = () if admitted.at_most_c is None else (Input("has to flow by", admitted.at_most_c, "°C"),)
    listed = tuple(Input("listed", words) for words in (next_solder(alloy).range_words,) if words)
    each = tuple(Input("stone", stone_line(stone)) for stone in stones)
    made = Operation(
        "setting",
        f"Make the {what}",
        f"to the stone itself, its own seam with {hard}. Stone out before any fire.",
        (Caution.OXYGEN, *((Caution.DELICATE,) if has_delicate(particulars) else ())),
        does=what_it_does(Does.HEATS) | fire(alloy),
        why="Stones are never quite as large as they are said to be.",
        figures=each,
        tools=("calipers", "saw frame", "bezel block", "torch"),
        check="The stone drops in without force and stands level.",
        also=(Caution.HOT, *(acid(alloy) or (Caution.NO_PICKLE,))),
    )
    joined = Operation(
        "solder-setting",
        f"Solder the {what} on",
        f"with {lower}, the ring's seam away from the fire. {after_fire(alloy)}",
        (Caution.OXYGEN, *((Caution.FUME,) if acid(alloy) else (Caution.DARK_GLASSES,))),
        does=what_it_does(Does.JOINS_SETTING) | fire(alloy),
        why="A step lower in solder, and the seam of the ring does not open again. Where it goes, only"
        " its foot is filed to the ring, and no pattern beside it.",
        figures=(Input("solder", lower), *listed, *by),
        tools=("torch", "binding wire or third hand"),
        check="No gap at the foot, the setting upright, the seam of the ring whole.",
        also=(Caution.HOT, *(acid(alloy) or (Caution.NO_PICKLE,))),
        solder=next_solder(alloy).grade,
    )
    return made, joined


def seats(particulars: Particulars) -> Operation | None:
    """Seats of stones that lie in the metal itself, cut once the size is right and before the last polish."""
    stones = stones_held(particulars, CUT_IN)
    if not stones:
        return None
    count = sum(stone.count for stone in stones)
    return Operation(
        "seats",
        "Drill and cut the seats",
        f"for {count} stone{'' if count == 1 else 's'}, each to its own.",
        (Caution.EYES,),
        does=what_it_does(Does.CUTS_SEATS),
        why="A seat is cut to the stone it holds; a ring resized after it pinches or drops its stones.",
        figures=tuple(Input("stone", stone_line(stone)) for stone in stones),
        tools=("dividers", "drill", "setting burs", "gravers"),
        check="Laid out evenly before the first hole; each stone sits level with its girdle below the edge.",
        also=(Caution.MOTOR,),
    )


def set_stones(particulars: Particulars) -> Operation | None:
    """Stones are counted and looked at before the first is set: what breaks then breaks on our bench."""
    count = particulars.stone_count
    if not count:
        return None
    many = f"the {count} stones" if count > 1 else "the stone"
    look = "Count them and look at each" if count > 1 else "Look at it"
    is_any_delicate = has_delicate(particulars)
    return Operation(
        SET,
        f"Set {many}",
        f"as written above. {look} under the loupe first.",
        (Caution.EYES, Caution.GRAVER, *((Caution.DELICATE,) if is_any_delicate else ())),
        does=what_it_does(Does.SETS_DELICATE if is_any_delicate else Does.SETS_STURDY),
        why="After the last fire and acid, and after the wheel: from here on the ring is only wiped and"
        " washed.",
        figures=tuple(Input("stone", stone_line(stone)) for stone in particulars.stones or ()),
        tools=("loupe", "pusher", "burnisher", "setter's clamp"),
        check=f"{count} counted in, {count} counted set; none moves under a needle, none is chipped.",
    )


def _what(stones: tuple[Stone, ...]) -> str:
    """'bezel', 'bezels', 'claw setting', 'settings'."""
    kinds = {stone.setting for stone in stones}
    name = "setting" if len(kinds) > 1 else "bezel" if Setting.BEZEL in kinds else "claw setting"
    return name if sum(stone.count for stone in stones) == 1 else f"{name}s"
