"""What an order says in a clause of somebody who is on its cable or is caught by it: 'plank the twins sit on', 'wire that catches whoever slips'.

Who sits or hangs there is not asked for by name: whatever is not known as a thing, a plant or a wild bird counts as somebody.
"""

from __future__ import annotations

import re
from functools import cached_property

from rigcalc import _order_terms as terms

__all__ = ["beside_it", "by_whom", "caught", "on_it", "thing_does", "up_it", "without_those_beside"]


class _Clause(terms._Words):
    """A pattern in either case, made ready at the first look like the words."""

    @cached_property
    def _ready(self) -> re.Pattern:
        return re.compile(self._parts[0], re.IGNORECASE)


_SOMEONE = (r"(?:anyone|anybody|someone|somebody|everyone|everybody|who(?:so)?ever|whomever|people|persons?|folks?|m[ae]n|wom[ae]n|boys?|girls?|lads?|lass(?:es)?|ladies|lady|child|children|kids?|youngsters?"
            r"|toddlers?|bab(?:y|ies)|infants?|adults?|grown[ -]ups?|teenagers?|twins?|brothers?|sisters?|sons?|daughters?|mothers?|fathers?|mums?|moms?|mummy|dads?|daddy|parents?|gran(?:ny|nies|s)?|nana?|grand(?:ma|pa|ad|dad|child|children|kids?|sons?|daughters?|mothers?|fathers?|parents?)s?|partners?|uncles?|aunts?|aunties?"
            r"|cousins?|nephews?|nieces?|wi(?:fe|ves)|husbands?|famil(?:y|ies)|friends?|mates?|neighbou?rs?|guests?|visitors?|tourists?|hikers?|walkers?|climbers?|workers?|work(?:man|men)|painters?|roofers?|cleaners?|fitters?"
            r"|gardeners?|farmers?|crew|staff|players?|pupils?|students?|scouts?|campers?|actors?|dancers?|performers?|swimmers?|bathers?|divers?|patients?|customers?|diners?|residents?|spectators?|audience|crowds?|pedestrians?|passers-by"
            r"|shepherds?|wardens?|rangers?|foresters?|woodsm[ae]n|glaziers?|decorators?|thatchers?|welders?|joiners?|masons?|surveyors?|locksmiths?|bee-?keepers?|arborists?|electricians?|plumbers?|builders?|carpenters?|mechanics?|teachers?|nurses?|cyclists?|runners?(?! beans?)|members?|helpers?|volunteers?|tenants?|buyers?|apprentices?|trainees?|riders?|skaters?|anglers?|sailors?|hunters?|one of (?:us|them|you)|(?:two|three|four|several|both) of (?:us|them|you))")
_PRONOUN = r"(?:he|she|we|i|you|us|me|him|her|himself|herself|ourselves|yourself|myself|themselves)"
_DET = r"(?:(?:the|a|an|my|our|your|his|her|their|its|any|some|every|each|all|one|two|three|four|five|six|ten|\d+|both|other|small|little|old|grown|heavy|whole|older|young|younger|elderly) ){0,3}"
_SOME = rf"{_DET}(?:{_SOMEONE}|{_PRONOUN})"

# Where a clause ends: a stop, or a word with which something else begins.
_END = (r"(?=\s*(?:$|[,;.:!?()\u2013\u2014-])| (?:to|for|when|whenever|while|whilst|if|in case|at|after|before|during|every|each|and|or|but|with|by|from|because|as|so|until|all (?:day|year|summer|the time)|most|sometimes|often|together|next|behind"
        r"|beside|between|under|near|outside|above|over|on (?:\w+days?|week\w*|hot|warm|sunny|summer|rainy|holidays?)|in (?:the )?(?:summers?|winters?|spring|autumn|sun|shade|evenings?|mornings?|afternoons?|garden|barn|yard|rain|dark|wind)|is|are|must|should|will|can|made|there|here|today|daily|twice|now|too|again|once|like|without"
        r"|upside|which|who|where|instead|someday|it)\b)")
