"""Text as people keep it, made even for reading; and what is no recipe at all."""

from __future__ import annotations

import re
from html.parser import HTMLParser

from procedure.draft.steps_in_a_row import steps_apart

MOST_BYTES = 800_000
LONGEST = 30_000  # letters: a long chapter; a whole book is to be cut up first

EVEN = str.maketrans(
    {
        "“": '"',
        "”": '"',
        "„": '"',
        "‘": "'",
        "’": "'",
        "–": "-",
        "—": "-",
        "−": "-",
        "\u00a0": " ",
        "\u2009": " ",
        "\u202f": " ",
        "\ufeff": "",
        "…": "...",
        "👉": ";",
        "➡": ";",
        "➔": ";",
        "▶": ";",
        "⇒": ";",
        "×": "x",
        "º": "°",
        "℃": "°C",
        "℉": "°F",
        "\t": "   ",  # a column of a table
    }
)


# What no recipe holds, and what patterns would be slow to look through.
_MASS = re.compile(r"\d{40}|\S{2000}")
_BLANKS = re.compile(r"\s{40,}")


def _fewer(blanks: re.Match[str]) -> str:
    return "\n\n" if blanks.group().count("\n") > 1 else " "


# Words whose hyphen is their own where a line breaks at it: "one-quarter", "half-pound".
HALVES = "one|two|three|four|half|quarter|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety"


SEMICOLONS = re.compile(r"(?m)^[^;\n]*(?:;[^\s;][^;\n]*|;(?=[;\n])){2,}$")  # rows of a sheet
LEAST_ROWS = 3

# Dots that lead the eye to the amount of an ingredient: "alum ........ 20 g".
LEADERS = re.compile(r"[ \t]*(?:\.[ \t]?){4,}(?=[ \t]*[^\s.])[ \t]*")
# Two or three dots lead to it where nothing else stands in the line: "leaf ... 150 g".
FEW_LEADERS = re.compile(
    r"(?m)^([ \t]*[^.\n]{2,40}?)[ \t]+\.{2,3}[ \t]*(?=[\d½¼¾][^.\n]{0,20}\.?$)"
)


# Signs of bold type, boxes to tick and heads of sections in plain text.
MARKED = re.compile(
    r"(?m)\*\*|__(?=\w)|(?<=\w)__|^[ \t]*(?:[-*][ \t]+)?\[[ xX]?\](?=[ \t])|^#{1,4}[ \t]+"
)


class NotProse(Exception):
    """The text is no recipe in prose; its text is one plain sentence."""


LIGATURES = {
    "\ufb00": "ff",
    "\ufb01": "fi",
    "\ufb02": "fl",
    "\ufb03": "ffi",
    "\u017f": "s",
    "\u00ad": "",
}


