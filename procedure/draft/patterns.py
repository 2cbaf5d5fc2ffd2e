"""How amounts are written in prose: a pattern for each way, the surest first."""

from __future__ import annotations

import re
from functools import cache

from procedure.draft.lexicon import meanings, one_of
from procedure.draft.spelt_numbers import number_pattern
from procedure.vocabulary import vocabulary


@cache
def _units() -> str:
    return one_of(list(meanings("unit")))


@cache
def patterns() -> tuple[tuple[str, re.Pattern[str]], ...]:
    """The patterns, each with the name of what makes an amount of its match."""
    n, u = number_pattern(), _units()
    odd = one_of(list(meanings("odd unit")))
    old = one_of(list(meanings("old unit")))
    # A dash at the beginning of a line is the next item of a list, and no range.
    to = r"(?:[^\S\n]*-{1,2}|\s*\bto\b|\s*\bor\b)\s*"
    # "60 to 65", "between 60 and 65", "between 60° and 65°".
    joined = rf"(?(between)\s*°?\s?[CF]?\s*\band\s+|{to})"
    span = rf"(?P<between>\bbetween\s+)?(?P<low>{n})(?P<ish>ish)?(?:{joined}(?P<high>{n}))?"
    sized = (
        r"(?:(?P<size>us|u\.s\.|imperial|imp\.?|english|american|uk|british|aus|australian)\s+)?"
    )
    after = r"(?:\.?\s*\(?(?P<sized>us|u\.s\.|imperial|imp\.?|uk|aus)\b\.?\)?)?"
    basis = one_of(list(meanings("basis")))
    half = (
        r"(?P<more>\s+(?:and|&)\s+(?:(?:a|one)\s+)?(?:half|quarter)\b(?!\s+an?\b)"
        r"|\s+(?:and|&)\s+three[\s-]quarters)?"
    )
    units = vocabulary().units
    timed = one_of([one for one, unit in meanings("unit").items() if units[unit].kind == "time"])
    times = one_of(list(meanings("times")))
    month = one_of(list(meanings("month")))
    part = rf"(?:{n}|an?\s+equal|the\s+same|equal|double|twice|half|thrice)"
    its = r"(?:its|their|the|his|this|that|own)(?:\s+own)?"
    listed = [
        (
            "ratio",
            r"(?<!at )(?<!by )\b(?P<low>1)(?::| : )(?P<high>\d+)\b(?!\s?[ap]\.?m"
            r"|\s*(?:g|kg|ml|l|lb|oz)\b)",
        ),
        (
            "figure",
            r"\b\d{1,2}[:.]\d\d\s*(?:[ap]\.?m\b\.?)?(?=\s*(?:[ap]m|by|off|:|,|$|\n))|\b\d{1,2}:[0-5]\d\b"
            r"(?!\s*(?:of|ratio))|\b\d{1,2}\s?[ap]\.?m\b",
        ),
        (
            "figure",
            rf"\b\d{{1,2}}(?:st|nd|rd|th)?\s+(?:of\s+)?(?:{month})\b(?!\s+(?:be|need|take))(?:\s+\d{{4}})?",
        ),
        ("figure", rf"\b(?:{month})\s+\d{{1,2}}(?:st|nd|rd|th)?\b(?:,?\s+\d{{4}})?"),
        (
            "figure",
            r"\b(?:page|p\.|pp\.|no\.|nos\.|number|bulletin|plate|fig\.|figure|chapter|vol\.)\s*\d+(?:-\d+)?",
        ),
        (
            "figure",
            r"\b(?:1[5-9]\d\d|20\d\d)s?\b(?!\s*(?:g|ml|kg|grams)\b)|[£$€]\s?\d+(?:\.\d\d)?|\b\d+\s?(?:p(?!\.?\s?c)|cents?|pence|shillings?|dollars?|s\.)\b|\b\d+(?:st|nd|rd|th)\b",
        ),
        (
            "figure",
            r"\b(?:vat|bath|card|lot|step|day|recipe|group|part|sample|batch|method|stage|lesson"
            r"|option)[ \t]+\d{1,3}\b"
            rf"(?!\s*(?:{u})\b|[.:/]\d|\s*[°%x-]|\s+per\b)",
        ),
        ("figure", r"(?m)^\s*\(?\d{1,2}[.)]{1,2}(?=\s+\D)"),
        ("figure", rf"(?m)^\s*\d{{1,2}}\.\d{{1,2}}\.?(?=\s+(?-i:[A-Z]))(?!\s*(?:{u})\b)"),
        ("figure", r"(?m)^\s*\d{1,2}(?=[ ]+(?-i:[A-Z]{3,}))"),  # "2 MAKE THE DYE."
        ("figure", r"(?m)^\s*[(\[]?[1-9]\s?/\s?[1-9][)\]:](?=\s)"),  # "(2/3)", of three messages
        ("figure", r"\b\d+-\d+-\d+\b"),
        (
            "figure",
            rf"\b(?:an?\s+(?:\w+\s+){{1,2}}|{n}\s+(?:\w+\s+)?|a\s+(?:few|little)\s+(?:\w+\s+)?)at\s+a\s+time\b",
        ),
        (
            "acidity",
            r"\bph\b(?:\s*(?:value|level|of|about|around|roughly|is|was|at|=|:|between|to|up|down|should|must|be|reads?|reached|reaches|it|,))*\s*(?P<low>1[0-4](?:\.\d+)?|\d(?:\.\d+)?)(?![\d%°])(?!\s*(?:g|ml|l|h|min|minutes|hours|times|drops?)\b)(?:\s*(?:-|to|and|or)\s*(?P<high>\d+(?:\.\d+)?))?",
        ),
        (
            "ratio",
            r"\b(?P<low>\d+|two|three|four|five|six|eight|ten|twenty|thirty|forty|fifty)\s+(?:to)\s+"
            r"(?P<high>1|one)\b(?!\s*(?:\w|/|½))",
        ),
        ("article odd", r"\b(?:1|one)[\s-]in[\s-](?:\d+|ten|twenty)\b(?!\s*(?:h|min))"),
        ("article odd", r"\b\d+(?:-\d+)?\s*(?:°|degrees?|deg\.?)\s*(?:R(?:[ée]aumur)?\b|Reau\.?)"),
        # How strong a liquor is by a hydrometer, and no heat: "6° Tw.", "4 degrees Baumé".
        (
            "article odd",
            rf"{span}\s*(?:°|degrees?|deg\.?)\s*(?:Tw(?:add(?:ell?|le)?)?|B(?:é|e|aum[ée]))\b\.?",
        ),
        (
            "spoonmark",
            r"(?P<low>\d+(?:\s?[½¼¾/]\s?\d?)?|[½¼¾])\s?(?-i:(?P<unit>T|Tb|t))\.?(?=\s+(?:of\s+)?[a-z])",
        ),
        ("ratio", r"\b(?P<low>\d+)(?::| : )(?P<high>\d+)\b(?!\s*(?:g|kg|ml|l|lb|oz)\b)"),
        (
            "relative",
            rf"\b(?:(?:equal\s+to\s+)?its\s+own\s+weight(?:\s+of)?|weight\s+for\s+weight|as\s+heavy\s+as\s+the\s+\w+|{part}\s*(?:of\s+)?(?:times\s+)?(?:of\s+)?{its}\s+(?:dry\s+)?weights?"
            rf"(?:\s+(?:again))?(?:\s+of\s+(?:the\s+)?(?:wool|yarn|silk|cotton|linen|fibre|goods|cloth|fleece))?"
            rf"|(?:equal|the\s+same|same|the\s+like|an\s+equal|double\s+the|twice\s+the|half\s+the)\s+"
            rf"(?:weights?|amounts?|volumes?|quantity|quantities|measures?|time|lengths?)(?:\s+and\s+temperature)?"
            rf"(?:\s+as\s+(?:the\s+|your\s+|my\s+|our\s+)?(?:wool|yarn|silk|cotton|linen|fibre|goods|cloth|fleece))?"
            rf"|(?:{n}|half|twice|as|double)\s+as\s+long\s+as\s+(?:\w+\s+){{1,5}}?(?:boiled|simmered|mordanted|soaked|steeped|dyed|before|stood|cooked)"
            rf"|(?:{n}|half|twice|as|double)\s+as\s+(?:much|long|many|heavy)(?:\s+(?:again|as)(?:\s+\w+){{0,3}})?"
            rf"|as\s+long(?=\s*[,.;]|\s+and\b)|as\s+much\s+again|half\s+the\s+(?:alum|detergent|amount|time|soda|water|iron)|the\s+same\s+of)",
        ),
        (
            "relative",
            rf"\b(?:{n}\s+times|{n}\s?x)\s+(?:the\s+)?(?:dry\s+)?weights?(?:\s+of(?:\s+the)?\s+\w+)?",
        ),
        (
            "article odd",
            r"\b(?:the\s+)?(?:same|like)\s+(?:heat|temperature|strength|proportions?|again)\b",
        ),
        (
            "article odd",  # "leave it in till the liquor is cold"
            r"\b(?:until|till|til)\s+(?:(?:it|they|all|everything|she)\s+|the\s+(?:pot|liquor|bath|water|dye|vat"
            r"|brew|kettle|pan|copper|whole|lot)\s*)(?:(?:is|are|was|were|be|has\s+gone|have\s+gone|had\s+gone"
            r"|has\s+got|goes|gets|got|'s)\s+)(?:(?:quite|stone|completely|all|thoroughly)[\s-]+)?cold\b",
        ),
        ("article odd", r"\b(?:two|three|four|five|six|ten)-?fold\b"),
        (
            "article odd",
            r"\b\d+(?:\s*,\s*\d+)+,?\s+(?:or|and)\s+\d+\s*%(?:\s*(?:o\.?w\.?f\.?|w\.?o\.?f\.?))?",
        ),
        (  # "1 g in 40": how strong; "20 min in 4 gal" is how long, and in how much
            "article odd",
            rf"(?<![\w/.]){n}\s*(?!(?:{timed})\b)(?:{u})\.?\s+in\s+(?!{n}\s*(?:{u})\b)\d+\b(?![./°%])",
        ),
        (
            "article odd",
            rf"\b{n}\s*(?:{u})\.?\s+(?:(?:for|to)\s+each\s+(?:one\b|of\b)|to\s+each\s+\d)",
        ),
        (
            "rate",
            rf"\b(?P<low>{n}|an?)\s*(?:°\s*[cf]?|degrees?|[cf])\s*(?:per|an?|each|every|/)\s*(?:every\s+)?(?:{n}\s*)?(?:min(?:ute)?s?|hours?|h)\b",
        ),
        (
            "share",
            rf"{span}\s*(?:%|per\s*cent\.?|percent|pct|p\.\s?c\b\.?|pc\b)(?:\s*(?:\(?(?P<basis>{basis})\)?))?",
        ),
        (
            "clock",
            r"\b(?P<h>\d{1,2})\s?h(?:rs?|ours?)?\.?\s?(?P<m>\d{2})\b(?!-\d)(?!\s*(?:°|%|c\b|f\b|g\b|ml|l\b|k|deg))(?:\s?min(?:ute)?s?\b)?"
            r"|\b(?P<h2>\d{1,2})\s?h(?:rs?)?\s?(?P<m2>\d{1,2})\s?m(?:ins?)?\b",
        ),
        ("strength", rf"{span}\s*(?P<top>g|grams?|ml)\s*(?:/|per)\s*(?:l|litre|liter)\b"),
        (
            "to so much",  # "three pounds of madder to four of cotton"
            rf"(?P<low>{n})\s*(?P<unit>lbs?|pounds?|oz|ounces?|kg|kilos?|g|grams?)\s+of\s+[a-z]+\s+to\s+"
            rf"(?P<many>{n})\s*(?P<below>lbs?|pounds?|oz|ounces?|kg|kilos?|g|grams?)?(?=\s+of\s+(?:the\s+|dry\s+)?"
            r"(?:wool|yarn|silk|cotton|linen|cloth|fleece|goods|fib(?:re|er)|stuff)\b)",
        ),
        (
            "each",
            rf"{span}\s*{sized}(?P<unit>{u})(?![A-Za-z]){after}\.?\s*(?:of\s+\w+(?:\s(?!and\b|in\b|with\b|to\b|half\b|quarter\b|three\b)\w+)?\s+)?(?:(?:per|to\s+(?:the|each|every|a)|for\s+(?:each|every|an?)|a|in\s+the)\s+|/\s*)(?P<per>(?:{n}\s*)?(?:lbs?|pounds?|kg|kilos?|g|litres?|liters?|l|gallons?|gal|oz|ounces?))\b(?!\s*/)",
        ),
        (
            "each",
            rf"\b(?:(?P<low>half|{n}\s+quarters?\s+of)\s+)?an?\s+{sized}(?P<unit>{u})(?![A-Za-z]){after}\.?"
            rf"\s+(?:of\s+\w+\s+)?(?:per|to\s+(?:the|each|every)|for\s+(?:each|every)|in\s+the)\s+"
            rf"(?P<per>(?:{n}\s*)?(?:lbs?|pounds?|kg|kilos?|litres?|liters?|gallons?|gal"
            rf"|quarts?|pints?|oz|ounces?))\b",
        ),
        (
            "temperature",
            rf"(?!(?:an?\s+)?(?:half|quarter)\b){span}\s*(?:°|degrees?|degs?\.?)\s*(?P<scale>celsius|centigrade|fahrenheit|fahr\.?|c|f)?\b\.?"
            rf"|(?P<low2>\d+)(?:\s*(?:-|to)\s*(?P<high2>\d+))?\s?°",
        ),
        (
            "spoken",
            r"\b(?P<hundred>one|two)\s+(?P<rest>(?:ten|eleven|twelve|(?:twen|thir|for|fif|six|seven|eigh|nine)ty)"
            r"(?:[\s-](?:one|two|three|four|five|six|seven|eight|nine))?)"
            r"(?:\s+degrees?)?\s*(?P<scale>celsius|centigrade|fahrenheit)\b",
        ),
        (
            "temperature",
            rf"{span}\s+(?P<scale>celsius|centigrade|fahrenheit)\b",
        ),
        (
            "temperature",
            r"\b(?P<between>between\s+)?(?P<low>\d{2,3})(?:\s*(?:-|to|(?(between)and|-))\s*(?P<high>\d{2,3}))?"
            r"\s?(?P<scale>celsius|centigrade|fahrenheit|c|f)\b(?!\.\w)",
        ),
        ("prime", rf"{span}\s?['′](?![\w\"'])"),
        (
            "article odd",
            r"\bthe\s+(?:size|bigness|bulk)\s+of\s+an?\s+[\w']+(?:\s+(?:egg|nut|pea))?",
        ),
        (
            "both",
            rf"\b(?P<article>an?)\s+(?P<unit>{u})\s+and\s+(?P<second>{n})\s*(?P<unit2>{u})(?!\w)",
        ),
        ("many", rf"(?P<count>{n})\s*x\s*(?P<low>{n})\s*(?P<unit>{u})\b"),
        # "Two 50 g skeins" weigh 100 g.
        (
            "many",
            rf"(?<![\w/.])(?P<count>{n})\s+(?P<low>\d+)[ -]?(?P<unit>{u})(?=\s+(?:[a-z]+\s+)?"
            r"(?:(?:mini-?\s?)?skeins|hanks|balls|cones|cops|scarves|shawls|swatches|squares|bundles)\b)",
        ),
        ("times", rf"\b(?:{n}\s+times|twice|thrice|once)\s+(?:a|per|each|every)\s+day\b"),
        (
            "quarters",
            r"\b(?P<low>(?:the\s+)?half(?=\s+of)|(?:a|one|three)[\s-]quarters?|(?:a|one|two)[\s-]thirds?|an?\s+eighth|one[\s-](?:half|fourth|eighth)|half|quarter|\d/\d|[½¼¾])\s+(?:of\s+)?an?\s+(?P<unit>houre?|hower|hour|ounce|pound|gallon|pint|litre|liter|kilo|cup|quart|teaspoon|tablespoon|lb|oz|gal|day|minute)\b",
        ),
        (
            "elliptic hour",  # "up to the boil in three quarters, hold an hour"
            r"\b(?<=\bin )three[\s-]quarters(?=\s*[,.;])",
        ),
        (
            "measure",
            rf"{span}[\s-]*(?:(?:more|full|good|whole|further|extra|level|heaped|short|metric)\s+)?{sized}(?P<unit>{u})(?!\w)(?:'s)?(?:\s+weight(?=\s+of\b))?{after}{half}"
            rf"(?P<so>\s+or\s+(?:so|thereabouts)\b)?(?:\s+(?:and\s+)?(?P<second>{n})\s*(?P<unit2>{u})(?!\w))?(?:\s+(?P<each>each|apiece))?",
        ),
        (
            "measure",
            rf"\b(?P<article>an?|another|the\s+last|last)\s+(?:(?:good|full|level|heaped|short|scant|rounded|generous|further|additional|extra|second)\s+)?{sized}(?P<unit>{u})(?!\w){after}"
            rf"(?:\s+or\s+(?P<high>{n})(?!\s*(?:{u})))?{half}"
            rf"(?:\s+(?P<each>each))?",
        ),
        (
            "measure",
            r"\b(?P<article>every|each|the|per)\s+(?P<unit>pound|lb|kilogram(?:me)?|kilo|kg|ounce|gallon|litre|liter)\b",
        ),
        (
            "measure",
            r"\b(?P<unit>hour|pound|ounce|gallon|pint|litre|liter|kilo|day|cup)(?P<more>\s+and\s+an?\s+(?:half|quarter))\b",
        ),
        ("timesmark", r"\bx\s?(?P<low>\d)\b"),
        (
            "calendar",
            rf"\b(?:an?|(?P<low>{n}))\s+(?P<unit>fortnights?|months?|nights)\b",
        ),
        (
            "old measure",
            rf"(?:(?P<low>{n})(?:{to}(?P<high>{n}))?|\ban?)[\s-]+(?:good\s+|full\s+)?(?P<unit>{old})(?!\w){half}",
        ),
        (
            "article odd",
            rf"\b(?:an?|{n}(?:{to}{n})?)\s+(?:(?:good|full|level|heaped|large|big|small|short|aus|rusty|us|mini|generous|old|of\s+(?:a|an))[\s-]+){{0,2}}(?:{odd})\b(?:\s+full)?(?:\s+and\s+an?\s+(?:half|quarter)\b)?|\b\d+\s?(?:yrs?|months?)\b",
        ),
        ("odd", rf"\b(?:(?:{n})\s+)?(?:level|heaped|rounded|scant)\s+(?P<unit>{u})\b"),
        (
            "times",
            rf"{n}\s*(?:{to}{n})?\s*(?:{times})\b(?:\s+(?:a|per)\s+day)?"
            rf"|\b{n}\s+(?:lots|goes|changes|batches)\s+of(?=\s+(?:[a-z]+\s+){{1,2}}water\b)"
            rf"|(?<!at )\b(?:1|one)\s+time\b(?!\s+(?:use|only|to|the|when|i|we|a)\b)"
            rf"|\b(?:twice|thrice|once)\b(?:\s+(?:a|per)\s+day)?|\b{n}\s+(?:separate\s+|fresh\s+|clean\s+|warm\s+|cold\s+|cool\s+|cooler\s+|hot\s+|very\s+|quick\s+|short\s+|long\s+|good\s+|more\s+|changes\s+of\s+|lots\s+of\s+){{1,2}}(?:{times})\b",
        ),
        ("wait", rf"\b(?:{one_of(meanings('wait'))})\b"),
        ("article odd", rf"\b(?:an?|{n})\s+(?:[a-z]+[\s-]){{0,2}}[a-z]{{3,}}fuls?\b"),
        ("short minutes", r"\b(?P<low>\d+)(?:\s*-\s*(?P<high>\d+))?\s?m\b(?![/']|\.\w)"),
        # "For 30 s": a dip, and no decade ("the 30s") and no money ("2 s. 6 d.").
        (
            "short seconds",
            r"(?<![\d.,/])(?P<low>\d+)(?:\s*-\s*(?P<high>\d+))?(?:\s|(?<=for \d\d))s\b"
            r"(?!['/]|\.\w|\.?\s*\d+\s?d\b)",
        ),
        ("article odd", r"\bonce (?:more|again)\b|\b\d+\s?m\b"),
        ("full", rf"\b{n}[\s-]+(?:full|filled)\b"),
        (
            "article odd",
            r"(?:(?<=add )|(?<=use )|(?<=take )|(?<=move )|(?<=lift ))(?:one|half|rest|the rest|the other half|the last|the other)\b|\bthe last (?=stays|one)|\bas much (?:\w+ ){0,2}again\b",  # noqa: E501
        ),
        ("article odd", rf"\b(?:{one_of(list(meanings('odd phrase')))})\b"),
        ("number", rf"(?<![\w/.]){span}(?![\w/]|[.,]\d)"),
        ("number", rf"(?<![\w/.])(?P<low>{n})(?![\w/]|[.,]\d)"),
        (  # "Until you can bear your hand in it", "when I can just put a finger in"
            "by hand",
            r"\b(?:you|i|we|one)\s+(?:can|could)\s+(?:just\s+|comfortably\s+|barely\s+|easily\s+)?"
            r"(?:bear|hold|put|keep|get|stand|dip|leave)\s+(?:your|an?|the|my|our)\s+"
            r"(?:hands?|fingers?|elbow)(?:\s+in(?:to|side)?\b(?:\s+(?:it|there)\b)?)?",
        ),
        ("heat", rf"\b(?:{one_of(meanings('heat'))})\b"),
        ("loose", rf"\b(?:{one_of(meanings('loose'))})\b"),
    ]
    return tuple((kind, re.compile(pattern, re.I)) for kind, pattern in listed)
