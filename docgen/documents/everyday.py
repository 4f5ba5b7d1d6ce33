"""A gap beside a thing that lies about in most homes, by the thing's published size; none where nothing fits.

Coins: United States Mint, coin specifications. AA battery: IEC 60086-2, R6, 13.5 to 14.5 mm across, its middle. From
memory.
"""

from __future__ import annotations

COIN_WIDTH_MM = {"dime": 17.91, "penny": 19.05, "nickel": 21.21, "quarter": 24.26}
COIN_THICKNESS_MM = {"pennies": 1.52, "nickels": 1.95}
AA_WIDTH_MM = 14.0
MOST_COINS = 6  # a higher stack does not stand
ABOUT_MM, NEAR_MM = 0.5, 1.0  # within the first it is "about", within the second "a bit more" or "a bit less"


def like(gap_mm: float) -> tuple[str, int, float] | None:
    """The thing nearest in size, how many of it, and by how many mm the gap is wider; None when none is within 1 mm.

    Check: 18 mm: a dime is wide (17.91); 12 mm: six nickels (11.70); 20 mm: a penny (19.05), a bit more; 40 mm:
    nothing.
    """
    single = [(name, 1, size) for name, size in {**COIN_WIDTH_MM, "aa": AA_WIDTH_MM}.items()]
    stacks = [(name, n, n * size) for name, size in COIN_THICKNESS_MM.items() for n in range(2, MOST_COINS + 1)]
    fits = [(name, n, gap_mm - size) for name, n, size in (*single, *stacks) if abs(gap_mm - size) <= NEAR_MM + 1e-9]
    return min(fits, key=lambda fit: (abs(fit[2]) > ABOUT_MM, fit[1] > 1, abs(fit[2])), default=None)