_ON = r"(?:on|onto|over|on to|upon|in|into|inside|from|off|across|along|out of)"
_BODY = r"(?:arms?|hands?|legs?|knees?|f[eo]{2}t|toes|weight|backs?|bottoms?|elbows?|tumm(?:y|ies)|heads?)"
# What may stand between the doing and the 'on'.
_BETWEEN = (rf"(?: (?:down|up|out|about|around|back|there|right|still|together|barefoot|astride|upside|high|alone|best|side by side|\w+ly|like \w+|by (?:one |the |their |his |her )?{_BODY}"
            rf"|with (?:both |the |all )?(?:their |his |her |my )?(?:full |whole )?{_BODY}|(?:his|her|their|our|my|your)(?: full| whole| own)? {_BODY}|{_DET}{_SOMEONE}|(?:and|or) \w+)){{0,3}}")
_DOES = (r"(?:s[ia]t(?:s|ting)?|stands?|standing|stood|lies?|lying|lay|lain|hang(?:s|ing)?|hung|walk(?:s|ed|ing)?|balanc(?:e|es|ed|ing)|rest(?:s|ed|ing)?|rock(?:s|ed|ing)?|perch(?:es|ed|ing)?|lean(?:s|ed|t|ing)?|loung(?:e|es|ed|ing)|kneel(?:s|ing)?|knelt"
         r"|crouch(?:es|ed|ing)?|squat(?:s|ting)?|bounc(?:e|es|ed|ing)|jump(?:s|ed|ing)?|dangl(?:e|es|ed|ing)|sway(?:s|ed|ing)?|step(?:s|ped|ping)?|tread(?:s|ing)?|sleep(?:s|ing)?|slept|nap(?:s|ping)?|doz(?:e|es|ing)|snooz(?:e|es|ing)|relax(?:es|ing)?"
         r"|reclin(?:e|es|ing)|crawl(?:s|ed|ing)?|danc(?:e|es|ed|ing)|swings?|swinging|swung|climb(?:s|ed|ing)?|rides?|riding|rode|cling(?:s|ing)?|clung|play(?:s|ed|ing)?)")
_GOES = r"(?:runs?|running|slid(?:e|es|ing)|glid(?:e|es|ing)|go(?:es|ing)?|fl(?:y|ies|ying)|travel(?:s|ling)?|cross(?:es|ing)?|mov(?:e|es|ing)|gets?|pull(?:s|ing)?)"
_CLAUSE = _Clause(rf"\b(?P<does>{_DOES}|{_GOES})(?P<between>{_BETWEEN})(?:,? (?P<it>(?:{_ON}|against|to) (?:it|them|this one|these|(?:this|that){_END})\b)| (?P<named>{_ON} (?:the|this|that|our|my) (?:\w+ )?(?:wire|cable|rope|line|plank|board|bar|pole|net)s?\b)| (?:{_ON}|against|to){_END})")
_WHICH = _Clause(rf"\b(?:on|upon|in|from|off|across|along|by) (?:which|whose \w+) (?P<who>(?:[\w'-]+ ){{1,6}}?)(?P<does>{_DOES}){_BETWEEN}{_END}")
_WHERE = _Clause(rf"\b(?:plank|board|bar|rope|wire|cable|net|branch|pole|log|tyre|tire|disc|mesh|web)s? where (?P<who>(?:[\w'-]+ ){{1,5}}?)(?P<does>{_DOES}){_BETWEEN}{_END}")
_PASSIVE = _Clause(rf"\b(?:is|are|be|being|gets?|getting) (?:\w+ly |often |sometimes |to be )?(?:sat|stood|walked|swung|lain|leaned|leant|climbed|stepped|jumped|slept|danced|bounced|knelt|trodden|ridden)(?: (?:up|down))? (?:on|upon|in|from|off|across|along|against)(?: it\b|{_END})")
_WITH_THEM = terms._Words(
    rf"{_SOME} (?:(?:is|are|be|being|sitting|standing|all|both|up) )?on (?:it|them)", rf"with {_SOME} (?:on|in|inside|aboard){_END}",
    rf"(?:that|which) {_SOME} (?:is|are|can be|will be|go|goes|get|gets) (?:on|in){_END}", rf"(?:for|to) (?:sit|sitting|loung(?:e|ing)|nap|napping|crawl|crawling)(?: down)?{_END}",
    rf"{_SOME} (?:can |could |will |must )?(?:hold|grab|grip|clutch)(?:s|ing)?(?: (?:it|them))?(?: tight)?{_END}", r"in case of a (?:fall|slip|tumble)")
