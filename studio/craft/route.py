"""The way of one ring over the bench: which operations, in which order.

Rules, not templates: the order is laid down once in `route`, and each rule says whether its operation is
needed and how it reads for this ring. What an operation is stands in the files of its subject: the blank, the
closing, the forming, the setting, the finishing. Why the order is as it is stands in `route_constraints`, and
every route keeps all of that. What is particular to an alloy comes from `metals`, `melting` and `solders`.
"""

from studio.craft import route_blank, route_closing, route_finishing, route_forming, route_setting
from studio.craft.hallmark import HallmarkRule
from studio.craft.operations import Operation
from studio.craft.particulars import NOT_ASKED, Particulars
from studio.craft.reckonings import Reckoning


def route(
    reckoning: Reckoning,
    particulars: Particulars = NOT_ASKED,
    rule: HallmarkRule = HallmarkRule.NONE,
    *,
    mate: Reckoning | None = None,
) -> tuple[Operation, ...]:
    """The operations of the ring, in order, without minutes; `minutes.with_minutes` puts those in.

    `rule` is whose hallmarks the studio follows; `mate` is the other ring of a pair. A pattern on the flat
    strip comes before its ends are squared, since it stretches them; the size is checked after the last thing
    that moves it; letters, marks and stones come after that. Delicate stones are set after the plating.
    """
    is_set_last = route_setting.has_delicate(particulars)
    stones = route_setting.set_stones(particulars)
    filed, rolled = route_blank.file_profile(reckoning), route_blank.roll(reckoning)
    operations = (
        route_forming.trial(reckoning),
        route_blank.weigh(reckoning),
        filed if rolled is not None else None,  # after the rolls a file would take their print off
        rolled,
        route_blank.saw(reckoning),
        filed if rolled is None else None,
        route_blank.pattern_flat(reckoning),
        route_blank.square(reckoning),
        route_closing.anneal(reckoning),
        route_closing.bend(reckoning),
        route_closing.solder(reckoning),
        route_closing.round_up(reckoning),
        route_closing.true_sides(reckoning),
        route_closing.pattern_closed(reckoning),
        route_closing.pattern_over_seam(reckoning),
        *route_forming.form(reckoning),
        route_finishing.strike_sponsor(reckoning, particulars.marks),
        route_finishing.size(reckoning),
        *route_setting.settings_made(reckoning, particulars),
        route_setting.seats(particulars),
        route_finishing.hallmark(reckoning, rule, particulars.marks),
        route_finishing.inscribe(particulars),
        route_finishing.finish(reckoning, particulars),
        route_finishing.match_pair(reckoning, mate),
        None if is_set_last else stones,
        route_finishing.plate(reckoning, particulars),
        stones if is_set_last else None,
    )
    return tuple(one for one in operations if one is not None)
