"""Which words of a note leave the goods as they were asked for: a note goes in, what is left without such words comes out.

Stock, lead times, validity, thanks and the like. What is left is a question for the user, since it may change the goods.
"""

import re

from estimator.returned.asked import AskedLine
from estimator.returned.cells import one_line

_NUMBER = r"(?:\d{1,3}|an?|one|two|three|four|five|six|seven|eight|ten|couple of|a couple of|few|a few)"
_SPAN = r"(?:working |business |w/ ?)?(?:days?|wks?|weeks?|months?|mths?|hours?|hrs?|wd|d|wk|h)"
_WEEKDAY = r"(?:mon|tue|tues|wed|weds|thu|thur|thurs|fri|sat|sun)(?:day|sday|nesday|rsday|urday)?s?"
_MONTH = r"(?:jan|feb|mar|apr|may|jun|jul|aug|sep|sept|oct|nov|dec)[a-z]*"
_YEAR = r"(?:[ /.-](?:20)?\d\d)?"
_DAY = rf"\d{{1,2}}(?:st|nd|rd|th)? ?{_MONTH}{_YEAR}|\d{{1,2}}[/.-]\d{{1,2}}{_YEAR}|\d{{4}}-\d\d-\d\d|\d{{1,2}}(?:st|nd|rd|th)"
_PLACE = r"(?:depot|w/h|branch|warehouse|hub|supplier|manufacturer|factory|works|central|store|stores|yard|here)"
_PHRASES = (
    # longer ones first, where a shorter one begins them
    r"(?:kind |best )?regards \w+$|cheers (?:mate|all|pal)|today'?s price",
    # stock
    r"(?:in|ex)[ -]?(?:stock|stk)\W{1,3}\d+ ?(?:off|no|nr|pcs)?|(?:in )?stk|i/s",
    rf"(?:got |have |hold |holding )?\d+ ?(?:off |no |pcs )?(?:left |now )?(?:in |at )?(?:the |our )?{_PLACE}(?: now| today| left)?",
    rf"{_PLACE} stock:? \d+|(?:got|have|holding) (?:\d+|some|them|these|it|plenty)",
    r"(?:low|limited|last few|only a few|very few)(?: left)?(?: in)?(?: stock)?|last ones?",
    r"not (?:normally |usually |always )?(?:kept|stocked|held)(?: in stock)?|made to order",
    r"(?:full|whole|complete) (?:quantity|qty|amount|order)",
    rf"(?:\d+|all|now|plenty|ample|good|currently|always|usually|both|not|none|only \d+|{_NUMBER}) ?(?:off |no |nr |m |pcs )?(?:in|ex)[ -]?stock",
    r"(?:from|out of|off|on|held in|in|ex) ?-?(?:the )?(?:stock|shelf)",
    r"(?:non[ -]?)?stock(?:ed)?(?: item| line| goods)?|stocks? good|good stocks?|plenty",
    r"availab(?:le|ility)(?: now)?",
    rf"(?:from|at|in|ex|to)? ?(?:our |the |other |local )?{_PLACE}(?: stock)?",
    # when
    rf"{_NUMBER}(?: ?(?:-|–|to|or|/) ?{_NUMBER})? ?{_SPAN}",
    r"(?:lead|delivery|del)\.?(?:[ -]?time)?",
    r"(?:special |back |on |to |by )?order(?:ed)?(?: in| item| only)?|bought in|brought in",
    rf"(?:next|this|same|following|every) (?:day|week|month|morning|{_WEEKDAY})",
    r"needs? ordering|comes? in|if ordered|before (?:\d{1,2}(?: ?am| ?pm)?|noon)|by (?:\d{1,2} ?(?:am|pm)|noon)|same day",
    r"today|tomorrow|tmrw|overnight|immediate(?:ly)?|asap|morning|afternoon|\d{1,2} ?(?:am|pm)|am|pm|mid",
    rf"(?:by |at )?(?:the )?(?:end|middle|start) of (?:the )?(?:day|week|month|year|{_MONTH})",
    rf"(?:{_WEEKDAY}|{_DAY}|{_MONTH}{_YEAR})",
    r"due(?: in| on)?|expected|arriving|arrives?|ready|back in|eta|collect(?:ion)?|deliver(?:y|ed)|w/c|week commencing|any ?time|direct|the rest|rest|balance",
    # validity
    r"(?:prices? )?(?:valid|held|hold|holds|good|firm|fixed|guaranteed|stands?|expires?)(?: until| till| for| to)?",
    r"quot(?:e|ation|ed)(?: is| price)?|offer ends?(?: on)?|(?:contract|account|usual) (?:price|terms)|usual terms",
    r"while stocks? lasts?|(?:on |special |this week'?s )?(?:special )?offer(?: price)?|promo(?:tion)?(?:al)?(?: price)?|sale price",
    r"subject to (?:the )?(?:manufacturer'?s?|supplier'?s?)? ?price (?:increase|change|rise|review)s?",
    r"subject to (?:availability|stock|change|being unsold|prior sale)|e ?& ?o ?e|e\.o\.e|errors and omissions excepted",
    # manners and plain yes
    r"(?:many |with )?thank(?:s|you)?(?: you)?(?: for (?:the|your) (?:enquiry|inquiry|order|list|call|business))?|cheers|ta|(?:kind |best )?regards|hi|hello|please|pls|hope this helps|no problem|np",
    r"as (?:requested|asked|discussed|quoted|listed|specified|described|agreed|ordered|above|usual|your list)",
    r"(?:as|to) (?:your |the )?(?:drawing|spec(?:ification)?|list)",
    r"(?:as )?per (?:your |the )?(?:list|spec(?:ification)?|enquiry|inquiry|request|quote|email|order|above)",
    r"can (?:do|supply)|sorted|no probs?",
    r"ok|okay|yes|yep|y|fine|confirmed|correct|checked|✓|✔",
    r"(?:our |your |a )?(?:very )?(?:best|special|trade|nett?|net|lowest|keen) price|nett?(?: trade)?|trade nett?|(?:the )?best (?:price )?(?:i|we) can do|best",
    r"can ?(?:no|')t be returned",
    # returns, papers, weight, their number for it
    r"(?:non|not|no)[ -]?return(?:able|s)?",
    r"(?:to )?bs(?: ?en)? ?\d{3,5}(?:-\d+)?|ce marked|ukca(?: marked)?",
    r"(?:weight|weighs|wt|approx|about)\.? (?:about |approx\.? )?\d+(?:\.\d+)? ?kg",
    r"(?:(?:our|your|their|stock|part|product|order|cat|catalogue) )?(?:code|ref|reference)[ .:]*[a-z/.-]*\d[\w./-]*",
    r"(?:part|stock|cat|product|order) (?:no|nr|number)[ .:]*[\w./-]*\d[\w./-]*",
)
_HARMLESS = re.compile(rf"(?<![\w.£€$-])(?:{'|'.join(_PHRASES)})(?![\w£€$%]|[.,-]\d)", re.I)
_FILLERS = re.compile(
    r"a|all|and|are|as|at|approx|around|about|be|by|can|for|from|in|is|it|its|item|items|now|of|on|or|our|ours|price|prices|so|soon|that|the|then|these|this|to|us|we|will|with|you|your|have|has|usually|normally|generally|typically|currently|specially|especially"
)
_NEVER = re.compile(r"(?:not|no|none|never|without|but)\b", re.I)
LETTERS = 3
"""A word of ours that is shorter says nothing when it is repeated."""


def left_of(piece: str) -> str:
    """A piece of a note without harmless words; "" where nothing else is in it."""
    rest = " ".join(_HARMLESS.sub(" ", one_line(piece).casefold()).split()).strip(" .,;:()!*+-–—/&")
    return "" if all(_FILLERS.fullmatch(word) for word in re.findall(r"[\w.£€$%]+", rest)) else rest


def repeats(piece: str, line: AskedLine) -> bool:
    """Whether a piece only says again what the line says, as "35 mm deep" to a box 35 mm deep."""
    said = _words(piece)
    if len(re.sub(r"[\W\d]", "", said)) < LETTERS or _NEVER.match(said):
        return False
    notes = (part for part in re.split(r"[;,]", line.note) if not _NEVER.match(part.strip()))
    fields = (line.what, line.trade_name, line.size_finish, line.pack_words, *notes)
    return any(f" {said} " in f" {_words(field)} " for field in fields)


def _words(text: str) -> str:
    """Text for comparing word by word; a figure keeps its point, and a unit its space before it."""
    low = re.sub(r"(?<=\d)(?=[a-z])", " ", one_line(text).casefold())
    return " ".join(of for word in re.findall(r"[\w./]+", low) if (of := word.strip("./")))