_UP = _Clause(r"\b(?:go(?:es|ing)?|gets?|getting|com(?:e|es|ing)|shin(?:s|ning)?|shimm(?:y|ies|ying)|clamber(?:s|ing)?|scramble(?:s|d)?|scrambling|swarm(?:s|ing)?|nip(?:s|ping)?|sneak(?:s|ing)?|run(?:s|ning)?) (?:up|down) (?:it|them|this one)\b")
_IT = r"(?:it|them|this|the (?:wires?|ropes?|cables?|lines?|gate|trellis|fence|brace|net|shelf|plank|board))"
_KILOS = r"(?:kg|kilos?|kilograms?|lbs?|pounds?|stones?)"
_BODY_ON_IT = _Clause(
    rf"\b(?:(?:hung|hang(?:s|ing)?|stood|st[ao]nd(?:s|ing)?|sat|sit(?:s|ting)?|l[ai]y|lies|lying|lain|lean(?:s|t|ed|ing)?|climb(?:s|ed|ing)?|swing(?:s|ing)?|swung|walk(?:s|ed|ing)?|step(?:s|ped|ping)?|jump(?:s|ed|ing)?|balanc(?:e|es|ed|ing)|kneel(?:s|ing)?|knelt|tread(?:s|ing)?)"
    rf" (?:(?:about|around|out|down|up|back|right|also) )?(?:on|on to|onto|off|along|against|across|from) {_IT}"
    rf"|(?:clamber|scrambl|climb|shin|shimm|swarm|go|get|com|walk|run)(?:e|s|es|ies|y|ed|ing|ning)? (?:up|down|on|on to|onto|off|along|across|over)(?: (?:by|on|along))? {_IT}|(?:chained|locked|tied|clipped|hooked|roped|strapped|tethered|harnessed) (?:on )?(?:to|onto|by|from) {_IT}"
    rf"|(?:lowered|raised|lifted|held|carried|hoisted|pulled up|let down|hauled|caught|saved) (?:up |down |back )?(?:by|on|with|from|in) {_IT}|(?:hold|holds|holding) (?:on )(?:to )?{_IT}|(?:grip|grips|grab|grabs|grasp|grasps|clutch|clutches) (?:on to |onto )?{_IT}|walk(?:s|ing)? the (?:wires?|ropes?|cables?|lines?)"
    rf"|drop(?:s|ped|ping)? (?:off|from) {_IT}|guards? (?:the |an? )?(?:\w+ )?(?:edge|drop|fall) for|as (?:a |their )?(?:hand ?rail|hand ?hold|grip|ladder|step|seat)"
    rf"|with (?:(?!hand|foot)\w+ ){{1,3}}on {_IT}(?! and)|{_SOME} on {_IT}"
    rf"|{_SOME}(?:,)? (?:of|at|weighing|who weighs?|,)? ?(?:about )?[0-9]+ ?{_KILOS}|{_SOME}, weighed|(?:raise|lift|hoist|haul|shift|pull|heave)(?:s|d|ed|ing)?(?: (?:\w+ )?up)? (?:with|by|on) {_IT})\b")
_NOT_BEFORE = _Clause(r"\b(?:nobody|no one|no-one|never|cannot|can't|must not|may not|not to|not allowed to|keeps? (?:\w+ ){1,4}from|against)\b[^.;:]*$")
_CANNOT = _Clause(r"(?:\b(?:not|cannot|never|nobody|no one)|n't)(?: \w+)?\s*$")

# Said beside the doing, and no part of who does it.
_HELPS = _Clause(r"(?:(?<=\s)|^)(?:(?-i:will|may)|can|could|might|shall|should|must|would|do|does|did|is|are|was|were|be|been|being|has|have|had|to|get|gets|likes?|loves?|wants?|wish(?:es)?|tr(?:y|ies)|used|need|needs|go|goes|come|comes|able|going"
                    r"|often|always|sometimes|usually|just|only|also|all|both|ever|even|still|now|then|together|can't|cannot|not|don't|(?!elderly|family|(?:bil|el|em|hol|kel|li|lil|mil|mol|nel|pol|sal|til|tul|wil|al|car|ital|bever|kimber|shel|char|ear|le)l?i?e?ly\b)(?-i:[a-z])\w*ly)\s*$")
