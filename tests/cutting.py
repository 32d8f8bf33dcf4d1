"""An independent look at cutting plans, and sets to try them on; it shares nothing with the planner."""

from collections import Counter
from collections.abc import Sequence
from itertools import combinations, product
from random import Random

from studio.craft.cutting import Blank, Plan, Stock

KERF_UM = 310


def check(plan: Plan, stock: Sequence[Stock], blanks: Sequence[Blank], kerf_um: int) -> None:
    """Everything that must hold of any plan, worked out again from its strips and cuts alone."""
    pieces_of = {one.id: one for one in stock}
    blanks_of = {one.id: one for one in blanks}
    opened = Counter(piece.stock for piece in plan.pieces)
    assert all(opened[name] <= one.count for name, one in pieces_of.items())
    cut = Counter(one.blank for piece in plan.pieces for strip in piece.strips for one in strip.cuts)
    missing = Counter(one.blank for one in plan.unplaced)
    assert cut + missing == Counter({one.id: one.count for one in blanks})
    for piece in plan.pieces:
        whole = pieces_of[piece.stock]
        assert (piece.length_um, piece.width_um) == (whole.length_um, whole.width_um)
        assert piece.strips
        lost = 0
        across = 0
        metal = 0
        for strip in piece.strips:
            assert strip.cuts
            assert across + strip.width_um <= whole.width_um, "strips do not overlap, nor pass the edge"
            along = 0
            for one in strip.cuts:
                blank = blanks_of[one.blank]
                lying = (blank.length_um, blank.width_um)
                assert blank.may_turn or not one.is_turned
                assert (one.length_um, strip.width_um) == (lying[::-1] if one.is_turned else lying)
                assert along + one.length_um <= whole.length_um, "blanks do not overlap, nor pass the edge"
                metal += one.length_um * strip.width_um
                sawn = min(kerf_um, whole.length_um - along - one.length_um)
                lost += sawn * strip.width_um
                along += one.length_um + kerf_um
            sawn = min(kerf_um, whole.width_um - across - strip.width_um)
            lost += sawn * whole.length_um
            across += strip.width_um + kerf_um
        rests = sum(rest.length_um * rest.width_um for rest in piece.offcuts)
        assert metal + lost + rests == whole.length_um * whole.width_um, "area is conserved"
        assert piece.lemel_um2 == lost
    assert plan.opened_area_um2 == sum(piece.length_um * piece.width_um for piece in plan.pieces)
    assert 0 <= plan.bound_area_um2 <= plan.opened_area_um2
    assert not plan.is_proved or plan.bound_area_um2 == plan.opened_area_um2


def placed(plan: Plan, blanks: Sequence[Blank]) -> tuple[int, ...]:
    """Places in the list of the blanks that are cut, each name counted from its first on."""
    missing = Counter(one.blank for one in plan.unplaced)
    places: list[int] = []
    start = 0
    for blank in blanks:
        places += range(start, start + blank.count - missing[blank.id])
        start += blank.count
    return tuple(places)


def best(stock: Sequence[Stock], blanks: Sequence[Blank], kerf_um: int) -> tuple[tuple[int, ...], int]:
    """The blanks the best plan places and the least area it opens, by trying every way: for few blanks."""
    pieces = [(one.length_um, one.width_um) for one in stock for _ in range(one.count)]
    singles = [blank for blank in blanks for _ in range(blank.count)]
    by_area = sorted(
        (subset for subset in product((False, True), repeat=len(pieces))),
        key=lambda subset: sum(x * y for (x, y), chosen in zip(pieces, subset, strict=True) if chosen),
    )
    for count in range(len(singles), -1, -1):
        for places in combinations(range(len(singles)), count):
            wanted = [singles[at] for at in places]
            if not _goes_in(wanted, [(x, y, []) for x, y in pieces], kerf_um):
                continue
            for subset in by_area:
                chosen = [piece for piece, one in zip(pieces, subset, strict=True) if one]
                if _goes_in(wanted, [(x, y, []) for x, y in chosen], kerf_um):
                    return places, sum(x * y for x, y in chosen)
    raise AssertionError("no blanks at all can always be placed")


_Cutting = tuple[int, int, list[tuple[int, list[int]]]]


