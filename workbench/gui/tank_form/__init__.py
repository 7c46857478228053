"""The form that adds one tank to the catalogue, or corrects one.

``draft`` is what is typed and what is wrong with it, without Qt; ``panel`` shows it field by field;
``form`` is the window around them, which saves.
"""

from workbench.gui.tank_form.form import TankForm

__all__ = ["TankForm"]