_OPENS = _Clause(r"(?:^|[,;.:()\u2013\u2014]|\b(?:that|which|who|whom|whoever|whomever|where|for|with|so|as|if|when|because|while)\b)")
_ARTICLE = _Clause(r"(?:^|\s)(?:the|a|an|my|our|your|his|its|their|this|these|of|in|at|on|under|over|by|beside|near|behind|holds?|keeps?|stops?|hold|keep|stop|no)$")
_TITLE = _Clause(r"\b(?:mr|mrs|miss|ms|mx|dr|sir|captain)\.? [\w'\u2019-]+$")
_NOBODY = _Clause(r"(?:nobody|no[ -]one|nothing)$")
_FOLK = _Clause(rf"\b(?:{_SOMEONE}|{_PRONOUN}|who|they)$")
_ONE_OF_US = _Clause(rf"\b{_SOMEONE}\b(?!['\u2019])")
_KEPT_OUT = _Clause(r"\b(?:stop|keep|prevent|deter)\w* [^,;.]*$|\bagainst [^,;.]*$")
_HELD_UP = r"wires?|cables?|ropes?|lines?|nets?|netting|gates?|posts?|poles?|rails?|beams?|hooks?|brackets?|frames?|fenc(?:e|es|ing)|shel(?:f|ves)|tables?|racks?|stands?|branch(?:es)?|trees?|walls?"
# What hangs, stands and lies about without being anybody.
_THING = _Clause(
    r"\b(?:it|this|what|whatever|something|everything|things?|stuff|loads?|(?:bunch|box|pot|basket|bag|jar|string|row|tray|sheet|bale|roll|bundle|stack|pile|tin|can|sack|bottle|bowl|bucket|carton)(?:e?s)? of [\w-]+"
    r"|plants?|(?:climbing |rambling |tea )?roses|(?:the|a|our|my) (?:\w+ )?rose|(?-i:ivy|rose)|(?:the|our|my|climbing|english) ivy|ivies|(?:grape)?vines?|grapes?|wisterias?|clematis|jasmine|honeysuckle|hops?|beans?|peas?|creepers?|climbers(?= that grow)|shrubs?|hedges?|(?:\w*berr(?:y|ies))|kiwis?|tomato(?:es)?|cucumbers?"
    r"|gourds?|pumpkins?|squash(?:es)?|melons?|marrows?|courgettes?|hydrangeas?|fuchsias?|petunias?|orchids?|ferns?|moss|herbs?|onions?|garlic|chilli(?:es)?|fruits?|apples?|pears?|plums?|cherries|nuts?|flowers?|blossoms?|leaves|foliage|shoots|stems?|canes?|seedlings?|saplings?|espaliers?|cordons?|crops?|hay|straw|corn|vegetables|mint|lavender|thyme"
    r"|(?:flower ?)?pots?|planters?|tubs?|troughs?|(?:hanging )?baskets?|trellis(?:es)?|greenery|lamps?|lanterns?|lights?|bulbs?|candles?|signs?|signboards?|(?:notice|name|number|black|white|price) ?boards?|plates?|plaques?|notices?|labels?|tags?|pictures?|paintings?|photos?|photographs?|posters?|mirrors?|clocks?|thermometers?|barometers?"
    r"|curtains?|blinds?|drapes?|cloths?|fabrics?|fleece|tarps?|tarpaulins?|covers?|lids?|canvas|sheets?|sheeting|film|foil|mesh|bunting|flags?|decorations?|ornaments?|baubles?|wreaths?|garlands?|mobiles?|models?|sculptures?"
    r"|snow|ice|icicles|dew|rain|rainwater|frost|water|mud|soil|earth|gravel|birds?|swallows?|sparrows?|starlings?|pigeons?|gulls?|seagulls?|crows?|rooks?|jackdaws?|magpies?|herons?|owls?|robins|thrush(?:es)?|blackbirds?|finch(?:es)?|wagtails?|(?:blue |great )?tits|house martins?|bats?|bees|wasps|insects?|butterflies|spiders?|squirrels?"
    r"|\w*bo(?:x|xes)|dovecotes?|lettuces?|cabbages?|flex|cords?|crates?|jars?|bottles?|tins?|cans?|books?|files?|tools?|spades?|rakes?|brooms?|pins?|keys?|hinges?|chains?|locks?|padlocks?|shackles?|doors?|shutters?|windows?|panes?|panels?|gutters?|pipes?|ducts?|hoses?|barrels?|butts?|tanks?|cisterns?|buckets?|bins?|logs?|timbers?|wood|firewood|(?:log|wood|hay|sand|brick) ?(?:pile|stack|heap)s?|bricks?|stones?|boulders?|blocks?|slabs?|tiles?|slates?"
    r"|machines?|pumps?|motors?|boilers?|heaters?|radiators?|fans?|speakers?|screens?|monitors?|cameras?|sensors?|gauges?|meters?|insulators?|feeders?|(?:nest|bird|bat|owl) ?box(?:es)?|bird ?houses?|(?:bee ?)?hives?|sheds?|huts?|greenhouses?|cabinets?|cupboards?|chests?|coats?|jackets?|hats?|towels?|washing|clothes|laundry|shirts?|boots|shoes|bags?|sacks?|bikes?|bicycles?"
    rf"|kayaks?|canoes?|boats?|paddles?|oars?|skis|cheeses?|hams?|sausages?|loaves|bread|wine|vases?|dishes|cups|mugs|pans|trays?|toys|computers?|printers?|servers?|batter(?:y|ies)|amplifiers?|televisions?|tvs?|fridges?|aquariums?|cages?|stoves?|pianos?|eggs|nests?|umbrellas?|ladders?|cushions?|rugs?|carpets?|wheels?|instruments?|guitars?|drums?|scarecrows?|statues?|sundials?|{_HELD_UP})$")
