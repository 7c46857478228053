"""The physics of tank, pump and house: pure functions on SI floats and NumPy arrays.

``air`` is the gas (atmosphere, Boyle, temperature), ``tank`` the water that it lets in and out,
``header`` several tanks at one pressure. ``curve``, ``pipe`` and ``pump`` are what arrives at the
tank; ``fill`` joins the two, ``cycle`` tells runs, rests and starts. ``household`` draws water,
``day`` follows pump and tank through it (``way`` moves the water), ``day_figures`` counts.
``demand`` and ``well`` are the published methods for a house. ``sampling`` spreads cases evenly.
``forgiving`` says how near two numbers count as one.

Boyle's law takes absolute pressure only, so gauge and absolute pressures are different types:
:func:`air.absolute` and :func:`air.gauge` are the only ways across.
"""
