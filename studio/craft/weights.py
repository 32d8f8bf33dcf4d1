"""Weights in g from densities in g/cm3, sections in mm2 and lengths in mm."""


def mass_g(density_g_cm3: float, section_mm2: float, length_mm: float) -> float:
    """Weight of a strip or wire, or of a closed ring by the length of its neutral line, in g.

    density x section x length / 1000 (Pappus). Half-round 4 x 1.7 mm in sterling silver of 10.36 g/cm3,
    true length 61.53 mm, volume 328.6 mm3: 3.405 g.
    """
    return density_g_cm3 * section_mm2 * length_mm / 1000


def after_loss_g(mass: float, loss_percent: float) -> float:
    """What is left of `mass` g when `loss_percent` of it is filed, sanded and polished away."""
    return mass * (1 - loss_percent / 100)
