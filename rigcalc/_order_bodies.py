"""Where an order speaks of somebody beside a harmless thing, and where it says that a body's weight, fall, grip or balance comes onto the cable.

The first is asked about (`somebody_named`), the second refused (`borne`, `leaned_on`): a trellis that is good for roses is none for whoever goes up it.
"""

from __future__ import annotations

from rigcalc import _order_clauses as clauses
from rigcalc import _order_terms as terms
from rigcalc._order_plain import only_things

__all__ = ["borne", "leaned_on", "somebody_named"]

_MORE = (r"pickers?|burglars?|thie(?:f|ves)|lodgers?|owners?|users?|keepers? of|infants?|pensioners?|invalids?|old (?:ones?|people)|little ones?|elders?|youths?|humans?|sleepwalkers?|drunks?|intruders?|prisoners?|pruners?|harvesters?"
         r"|labourers?|hands on deck|deckhands?|passengers?|trespassers?|paddlers?|joggers?|ramblers?|bikers?|waiters?|cooks?|monks?|nuns?|vicars?|priests?|postm[ae]n|granddads?|grandpas?|grandmas?|gramps|nan|the (?:old|young|elderly|frail|lame|blind|infirm|unsteady|weak|burglar-minded|daring|brave|tipsy|drunk|giddy|sick|dizzy|sleepy)(?=\s*(?:$|[,;.:!?()])| (?:and|or|who|too|from|up|to|can|could|may|might|must|will|use|hold|lean|need|get|go|like|on|in|at)\b)")
_PEOPLE = rf"(?:{clauses._SOMEONE}|{_MORE})"
# A text is marked before it is read: each letter of a word for a person becomes one letter, and another for small or frail ones. So the patterns stay short.
_MARK, _SMALL_MARK = clauses._MARK, "\u0292"
_P = rf"[{_MARK}{_SMALL_MARK}]++"
_SOME = rf"{clauses._DET}(?:{_P}|{clauses._PRONOUN})(?!['\u2019])"
_WHO = rf"(?:{clauses._DET}(?:{_P}|he|she|we|I|you)(?: next door| upstairs| from the \w+| down the \w+)?|who)(?!['\u2019])"
_HELP = (r"(?:(?:can|could|may|might|must|should|shall|will|would|do|does|did|is|are|be|to|who|that|often|always|sometimes|ever|then|still|also|just|likes?|loves?|wants?|needs?|tr(?:y|ies)|has|have|had|able|going|not|never|please|all|both"
         r"|\w+ly|safely|once in a while|now and then) ){0,4}?")
_STOP = r"(?=\s*(?:$|[,;.:!?()\u2013\u2014])| (?:and|or|when|whenever|if|while|as|too|in|at|by|with|before|after|now|from|sometimes|again|every|each|there|here)\b)"
_OWN = rf"(?:my|your|his|her|our|body['\u2019]s|{_P}(?:['\u2019]s?))"
_HAZARD = r"(?:edges?|drop|brink|cliffs?|shafts?|pits?|holds?|holes?|hatch(?:es)?|wells?|water|ponds?|pools?|rivers?|streams?|weirs?|lakes?|sea|quay|roofs?|ledges?|ice|quarry|ravine|gorge|moats?|canals?|ditch(?:es)?|opening|gap|void|stairs|steps|stairwell|road|cellar|bank|side|rails?|railings?|parapet)"
_THE = r"(?:the|a|an|that|this|his|her|their|my|our|your) (?:[\w-]+ )?"
_ALONG = r"(?:beside|by|along|alongside|down|up|at|on|next to|above|over|near)"
_FOOTING = r"(?:steps|stairs?|staircases?|stairways?|slopes?|bank|hill ?side|(?:foot)?paths?|tracks?|ramps?|jett(?:y|ies)|quays?|ledges?|gull(?:y|ies)|ravines?|streams?|ice|stepping stones)"
_LINE = r"(?:wires?|ropes?|lines?|cables?|cords?)"
_SMALL_ONES = rf"{_SMALL_MARK}++"
_SMALL_AND_FRAIL = r"(?:toddlers?|child|children|kids?|bab(?:y|ies)|infants?|twins?|little ones?|youngsters?|boys?|girls?|gran\w*|grand\w+|nan|elders?|the elderly)"
_GETTING = r"(?:from )?(?:getting|going|wandering|walking|running|stepping|crawling|rolling|straying|venturing|jumping|coming|toddling|riding|skating|climbing|plunging|pitching)"
_OFF = rf"{_THE}(?:beam|plank|board|ladder|roof|wall|ledge|rope|wire|cable|bike|horse|scaffold|log|branch|bough|step|bar|edge|rock|rung|tree)s?"

