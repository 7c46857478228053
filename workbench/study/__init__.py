"""What follows from a job: ``evaluate(job, tanks) -> Results``, pure and without Qt.

``inputs`` turns entries into SI values and findings (with ``reader`` and ``pump.reading``),
``supply`` is the pump at its band, ``sizing`` finds the required drawdown, ``ranking`` judges every
candidate tank, ``reasons`` says it in words, ``lines`` is the plot, ``working`` shows the
arithmetic. Each folder answers the question of one page and has its ``view`` and its ``record``.
"""
