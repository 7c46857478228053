"""How near two numbers are to each other that count as one: wherever a value meets its limit.

>>> psi = 6894.757293168361
>>> 50 * psi + 10 * psi == 60 * psi  # to a person they are the same
False
>>> abs(50 * psi + 10 * psi - 60 * psi) <= SAME * 60 * psi
True
"""

SAME = 1e-9
"""A share of the value [-]; far above the rounding of floats, far below what anyone measures."""