# Said of a body and of nothing else, in whichever sentence of the order it stands.
_BORNE = terms._Words(
    rf"{_OWN} (?:(?:full|whole|own|entire|body) )*(?:body ?)?weight(?! (?:scale|hung|set|list|table|estimate|figure|note|book|of (?:the|all|these|those|its|each|one) (?!{_P}))s?\b)", rf"weight of {clauses._DET}(?:{_P}|me|you|us|him)(?!['\u2019])", r"body ?weights?",
    rf"(?:strong|stout|solid|sturdy|good|tough|heavy|thick) enough (?:for|to (?:hold|bear|carry|take|support|catch)) {_SOME}{_STOP}",
    rf"arrest(?:s|ing)? (?:(?:a|an|any|the|my|his|her|our|your|their|{clauses._DET}{_P}['\u2019]s) )?(?:\w+ )?(?:fall|stumble|slip|tumble|trip|bod(?:y|ie))s?",
    rf"(?:catch(?:es|ing)?|stop(?:s|ping)?|break(?:s|ing)?|cushion(?:s|ing)?|check(?:s|ing)?|halt(?:s|ing)?|soften(?:s|ing)?|tak(?:e|es|ing)|absorb(?:s|ing)?|sav(?:e|es|ing) from) (?:(?:a|an|any|the|my|his|her|our|your|{clauses._DET}{_P}['\u2019]s) )(?:\w+ )?(?:stumble|tumble|misstep|false step)s?",
    rf"(?:check|halt|soften|absorb)(?:s|ing)? (?:(?:a|any|my|his|her|our|your|{clauses._DET}{_P}['\u2019]s) )(?:\w+ )?(?:fall|slip)s?(?! of)",
    r"(?:uses?|used|using|serves?|serving|treat\w*|takes?|works?|meant|handy|doubles?) (?:(?:it|them|this|that|also|too|well|one|the (?:wire|line|cable|rope)s?) )*as (?:(?:a|an|some|their|her|his|my|our) )?(?:\w+ )?"
    rf"(?:grips?|hand ?holds?|hand ?rails?|rails?(?! to\b)|banisters?|railings?|hold|foot ?holds?|steps?|ladders?|seats?|crutch|walking stick|(?:fire )?escapes?|way (?:up|down|out|in))(?! (?:for|of) (?!{_SOME}))",
    rf"(?:with)?stand(?:s|ing)? (?:{clauses._DET}{_P}['\u2019]s|my|his|her|our|your) (?:fall|weight|jump)s?", rf"(?:put|puts|putting|throw|throws|rest|rests) (?:a|one|one's|my|his|her|their|your|our|both|all|{_P}['\u2019]s) (?:(?:full|whole|own) )?(?:foot|feet|knees?|weight|body|bodies|back|bottom) (?:on|into|onto|against)",
    rf"load(?:ed)? ?(?::|of|is|by|with|=) ?(?:a|an|one|two|three|four|\d+) (?:[\w-]+ )?{_P}(?!['\u2019]){_STOP}", rf"(?:allow(?:s|ed|ing)?|rated|reckoned|calculated|sized) for (?:a|an|one|two|three|four|any|\d+) (?:[\w-]+ )?{_P}(?!['\u2019]){_STOP}",
    rf"(?:clip|hook|tie|fasten|attach|strap|rope|shackle|buckle|knot)(?:s|d|ped|ed|ing|ping)? (?:(?:it|on|in|up|back) )?(?:to|on ?to|round|around) {_OWN} (?:\w+ )?(?:belt|waist|chest|body|wrist|ankle|leg|arm|back|middle|shoulders?)s?",
    rf"{_WHO} (?:is|are|am|gets?|can be|will be|was|were) (?:tied|clipped|hooked|strapped|roped|belted|attached|fastened|shackled) (?:to|on|in|by|up)", r"(?:life|lives) (?:hangs?|depends?|rel(?:y|ies)|is on|are on)", rf"(?:trust|risk|stake)(?:s|ing)? (?:{_OWN}|a|one's|their) (?:li(?:fe|ves)|neck)",
    r"(?:foot|arm|head|back|leg) ?rests?", rf"brac(?:e|es|ing) (?:{_OWN}|one's|their) (?:foot|feet|back|legs?|knees?)", rf"(?:brace|support|splint|wire|strap)s? (?:for|on|of|in|round) (?:{_OWN}|one's|a bad|a weak) (?:\w+ )?(?:knee|leg|back|arm|neck|hip|foot|ankle|wrist|teeth|jaw)(?! of)s?", r"back supports?",
    rf"(?:prop|hold|bear|keep|bolster)(?:s|ing|ping)? {_SOME} (?:up|upright|on (?:his|her|their|my|our|your) feet)", rf"{_OWN} (?:\w+ )?\d+ ?(?:kg|kilos?|lbs?|stone){_STOP}",
    rf"as (?:a |the |an )?(?:\w+ )?(?:(?:hand ?)?rail|grip|hold|handle|hand ?hold|step|seat|ladder|foot ?hold|crutch|support) for {_SOME}{_STOP}", rf"(?:must|has to|have to|should|can|will) (?:with)?stand {_SOME}{_STOP}", r"(?:whole|entire|full) body (?:on|into|onto|against|in) (?:it|them|this)", r"hand over hand", r"arm over arm", r"on (?:(?:their|our|my|his|her) )?hands and knees")

