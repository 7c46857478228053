"""The physics of a pressure tank: pure functions on SI floats and NumPy arrays, broadcast freely.

``air`` is the gas (atmosphere, Boyle, temperature), ``tank`` the water that it lets in and out,
``cycle`` the pump's runs and rests. Boyle's law takes absolute pressure only, so gauge and absolute
pressures are different types: :func:`air.absolute` and :func:`air.gauge` are the only ways across.
"""