_CARRIER = _Clause(rf"\b(?:{_HELD_UP}|mesh|sheets?|wood|timbers?|logs?|wheels?|canvas|boxes|box|baskets?|tubs?|barrels?|buckets?)$")
# Somebody who is beside it, or on another thing that it is beside: that is people near, and nobody on it.
_THEY = r"(?:that |which |where )?(?:(?!and |or |from |off |on |that |swing|hang|climb|wires? |ropes? |cables? |lines? |nets? |planks? |boards? )[\w'-]+ ){1,3}?"
_MY = r"(?:(?:the|a|an|my|our|your|his|her|their|that|this|each|every) )?(?:[\w'-]+ )?"
_BESIDE = rf"(?:beside|behind|near|next to|past|by|along|alongside|round|around|opposite|edges? of|side of) {_MY}"
_WALKED_PAST = terms._Words(
    rf"{_SOMEONE} (?:(?:can|may|will|often|always|sometimes|only|just|do) )?walk(?:s|ing)? (?:past|by|through|under|beneath|round|around)(?! on\b)",
    rf"{_SOMEONE} hang(?:s|ing)? (?:up )?(?:(?:their|his|her|the|its) )?(?:\w+ )?(?:coat|hat|bag|towel|jacket|picture|umbrella|key|tool|lantern|lamp|sign|boot|clothe)s?")