# A body's lean, grip, balance or fall, in what is ordered or where it is.
_LEANED = terms._Words(
    rf"{_WHO} {_HELP}lean(?:s|t|ed|ing)?(?: (?:\w+ly|right|hard|far|way|well))*(?: (?:there|here|out|over|back|in|into|at|on|onto|forward|sideways|down|against)\b(?! {_THE}(?:wall|tree|counter|bar|shed|post|house)\b)|{_STOP})",
    rf"{_WHO} {_HELP}(?:dangl(?:e|es|ing)|cling(?:s|ing)?|clung)(?: on)?(?: (?:there|here|about|(?:from|to|on ?to) (?:it|them|this))|{_STOP})", rf"{_WHO} {_HELP}hang(?:s|ing)? on(?: tight)?(?=\s*(?:$|[,;.:!?()]))",
    rf"{_WHO} {_HELP}(?:grab|grip|clutch|clasp|grasp|seize)(?:e?s|bed|bing|ping|ing)?(?: (?:it|them|this|hold|on|at|for)\b|{_STOP})", rf"{_WHO} {_HELP}(?:catch|get|take|keep|find|lay)(?:e?s|ing)? (?:a |good |firm |fast )*(?:hold|grip)(?: of| on)?\b(?! the (?!wire|rope|line|cable))",
    rf"(?:something|a wire|a line|a rope|a cable|wires?|ropes?|lines?|cables?) to (?:grip|grab|clutch|grasp|hold(?: on)?{_STOP})", rf"(?:grip|hand ?hold) for {_SOME}", r"to hold (?:on|fast|tight)(?: by| to)?(?=\s*(?:$|[,;.:!?()])| (?:on|at|in|when|while|if|by) )", r"(?:for|as) (?:a |some )?support (?:while|when|for) (?:\w+ )?(?:walking|going|getting|climbing|coming|stepping)", rf"for {_SOME} to (?:hold|grip|grab|clutch|grasp)(?: on(?: ?to)?)?(?: it)?{_STOP}",
    r"(?:pull|prop|haul|hoist|lower|swing|hold|brace|drag|push|catch|stop|save|support|raise)(?:e?s|ing|ging|ed)? (?:my|your|him|her|them|our|one)sel(?:f|ves)", rf"{_WHO} {_HELP}hang(?:s|ing)? out(?: of|$)", rf"{_WHO} {_HELP}(?:slid(?:e|es|ing)|glid(?:e|es|ing)|slither(?:s|ing)?) (?:down|along|up|across) (?:it|them|this)",
    rf"{_WHO} (?:(?:does|do|can|could|will|would|may|might|should) )?(?:not|n't|never) (?:(?:go|get|come)s? (?:through|under|overboard)|(?:fall|drop|slip)s? (?:through|down|under|over|overboard|off|in))(?=\s*(?:$|[,;.:!?()]))", rf"(?:so|lest|in case) (?:that )?{_WHO} {_HELP}(?:goes|go|drops?) (?:through|under|overboard)",
    rf"stead(?:y|ies|ying|ied) (?:(?:my|your|him|her|our|them|one)sel(?:f|ves)|{_OWN} (?:\w+ )?(?:steps?|walk|hands?|arms?|legs?|feet|gait))", rf"{_WHO} {_HELP}stead(?:y|ies){_STOP}",
    rf"{_OWN} (?:(?!bank|account)\w+ )?(?:balance(?! (?:sheet|owing|due|of|is paid|in the book))|footing)", r"(?:keep|keeps|keeping|find|finds|lose|loses|losing) (?:the |a )?(?:balance|footing)", r"for (?:better |your |my |our )?balance(?! of)", rf"{_WHO} {_HELP}balanc(?:e|es|ing)(?: (?:there|here)|{_STOP})",
    rf"{_WHO} {_HELP}(?:need|want|seek|require|look for|ask for)(?:s|ing)? (?:(?:a|an|some|any|the|his|her|my|little|bit of|steady|firm|arm's|arm|helping|something to) )*(?:support|hand|arm|hold|grip|steadying)(?:$|(?=[,;.:!?()])| (?:on|at|in|when|by|over|along|while|going|getting|down|up)\b)",
    rf"support(?:s|ing)? {_OWN} (?:\w+ )?(?:arm|leg|back|knee|elbow|hand|foot)s?(?! ?(?:chair|rest|cart))",
    rf"(?:{_WHO}|nobody|no one) {_HELP}(?:go|get|come|shin|shimmy|clamber|scramble|swarm|nip|sneak)(?:e?s|ing|ning|ping)? up (?:to|on ?to|into|through|on) {_THE}(?:windows?|balcon(?:y|ies)|roof|wall|gable|ledge)",
    rf"(?:{_WHO}|those|the ones?|nobody|no one) {_HELP}miss(?:es|ed|ing)? {_THE}(?:plank|step|stair|rung|beam|edge|board|jump|gangway|landing|hold|grip|bridge|ladder|ledge)s?",
    rf"(?:{_WHO}|those|the ones?|nobody|no one) {_HELP}com(?:e|es|ing) off (?:{_OFF}|it)",
    rf"{_WHO} (?:gets?|feels?|goes|is|turns?) (?:\w+ )?(?:giddy|dizzy|faint|unsteady|wobbly|shaky|tipsy)", rf"{_WHO} {_HELP}(?:feel|grope|find)(?:s|ing)? (?:my|his|her|your|our|their) way (?:by|along|down|up)(?: (?:it|them)|{_STOP})", r"(?:keep|keeps|stay|stays) upright by",
    rf"(?:not|n't|never) let(?:s|ting)? {_SOME} (?:go|fall|drop|slip|slide|down)", rf"{_WHO} {_HELP}(?:pull|push|heave|strain|haul|brace|tug)(?:s|ing)? (?:against|at|on)(?: (?:it|them|this)|{_STOP})",
    rf"(?:save|keep|protect|guard)(?:s|ing)? {_SOME} from (?:{_THE}{_HAZARD}|harm|drowning|a fall|falling|hurt)", rf"(?:bring|get|help)(?:s|ing|ting)? {_SOME} (?:(?:\w+ly|safe) )?(?:down|up|over|across|along) {_THE}(?:{_FOOTING}|{_HAZARD})",
    rf"(?:{_WHO}|one|those|the ones?|nobody|no one) {_HELP}(?:(?:drop|pitch|plunge|roll|tip|topple|tumble|slide|slip|skid)(?:e?s|ping|ding|ing)? (?:from|off|out of) {_OFF}|(?:drop|pitch|plunge|roll|tip|topple|tumble)(?:e?s|ping|ing)? (?:in|into|off|over|through|down|out of) {_THE}{_HAZARD})",
    rf"(?:{_WHO}|those|the ones?|nobody|no one) {_HELP}(?:go|goes|get|gets|step|steps|walk|walks|come|comes) (?:through {_THE}(?:ice|hole|hatch|opening|gap|floor|roof)|(?:over|off) {_THE}(?:edge|side|rail|railing|drop|brink|quay|parapet|ledge|roof|cliff|bank))",
    r"(?:not|n't|never|nobody|no one) (?:\w+ )?go(?:es)? over(?:board)?(?=\s*(?:$|[,;.:!?()]))",
    rf"(?:{_WHO}|those|nobody|no one) {_HELP}(?:don't |doesn't |cannot |can't |won't )?end(?:s|ed|ing)? up (?:on {_THE}(?:floor|ground|deck|rocks?|concrete|tarmac|stones?|road)|in {_THE}(?:water|pond|pool|river|sea|stream|pit|shaft|hold|ditch|lake|canal|hole|well|quarry|moat|weir)|at the bottom|below|down (?:there|below)|in hospital)",
    rf"(?:stop|keep|prevent|hinder|block|guard|protect|save|hold)(?:s|ping|ing)? {_SOME} {_GETTING} (?:too )?(?:\w+ )?(?:in|into|out|off|over|through|near|on|onto|to|towards?) (?:to )?{_THE}{_HAZARD}",
    rf"(?:stop|keep|prevent|hinder|block|guard|save|hold)(?:s|ping|ing)? {clauses._DET}{_SMALL_ONES}(?!['\u2019]) {_GETTING}", rf"(?:keep|hold|stop)(?:s|ping|ing)? {_SOME} (?:out of|away from|off|back from|clear of|from) {_THE}{_HAZARD}")
