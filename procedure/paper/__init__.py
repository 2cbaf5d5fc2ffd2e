"""Papers as data: a tree of blocks, and thin printers for HTML, Markdown, PDF and plain text.

Whoever makes a paper (a handout, labels, a shade card) says what it holds, in
:mod:`procedure.paper.blocks`; how it looks is the printers' and their styles' alone.
"""