_BESIDE_IT = terms._Words(
    rf"(?:{_BESIDE}|(?:above|over) {_MY})(?:bench(?:es)?|seats?|chairs?|sofas?) {_THEY}(?:sit|rest|relax)(?:s|ting)? (?:on|in)\b(?! (?:it|them)\b)",
    rf"{_BESIDE}(?:(?:foot)?paths?|tracks?|roads?|lanes?|streets?|pavements?|drive|steps?|stairs?) {_THEY}(?:walk|stand|step)(?:s|ing)? (?:on|along)\b(?! (?:it|them)\b)",
    rf"{_BESIDE}(?:lawn|grass|terrace|patio) {_THEY}(?:sit|lie|stand|walk|play)(?:s|ing|ting)? on\b(?! (?:it|them)\b)", rf"{_BESIDE}(?:yard|field|meadow|paddock) {_THEY}(?:lie|stand|walk|play)(?:s|ing)? in\b(?! (?:it|them)\b)",
    rf"(?:for|of|round|around) {_MY}(?:sheds?|greenhouse|glasshouse|polytunnel|tunnel) {_THEY}(?:stand|walk|work)(?:s|ing)? in\b(?! (?:it|them)\b)",
    rf"(?:terraces?|patios?|lawns?|courtyards?|tables|gardens?|halls?|verandah?s?) (?:where|at which|in which) {_SOME} (?:sit|eat|dine|drink|stand|walk|wait|gather)(?:s|ing)?\b(?! (?:on|in|from|against|along) (?:it|them|this|that|the (?:wires?|cables?|ropes?|lines?))\b)",
    rf"(?:fenc(?:e|es|ing)|hedges?|walls?|trellis) {_THEY}walk(?:s|ing)? along\b(?! (?:it|them|on)\b)")
# On these somebody may sit or walk in spite of the bench or the path beside them.
_SEAT_ITSELF = _Clause(r"\b(?:planks?|(?<!name )(?<!notice )(?<!sign )(?<!number )boards?|logs?|discs?|t[iy]res?|nets?|ropes?|bars?|mesh|webs?)\b")

_FALLS = r"(?:fall(?:s|ing|en)?|fell|slip(?:s|ped|ping)?|tumbl(?:e|es|ed|ing)|topple[sd]?|toppling|trip(?:s|ped|ping)?|slid(?:e|es|ing)|skid(?:s|ded|ding)?|stumbl(?:e|es|ed|ing)|faint(?:s|ed)?|los(?:e|es|ing) (?:\w+ )?(?:balance|footing|grip|hold)|let(?:s|ting)? go|go(?:es|ing)? (?:over(?:board)?|off)|drop(?:s|ped|ping)?|overbalanc\w+)"
_CATCHES = r"(?:catch(?:es|ing)?|caught|sav(?:e|es|ing)|arrest(?:s|ing)?)"
_HOLDS = r"(?:hold(?:s|ing)?|stop(?:s|ping)?|keep(?:s|ing)?|prevent(?:s|ing)?|break(?:s|ing)?|steady|steadies|secur(?:e|es|ing)|support(?:s|ing)?|protect(?:s|ing)?|tak(?:e|es|ing))"
_BEARS = r"(?:hold(?:s|ing)?|carr(?:y|ies|ying)|bear(?:s|ing)?|support(?:s|ing)?(?! staff| crew)|suspend(?:s|ing)?|steady|steadies)"
# A text is marked before it is read for this: each letter of a word for a person but 'whoever' becomes one and the same, so that the patterns stay short.
_MARK = "\u01bf"
_P = rf"(?:{_MARK}++|who(?:so)?ever)"
_ANY = rf"{_DET}(?:{_P}|{_PRONOUN})"
_CAUGHT = terms._Words(
    rf"(?:{_CATCHES}|{_HOLDS})(?: up)? (?:{_ANY}|them|those|the one|one)(?: (?:who|that))? (?:[\w']+ ){{0,4}}?{_FALLS}",
    rf"{_CATCHES}(?: up)? {_ANY}(?!['\u2019]){_END}", rf"{_CATCHES} (?:the )?(?:one|ones|those) (?:who|that) (?:[\w']+ ){{0,2}}?{_FALLS}",
    rf"{_ANY}(?: (?:who|that))? (?:(?:can|could|may|might|should|would|will|does|do|ever|not|never|has|have|is|are|don't|doesn't|can't|cannot|won't|to|from|suddenly|ever|accidentally|once) ){{0,3}}(?!drop|trip\b|slid|skid|go|let )(?:{_FALLS})(?! (?:asleep|ill|in love|past|by|on it|over (?:it|the (?:wire|cable|rope|line|stay|guy|brace)))\b)",
    r"(?:nobody|no[ -]one|whoever|who|they) (?:(?:can|could|may|might|should|would|will|ever) ){0,2}(?:falls?|fell|slips?|tumbles?|trips?|stumbles?|loses? (?:\w+ )?(?:balance|footing|grip))",
    rf"{_BEARS}(?: up)? {_ANY}(?!['\u2019]){_END}",
    rf"(?:{_BEARS}|takes?|taking) (?:the )?(?:full |whole |body ?)?(?:(?:his|her|my|our|your|their|(?:a )?{_P}['\u2019]s) (?:full |whole |own |body ?)?weight|weight of (?:[\w-]+ ){{0,3}}?{_ANY})",
    rf"(?:falling|slipping|tumbling|stumbling) {_P}(?!['\u2019])", rf"(?:catch(?:es|ing)?|sav(?:e|es|ing)) (?-i:[A-Z][a-z]+)(?: and (?-i:[A-Z][a-z]+))?{_END}",
    rf"(?:{_CATCHES}|break(?:s|ing)?|stop(?:s|ping)?|cushion(?:s|ing)?|hold(?:s|ing)?) (?:(?:a|any|the|my|his|her|our|your|their|[\w]+['\u2019]s) )fall\b(?! of (?!{_ANY}))",
    rf"(?:takes?|taking) {_ANY}(?!['\u2019]){_END}(?! (?:to|by|from|with|for|over)\b)",
    r"(?:keep|keeps|keeping|find|finds) (?:my|his|her|our|your|their) (?:balance|footing)",
    rf"(?:sits|seats) {_ANY}(?!['\u2019]){_END}",
    rf"(?:{_P}|he|she|they) (?:is|are|gets?|being) caught")