def decoded_prose(raw: bytes) -> str:
    """The text of a file as editors of all kinds save it.

    UTF-8 and UTF-16 with their marks; what is neither is read in the code page, of Windows,
    the Macintosh or DOS, in which it has most of the signs that recipes have.
    """
    if b"\x00" in raw and not raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise NotProse("this is no text (it holds zero bytes); save the recipe as plain text.")
    for mark, encoding in ((b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16")):
        if raw.startswith(mark):
            return raw.decode(encoding, "replace")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return max((raw.decode(page, "replace") for page in CODE_PAGES), key=_likely)


# Code pages of Windows, the Macintosh and DOS; the first of those that fit equally well is taken.
CODE_PAGES = ("cp1252", "mac_roman", "cp850", "cp437")
LIKELY = frozenset("°½¼¾£×–—‘’“”…•éèêëàâüöäïîôçñ§®©º\u00a0")


def _likely(text: str) -> int:
    """How well a text fits a recipe: signs that recipes have, less signs that they have not."""
    odd = [sign for sign in text if ord(sign) > 127]
    return sum(1 if sign in LIKELY else -1 for sign in odd)


def cleaned(text: str) -> str:
    """The text on even lines, plain quotes and whole words.

    Raises :class:`NotProse` for an empty text, a page of a web site with its tags, a
    procedure that is one already, and a text too long to be one recipe.
    """
    if len(text) > LONGEST:
        raise NotProse(
            f"the text is longer than one recipe (over {LONGEST:,} letters); give one at a time."
        )
    if _MASS.search(text):
        raise NotProse("a number or a word in it is longer than any recipe has; give plain words.")
    text = _BLANKS.sub(_fewer, text)
    if not text.strip():
        raise NotProse("the text is empty; give a recipe in words.")
    if re.search(r"<(!doctype|html|body|div|p|span|li|br|h\d|td)\b[^>]*>", text, re.I):
        text = _without_tags(text)
    if re.search(r"(?m)^procedure\s+\"", text) and re.search(r"(?m)^steps\s*$", text):
        raise NotProse("this is a procedure already; “vatwright check” tells what it lacks.")
    even = text.replace("\r\n", "\n").replace("\r", "\n").translate(EVEN)
    rows = SEMICOLONS.findall(even)
    if len(rows) >= LEAST_ROWS:
        even = SEMICOLONS.sub(lambda row: row[0].replace(";", "   "), even)
    for joined, apart in LIGATURES.items():
        even = even.replace(joined, apart)
    even = re.sub(rf"\b({HALVES})-\n\s*(?=[a-z])", r"\1-", even, flags=re.I)
    even = re.sub(r"\b((?:half|quarter)-an?)-\n\s*(?=[a-z])", r"\1-", even, flags=re.I)
    even = re.sub(r"(?<=[a-z])-\n\s*(?=[a-z])", "", even)
    even = re.sub(r"(?<=\d)·(?=\d)", ".", even)
    even = MARKED.sub("", even)
    even = FEW_LEADERS.sub(r"\1: ", LEADERS.sub(": ", even))
    return steps_apart(_misprints(even))


class _Words(HTMLParser):
    """The words of a web page, a block to a line."""

    HIDDEN = frozenset({"script", "style", "head", "title", "nav"})
    INLINE = frozenset({"b", "i", "em", "strong", "span", "a", "u", "sup", "sub", "small"})

    def __init__(self) -> None:
        super().__init__()
        self.said: list[str] = []
        self.hidden = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.hidden = 0 if tag == "body" else self.hidden + (tag in self.HIDDEN)
        if tag not in self.INLINE:
            self.said.append("\n")

    def handle_endtag(self, tag: str) -> None:
        self.hidden = max(0, self.hidden - (tag in self.HIDDEN))
        if tag not in self.INLINE:
            self.said.append("\n")

    def handle_data(self, data: str) -> None:
        if not self.hidden:
            self.said.append(data)


def _without_tags(text: str) -> str:
    """A web page as plain text."""
    page = _Words()
    page.feed(text)
    page.close()
    said = "".join(page.said)
    if not said.strip():
        raise NotProse("this web page holds no words; save it as plain text and give that.")
    return said


def _misprints(text: str) -> str:
    """Letters that a scanner takes for figures, where only a figure makes sense."""
    unit = r"(?=\s*(?:lbs?|oz|gal|gallons?|minutes?|hours?|pints?|quarts?|g|kg)\b)"
    text = re.sub(rf"(?<![\w'])[lI]{unit}", "1", text)
    text = re.sub(r"(?<=\d)(\s?)I(bs?\b)", r"\1l\2", text)
    text = re.sub(r"(?<=\d)(\s?)1(bs?\b)", r"\1l\2", text)
    text = re.sub(r"(?<=[a-z]{2})1(?=[a-z])", "l", text)  # "fol1ows", "wi1l"
    text = re.sub(r"\b(\d+)[oO]\b", lambda found: found[1] + "0", text)
    text = re.sub(r"\b[lI](\d+)\b", r"1\1", text)
    text = re.sub(r"\bl(?=[A-Z]{2,}\b)", "I", text)
    text = re.sub(r"\bw1th\b", "with", text)
    return re.sub(r"\bsimrner", "simmer", text)
