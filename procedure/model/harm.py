"""Plants that harm: which a material is, by its entry, its own name or free words beside it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache

from procedure.language import once_for_each_node
from procedure.model.types import Material
from procedure.quantity.kept_answers import remembered
from procedure.quantity.ready_patterns import pattern
from procedure.vocabulary import Entry, vocabulary
from procedure.vocabulary.data_files import kept_of_tables
from procedure.vocabulary.suggestions import asked_of, misspelt_in_prose

# What is denied, or only told apart, is not what the material is: “not foxglove”.
_NEGATIONS = (
    r"not|never|no|nor|unlike|without|instead of|free of|rather than|don't|don’t|isn't|aren't|"
    r"looks? like|mistaken|confus\w*|beware|told from|tell from|apart from|away from|"
    r"(look|watch)(ed|ing)? out for|in place of|pick(ed)? out|sort(ed)? out|weed(ed)? out|"
    r"check(ed)? for|look(ed)? for|watch for"
)
# A place or a likeness speaks of the words next to it alone: “under the yew”, and not “under the
# pot with yew”.
_PLACES = r"near|beside|next to|under|behind|along|than"
DENIED = rf"\b({_NEGATIONS}|{_PLACES})\b"
# How each of these begins, and its first word. To look for that first spares most texts the
# patterns, which take long to make. Many words hold a “no” (merino), so that is looked for alone.
_NO = r"\b(?:no|not|nor)\b"
_DENYING = tuple({one[:4] for one in f"{_NEGATIONS}|{_PLACES}".split("|")} - {"no", "not", "nor"})
_DENYING_WORDS = tuple({one.split(" ")[0][:4] for one in f"{_NEGATIONS}|{_PLACES}".split("|")})
# What is waived or measured is no denial of the plant: “no gloves for the yew”, “not too fine”,
# “no more than a handful of it”, “without a lid”, “look for it and fill a basket”.
_NEEDLESS = (
    r"gloves?|lid|lids|cover|covered|covering|masks?|goggles|glasses|aprons?|wear|wearing|wash|washed|"
    r"washing|rinse|rinsed|rinsing|strain|strained|straining|labels?|labelled|worry|worrying|mind|"
    r"bother|bothering|fear|afraid|wait|waiting|hurry|harm|danger|needed for|necessary|"
    r"required|only|just|merely|too|yet|quite|until"
)
# What begins the other waivers below.
_THERE_ALL_THE_SAME = (
    "boil|heat|soak|peel|dry|forget|fail|omit|neglect|hesitate|skip|spare|stint|skimp|let|touch|"
    "handle|hold|stir|squeeze|wring|press|chop|cut|tear|grind|crush|fish|take|lift|pull|scoop|"
    "remov|discard|throw|leave"
)
_WAIVED = (
    r"\b(?:(?:not|never|no|nor|without|don['’]t|isn['’]t|aren['’]t)(?: [\w'’]+){0,2}? (?:"
    rf"{_NEEDLESS}|"
    # “do not forget the yew” and “do not let the yew boil over” say that it is there
    r"forget\w*|fail(?:ing)?|omit\w*|neglect\w*|hesitate|skip|spare|stint|skimp|"
    r"let(?= (?:[\w'’|]+ ){1,5}?(?:boil|burn|scorch|simmer|cool|dry|catch|stick|foam|froth|freeze|"
    r"float|sink|drip|spill|overheat|go|stand|steep|soak)\b)|"
    r"(?:touch|handle|hold|stir|squeeze|wring|press|chop|cut|tear|grind|crush)"
    r"(?= (?:[\w'’|]+ ){0,9}?with(?:out)?\b)|"
    # “don't fish out the yew”, “do not take the yew out yet” and “never leave out the yew”
    r"(?:fish|take|lift|pull|scoop|leave)(?:ing)? out|remov\w+|discard\w*|throw\w* (?:away|out)|"
    r"(?:fish|take|lift|pull|scoop|leave|throw)(?= (?:[\w'’|]+ ){1,6}?(?:out|away)\b)|"
    # “never boil yew” keeps yew out, “never boil the pot with yew” does not
    r"(?:boil|heat|soak|peel|dry)(?:ed|ing)?(?! (?:(?:the|any|a|fresh) )?\|))|"
    r"(?:(?:not|no|never) )?(?:more|less|fewer|longer) than|"
    r"look(?:ed)?(?: out)? for"
    r"(?=.*\b(?:gather|pick|fill|cut|collect|bring)\b(?! (?:it |them )?out))|"
    r"(?:pick|sort)(?:ed)? out(?=.*\b(?:chop|boil|simmer|use|cut|grind|add)\b))"
    r"(?![\w'’])"
)
# What no clause lacks in which something is waived.
_WAIVING = tuple({one[:4] for one in f"{_NEEDLESS}|{_THERE_ALL_THE_SAME}|than|look|out".split("|")})
_NEGATED = rf"\b(?:{_NEGATIONS})\b"
_NEXT = r"(?: (?!(?:with|put|add|stir|pour|lay|mix|tip|boil)\b)[\w'’×]+){0,3}"
_BESIDE = rf"\b(?:{_PLACES}){_NEXT}"


def _without_waivers(clause: str) -> str:
    if not any(map(clause.__contains__, _WAIVING)):
        return clause
    return pattern(_WAIVED).sub(" ", clause)


# “Do not heat it; pour it in”: how it is done is denied, and it goes in all the same.
_HOW_ALONE = (
    r"\b(?:do not|don['’]t|never) (?=(?:heat|boil|warm|touch|handle|hold|breathe|smell|sniff|spill|"
    r"splash|shake|squeeze|wring|chop|cut|tear|stir|grind)\b[^.]{0,120}?[,;:] ?(?:[\w'’]+ ){0,4}?"
    r"(?:pour|add|put|tip|stir|mix|drop|lower|use) (?:it|them|some|these|those)\b"
    r"(?! (?:away|out|back|down|by|aside)\b))"
)
_HOW_BEGINS = ("not ", "n't ", "n’t ", "never ")


def used_all_the_same(text: str) -> str:
    """A text in small letters without the denials that say only how a thing is used."""
    if any(map(text.__contains__, _HOW_BEGINS)):
        return pattern(_HOW_ALONE).sub("", text)
    return text


def denies(before: str, behind: str = "") -> bool:
    """Whether words before a name, in small letters, say that it is not what is used.

    ``behind`` are the words after it in the clause, which may take back what comes before.
    """
    if not any(word.lstrip("'’×").startswith(_DENYING_WORDS) for word in before.split()):
        return False
    left = _without_waivers(f"{before} | {behind}").partition("|")[0].strip()
    return bool(pattern(_NEGATED).search(left) or re.search(_BESIDE + "$", left))


@remembered(16384)
def undenied(clause: str) -> str:
    """A clause in small letters without what it denies: “” where the whole of it denies."""
    says_no = "no" in clause and pattern(_NO).search(clause) is not None
    if not says_no and not any(map(clause.__contains__, _DENYING)):
        return clause
    left = _without_waivers(clause)
    return "" if pattern(_NEGATED).search(left) else pattern(_BESIDE).sub(" ", left)


SPLIT = r"[;,.:()]|\bbut\b"
_ENDS = str.maketrans(dict.fromkeys(";,.:()", "\n"))


def clauses_of(text: str) -> list[str]:
    """The clauses of a text in small letters, parted at ``SPLIT``."""
    if "but" in text or "\n" in text:
        return pattern(SPLIT).split(text)
    return text.translate(_ENDS).split("\n")


class _Apart(dict[int, str]):
    """What parts words by the number of a character: all but letters, digits and a few marks."""

    def __missing__(self, number: int) -> str:
        letter = chr(number)
        self[number] = made = letter if letter.isalnum() or letter in "_'’×" else " "
        return made


_APART = _Apart()


def words_in(text: str) -> list[str]:
    """The words of a text, without what stands between them."""
    return text.translate(_APART).split()


# “D. purpurea”: the stop is no end of a clause.
_INITIAL = r"\b([a-z])\.\s*(?=[a-z]{4,})"
# “ivy-leaved toadflax” is another plant, with leaves like those of ivy.
_LEAVES_LIKE = r"\b\w+-lea[vf]ed\b"
# “The hemlock-handled knife”: a handle is not in the bath.
_HANDLED = r"\b\w+[- ]handled\b"
# “Foxglove Lane” is a place, and grows in nobody's basket.
_ADDRESS = (
    r"\b([A-Z][\w'’-]+ ){1,3}"
    r"(Lane|Road|Street|House|Farm|Cottage|Close|Avenue|Drive|Hall|Mill|School|Inn|Hill)\b"
)
# How such an address ends. To look for that first spares most texts the pattern.
_AT_HOME = tuple(" " + word for word in _ADDRESS.rpartition("(")[2].partition(")")[0].split("|"))
_GRAVE = frozenset(("deadly", "poisonous"))


# “The foxglove-pink skeins” and “the foxglove pink skeins” are of a shade, unless a part of the
# plant has that colour.
_SHADES = (
    "amber|black|blue|bronze|brown|cream|gold|green|grey|gray|mauve|orange|pink|purple|red|violet|"
    "white|yellow"
)
_SHADE_OF = (
    rf"\b\w+-(?:{_SHADES})\b"
    r"(?! (?:\w+ )?(?:lea[vf]\w*|flowers?|petals?|berr\w+|bells?|heads?|tops|plants?|roots?|"
    r"bark|seeds?)\b)"
    rf"|\b\w+ (?:{_SHADES})(?= (?:skeins?|hanks?|yarns?|wool|silk|cloth|lots?|threads?)\b)"
)


# What stands beside the work and never goes into it: “by the laurel hedge”, “past the ivy”, “from
# the yew tree farm”, “the cedar chest”, “cedar against moths”, “a foxglove drawn on the label”.
_PASSED = r"\b(?:past|opposite|across from) (?:the|a|our|my) (?:(?:old|big|tall|cherry) )?\w+\b"
_DRAWN = (
    r"\b(?:draw|sketch|paint|doodle)\w* (?:a|an|some) (?:\w+ )?\w+ "
    r"(?=on (?:the|a|each|every|its|your) (?:label|lid|card|tag|page|wall))"
)
_KNITTED = r"\b(?:knit|crochet|embroider|stitch)\w* (?:a|an|the) \w+ (?:motif|pattern)s?\b"
# Each under what no text in small letters lacks that says it.
_AROUND = {
    "by ": r"\bby (?:the|a|our|my) (?:\w+ ){0,2}?\w+ "
    r"(?:hedge|tree|bush|walk|wall|gate|fence|path)\b",
    "hedge on": r"\b\w+ hedge on (?:the|your) (?:left|right)\b",
    "tree ": r"\b(?:at|from|of|near|to) (?:the |our )?\w+ tree "
    r"(?:farm|cottage|inn|school|house)\b",
    "cedar": r"\bcedar(?:wood)?[ -](?:chest|wardrobe|closet|drawers?|cupboard|ball|block)s?\b"
    r"|\bcedar(?:wood)?(?: (?:balls|blocks|chips))?(?= (?:against|to keep off) (?:the )?moth)",
    "between the": r"\bbetween the (?:\w+ ){1,2}and the "
    r"(?:shed|wall|house|door|gate|fence|tap|path|road)\b",
    **dict.fromkeys(("past the", "opposite", "across from"), _PASSED),
    **dict.fromkeys(("on the label", "on the card", "on the tag", "on the page"), _DRAWN),
    **dict.fromkeys((" motif", " pattern"), _KNITTED),
}


def _without_likenesses(text: str) -> str:
    text = pattern(_LEAVES_LIKE).sub(" ", text) if "-lea" in text else text
    text = pattern(_HANDLED).sub(" ", text) if "handled" in text else text
    for known_by, around in _AROUND.items():
        text = pattern(around).sub(" ", text) if known_by in text else text
    return text


_DROPPED = dict.fromkeys(map(ord, "'’-"))


def _run_together(name: str) -> str:
    """A name as it is compared: fox-glove, fox glove and foxglove are one."""
    return "".join(name.translate(_DROPPED).split())


def _all_run_together(names: Iterable[str]) -> list[str]:
    """Many names as they are compared, in one go: there are two thousand of them."""
    return "\n".join(names).replace(" ", "").translate(_DROPPED).split("\n")


@cache
def _harmful() -> dict[str, Entry]:
    """The plants that harm by every name; of a Latin one the genus may be but a letter."""
    found: dict[str, Entry] = {}
    for name, plant in vocabulary().tables["plants_that_harm"].items():
        found[name.lower()] = plant
        for latin in plant.facts["botanical"].lower().split(" and "):
            found.setdefault(latin, plant)
            genus, _, kind = latin.partition(" ")
            if kind and plant.facts["level"] in _GRAVE:
                found.setdefault(f"{genus[0]} {kind}", plant)
            if plant.facts["level"] == "deadly":
                found.setdefault(genus, plant)
    return found


@kept_of_tables
def _names_of_harm() -> dict[str, tuple[str, ...]]:
    """The same names, run together, by their first letters: as many as the shortest has."""
    found: dict[str, list[str]] = {}
    every = sorted(set(_all_run_together(_harmful())))
    shortest = min(map(len, every))
    for name in every:
        found.setdefault(name[:shortest], []).append(name)
    return {begun: tuple(names) for begun, names in found.items()}


def _may_name(together: str) -> bool:
    """Whether words that are run together may name a plant that harms; most name none."""
    names = _names_of_harm()
    letters = len(next(iter(names)))
    beginnings = zip(*(together[at:] for at in range(letters)), strict=False)
    return any(
        together.startswith(names[begun], at)
        for at, begun in enumerate(map("".join, beginnings))
        if begun in names
    )


@cache
def _names() -> tuple[int, dict[str, Entry | None]]:
    """Every name of a plant that harms; harmless names that hold one give None.

    The number is that of the words in the longest of them. Names are run together here.
    """
    known = vocabulary()
    found: dict[str, Entry | None] = {**_harmful()}
    words = set(found)
    of_plant: dict[str, tuple[list[str], list[str]]] = {}  # a plant stands under several names
    for name, entry in known.tables["dyestuffs"].items():
        if entry.name not in of_plant:
            botanical = entry.facts["botanical"].lower().split(" and ")
            of_plant[entry.name] = (
                [part for part in entry.words("part") if not words.isdisjoint(part.split(" "))],
                [latin for latin in botanical if not words.isdisjoint(latin.split(" "))],
            )
        parts, latins = of_plant[entry.name]
        whole = list(latins)
        if not words.isdisjoint(name.split(" ")):
            parts, whole = list(entry.words("part")), [name, *latins]
        if (whole or parts) and known.danger(entry) is None:
            for said in (*whole, *(f"{name} {part}" for part in parts)):
                found.setdefault(said, None)
    longest = max([len(name.replace("-", " ").split(" ")) for name in found])
    return longest + 1, dict(zip(_all_run_together(found), found.values(), strict=True))


# No clause of prose is so long; of one that is, what stands so far away denies nothing.
_FAR = 60


def _of_one(name: str) -> str:
    """A name of many run together as that of one: bryonies is bryony."""
    return name[:-3] + "y" if name.endswith("ies") else name


def _named(words: list[str]) -> Iterator[tuple[Entry | None, list[str], list[str]]]:
    """What is named in words, the longest names first, each with the words before and behind."""
    longest, known = _names()
    at = 0
    while at < len(words):
        for count in range(min(longest, len(words) - at), 0, -1):
            name = _run_together("".join(words[at : at + count]))
            spelt = (name, name.removesuffix("s"), name.removesuffix("tree"), _of_one(name))
            key = next((one for one in spelt if one in known), None)
            if key is not None:
                behind = at + count
                yield known[key], words[max(0, at - _FAR) : at], words[behind : behind + _FAR]
                at += count - 1
                break
        at += 1


@remembered(16384)
def plants_named(text: str) -> tuple[tuple[Entry, bool], ...]:
    """The plants that harm and that words name, and whether the words are nothing but a name.

    A denial before the name (“never ragwort”) names none; one after it (“foxglove leaves not
    yet open”) denies nothing. A part of the plant may be beside its name.
    """
    found = tuple(_plants_named(text))
    plain = re.sub(_SHADE_OF, " ", text, flags=re.IGNORECASE) if found else text
    return found if plain == text else tuple(_plants_named(plain))


# A whole sentence that keeps plants out: “no foxglove, yew or oleander is used”, “leave the
# foxgloves alone”, “if a foxglove leaf has come with it, throw it out”.
# Each under its last word: a text without that needs no pattern.
_KEPT_OUT = {
    "used": r"\bno [\w'’ ,]+ (is|are|was|were) used\b",
    "alone": r"\bleave [\w'’ ]+ alone\b",
    "out": r"\bif [\w'’ ]+ (has|have|should) (come|got|get) [\w'’ ]+"
    r",? (throw|pick|take) (it|them) out\b",
}


# “Ivy, our founder”, “written by Rue”, “Holly stirs”: people, by what is said of them.
_NAMES = "Ivy|Rue|Holly|Daphne|Laurel|Hazel|Heather|Olive|Rowan|Bryony|Iris|Lily|Rose|Tansy"
_GIVEN = f"(?:{_NAMES})"
# To look for these first spares most texts the pattern.
_GIVEN_NAMES = tuple(_NAMES.split("|"))
_PEOPLE = (
    rf"\b(?:[Bb]y|[Tt]hanks? (?:to|you)|[Aa]sk|[Aa]unt|Mrs\.?|Ms\.?|Mr\.?|[Tt]eacher) {_GIVEN}\b"
    rf"(?: and {_GIVEN}\b)?"
    rf"|\b{_GIVEN}(?=, (?:our|who|my|the founder)\b|['’]s (?:way|method|recipe|book|words|house)\b"
    r"| (?:says|said|wrote|writes|stirs|taught|teaches|told|likes|and I)\b)"
    rf"|\b(?:[Tt]hank|[Pp]hone|[Tt]ell|[Rr]emind|[Ww]ait for|[Ll]ook up) (?:[A-Z]\w+(?:,| and) )*"
    rf"{_GIVEN}\b|\b(?:[Gg]ive|[Hh]and|[Pp]ass|[Ss]end) {_GIVEN} (?=(?:her|his)\b)"
    rf"|\b(?:[Hh]and|[Gg]ive|[Pp]ass|[Ss]end) (?:the|a|her|his|it) ?(?:\w+ )?to {_GIVEN}(?=[.,;]|$)"
    rf"|\b{_GIVEN}(?= takes (?:it|them) home\b)"
    rf"|\b{_GIVEN}(?= (?:(?:keeps|watches|counts|reads|writes|weighs|times|holds) (?:the )?"
    r"(?:time|clock|watch|notes?|book|pot|labels?|count|scales?|thermometer)|stirs|wrings|hums)\b)"
    rf"|\b(?:[Ll]et|[Hh]ave|[Ww]hile) (?:[A-Z]\w+(?:,| and) )*{_GIVEN}(?: and [A-Z]\w+)*"
    r"(?= (?:holds?|ties?|lifts?|rinses?|helps?|weighs?|winds?|counts?|stirs?|carry|carries|"
    r"(?:wrings?|hangs?|labels?|watch(?:es)?|writes?|reads?|chooses?|cuts?|fetch(?:es)?|times?) "
    r"(?:the|a|an|each|every|it|them|her|his|out|up))\b)"
)
# Verbs and sayings that sound like a plant: “poke it under”, “rue the day”.
_SAYINGS = {
    "poke": r"\bpoke (?=(?:it|them|the (?:yarn|wool|skeins?|cloth|fibres?|silk|bags?|cotton|lot)|"
    r"yarn|wool|skeins?|cloth|down|under|about|around|holes?|back)\b)"
    r"|\b(?:a|another|one) (?:gentle |good |little |quick )?poke\b"
    r"(?! (?:roots?|weeds?|berr|leaf|leaves|plants?))",
    "rue the day": r"\brue the day\b",
}


def _without_sayings(text: str) -> str:
    for word, saying in _SAYINGS.items():
        text = re.sub(saying, " ", text) if word in text else text
    return text


def without_people(text: str) -> str:
    """A text without the people in it who are called as plants are."""
    return pattern(_PEOPLE).sub(" ", text) if any(map(text.__contains__, _GIVEN_NAMES)) else text


def of_no_plant(text: str) -> str:
    """A text in small letters without people and shades that are called as plants are."""
    return pattern(_SHADE_OF).sub(" ", without_people(text).lower())


def _plants_named(text: str) -> Iterator[tuple[Entry, bool]]:
    if any(map(text.__contains__, _AT_HOME)):
        text = pattern(_ADDRESS).sub(" ", text)
    plain = _without_likenesses(without_people(text).lower())
    plain = used_all_the_same(plain.replace("-", " "))
    plain = pattern(_INITIAL).sub(r"\1 ", plain) if "." in plain else plain
    plain = _without_sayings(plain)
    for word, left_out in _KEPT_OUT.items():
        plain = re.sub(left_out, " ", plain) if word in plain else plain
    # Most words name none, and the list of all names takes long to make.
    together = _run_together("".join(words_in(plain)))
    if not _may_name(together) and not (
        "ies" in together and _may_name(together.replace("ies", "y"))
    ):
        return
    listed_out = False  # “no foxglove, yew or oleander”: what denies the first denies them all
    for clause, end in re.findall(rf"(.*?)({SPLIT}|$)", plain, re.DOTALL):
        words = words_in(clause)
        only_listed = listed_out and (not words or _is_a_list(words))
        for plant, before, behind in _named(words):
            if plant is None:
                continue
            if denies(" ".join(before), " ".join(behind)) or only_listed:
                listed_out = True
            else:
                extra = {*before, *behind} - {*plant.words("parts"), *_STATES}
                yield plant, not extra
        listed_out = listed_out and end == ","


def _is_a_list(words: list[str]) -> bool:
    """Whether a clause goes on with a list: names alone, or names with “or” between them."""
    named = list(_named(words))
    first = named[0][1] if named else words
    return not {*first} - _JOINED and (bool({"or", "nor"} & {*words}) or not named[-1][2])


_JOINED = frozenset(("or", "nor", "and", "any"))


@remembered(16384)
def unsure(text: str) -> tuple[Entry, ...]:
    """The plants that poison and that free words may mean: misspelt, or by a shared name.

    A Latin name beside it says which plant it is, and nothing is asked.
    """
    beside = pattern(r"[;,:()]").split(text)[1:] if any(mark in text for mark in ";,:()") else ()
    if any(pattern(_LATIN).fullmatch(clause.strip()) for clause in beside):
        return ()
    plain = _without_likenesses(_without_sayings(of_no_plant(text)))
    clauses = clauses_of(plain.replace("-", " "))
    return next(
        (
            found
            for clause in clauses
            if (found := asked_of(" ".join(words_in(undenied(clause))), vocabulary()))
        ),
        (),
    )


@remembered(16384)
def misspelt(text: str) -> tuple[Entry, ...]:
    """The plants that poison and that prose may name by a slip, in clauses that deny nothing.

    Words with a capital inside a text are names of people and places.
    """
    text = _without_sayings(text)
    plain = text.lower()
    if plain != text:
        plain = pattern(r"(?<=[^.:;!?] )[A-Z][\w'’]+").sub(" ", text).lower()
    plain = _without_likenesses(plain).replace("-", " ")
    clauses = map(undenied, clauses_of(plain))
    found = (misspelt_in_prose(" ".join(words_in(c))) for c in clauses)
    return tuple({plant.name: plant for plants in found for plant in plants}.values())


_LATIN = r"[A-Z][a-z]+ [a-z]+(-[a-z]+)?"
_STATES = frozenset(("fresh", "dried", "dry", "young", "old", "green", "ripe", "the", "of"))


def named_pieces(text: str) -> Iterator[str]:
    """Every run of up to four words in the clauses that deny nothing, the longest first."""
    for clause in clauses_of(_without_likenesses(text.lower())):
        words = words_in(undenied(clause).replace("-", " "))
        for count in range(min(4, len(words)), 0, -1):
            for at in range(len(words) - count + 1):
                yield " ".join(words[at : at + count])


def suspected(entry: Entry | None, name: str, free: Iterable[str]) -> tuple[Entry, ...]:
    """The plants that harm of which a declaration speaks beside its entry.

    Where nothing else is known of a material, its own name and free words count. Beside a known
    material a plant that poisons counts, whatever else the words say (“half of it oleander”); in
    the writer's own name for it, only where that is the plant's name and no more.
    """
    found: dict[str, Entry] = {}
    own = vocabulary().danger(entry) if entry is not None else None
    for text in (name, *free):
        for plant, bare in plants_named(text):
            grave = plant.facts["level"] in _GRAVE
            counts = (grave and (bare or text is not name)) or (entry is None and (bare or grave))
            if counts and (own is None or own.name != plant.name):
                found[plant.name] = plant
    return tuple(found.values())


def plants_in(material: Material) -> tuple[Entry, ...]:
    """The plants that harm and that a material is, or may be by what is written of it.

    A part that harms nobody (elder flowers) counts only of a deadly plant.
    """
    entry = material.entry
    own = vocabulary().danger(entry) if entry is not None else None
    if own is not None and own.facts["level"] != "deadly" and material.part:
        parts = own.words("parts")
        if parts and not any(material.part.split(" ")[-1] == one.split(" ")[-1] for one in parts):
            own = None
    return tuple(one for one in (own, *material.suspects) if one is not None)


@cache
def _by_level() -> dict[str, str]:
    rows = vocabulary().tables["hazards"].values()
    return {row.facts["plant_level"]: row.name for row in rows if row.facts["plant_level"]}


def hazard_words(material: Material) -> tuple[str, ...]:
    """The hazards of a material as sold: codes of ghs.csv and words of hazards.csv.

    Those of what free words mix into it count in full.
    """
    mixed = (word for other in material.mixed for word in other.words("hazards"))
    return tuple(dict.fromkeys((*own_hazard_words(material), *mixed)))


@once_for_each_node
def own_hazard_words(material: Material) -> tuple[str, ...]:
    """The hazards of a material without those of the salts and acids mixed into it.

    To those of its entry come those of the plants that it may be, and the word for how
    dangerous they are (deadly, toxic or harmful plant).
    """
    found = list(material.entry.words("hazards")) if material.entry is not None else []
    for plant in plants_in(material):
        level = plant.facts["level"]
        if level in _GRAVE or "poison" in plant.words("harm"):
            found.append(_by_level()[level])
        if plant in material.suspects:
            found += plant.words("hazards")
    return tuple(dict.fromkeys(found))


def level_of(material: Material) -> str:
    """How dangerous the plants in a material are: deadly, poisonous, harmful, or ''."""
    levels = {plant.facts["level"] for plant in plants_in(material)}
    return next((one for one in ("deadly", "poisonous", "harmful") if one in levels), "")