# A pin or a tool that falls is no person.
_SMALL = _Clause(r"\b(?:(?:pin|tool|lid|cap|plug|key|bit)(?= (?:lanyard|keeper|chain|string|wire)s?)|pins|tools|lids|caps|plugs|keys|nuts|bolts|screws|pots|lamps|lanterns|bulbs|apples|pears|fruits|leaves|tiles|slates|stones|rocks|boulders|signs|logs|boxes|panes|bags|baskets|books|jars|birds|swallows)\b")
_SOMEBODY = terms._Words(rf"(?!who(?:so)?ever\b){_SOMEONE}")
_NAMED = _Clause(rf"\b(?:{_SOMEONE}|{_PRONOUN})\b")
_ABOUT_THEM = _Clause(r"\b(?:them|they|one|those)\b")


def beside_it(text: str) -> str:
    """The words by which somebody passes it, or is on another thing that it is beside; '' where there are none."""
    found = _WALKED_PAST.search(text) or _BESIDE_IT.search(text)
    return found.group() if found else ""


def without_those_beside(text: str) -> str:
    """The text without whoever only passes it; a plank, a net or a rope beside a bench can be sat on all the same."""
    plain = _WALKED_PAST.sub(",", text)
    return plain if _SEAT_ITSELF.search(plain) else _BESIDE_IT.sub(",", plain)


def on_it(what: str) -> str:
    """The words by which somebody sits, stands, hangs or walks on what is ordered; '' where only things and plants do."""
    for found in _CLAUSE.every(what):
        if _somebody_does(what, found):
            return found.group()
    for pattern in (_WHICH, _WHERE):
        for found in pattern.every(what):
            if not _is_thing(found["who"], what[:found.start()]):
                return found.group()
    said = _PASSIVE.search(what) or _WITH_THEM.search(what)
    return said.group() if said else ""


def by_whom(text: str) -> str:
    """The words by which a sentence on who is near it, fits it or gave its load puts a body on it; '' where it says that nobody is."""
    return next((found.group() for found in _BODY_ON_IT.every(text)
                 if not _CANNOT.search(text[:found.start()]) and not _NOT_BEFORE.search(text[:found.start()]) and not thing_does(text, found.start())), "")


def up_it(what: str) -> str:
    """The words by which somebody goes up or down it; '' where plants do, or where it is kept from them."""
    for found in _UP.every(what):
        before = what[:found.start()].rstrip()
        opener, who, _ = _doer(before)
        if not _CANNOT.search(before) and not _KEPT_OUT.search(before) and (opener in ("who", "whoever", "for") or who and not _is_thing(who, before)):
            return found.group()
    return ""


