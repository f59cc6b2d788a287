"""Whether a text can be a person's name: nobody's word counts without one, and a stand-in is none."""

from __future__ import annotations

import re

__all__ = ["is_guess", "is_person", "is_stand_in"]

# Words that stand where a person's name should.
_NO_PERSON = re.compile(r"\b(?:the|our|my|your|their|his|her|we|us|an|any|friend|some\w*|same|shop|works?|company|firm|office|council|club|team|department|dept|ltd|inc|llc|gmbh|customer|owner|"
                        r"self|myself|ourselves|nobody|no|none|not|unknown|person|architects?|builders?|engineers|engineering|contractors?|chief|structural|qualified|competent|site|civil|see|tba|tbd)\b",
                        re.IGNORECASE)
_NO_NAME = re.compile(r"(?:no|none|nobody|no[ -]one|n/?a|unknown|not known|tba|tbd|todo|ask|same|ditto|me|us|not yet.*|anon\w*|[^\w]*|x+|[0-9]+|(\w)\1{2,})", re.IGNORECASE)
# Names that forms are filled in with where nobody stands behind them.
_STAND_IN = re.compile(r"(?:john|jane|jo|joe|jonny|johnny|baby|janie)\.? (?:q\.? ?)?(?:doe|roe|public|bloggs|sixpack|average|citizen)|fred bloggs|a\.? ?n\.? ?other|(?:max|erika) mustermann|first ?name .*|name surname|your name"
                       r"|(?:test|testing|dummy|demo|sample|example|foo|fake|placeholder)\w* .*|.* (?:test|tester|dummy|example|placeholder|bar|mouse)|lorem ipsum|mickey .*|donald duck", re.IGNORECASE)


# Words of somebody who does not know what it weighs.
_GUESS = re.compile(r"\b(?:guess\w*|estimat\w+|rough(?:ly)?|(?:do(?:es)?|did|would|can)(?:n['\u2019]t| ?not) (?:\w+ )?(?:know|say|weigh|measure)|dunno|no idea|not (?:known|sure|weighed|measured|said|asked)|unsure|unknown|nobody|no[ -]one|none|nothing|anybody|anyone|somebody|someone|whoever"
                    r"|by eye|by feel|rule of thumb|thin air|(?:the|from) air|about (?:right|what)|never (?:weighed|measured)|reckon\w*|hunch\w*|gut|ball ?park|plucked|felt|feels?|looks?|should be|always use|similar|half ?way|another (?:model|type|make)"
                    r"|top of (?:his|her|my|their|the) head|remember\w*|memory|think\w*|thought|presum\w+|perhaps|maybe|probabl\w+|likely|hope\w*|give or take|can['\u2019]t be|judged|an eye for|told (?:me|us)|pub|internet|web ?sites?|forums?|chat\w*|i['\u2019]d say"
                    r"|lifted|hefted|suppos\w+|assum\w+|approximate\w*|more or less|old one|a photo of it)\b|\u00b1", re.IGNORECASE)


def is_guess(text: str) -> bool:
    """Whether a text names nobody and nothing that a load could come from, or says that it is a guess.

    >>> is_guess("?"), is_guess("my own estimate"), is_guess("the gardener, who weighed it")
    (True, True, False)
    """
    return bool(_NO_NAME.fullmatch(text.strip()) or _GUESS.search(text))


def is_stand_in(text: str) -> bool:
    """Whether a text is no name at all: a dash, one letter again and again, a word for nobody, or a name that only fills in forms."""
    plain = " ".join(text.split())
    words = plain.casefold().split()
    return bool(_NO_NAME.fullmatch(plain) or _STAND_IN.fullmatch(plain) or (len(words) > 1 and len(set(words)) == 1)
                or any(re.fullmatch(r"(\w)\1{2,}", word) for word in words))


def is_person(text: str) -> bool:
    """Whether a text is a first and a family name: two words of letters at least, one after the first written out (an initial is no family name),
    and no word for a shop, an office or a trade.

    >>> is_person("Osk Tamberlin"), is_person("O. Tamberlin"), is_person("Osk T."), is_person("Osk")
    (True, True, False, False)
    """
    words = [word for word in text.split() if re.fullmatch(r"[^\W\d_][^\W\d_.'\u2019-]*[.'\u2019\w-]*", word)]
    return any(len(word.strip(".")) > 1 for word in words[1:]) and not is_stand_in(text) and not _NO_PERSON.search(text)