# A line along steps for somebody is held, where no trellis or fence is named.
_ALONG_STEPS = terms._Words(rf"{_LINE}(?: (?:fixed|strung|run|stretched|fastened|set))? {_ALONG} (?:{_THE})?(?:[\w-]+ )?{_FOOTING} for {_SOME}{_STOP}", rf"{_LINE} for {_SOME} {_ALONG} (?:{_THE})?(?:[\w-]+ )?{_FOOTING}")

_GROWN = r"(?:garden|yard|orchard|allotment|plot|house|cottage|barn|shed|farm|field|plants?|\w*roses?|ivy|vines?|wisteria|clematis|jasmine|honeysuckle|hops?|beans?|(?:sweet )?peas?|shrubs?|hedges?|fruit|\w*berr(?:y|ies)|trees?|tomato(?:es)?|flowers?|bikes?|coats?|name|names|map|gate|fence|trellis|greenhouse)"
_OWNED = terms._Words(rf"(?:my|our|your|his|her|their|(?:(?:the|my|our|your|his|her|their) )?\w+['\u2019]s|(?:(?:the|my|our|your|his|her|their) )?\w+s['\u2019]) (?:\w+ )?{_GROWN}")
_CALLED_AFTER = terms._Words(r"(?:(?:the|my|our|your|his|her|their|a|an) )?(?:old )?\w+(?:['\u2019]s|s['\u2019]) [\w-]+", r"(?:my|our|your|his|her|their) [\w-]+", r"(?:nobody|no one|no people|no visitors) (?:there|in it|near|about)")
# Many of a trade or a habit ('pickers', 'loungers'), apart from things named so.
_THINGS_SO_NAMED = (r"(?:creep|climb|flow|cov|bord|corn|timb|raft|roll|gutt|feed|plant|contain|strain|fasten|hang|keep|tow|show|shutt|cucumb|pepp|clov|ladd|numb|lett|pap|post|bann|rubb|riv|wat|stretch|spac|hold|stak|bear|retain"
                    r"|boil|heat|cool|comput|met|thermomet|baromet|sprinkl|cutt|buff|count|cent|quart|wint|summ|fing|feath|spid|beav|badg|hamst|oth|connect|adjust|fib|clamp|stopp|spread|light|lock|mark|plast|silv|copp|filt|hing|slid|suck|runn|tub|lay|shelt|espali|hamm|spann|lev|plung|bunk|rest)ers")
