import pytest

from studio.craft.initials import initials

NAMES = {
    "two words": ("Jorun Müller", "J M"),
    "one word": ("Zora", "Z"),
    "typed in haste": ("ines radley", "I R"),
    "typed loudly": ("INES RADLEY", "I R"),
    "a particle": ("Ludwig van Beethoven", "L v B"),
    "particles first": ("von der Leyen, Ursula", "v d L U"),
    "a particle with an apostrophe": ("Jeanne d’Arc", "J d A"),
    "an apostrophe that parts nothing": ("Seán O'Brien", "S O"),
    "an apostrophe first": ("Gerard ’t Hooft", "G t H"),
    "a hyphen": ("Anne-Marie Dupont", "A M D"),
    "initials": ("J. R. R. Tolkien", "J R R T"),
    "two people": ("Ada & Jon", "A J"),
    "more than four": ("Maria Anna Sofia Cecilia Kalogeropoulos", "M A S K"),
    "accents": ("Élodie Ångström", "É Å"),
    "an accent of its own sign": ("e\u0301lodie angstro\u0308m", "É A"),
    "an accent no single sign has": ("q\u0303a ba", "Q\u0303 B"),
    "no capital of one letter": ("ßberg müller", "ß M"),
    "brackets and blanks": ("  (Ines)   „Radley“ ", "I R"),
    "a figure": ("3 Fates Ltd", "3 F L"),
    "greek": ("Μαρία Παπαδοπούλου", "Μ Π"),
    "cyrillic": ("Пётр Щербаков", "П Щ"),
    "georgian, without capitals": ("შოთა რუსთაველი", "შ რ"),
    "hebrew": ("שרה כהן", "ש כ"),
    "arabic with a particle": ("محمد بن سلمان", "م ب س"),
    "devanagari": ("श्री राजेश क्षत्रिय", "श्री रा क्ष"),
    "thai, its vowel before the consonant": ("เมทินี กิ่งโพยม", "ม ก"),
    "korean": ("김 민준", "김 민"),
    "japanese": ("山田 花子", "山 花"),
    "japanese in one": ("山田花子", "山"),
    "chinese, two signs": ("李 明", "李"),
    "two signs of two words": ("A B", "A"),
    "a single letter": ("J", "J"),
    "no letter": ("— ♥ …", ""),
    "nothing": ("", ""),
}


@pytest.mark.parametrize(("name", "expected"), NAMES.values(), ids=NAMES)
def test_initials_are_the_first_letters_of_a_name(name: str, expected: str) -> None:
    assert initials(name) == expected


@pytest.mark.parametrize("name", [name for name, _ in NAMES.values() if len(name.split()) > 1])
def test_initials_are_never_the_whole_name(name: str) -> None:
    assert initials(name).replace(" ", "").casefold() != "".join(name.split()).casefold()
