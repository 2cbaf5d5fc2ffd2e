"""The language service: all that an editor or a page asks while somebody writes.

No transport is here. :class:`procedure.service.desk.Desk` keeps the texts that are open;
:mod:`procedure.service.answers` answers questions in plain data, and the language server,
the page on one's own machine and the page without a server all ask it.
"""