_NAMED = terms._Words(
    _PEOPLE, r"(?:I|me|my|mine|we|us|our|ours|you|your|yours|he|him|his|she|her|hers|who(?:ever|m|soever)?|yourself|myself|himself|herself|oneself|ourselves|yourselves|themselves|one another|each other|nobody but)", rf"(?:the|for|by|of|from|with|and|our|my|your|some|many|any|no|other|two|three|these|those) (?!{_THINGS_SO_NAMED}\b)\w{{3,}}ers(?!['\u2019])",
    r"(?<=\w )(?-i:[A-Z][a-z]+) (?:stands?|sits?|hangs?|lies|leans?|climbs?|walks?|steps?|sleeps?|rests?|plays?|comes?|goes|falls?|slips?|swings?|likes?|wants?|can|will|may|must)", r"\w+-minded", r"(?:beginn|tenn?ant|client|buyer|student|member|gentlem[ae]n|arborist|tourist)s?", r"arms?|hands|knees|elbows", r"(?:my|his|her|your|their|our|one's|tired|bad|sore|lame|aching|stiff|weak) (?:back|foot|feet|legs?|knee|hips?|head|bottom|shoulders?|elbow|hand|body)(?! (?:wall|gate|door|garden|fence|yard|row))")
_ACTS = terms._Words(
    r"lean(?:s|t|ed|ing)?(?![ -]tos?\b)", r"grip(?:s|ped|ping)?", r"grab(?:s|bed|bing)?", r"clutch\w*", r"grasp\w*", r"cling(?:s|ing)?", r"hold(?:s|ing)? (?:on|fast|tight)", r"hold (?:it|them) (?:when|if|while|on)", r"hang(?:s|ing)? (?:on|tight)(?= to\b|\W*$|[,;.:])", r"vault\w*", r"leap\w*", r"(?<!deer )(?<!sheep )(?<!hens )(?<!rabbits )walk(?:ing|[ -]on|able)", r"crawl\w*", r"ascen[dt]\w*", r"descen[dt]\w*", r"escapes?", r"way (?:up|down|out)", r"supports? (?:while|when)", r"on foot", r"stead(?:y|ies|ied|ying)", r"balanc\w+", r"overbalanc\w+", r"stumbl\w+", r"tumbl(?:e|es|ed|ing)", r"slip(?:s|ped|ping)?", r"trip(?:s|ped|ping)?",
    r"arrest\w*", r"(?:go|get|come|shin|shimmy|clamber|scramble|swarm)(?:e?s|ing|ting)? (?:up|down|along|across|over) (?:it|them|to|there)", r"clamber\w*", r"scrambl\w+", r"dangl\w+", r"fall(?:s|ing|en)?", r"drop(?:s|ped|ping)? in", r"miss(?:es|ed)", r"com(?:e|es|ing) off", r"ends? up", r"body", r"bodies",
    r"sit(?:s|ting)?", r"sat", r"kneel\w*", r"jump\w*", r"bounc\w+", r"tread\w*", r"stands on", r"standing on", r"to stand on", r"step(?:s|ped|ping)? on(?:to)?", r"(?<!with )rock(?:s|ed|ing) (?:on|in) (?:it|them)", r"handholds?|footholds?")
