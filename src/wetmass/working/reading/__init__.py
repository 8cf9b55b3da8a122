"""How a page may be written: LaTeX, decimal commas, program text with its results in comments, prose.

Each file here turns one way of writing into the plain line that the grammar reads.
"""
