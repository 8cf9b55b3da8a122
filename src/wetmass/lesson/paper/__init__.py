"""The lesson set by Typst: `document.pdf` on paper, `typeset.compiled` for anything else."""