# What plants, pins and birds do too.
_OF_THINGS = terms._Words(r"lean\w*", r"hang(?:s|ing)? on", r"slip\w*", r"fall\w*", r"sit\w*", r"sat", r"stand(?:s|ing) on", r"drops? in", r"com(?:e|es|ing) off")

_ANYBODY, _SMALL_BODY = terms._Words(_PEOPLE), terms._Words(_SMALL_AND_FRAIL)


def _marked(text: str) -> str:
    """The text, as long as it was, with whoever it names marked."""
    return _ANYBODY.mark(_MARK, _SMALL_BODY.mark(_SMALL_MARK, text))


def borne(text: str) -> str:
    """The words by which a body's weight or fall comes onto it, or by which it is a grip, a rail or a step; '' where there are none."""
    found = _BORNE.search(_marked(text))
    return text[found.start():found.end()] if found else ""


def leaned_on(text: str) -> str:
    """The words by which somebody leans on it, grips it, keeps a balance by it, goes up it or is kept from a fall by it; '' where there are none."""
    marked = _marked(text)
    found = _LEANED.search(marked) or (None if terms.PLAIN.search(text) else _ALONG_STEPS.search(marked))
    return text[found.start():found.end()] if found else clauses.up_it(text)


def somebody_named(what: str, where: str = "") -> str:
    """The word for a person or for what only a body does, beside whatever harmless thing is named; '' where there is none.

    A place may be called after its people: 'a builders' yard'.
    """
    if only_things(what, where):
        return ""
    return _somebody_in(what) or _somebody_in(_CALLED_AFTER.sub(",", where))


def _somebody_in(text: str) -> str:
    """That word in one of the two."""
    plain = _OWNED.sub(",", terms.HONEST.sub("", text))
    found = _NAMED.search(plain) or next((one for one in _ACTS.every(plain) if not (_OF_THINGS.search(one.group()) and clauses.thing_does(plain, one.start()))), None)
    return found.group() if found else ""