def _goes_in(wanted: Sequence[Blank], pieces: list[_Cutting], kerf_um: int) -> bool:
    """Every blank into every strip, old or new, until all are in; strips as lists of lengths."""
    if not wanted:
        return True
    blank, others = wanted[0], wanted[1:]
    lies = {(blank.length_um, blank.width_um)}
    if blank.may_turn:
        lies.add((blank.width_um, blank.length_um))
    for along, across in lies:
        for length, width, strips in pieces:
            for strip_width, lengths in strips:
                if strip_width == across and sum(lengths) + along + len(lengths) * kerf_um <= length:
                    lengths.append(along)
                    if _goes_in(others, pieces, kerf_um):
                        return True
                    lengths.pop()
            used = sum(strip_width for strip_width, _ in strips) + len(strips) * kerf_um
            if along <= length and used + across <= width:
                strips.append((across, [along]))
                if _goes_in(others, pieces, kerf_um):
                    return True
                strips.pop()
    return False


Set = tuple[list[Stock], list[Blank]]


def one_width(count: int, seed: int) -> Set:
    """Blanks of one width between 48 and 75 mm, and half as much again in sheets and strips of all sizes."""
    random = Random(seed)  # noqa: S311  the same sets every time
    step = random.choice([10, 100, 500])
    width = random.choice([3000, 4000, 5000, 6000])
    blanks = [Blank(f"b{at}", random.randrange(48_000, 75_000, step), width) for at in range(count)]
    need = 1.5 * sum(blank.length_um for blank in blanks)
    stock: list[Stock] = []
    while need > 0:
        wide = random.choice([6, 10, 15, 20, 30, 40, 60]) * 1000
        piece = Stock(
            f"s{len(stock)}", random.randrange(90, 400) * 1000, wide, random.choice([1, 1, 2, 3]),
            is_offcut=random.random() < 0.4,
        )  # fmt: skip
        stock.append(piece)
        need -= piece.count * piece.length_um * ((wide + KERF_UM) // (width + KERF_UM))
    return stock, blanks


def wire(count: int, seed: int) -> Set:
    """Blanks of 2 mm wire between 48 and 75 mm, and a third more in lengths between 100 and 500 mm."""
    random = Random(seed)  # noqa: S311  as above
    blanks = [Blank(f"b{at}", random.randrange(48_000, 75_000, 100), 2000) for at in range(count)]
    need = 1.3 * sum(blank.length_um for blank in blanks)
    stock: list[Stock] = []
    while need > 0:
        piece = Stock(
            f"w{len(stock)}", random.randrange(100, 500) * 1000, 2000, random.choice([1, 2, 3]),
            is_offcut=random.random() < 0.4,
        )  # fmt: skip
        stock.append(piece)
        need -= piece.count * piece.length_um
    return stock, blanks


def several_widths(count: int, pieces: int, seed: int, share: float = 1.6) -> Set:
    """Blanks of three to eight widths, some of which may turn; `share` times their area in so many pieces."""
    random = Random(seed)  # noqa: S311  as above
    widths = random.sample(range(2000, 10_001, 500), random.randrange(3, 9))
    blanks = [
        Blank(
            f"b{at}", random.randrange(48_000, 75_000, 100), random.choice(widths), 1, random.random() < 0.15
        )
        for at in range(count)
    ]
    need = share * sum(blank.length_um * blank.width_um for blank in blanks) / 1e6
    raw = [(random.uniform(0.4, 1.6), random.uniform(0.4, 1.6)) for _ in range(pieces)]
    scale = (need / sum(long * wide for long, wide in raw)) ** 0.5
    stock = [
        Stock(
            f"s{at}", max(80, min(400, int(long * scale * 1.8))) * 1000,
            max(11, min(80, int(wide * scale / 1.8))) * 1000, 1, is_offcut=random.random() < 0.4,
        )
        for at, (long, wide) in enumerate(raw)
    ]  # fmt: skip
    while sum(one.length_um * one.width_um * one.count for one in stock) < need * 1e6:
        at = random.randrange(pieces)
        one = stock[at]
        stock[at] = Stock(one.id, one.length_um, one.width_um, one.count + 1, is_offcut=one.is_offcut)
    return stock, blanks


def triplets(count: int, seed: int, kerf_um: int = KERF_UM) -> Set:
    """Blanks in threes that fill a bar to the last, with two kerfs, and bars enough for all.

    Made as published by E. Falkenauer (A hybrid grouping genetic algorithm for bin packing, Journal of
    Heuristics 2, 1996), the way of the sets t60, t120 and t249 of the OR-Library: of 1000, the first is
    between 380 and 490, the second between 250 and half of what the first leaves, the third is the rest.
    """
    random = Random(seed)  # noqa: S311  as above
    sizes: list[int] = []
    for _ in range(count // 3):
        first = random.randint(380, 490)
        second = random.randint(250, (1000 - first) // 2)
        sizes += [first, second, 1000 - first - second]
    random.shuffle(sizes)
    blanks = [Blank(f"b{at}", size * 100, 2000) for at, size in enumerate(sizes)]
    return [Stock("bar", 100_000 + 2 * kerf_um, 2000, count)], blanks
