"""The mistakes of beginners, each with a sentence of its own and what to write instead.

They were collected by trying: first procedures of people who had read a page of the language
at most. A mistake is known by the kind of line, the word before the place where reading
stopped, and the words from there on; the first that fits is said.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache

from procedure.findings import Says
from procedure.language.tree import Token, written_as
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary
from procedure.vocabulary.data_files import parts, rows
from procedure.wording.samples import shown


class Mistake(NamedTuple):
    """``line`` is the kind of line (empty: any), ``before`` the kinds of the token before.

    ``words`` is looked for in the words from the refused one on; in the sentence and the
    remedy ``{said}`` is what it found (its group of that name, if it has one), ``{before}``
    the word before, and a name of :data:`procedure.wording.samples.SAMPLES` an amount in the
    reader's own measures.
    """

    line: str
    before: str
    words: str
    sentence: str
    remedy: str


_HEAT = "Write degrees, such as “{hot}”, or a word: cold, hand-hot, hot, simmer, the boil."
_TIME = 'Write a time, such as “45 min”, or a sign to look for: “until "it is even"”.'
_HEATERS = "heat|stove|hob|gas|burner|hotplate|ring|cooker|flame|plate|fire"
_STEP = "Begin with the verb, and put what it is done to after it: “rinse yarn in tub”."

MISTAKES = (
    # -------------------------------------------------------------- the header
    Mistake(
        "header",
        "",
        r"^(?:by|source|makes|licence|note|version|revised|place|wearing|audience|altitude|water)"
        r" ?:",
        "No colon stands after a word of the header.",
        'Leave it out, as in “by "Fellside Dye Circle"”.',
    ),
    Mistake(
        "header",
        "",
        r"^(?:0?[1-9]|1[0-2])[/.-] ?(?:0?[1-9]|1[0-2])[/.-] ?(?:\d{4}|\d{2})\b",
        "“{said}” can be read as two days.",
        "Write the year first, then the month, then the day: “revised 2026-11-05”.",
    ),
    Mistake(
        "header",
        "",
        r"^(\d{1,2})[/.-] ?(\d{1,2})[/.-] ?(\d{4}|\d{2})",
        "“{said}” does not begin with the year.",
        "Write the year first, then the month, then the day: “revised {day}”.",
    ),
    Mistake(
        "header",
        "",
        r"^\d{1,2} ?(?:st|nd|rd|th)? (?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec).*",
        "A date is written in figures.",
        "Write the year first: “revised {day}”.",
    ),
    Mistake(
        "header",
        "BY",
        r"^[^\"“”]+$",
        "The name of a writer is written in quotation marks.",
        'Write it so: “by "{said}"”.',
    ),
    Mistake(
        "header",
        "SOURCE MAKES LICENCE NOTE VERSION AUDIENCE",
        r"^[^\"“”]+$",
        "What is said here is written in quotation marks.",
        'Write it so: “{before} "{said}"”.',
    ),
    Mistake(
        "header",
        "REVISED",
        r"^[^\W\d].*",
        "“{said}” is no day.",
        "Write the year, the month and the day in figures: “revised 2026-11-05”.",
    ),
    Mistake(
        "header",
        "",
        r"^(?:author|writer|who|name) ?:? (?P<said>[^\"“”]{2,70})$",
        "Who wrote it is said with “by”.",
        'Write it so: “by "{said}"”.',
    ),
    Mistake(
        "header",
        "",
        r"^(?:author|writer|who|name)\b",
        "Who wrote it is said with “by”.",
        'Write it so: “by "Fellside Dye Circle"”.',
    ),
    Mistake(
        "header",
        "",
        r"^(?:date|written|updated)\b(?P<said>.*)",
        "The day is said with “revised”.",
        "Write it so: “revised {day}”.",
    ),
    Mistake(
        "header",
        "",
        r"^(?:title|recipe)\b",
        "The title comes after “procedure”, at the margin.",
        'Write it so: “procedure "My first onion dye"”.',
    ),
    Mistake(
        "header",
        "",
        r"^(?:where|location)\b",
        "Where it is done is said with “place”.",
        "Write it so: “place outdoors”.",
    ),
    Mistake(
        "header",
        "",
        r"^(?:wear|gloves|ppe|protection)\b.*",
        "What is worn is said with “wearing”.",
        "Write it so: “wearing {worn}”.",
    ),
    Mistake(
        "header",
        "",
        r"^(?:serves|yield|yields|result)\b",
        "What comes out is said with “makes”.",
        'Write it so: “makes "a skein of golden wool"”.',
    ),
    Mistake(
        "title",
        "",
        r"^['‘’´`]",
        "The title is written in double quotation marks.",
        'Write it so: “procedure "My first onion dye"”.',
    ),
    Mistake(
        "title",
        "",
        r"^\w+",
        "The title is written in quotation marks.",
        'Write it so: “procedure "My first onion dye"”.',
    ),
    # -------------------------------------------------------------- declarations
    Mistake(
        "declaration",
        "",
        r"^[-–]? ?ply\b",
        "How thick a yarn is, is for the reader alone.",
        'Write it in quotation marks after the yarn: “wool yarn, "4-ply"”.',
    ),
    Mistake(
        "declaration",
        "",
        r"^/",
        "A slash says nothing here.",
        "Write the fibres of a blend with “and”, as in “wool and silk yarn”.",
    ),
    Mistake(
        "declaration",
        "WORD NAME LABEL",
        r"^(?:=|-|–|—)",
        "A name is followed by a colon.",
        "Write it so: “yarn: wool yarn, {some_yarn}”.",
    ),
    Mistake(
        "declaration",
        "",
        r"^(?:[-*•–—]|\d+[.)])",
        "A line of a list begins with a name, not with a mark.",
        "Take the mark away: “yarn: wool yarn, {some_yarn}”.",
    ),
    # -------------------------------------------------------------- beginnings of steps
    Mistake(
        "step",
        "",
        r"^(?:\d+[.)]|[-*•–—]) ?",
        "The order of the lines is the order of the steps; they need no mark or number.",
        "Begin the line with the verb: “rinse yarn in tub”.",
    ),
    Mistake(
        "step",
        "",
        r"^after (?:about |another )?(?:\d|an?\b|one\b|two\b|half\b|some\b)[^,]{0,12}?"
        r"\b(?:mins?|minutes?|h|hrs?|hours?|d|days?)\b",
        "“{said}” says when, and the step before it fills that time.",
        "Write there how long it lasts, as in “hold dye-bath for 20 min”, and begin this line "
        "with its verb.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:at|by|towards?) (?:the )?(?:very )?(?:end|start|beginning)\b"
        r"(?: of (?:the )?[^\W\d]+)?",
        "“{said}” says when, and the order of the lines says that.",
        "Leave it out, and begin with the verb: “lift yarn from dye-bath”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:at |by )?(?:\d{1,2} ?[:.] ?\d\d(?: ?(?:am|pm|h))?|\d{1,2} ?(?:am|pm|o['’]clock))"
        r"(?: ?[:,.–—-])? ?(?P<said>[^\W\d][^\"“]{3,70})$",
        "A clock says when, and the order of the lines says that.",
        "Write how long each step lasts, as in “for 1 h”, and begin this line with its verb: "
        "“{said}”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:the )?(?:next|following) (?:day|morning|evening|week)\b",
        "“{said}” is a wait, and belongs to the step before.",
        "Write it there: “stand dye-bath until-next-day”.",
    ),
    Mistake(
        "step",
        "",
        r"^if (?P<said>[^\"“,]+?)(?:, ?(?:then )?| then )(?=[^\W\d_]).*",
        "A condition is written in quotation marks, and what is then done is written below it.",
        'Write it so: “if "{said}"”, and below it, two blanks deeper, what is done then.',
    ),
    Mistake(
        "step",
        "",
        r"^if (?=[^\"“])[^,]*",
        "A condition is written in quotation marks, and what is then done is written below it.",
        'Write it so: “if "the colour is too light"”, and the step deeper below it.',
    ),
    Mistake(
        "step",
        "",
        r"^(?:.*\b)?(?:on|over|to) (?:a )?(?:very )?(?:low|medium|high|full|gentle)\b"
        r"(?: (?:heat|flame|fire))?",
        "How hot a low or a high heat is, nobody can tell.",
        "Write degrees or a word: “at {hot}”, “at simmer”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:then|next|now|after that|afterwards|finally|first)\b,?",
        "The order of the lines says what comes next.",
        "Leave out “{said}”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:step)\b",
        "Steps are not numbered: the order of the lines is their order.",
        "Begin the line with the verb: “rinse yarn in tub”.",
    ),
    Mistake(
        "step",
        "",
        r"^cook\b",
        "A dyer does not say “cook”: is it simmered, boiled, or is fibre dyed in it?",
        "Write simmer, boil or dye: “simmer dye-bath at {hot} for 1 h”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:mix|combine|blend)\b",
        "“{said}” may be a new bath, or something put into one.",
        "Write prepare for a new bath, add for an old one: “add alum {some_alum} to dye-bath”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:wait|allow|rest it)\b",
        "Somebody waits, but what is left: a bath or fibre?",
        "Say it: “stand dye-bath for 1 h”, or “rest yarn for 1 h”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:dunk|sink|submerge|drop|plunge)\b",
        "Fibre that goes into a bath is entered, dyed or dipped.",
        "Write it so: “enter yarn in dye-bath”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:filter|sieve|drain)\b",
        "The solids are taken out of a bath with “strain”.",
        "Write it so: “strain dye-bath”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:throw|empty|tip|dispose|get rid)\b",
        "A bath is thrown away with “discard”, and it is said where to.",
        'Write it so: “discard dye-bath to "foul drain"”.',
    ),
    Mistake(
        "step",
        "",
        r"^(?:fill|pour|run|draw)\b",
        "Water for a new bath goes with “prepare”, for an old one with “top up”.",
        "Write it so: “top up dye-bath with water {some_water}”.",
    ),
    Mistake(
        "step",
        "",
        rf"^(?:put|place|set|stand) .*\bon (?:the |a )?(?:{_HEATERS})",
        "That a pot goes on the heat is said by what it does to the bath.",
        "Write it so: “heat dye-bath to {hot} over 1 h”.",
    ),
    Mistake(
        "step",
        "",
        rf"^(?:remove|take|lift) .*\b(?:off|from) (?:the )?(?:{_HEATERS})",
        "What is taken off the heat cools, and how far is not said.",
        "Write it so: “cool dye-bath to hand-hot”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:.*\b)?(?:making sure|ensuring|so that|taking care|being careful|make sure)\b.*",
        "This tells how a step is done, and is no step of its own.",
        'Write it as a note after the step: “note "it is covered all the while"”.',
    ),
    Mistake(
        "step",
        "",
        rf"^(?:turn|switch) (?:[^\W\d_]+ )?off\b(?: (?:the )?(?:{_HEATERS}|it)\b)?",
        "A bath that is no longer heated cools, and how far is not said.",
        "Write it so: “cool dye-bath to hand-hot”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:turn|switch) (?:the heat |it )?(?:on|off|up|down)\b"
        rf"(?: (?:the )?(?:{_HEATERS}|it)\b)?"
        rf"|^(?:light|kindle) (?:the )?(?:{_HEATERS})\b.*",
        "Heat is said by what it does to the bath.",
        "Write it so: “heat dye-bath to {hot} over 1 h”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:wear|put on)\b",
        "What is worn is said in the header, or after a step.",
        "Write it so: “wearing gloves”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:make sure|be sure|ensure|take care)\b.*",
        "This tells how a step is done, and is no step of its own.",
        'Write it as a note after the step: “note "it is covered all the while"”.',
    ),
    Mistake(
        "step",
        "",
        r"^weigh (?:out )?(?:the |your )?(?:dry )?(?:yarns?|wool|fib(?:re|er)s?|silk|skeins?)\b",
        "What fibre weighs is said where it is declared.",
        "Write it in the section “fibre”: “yarn: wool yarn, {some_yarn}”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:weigh|measure)\b",
        "What is weighed is said where it is used, with its amount.",
        "Write it so: “add alum {some_alum} to dye-bath”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:check|look|watch|test)\b",
        "“{said}” tells what to look for, and no verb does: a sign comes after “until”.",
        'Write it after a step: “until "it is even"”, or “note "test it with a scrap first"”.',
    ),
    Mistake(
        "step",
        "",
        r"^(?:about |approx\.? ?)?\d[\d./½¼¾]* ?"
        r"(?:g|kg|oz|lbs?|grams?|ounces?|pounds?|L|l|mL|ml)\b.*",
        "“{said}” is an amount without a verb.",
        "What there is, is said above the steps, as in “yarn: wool yarn, {some_yarn}”; here "
        "write what is done with it: “add alum {some_alum} to dye-bath”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:do|repeat) (?:it|this|that|these|them|all)\b.*",
        "What is done again, and how often in all, is said above it.",
        "Write “repeat 3 times” on a line of its own, and below it the steps, each two blanks "
        "deeper.",
    ),
    Mistake(
        "step",
        "",
        r"^repeat (?:for|over) (?P<said>(?:about )?(?:\d[\d./½¼¾]*(?: ?(?:to|or|-|–) ?\d+)?|an?|"
        r"one|two|three|four|five|six|seven|half an?) ?[^\W\d_]+)\b.*",
        "“{said}” says for how long it goes on, and not how often.",
        'Write how often in all, as in “repeat 3 times”, or the sign: “repeat until "the end of '
        '{said}"”; and below it the steps, each two blanks deeper.',
    ),
    Mistake(
        "step",
        "",
        r"^(?:be careful|note|warning|caution|remember|tip|nb)\b",
        "Words for the reader are a note.",
        'Put them after a step: “note "turn it gently"”.',
    ),
    Mistake(
        "step",
        "",
        r"^(?:never|do not|don't|don’t|not)\b.*",
        "What must not happen is said with the step in which it might.",
        "Write a ceiling after it, as in “dye yarn in dye-bath for 1 h never above {hot}”, or a "
        'note: “note "it must not boil"”.',
    ),
    Mistake(
        "step",
        "",
        r"^(?:use|reuse|re-use)\b",
        "“{said}” does not say what is done with it.",
        "Write what is done: “dye yarn in dye-bath at {hot} for 1 h”.",
    ),
    Mistake("step", "", r"^(?:the|my|your|a|an) ", "A step begins with its verb.", _STEP),
    Mistake(
        "step",
        "",
        r"^(?P<said>\d+|two|three|four|five|six) ?(?:times|x|×)(?= )",
        "How often a step is done is said on the line above it, or after its verb.",
        "Write “repeat {said} times” on a line of its own, and the step deeper below it.",
    ),
    # -------------------------------------------------------------- inside steps
    Mistake(
        "step",
        "AT TO",
        r"^(?:fif|six|seven|eigh|nine|thir|for|twen)ty(?:[- ](?:one|two|three|four|five|six|seven|"
        r"eight|nine))?(?: degrees?)?(?![\w-])",
        "“{said}” is a heat without its unit.",
        "Write it in figures, with °C or °F: “at {hot}”.",
    ),
    Mistake(
        "step",
        "FOR OVER",
        r"^(?:(?:fif|six|seven|eigh|nine|thir|for|twen)ty|ten|fifteen|five)"
        r"(?:[- ](?:one|two|three|four|five|six|seven|eight|nine))?(?![\w-])",
        "“{said}” is a time without its unit.",
        "Write it so: “for 45 min”.",
    ),
    Mistake(
        "step",
        "AT",
        r"^(?:very |quite |medium |low |high |full |gentle |just |almost )*[^\W\d_]+",
        "“{said}” is no heat that I know.",
        _HEAT,
    ),
    Mistake(
        "step",
        "TO",
        r"^(?:very |quite |medium |low |high |full |gentle )(?:hot|heat|warm|boil|simmer)?",
        "“{said}” is no heat that I know.",
        _HEAT,
    ),
    Mistake(
        "step",
        "FOR OVER",
        r"^\d+:\d\d",
        "“{said}” looks like a clock.",
        "Write hours and minutes: “for 1 h 30 min”.",
    ),
    Mistake(
        "step",
        "NUMBER",
        r"^: ?\d\d\b",
        "A time with a colon looks like a clock.",
        "Write hours and minutes: “for 1 h 30 min”.",
    ),
    Mistake(
        "step",
        "FOR OVER",
        r"^(?:a (?:good |long |little |short )*(?:while|time|bit)|ages|long|some time|[^\W\d_]+)",
        "“{said}” is no time that I know.",
        _TIME,
    ),
    Mistake(
        "step",
        "",
        r"^half (?:and half )?(?:hot|warm|cold|cool|boiling|lukewarm|tepid)\b.*",
        "How warm water is that is half hot and half cold depends on how hot the hot water is.",
        "Write how warm it is together: “with water {some_water} at hand-hot”.",
    ),
    Mistake(
        "step",
        "WITH COMMA AND NAME UNIT IN VERB",
        r"^(?:half and half|half [^\W\d_]+ (?:and|,)? ?half\b.*|half\b.* half\b.*"
        r"|equal (?:parts|amounts|quantities)\b)",
        "“{said}” says how the parts compare, and not how much there is of any.",
        "Write how much of each: “with water {some_water}, vinegar {some_water}”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:each|every) (?:one|skein|piece|lot|hank|ball|scarf|shawl|sock|cloth|bundle)\b",
        "What is done to each piece of a lot is done to the lot.",
        "Write the name of the lot: “rinse yarn in tub”.",
    ),
    Mistake(
        "step",
        "",
        r"^by (?:hand|eye)\b",
        "“{said}” is for the reader alone.",
        'Write it as a note after the step: “note "{said}"”.',
    ),
    Mistake(
        "step",
        "",
        r"^(?:each|every) (?:time|round)\b",
        "“{said}” says that it is done several times, and not how often.",
        "Write how often after the verb: “rinse yarn 3 times in tub with water {some_water}”.",
    ),
    Mistake(
        "step",
        "UNTIL",
        r"^(?:next |on )?(?:(?:mon|tues|wednes|thurs|fri|satur|sun)day|(?:the )?weekend"
        r"|next week)\b"
        r"(?: (?:morning|noon|afternoon|evening|night))?",
        "“{said}” says when, and a step says how long.",
        "Write how long that is: “for 2 d”, or “overnight”.",
    ),
    Mistake(
        "step",
        "UNTIL",
        r"^[^\W\d_][^\"]*",
        "What to look for is written in quotation marks.",
        'Write it so: “until "{said}"”.',
    ),
    Mistake(
        "step",
        "",
        r"^(?:\(?(?:x|×|\*) ?(?=\d)|\((?=\d+ ?(?:x|×|times)\)))(?P<said>\d+)",
        "How often a step is done is said on the line above it.",
        "Write “repeat {said} times” on a line of its own, and the step deeper below it.",
    ),
    Mistake(
        "step",
        "",
        r"^\(?(?:x|×|\*)? ?(?P<said>\d+)(?: ?(?:x|×|times))?\)?$",
        "How often a step is done is said on the line above it.",
        "Write “repeat {said} times” on a line of its own, and the step deeper below it.",
    ),
    Mistake(
        "step",
        "",
        r"^(?P<said>two|three|four|several) ?(?:times)?$|^twice$",
        "How often a step is done is said on the line above it.",
        "Write “repeat 2 times” on a line of its own, and the step deeper below it.",
    ),
    Mistake(
        "step",
        "",
        r"^,? ?(?:and )?(?:then )?repeat(?: (?:it|this|that|all))?\b.*",
        "“{said}” at the end of a line may count the first time or not, and one step or several.",
        "Write “repeat 3 times” with how often in all on a line of its own, and below it the "
        "steps, each two blanks deeper.",
    ),
    Mistake(
        "step",
        "NUMBER",
        r"^['‘’´`′]",
        "A stroke after a number may be minutes or feet.",
        "Write the unit: “{before} min”.",
    ),
    Mistake(
        "step",
        "",
        r"^['‘’´`]",
        "Words for the reader are written in double quotation marks.",
        'Write it so: “until "the water runs clear"”.',
    ),
    Mistake(
        "step",
        "",
        r"^or (?:until|till?|when|as soon as|once)\b (?P<said>[^\d\"“”]+)$",
        "What is done for a time or until a sign has two ends, and one of them holds.",
        'Write the sign alone, or the time alone: “until "{said}"”, or “for 1 h”.',
    ),
    Mistake(
        "step",
        "",
        r"^or (?:until|till?)\b",
        "“{said}” gives a step a second end.",
        'Write the one or the other: “for 1 h”, or “until "it is even"”.',
    ),
    Mistake(
        "step",
        "",
        r"^(?:\+ ?/? ?[-–—−]|±)",
        "“{said}” says how far an amount may stray, and not from where to where.",
        "Write both ends: “at 70 to 80 °C”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:by|at) \d[\d.]* ?(?:°|degrees?|deg)? ?[CF]? ?(?:a|per|each|every) "
        r"(?:min|minute|h|hour)s?\b",
        "How fast a bath is heated is said by how long it takes.",
        "Write it so: “heat dye-bath to {hot} over 1 h”.",
    ),
    Mistake(
        "step",
        "NUMBER",
        r"^(?:bath|liquor|ratio|dye-?bath|vat)\b",
        "How much water there is for so much fibre is said of the water.",
        "Write it so: “with water 30 : 1 of yarn”.",
    ),
    Mistake(
        "step",
        "UNIT NAME",
        r"^(?:tied|wrapped|packed|sewn|put|placed)(?: up)? in(?:to|side)?\b.*",
        "What is in a bag is put there by a step of its own.",
        "Write it above this line: “put onion 50 g in bag”, and then “lower bag into dye-bath”.",
    ),
    Mistake(
        "step",
        "",
        r"^, ?(?:don't|don’t|dont|do not|adding|keeping|leaving)\b.*\d",
        "“{said}” has an amount in it, and what is told beside a step has none.",
        "Write it as a step or a clause of its own; or, where nothing is done by it, as a note: "
        'note "turn it gently".',
    ),
    Mistake(
        "step",
        "AFTER",
        r"^(?:(?:about|approx\.?|approximately) )?\d[\d./½¼¾]*(?: ?(?:to|-|–) ?\d+)? ?"
        r"(?:mins?|minutes?|h|hrs?|hours?)\b",
        "“after {said}” says when, and the steps before it fill that time.",
        "Write before it what is done so long, as in “hold dye-bath for 20 min”, and leave “after "
        "{said}” out.",
    ),
    Mistake(
        "step",
        "",
        r"^, ?(?:and |then |and then )?(?P<said>(?:about )?\d[\d./½¼¾]*(?: ?(?:to|-|–) ?\d+)? ?"
        r"(?:mins?|minutes?|h|hrs?|hours?) at \d.*)",
        "“{said}” has no verb: the bath is kept so hot.",
        "Write it so, as a step of its own: “hold dye-bath at {hot} for 1 h”.",
    ),
    Mistake(
        "step",
        "",
        r"^,? ?(?:(?:about|approx\.?|approximately) )?\d[\d./½¼¾]*(?: ?(?:to|-|–) ?\d+)? ?"
        r"(?:mins?|minutes?|h|hrs?|hours?)\b",
        "“{said}” after a heat may be how long the heating takes, or how long it stays so hot.",
        "Write “over 1 h” for the one, and “for 1 h” for the other.",
    ),
    Mistake(
        "step",
        "",
        r"^\(?(?:don't|don’t|dont|do not|never|not) (?:[^\W\d_]+ ){0,4}"
        r"(?:above|over|exceed|hotter|higher|boiling)\b.*",
        "“{said}” is a ceiling, and a heat belongs to it.",
        "Write it after the step: “never above {hot}”.",
    ),
    Mistake(
        "step",
        "AFTER",
        r"^\d[\d./]* ?[^\W\d]+",
        "“{said}” is a wait, and “after” is for the label of a step.",
        "Write the wait as a step of its own above this one: “rest yarn for 1 d”.",
    ),
    Mistake(
        "step",
        "UNIT",
        r"^of\b.*",
        "What is in brackets is another reading of the same amount, and not some of another thing.",
        'Put words for the reader into a note: “note "turn it gently"”.',
    ),
    Mistake(
        "step",
        "LOOSE",
        r"^of\b.*",
        "What is in brackets is another reading of the same amount, and not some of another thing.",
        'Put words for the reader into a note: “note "turn it gently"”.',
    ),
    Mistake(
        "step",
        "LPAR",
        r"^[^\W\d_].*",
        "What is in brackets is a second reading of an amount, and “{said}” is none.",
        'Put words for the reader into a note: “note "turn it gently"”.',
    ),
    Mistake(
        "step",
        "",
        r"^\((?:about )?[\d¼½¾][^()]*? (?:in|to|per) (?:about )?(?:an? |[\d¼½¾])",
        "What is in brackets is what a bath is made of, and would not be weighed out here.",
        "Make that bath in a line of its own above this one: “alum-bath: prepare in pot with water "
        "{much_water}, alum {some_alum}”; then name it here without the brackets.",
    ),
    Mistake(
        "step",
        "",
        r"^\(",
        "What is in brackets is a second reading of an amount, such as °F beside °C.",
        'Put words for the reader into a note: “note "turn it gently"”.',
    ),
    Mistake(
        "step",
        "",
        r"^(?:then|and then|afterwards)\b",
        "Each thing that is done has a line of its own.",
        "Begin a new line with the next verb.",
    ),
    Mistake(
        "step",
        "",
        r"^;",
        "Each thing that is done has a line of its own.",
        "Begin a new line with the next verb.",
    ),
    Mistake(
        "step",
        "NUMBER",
        r"^(?:°|degrees?|deg)(?![CFcf\w])",
        "A degree may be one of two.",
        "Say which: “85 °C” or “185 °F”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:(?:turning|stirring|moving|lifting) )?every (?:\d+|few|hour|half|couple|now|minute|"
        r"two|three|four|five|ten|fifteen|twenty|thirty)",
        "How often something is done within a step is told to the reader in a note.",
        'Put it after the step: “note "turn it every 10 min"”.',
    ),
    Mistake(
        "step",
        "",
        r"^(?:, ?)?(?:turning|stirring|moving|swirling|lifting) (?:it|them|the)\b",
        "How a step is done comes in one word after it, without what it is done to.",
        "Write “stirring” or “gently”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:several|many|some|a few|few)? ?(?:times|changes|waters)\b",
        "How often is a number here, and “{said}” is none.",
        "Write how often at least: “repeat at least 2 times”, and the step deeper below it.",
    ),
    Mistake(
        "step",
        "REPEAT",
        r"^[^\W\d].* (?P<said>\d+|two|three|four|five|six) ?(?:times|x|×)$",
        "What is done again is written below “repeat”, and how often beside it.",
        "Write “repeat {said} times”, and below it the steps, each two blanks deeper.",
    ),
    Mistake(
        "step",
        "REPEAT",
        r"^(?!\S+ times\b)[^\W\d].*",
        "What is done again is written below “repeat”, and how often beside it.",
        "Write “repeat 2 times”, and below it the steps, each two blanks deeper.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:last|final|first|second|next) (?:rinse|wash|water)\b|^(?:rinse|rinsing water)\b",
        "A rinse has no name: what goes into its water is said in it.",
        "Write it so: “rinse yarn in tub with water {much_water}, vinegar 2 % of yarn”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:(?:soapy|salty|salted|vinegary?) (?:water|bath|liquor)|water|liquor)$",
        "How much is in it is not said.",
        "Write what is in it: “with water {much_water}, soap 3 % of yarn”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:=|is)\b",
        "An amount comes right after what it measures.",
        "Write it so: “alum {some_alum}”.",
    ),
    Mistake(
        "step",
        "",
        r"^off (?:the )?(?:heat|stove|hob|fire|plate|ring|hotplate)\b",
        "What is taken off the heat cools, and how far is not said.",
        "Write it so: “cool dye-bath to hand-hot”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:using|containing|plus)\b",
        "What a step brings comes after “with”.",
        "Write it so: “with water {much_water}, alum {some_alum}”.",
    ),
    Mistake(
        "step",
        "",
        r"^all but\b",
        "“{said}” tells what stays, and a step tells what goes.",
        "Write how much goes, such as “discard {much_water} of dye-bath”, or keep some first: "
        "“draw off {some_water} of dye-bath into jar”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:inside|within)\b",
        "Where it happens comes after “in”.",
        "Write it so: “in dye-bath”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:during)\b",
        "How long it lasts comes after “for”.",
        "Write it so: “for 1 h”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:before)\b",
        "The order of the lines is the order of the steps.",
        "Put this step above the other, or write “after” and a label.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:when|once|as soon as)\b",
        "“{said}” waits for a sign, which is said on the step before, with “until”.",
        'Write it so, above this line: “hold dye-bath until "the colour is right"”.',
    ),
    Mistake(
        "step",
        "",
        r"^(?:while|meanwhile)\b",
        "Steps that share no fibre, bath or pot can be done side by side as they are.",
        'Give each thing that is done a line of its own, or a sign: “until "it is even"”.',
    ),
    Mistake(
        "step",
        "",
        r"^(?:or)\b",
        "Ways that exclude each other go below “either” and “or”.",
        "Write “either” on a line, the one way deeper below it, then “or” and the other way.",
    ),
    Mistake(
        "step",
        "",
        r"^[^\W\d_]+ (?:it|them)\b",
        "“it” does not say what.",
        "Say the name: “rinse yarn in tub”.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:it|them)\b",
        "“{said}” does not say what.",
        "Say the name of the fibre or the bath.",
    ),
    Mistake(
        "step",
        "",
        r"^(?:(?:equal|even) )?(?:lots|parts|halves|portions|bundles|batches|pieces|groups)\b",
        "Each part that fibre is divided into gets a name and its share.",
        "Write it so: “split yarn into pale 1/2 of yarn, dark 1/2 of yarn”.",
    ),
    Mistake(
        "step",
        "NAME HEAT VERB",
        r"^(?:bright |deep |dark |pale |light )?"
        r"(?:blue|green|yellow|red|brown|black|orange|purple)\b",
        "A colour to wait for comes after “until”, in quotation marks.",
        'Write it after the step: “until "it has turned blue"”.',
    ),
    Mistake(
        "step",
        "NAME",
        r"^(?:surface|liquid|liquor|side|top|bottom)\b",
        "This tells how a step is done.",
        'Write it as a note after the step: “note "it is covered all the while"”.',
    ),
)

# Headings that people choose, and the section that they mean.
HEADINGS = {
    **dict.fromkeys(
        (
            "fiber",
            "fibers",
            "fibres",
            "yarn",
            "yarns",
            "wool",
            "textile",
            "textiles",
            "cloth",
            "fabric",
        ),
        "fibre",
    ),
    **dict.fromkeys(
        ("tools", "pots", "gear", "vessels", "kit", "utensils", "things", "tool"), "equipment"
    ),
    **dict.fromkeys(
        (
            "ingredients",
            "material",
            "dyes",
            "dyestuffs",
            "chemicals",
            "supplies",
            "plants",
            "stuff",
        ),
        "materials",
    ),
    **dict.fromkeys(
        (
            "method",
            "methods",
            "directions",
            "instructions",
            "process",
            "step",
            "preparation",
            "how",
            "doing",
        ),
        "steps",
    ),
}


@cache
def _offers() -> dict[str, dict[str, str]]:
    """What is said of the verbs that the language has not, by their words."""
    return {word: row for row in rows("offered_verbs") for word in parts(row["words"])}


def offered(words: str) -> tuple[Says, Says] | None:
    """What is offered by its meaning for the verb that a step begins with; None for others."""
    each = words.lower().split(" ", 3)
    for length in (3, 2, 1):
        said = " ".join(each[:length])
        row = _offers().get(said)
        if row is not None and len(each) >= length:
            line = f"{said} it" if set('"“”') & set(words) or len(words) > _SHORT else words
            more = {"line": line} if "{line}" in row["remedy"] else {}
            if "{rest}" in row["remedy"]:
                rest = words[len(said) :].strip()
                short = rest and len(words) <= _SHORT and not set('"“”') & set(words)
                more["rest"] = rest if short else "yarn in dye-bath for 1 h"
            return shown(row["says"], said=said), shown(row["remedy"], said=said, **more)
    return None


# A longer line is not written out again in a remedy.
_SHORT = 80


def of_beginners(
    start: str, tokens: list[Token], at: int, raws: Sequence[tuple[int, str]] = ()
) -> tuple[Says, Says] | None:
    """The sentence and the remedy for a line that stopped being read at a token, or None.

    ``raws`` are its lines as written, with their numbers.
    """
    if at >= len(tokens):
        return None
    if start == "step" and at == int(tokens[0].kind == "LABEL"):
        offer = offered(as_written(tokens[at:]))
        if offer is not None:
            return offer
    before = tokens[at - 1].kind if at else ""
    label = int(tokens[0].kind == "LABEL" and start == "step")
    if at == label:
        before = ""
    rest, whole = as_written(tokens[at:]), as_written(tokens[label:])
    for one in MISTAKES:
        if one.line and one.line != start:
            continue
        clause = tokens[at].kind == tokens[at].text.upper() and tokens[at].kind != "OF"
        if one.before and (clause or before not in one.before.split()):
            continue
        first = not one.before and one.line == "step" and _only_first(one)
        found = re.match(one.words, whole if first else rest, re.IGNORECASE)
        # What is said of the first words must reach to the word that could not be read.
        if found and (not first or at == label or found.end() > len(whole) - len(rest)):
            said = (found.groupdict().get("said") or found.group()).strip().rstrip(",")
            if one.before == "UNTIL" and raws:
                said = written_as(_sign(tokens[at:]), raws)
            told = {"said": said, "before": tokens[at - 1].text if at else ""}
            if "{day}" in one.remedy:
                told["day"] = _day(said)
            if "{worn}" in one.remedy:
                told["worn"] = _worn(said)
            return shown(one.sentence, **told), shown(one.remedy, **told)
    return None


def _worn(said: str) -> str:
    """What is worn of what a line names, as the language has it; gloves where it names nothing."""
    words, known = re.findall(r"[^\W\d_]+", said.lower()), vocabulary()
    runs = [" ".join(words[at : at + long]) for at in range(len(words)) for long in (2, 1)]
    found = [known.find(run, "wearing") for run in runs]
    return ", ".join(dict.fromkeys(one.name for one in found if one is not None)) or "gloves"


_MONTHS = "jan feb mar apr may jun jul aug sep oct nov dec".split()
_SOME_DAY = "2026-11-05"


def _day(said: str) -> str:
    """A day that is said with the name of its month, in figures; some day for any other."""
    words = re.findall(r"[^\W\d_]{3,}|\d+", said.lower())
    if [len(word) for word in words if word.isdigit()][2:] == [4]:  # 14/06/2026
        first, second = sorted((int(words[0]), int(words[1])))
        if first < 13 <= second:  # one of the two is no month
            words = [str(second), _MONTHS[first - 1], words[2]] if first else words
    months = [_MONTHS.index(word[:3]) + 1 for word in words if word[:3] in _MONTHS]
    years = [int(word) for word in words if word.isdigit() and len(word) == 4]
    days = [int(word) for word in words if word.isdigit() and len(word) < 3]
    if not len(months) == len(years) == len(days) == 1:
        return _SOME_DAY
    from datetime import date

    try:
        return date(years[0], months[0], days[0]).isoformat()
    except ValueError:  # the 30th of February
        return _SOME_DAY


def _sign(tokens: list[Token]) -> list[Token]:
    """What to look for, up to a pause or to how long and how hot it is done."""
    for end, token in enumerate(tokens):
        measured = {"NUMBER", "LOOSE"} & {one.kind for one in tokens[end:]}
        brings = token.kind == "WITH" and measured  # happy with the colour
        if end and (brings or token.kind in ("COMMA", "FOR", "OVER", "AT")):
            return tokens[:end]
    return tokens


def _only_first(one: Mistake) -> bool:
    """True for the mistakes in the first word of a step."""
    first = next(i for i, each in enumerate(MISTAKES) if each.before == "AT TO")
    return MISTAKES.index(one) < first


def as_written(tokens: list[Token]) -> str:
    """The words as written, with their spaces."""
    said, end, line = "", 0, 0
    last: Token | None = None
    for token in tokens:
        if last is not None and last.text and _covers(token, last):
            said = said.removesuffix(last.text).rstrip()  # a note, and all that it says
            end = last.column - 1
        gap = token.column - end if token.line == line else 1
        said += (" " if said and gap > 0 else "") + token.text
        end, line, last = token.to, token.line, token
    return said


def _covers(one: Token, other: Token) -> bool:
    """True where a token was made of all the words of another, and maybe more."""
    return one.line == other.line and one.column <= other.column and other.to <= one.to
