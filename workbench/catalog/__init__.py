"""The firm's tank catalogue: a CSV file that people edit in a spreadsheet, read without guessing.

``tank`` is one row and its rules, ``headers`` the columns with their units, ``numbers`` and
``cells`` what stands in them, ``dialect`` how a file is split into cells, ``table`` the whole file,
``writing`` the change of one row, ``columns`` the same tanks as arrays, ``schema`` the description
for other programs, ``check`` the answer for the command line.

What is wrong in a file is data (:class:`~workbench.catalog.problems.CellProblem`), all of it at
once; an error is raised only when there is nothing to read, or nothing that may be written.
"""
