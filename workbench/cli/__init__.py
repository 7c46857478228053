"""The command line: the same job, evaluation and numbers as the window, without a display.

Each sub-command has a file of its own; ``add(commands)`` adds its parser. What they share:
``options`` (what can be given), ``entered`` (from the options to a job), ``asked`` (from a job to
its results, or a refusal) and ``output``.
"""

from workbench.cli.program import main as main
