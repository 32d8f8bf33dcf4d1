"""The people of the demo, all invented. Their telephone numbers, 01632 960 xxx, are kept free for stories."""

from studio.book.studio import Studio
from studio.craft.roles import Role
from studio.papers.house_words import Country

STUDIO = Studio(
    name="Wrenfold",
    subtitle="goldsmiths",
    address="7 Cooper's Stair",
    country=Country.GREAT_BRITAIN,
    closed_weekdays="06",
    making_days=2,
    assay_days=5,
    finishing_days=1,
    setting_days=1,
    engraving_days=3,
    plating_days=3,
    fit_weeks=2,
    insured_minor=2_500_000,
    kept_agreed_bp=10_00,
    kept_cut_bp=25_00,
    kept_bench_bp=60_00,
    kept_ready_bp=100_00,
    tax_number="GB 999 9999 73",
    invoices_on_account=True,
    invoice_note="To be paid within 14 days, by card at the counter or by transfer with this number.",
    phone="01632 960 715",
    email="book@wrenfold.example",
)
OWNER = "Maren"
PEOPLE = ((OWNER, Role.OWNER), ("Ivo", Role.COUNTER), ("Tilde", Role.MAKER))

CUSTOMERS = (
    "Jorun Müller", "Ελένη Βασιλάκη", "Thea Marchbanks", "Rafe Oduya", "Bettina Szabó",
    "Callum Treadgold", "Nadia Rahmani", "Pieter van der Aa", "Siân Prothero", "Юлия Беркутова",
    "Amara Nwosu", "Lorcan Devane", "Mei-Ling Tong", "Åsa Lindqvist", "Dorothea Quill", "Emeka Balogun",
    "Françoise Delorme", "Gwilym Parry", "Hanneke Bos", "Imran Sadiq", "Josefina Luque", "Kasimir Wolny",
    "Leocadia Stone", "Marek Dvořák", "Niamh Corrigan", "Orla Featherstone", "Priya Venkataraman",
    "Quentin Ashdown", "Rosalind Okafor", "Søren Dahl", "Tamsin Pellow", "Ursula Groß",
    "Vikram Chaudhary", "Winifred Nash", "Xanthe Kouris", "Yusuf Demirel", "Zofia Kaczmarek",
    "Alasdair Munro", "Blanca Iriarte", "Cosmo Farraday", "Delphine Arnaud", "Edwin Thackray",
    "Freya Halloran", "Gideon Marsh", "Hilda Nørgaard", "Isolde Trevanion", "Jasper Lindley",
    "Kirsi Salonen", "Ludovic Perrault", "Maeve Donnellan", "Nikhil Bhatt", "Odile Garnier",
    "Phoebe Sandiford", "Ruaridh Grant", "Sabine Ketterer", "Tomoko Hayashi", "Ulrich Weiss",
    "Verity Bloom", "Wren Abernathy", "Ysolde Carrick",
)  # fmt: skip

NOTES = (
    "Comes in on her way home, best after five.",
    "The ring is a surprise: no letters to the house, please.",
    "Brings the old ring to compare.",
    "Works with her hands all day, wants no sharp edge.",
    "Would like to watch the seam being closed.",
    "Asked us to ring before noon.",
)
"""What the counter writes down beside an order."""


def phone_of(place: int) -> str:
    """The telephone number of the customer at `place`; no two end in the same four digits."""
    return f"01632 960 {(place * 13 + 101) % 1000:03d}"


def email_of(name: str) -> str | None:
    """The e-mail address of a customer whose name is written in plain letters, else None."""
    first = name.split(maxsplit=1)[0].lower().replace("-", "")
    return f"{first}@{name.rsplit(maxsplit=1)[-1].lower()}.example" if name.isascii() else None
