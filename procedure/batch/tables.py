"""Files of figures beside a record (a logger's, a colour meter's), from bytes to text."""

from __future__ import annotations


def text_of_table(data: bytes) -> str:
    """The text of a CSV as instruments write it.

    UTF-8 with or without a byte-order mark, UTF-16 with one, else the Western code page of
    Windows (1252), in which many loggers write their ° sign. Line ends are made plain.
    """
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        text = data.decode("utf-16", errors="replace")
    else:
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError:
            text = data.decode("cp1252", errors="replace")
    return text.replace("\r\n", "\n").replace("\r", "\n")