def thing_does(text: str, start: int) -> bool:
    """Whether what is done from that place on is done by a thing, a plant or a wild bird: 'the pin falls', 'pigeons that sit'."""
    opener, who, before = _doer(re.sub(r"\bfrom\s*$", "", text[:start].rstrip()))
    return _is_thing(who, text[:start]) if who else opener in ("that", "which") and _is_thing(before, "")


def _doer(before: str) -> tuple[str, str, str]:
    """The word with which the clause opens, whoever does it, and what stood before that word."""
    before = before.rstrip()
    opened = _OPENS.every(before)[-1]
    who = before[opened.end():].strip()
    while (less := _HELPS.sub("", who)) != who:
        who = less.strip()
    return opened.group().lower(), who, before[:opened.start()].rstrip(" ,;")


def caught(text: str) -> str:
    """The words by which it catches or holds somebody; '' where it catches a pin, a tool or leaves."""
    found = _CAUGHT.search(_SOMEBODY.mark(_MARK, text))
    if not found:
        return ""
    said, before = text[found.start():found.end()], text[:found.end()]
    small = _ABOUT_THEM.search(said) and _SMALL.search(before) and not _NAMED.search(before)
    return "" if small else said


def _somebody_does(what: str, found: re.Match) -> bool:
    """Whether a doing 'on it' is that of a body: one of whoever is not known as a thing."""
    before, does = what[:found.start()].rstrip(), found["does"].lower()
    opened = _OPENS.every(before)[-1]
    opener, who, asked = opened.group().lower(), before[opened.end():].strip(), False
    while (less := _HELPS.sub("", who)) != who:
        asked, who = asked or re.search(r"\bto\s*$", who, re.IGNORECASE) is not None, less.strip()
    folk = _FOLK.search(who) is not None or _ONE_OF_US.search(who) is not None
    if re.fullmatch(_GOES, does, re.IGNORECASE) or found["named"]:
        return (folk or opener in ("who", "whoever")) and not (does.startswith(("get", "pull", "go", "mov")) and not found["it"])
    if re.search(r"\bto$", found.group(), re.IGNORECASE) and not does.startswith("cl") or _NOBODY.search(who):
        return False
    if re.search(r"\bover(?: it| them)?$", found.group(), re.IGNORECASE) and not does.startswith(("walk", "crawl", "balanc", "danc", "lean")):
        return False
    if found.group().lower().endswith("against") and not does.startswith("lean"):
        return False
    if _KEPT_OUT.search(before) and re.search(r"\b(?:in|into|across)\b", found.group(), re.IGNORECASE) and not found["it"]:
        return False
    if not who:
        if opener in ("that", "which"):
            return not _is_thing(before[:opened.start()].rstrip(" ,;"), "")
        return opener in ("who", "whoever") or asked or does.endswith("ing") or found["it"] is not None and does != "hung"
    if asked and opener != "for" and not found["it"] and not folk:
        return not _is_thing(who, "") or _CARRIER.search(who) is not None           # 'wire to hang from'
    if _ARTICLE.search(who):
        return does.endswith("ing") and not re.search(r"\b(?:the|a|an|my|our|your|his|its|their|this|these)$", who, re.IGNORECASE)
    return folk or not _is_thing(who, before)


def _is_named(who: str, before: str) -> bool:
    """Whether it is written as a name, 'Jasmine' or 'Will'; the first word of a text is written so in any case."""
    last = who.split()[-1] if who else ""
    return last[:1].isupper() and not (len(last) > 1 and last.isupper()) and not (before or who).lstrip().startswith(last)


def _is_thing(who: str, before: str) -> bool:
    """Whether all that is named there are things, plants or wild birds; 'they' are what was named before."""
    who = who.strip()
    while (less := _HELPS.sub("", who)) != who:
        who = less.strip()
    if _ONE_OF_US.search(who) or _TITLE.search(who) or _is_named(who, before):
        return False
    if who.lower() == "they":
        return _SMALL.search(before) is not None and not _NAMED.search(before)
    return all(_THING.search(one.strip()) for one in re.split(r"\b(?:and|or|nor|plus)\b", who)) if who else False
