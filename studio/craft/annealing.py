"""How each family of alloys is annealed and cooled.

Temperatures in degrees C. They come from trade articles on annealing and heat treatment and from memory of
goldsmiths' handbooks; where those disagree the gentler figure stands. Red is first seen near 565 degrees.
"""

from studio.craft.metals import Anneal, Cooling

FINE_SILVER = Anneal(300, 450, "before any red shows", "Cool as you like.", Cooling.ANY)
SILVER = Anneal(
    600, 650, "dull red in a dim light", "Quench in water once the red is gone.", Cooling.QUENCHED
)
FINE_GOLD = Anneal(300, 400, "well before red", "Cool as you like.", Cooling.ANY)
HIGH_CARAT = Anneal(550, 600, "the first faint red", "Quench in water.", Cooling.QUENCHED)
YELLOW_18 = Anneal(550, 650, "faint red", "Quench in water.", Cooling.QUENCHED)
YELLOW_14 = Anneal(
    650, 677, "dull red", "Quench just below red: from red it can warp or crack.", Cooling.BELOW_RED
)
YELLOW_9 = Anneal(630, 650, "dull red", "Quench in water once the red is gone.", Cooling.QUENCHED)
RED = Anneal(
    650,
    677,
    "dull red",
    "Quench at the last trace of red, above 430 °C: cooled slowly it turns brittle.",
    Cooling.AT_LAST_RED,
)
NICKEL_WHITE = Anneal(
    600,
    650,
    "just red",
    "Let it fall below 480 °C, no glow in the dark, then quench: never from red.",
    Cooling.BELOW_RED,
)
PALLADIUM_WHITE = Anneal(700, 750, "cherry red", "Cool in air or quench.", Cooling.ANY)
PLATINUM = Anneal(1000, 1100, "bright orange, through dark glasses", "Cool in air or quench.", Cooling.ANY)
PALLADIUM = Anneal(850, 1000, "orange, through dark glasses", "Quench in water.", Cooling.QUENCHED)
COPPER = Anneal(400, 650, "dull red", "Cool as you like.", Cooling.ANY)
BRASS = Anneal(450, 650, "dull red in a dim light", "Cool in air.", Cooling.IN_AIR)
NICKEL_SILVER = Anneal(600, 700, "dull red", "Cool in air: quenched hot it can crack.", Cooling.IN_AIR)
