"""Terms of plain language by what they say of an order: refused work, moving work, people in reach, pool air, tightening.

Each list is a class of things, not a list of accidents: whoever adds a word looks for its neighbours too. What is honest and
sounds alike stands in `HONEST`, which is taken out of a text before it is read.
"""

from __future__ import annotations

import re
from functools import cached_property

__all__ = ["AFLOAT", "ASKS_PEOPLE", "BESIDE", "CEILING", "CRACKING", "CROWDED", "EMPTY", "FURNISHING", "GARDEN", "HELD_BACK", "HONEST", "HUNG", "INSTEAD", "MODEST", "BY_VEHICLE",
           "LIFTED", "LOADS", "MASTS", "MOVING", "NAMED_AFTER", "NEAR_SOMEBODY", "ON_IT", "OVER", "OVERHEAD", "PERSONS", "PLACES", "PLAIN", "ACROSS", "PURPOSE",
           "REFUSED", "ROOMS", "SHAKEN", "SOMEBODY", "STAYED", "TIGHTENERS", "TRAVELS", "UNDER_IT", "USED", "VEHICLE", "WAYS", "WITHOUT_HARM", "WORKED"]


class _Words:
    """Any of these as whole words, in either case; made ready at the first look, because importing must stay cheap."""

    def __init__(self, *parts: str) -> None:
        self._parts = parts

    @cached_property
    def _ready(self) -> re.Pattern:
        return re.compile(rf"\b(?:{'|'.join(self._parts)})\b", re.IGNORECASE)

    def search(self, text: str) -> re.Match | None:
        """The first of these words in a text, or None."""
        return self._ready.search(text)

    def every(self, text: str) -> list[re.Match]:
        """Each place in a text, from its beginning."""
        return [*self._ready.finditer(text)]

    def sub(self, instead: str, text: str) -> str:
        """The text with each of these words replaced."""
        return self._ready.sub(instead, text)

    def mark(self, letter: str, text: str) -> str:
        """The text, as long as it was, with this letter for each letter of these words."""
        return self._ready.sub(lambda found: letter * len(found.group()), text)


_A = r"(?:(?:a|an|the|my|our|your|his|her|their|its) )?"
_FEW = r"(?:\w+ ){0,2}?"

HONEST = _Words(
    r"(?:raised|flower|plant|planting|seed|rose|vegetable|veg|herb|asparagus|strawberry|fruit|reed|nursery|river|stream|garden) beds?",
    r"(?:plant|planting|potting|staging|seed|seedling|propagat\w+|nursery|glasshouse|greenhouse|bonsai) bench(?:es)?",
    r"strain(?:er|ing) posts?", r"roof truss(?:es)?", r"(?:plant|tree|rose) nurser(?:y|ies)", r"(?:kitchen|market) gardens?", r"weather stations?", r"(?:insect|bug|bee) hotels?", r"(?:tree|trunk|gutter|snow|slug) guards?",
    r"(?:kayak|canoe|boat|dinghy) (?:rack|shelf|stand)s? for (?:\w+ )?(?:boat|kayak|canoe|dinghy|dinghie)s?",
    r"(?:stops?|keeps?|against|nothing) (?:\w+ ){0,3}?(?:flapping|shaking|swaying|rattling|shakes it)", r"(?:horse|ox)[ -]?(?:chestnut|eye dais\w*|eye)s?(?: trees?)?", r"bell ?flowers?", r"fence (?:\w+ )?cross ties?|cross ties? of (?:\w+ )?(?:\w+ )?fence",
    r"(?<!mr )(?<!mrs )(?<!miss )(?<!ms )(?:(?:climbing |rambling )?roses|beans|peas|(?:grape)?vines|grapes|kiwis?|hydrangeas?|\w+berries|cucumbers|hops|clematis|wisteria|honeysuckle|(?-i:jasmine)|creepers|(?:the|our|my|climbing) ivy)(?: to| can| will| may)? (?:climb|hang)(?:s|ing)?(?: on| up| along)?(?! to\b)",
    r"(?:pin|lid|cap|plug) tethers?", r"shop (?=signs?\b)", r"(?:hand|sack) trucks?", r"bird[ -]?baths?", r"(?:bee)?hive lids?", r"(?:silt|root|bird|snow|deer|rabbit|slug|noise) barriers?",
    r"(?:parked|stored|laid[ -]up|scrapped) (?:\w+ )?(?:truck|lorry|trailer|caravan|tractor|van|car|wagon)s?")
GARDEN = _Words(r"allotments?", r"(?:kitchen )?gardens?", r"glass ?houses?", r"green ?houses?", r"poly ?tunnels?", r"fields?", r"orchards?", r"vineyards?")

# --- people ---------------------------------------------------------------------------------------

_PERSON = (r"audiences?", r"spectators?", r"people", r"persons?", r"visitors?", r"children|child", r"kids?", r"toddlers?", r"bab(?:y|ies)", r"guests?",
           r"diners?", r"customers?", r"pupils?", r"students?", r"crowds?", r"the public", r"pedestrians?", r"passers-by", r"workers?",
           r"actors?", r"dancers?", r"performers?", r"congregation", r"passengers?", r"players?", r"swimmers?", r"walkers?", r"hikers?",
           r"cyclists?", r"shoppers?", r"patients?", r"tourists?", r"campers?", r"painters?", r"roofers?", r"cleaners?", r"staff", r"crew",
           r"divers?", r"photographers?", r"hunters?", r"drivers?", r"climbers?", r"sweeps?", r"anglers?", r"grand(?:child|children|kids?|sons?|daughters?|parents?)", r"runners?(?! beans?)", r"anyone|anybody|everyone|someone|somebody")
_WAYS = (r"walkways?", r"streets?", r"roads?", r"lanes?", r"(?:foot)?paths?", r"pavements?|sidewalks?", r"doorways?|entrances?", r"aisles?",
         r"corridors?", r"arch ?ways?", r"kerbs?|curbs?", r"alle?ys?|alleyways?", r"passage(?:way)?s?", r"drive(?:way)?s?", r"cycle ?ways?", r"foot ?bridges?")
_PLACE = (*_WAYS, r"steps", r"seats?|seating", r"chairs?", r"(?:\w+ )?tables?", r"stages?", r"desks?", r"counters?", r"cots?|cribs?|prams?", r"dance ?floors?",
          r"stairs?|staircases?|stairwells?", r"foyers?|lobb(?:y|ies)", r"classrooms?", r"markets?", r"terraces?|patios?",
          r"courtyards?", r"doors?", r"shop ?fronts?", r"bars?", r"pews?", r"halls?", r"arenas?", r"bleachers", r"car parks?|parking", r"pools?",
          r"workbench(?:es)?", r"bench(?:es)?", r"sofas?|couch(?:es)?|armchairs?", r"stools?", r"beds?", r"bunks?", r"islands?", r"work ?tops?",
          r"work ?surfaces?", r"sinks?", r"cookers?|stoves?|hobs?|ovens?", r"tills?|check-?outs?", r"(?:ticket |phone |toll |market )?(?:booths?|kiosks?)", r"picnic \w+", r"barbecues?", r"hearths?|fire ?places?",
          r"verandah?s?", r"porch(?:es)?", r"balcon(?:y|ies)", r"deck(?:ing|s)?", r"plazas?|squares?", r"bus (?:stop|shelter)s?", r"sand ?pits?",
          r"trampolines?", r"baths?", r"hot tubs?", r"platforms?", r"playing fields?", r"pitch(?:es)?")
UNDER_IT = _Words(r"(?:under|beneath|below|underneath) (?:it|them|the (?:wires?|arch(?:es)?|arbour|trellis))", r"underneath")
OVER = _Words("above", "over", "overhead", "overhanging")
ACROSS, WAYS = _Words("across", "spanning"), _Words(*_WAYS, r"tracks?", r"valleys?|rivers?|streams?|gorges?")
PLACES = _Words(*_WAYS)
SOMEBODY, PERSONS = _Words(*_PERSON, *_PLACE), _Words(*_PERSON)
# Rooms and places that people use, and what hangs there; a place that stands empty, or a store in such a house, is told apart.
ROOMS = _Words(
    r"kitchens?", r"(?:living|sitting|dining|day|changing|waiting|meeting|play|common|staff|show|tea|class|bath|bed|ball)[ -]?rooms?", r"lounges?", r"dining",
    r"offices?", r"shops?", r"supermarkets?", r"(?:book|furniture|department) stores?", r"pubs?", r"(?:the|hotel|wine|snack|cocktail) bar|bar$", r"taverns?", r"restaurants?", r"bistros?",
    r"caf(?:e|\u00e9)s?", r"canteens?", r"schools?", r"kindergartens?", r"creches?", r"nurser(?:y|ies)", r"(?:shopping|garden|community|visitor|sports|day) cent(?:re|er)s?", r"barbecues?", r"church(?:es)?", r"chapels?",
    r"mosques?", r"temples?", r"synagogues?", r"cathedrals?", r"halls?", r"hallways?", r"museums?", r"galler(?:y|ies)", r"librar(?:y|ies)",
    r"theat(?:re|er)s?", r"cinemas?", r"auditori(?:a|ums?)", r"concerts?", r"operas?", r"foyers?", r"lobb(?:y|ies)", r"receptions?", r"clinics?",
    r"hospitals?", r"wards?", r"surger(?:y|ies)", r"salons?", r"barbers?", r"hairdressers?", r"hotels?", r"hostels?", r"studios?", r"workshops?",
    r"factor(?:y|ies)", r"stations?", r"airports?", r"malls?", r"arcades?", r"atri(?:a|ums?)", r"markets?", r"conservator(?:y|ies)", r"corridors?",
    r"stair ?wells?|stair ?cases?|stairs?|landings?", r"apartments?|(?:a|my|our|the) flat|flat$", r"quays?|piers?|jett(?:y|ies)|bridges?|harbours?|promenades?|beach(?:es)?", r"parks?|village greens?|squares?|plazas?|playing fields?|pitch(?:es)?|stadiums?|arenas?|band ?stands?|campus", r"stages?", r"clubs?", r"wedding\w*|fetes?|part(?:y|ies)", r"saloons?|inns?|boutiques?|castles?|ballrooms?", r"entrances?|doorways?", r"in (?:a|the|my|our) (?:\w+ )?(?:house|home|cottage)", r"baker(?:y|ies)", r"exhibitions?",
    r"fairs?", r"festivals?", r"night ?clubs?|discos?", r"club ?houses?", r"beer gardens?", r"school ?yards?", r"fair ?grounds?",
    r"bus (?:stop|shelter)s?", r"camp ?sites?", r"patios?|terraces?", r"verandah?s?", r"porch(?:es)?", r"(?:front|back|house) doors?", r"balcon(?:y|ies)", r"car ?ports?|garages?")
EMPTY = _Words(r"store[ -]?rooms?", r"storage", r"stores? of", r"archives?", r"attics?", r"lofts?(?! (?:conversion|flat|apartment|room))", r"cellars?", r"barns?", r"sheds?", r"glass ?houses?",
               r"green ?houses?", r"poly ?tunnels?", r"silos?", r"boiler rooms?", r"roof ?voids?")
CEILING = _Words(r"ceilings?")
HUNG = _Words(
    r"ceilings?", r"hang(?:s|ing|ers?)?", r"hung", r"suspen\w+", r"overhead", r"above", r"over", r"pendants?", r"lamps?", r"lanterns?", r"lights", r"lighting",
    r"(?:a|the|ceiling|strip|pendant) light", r"light fi(?:tting|xture)s?", r"televisions?", r"tvs?", r"(?:projection )?screens?", r"monitors?", r"projectors?",
    r"(?:loud)?speakers?", r"(?:ceiling )?fans?", r"signs?", r"banners?", r"mirrors?", r"pictures?", r"paintings?", r"photographs?", r"posters?",
    r"art ?works?", r"sculptures?", r"mobiles?", r"models?", r"decorations?", r"baubles?", r"garlands?", r"wreaths?", r"planters?", r"(?:plant|flower) ?pots?",
    r"racks?", r"shel(?:f|ves|ving)", r"cupboards?", r"cabinets?", r"clocks?", r"curtains?|drapes?", r"panels?", r"baffles?", r"canop(?:y|ies)",
    r"bi(?:cycle|ke)s?", r"kayaks?|canoes?|surf ?boards?", r"ducts?", r"heaters?", r"cameras?")
# What stays modest where people pass: plants on a wall, fences and gates, nets against birds, a pin on its string.
MODEST = _Words(r"trellis\w*", r"plants?", r"(?:climbing |rambling )?roses?", r"iv(?:y|ies)", r"vines?", r"wisteria", r"clematis", r"jasmine", r"honeysuckle", r"hops?", r"beans?", r"peas?",
                r"espaliers?", r"cordons?", r"creepers?", r"greening", r"shrubs?", r"hedges?", r"fruit", r"berr(?:y|ies)|\w+berr(?:y|ies)", r"birds?|pigeons?|gulls?", r"fenc(?:e|es|ing)", r"gates?", r"lanyards?", r"tarp\w*", r"fleece")
# Work that is known here as harmless in itself: what it holds is light, low or lies against something, and nobody uses it.
PLAIN = _Words(
    r"trellis\w*", r"plants?", r"(?:\w+ )?roses?", r"ivy|ivies", r"(?:\w+)?vines?|vineyards?", r"wisteria", r"clematis", r"jasmine", r"honeysuckle", r"hops?", r"beans?", r"(?:sweet )?peas?", r"espaliers?", r"cordons?", r"creepers?", r"greening", r"shrubs?",
    r"hedges?", r"fruit", r"\w*berr(?:y|ies)", r"cherr(?:y|ies)", r"apples?|pears?|plums?|kiwis?|grapes?|tomato(?:es)?|onions?|garlic|herbs", r"(?:young|apple|pear|fruit) trees?|tree guards?|saplings?", r"willow", r"pergolas?", r"hanging baskets?",
    r"fenc(?:e|es|ing)", r"gates?", r"hurdles?", r"(?:hen|duck|chicken|poultry|pheasant|rabbit)[ -]?(?:house|hut|hutch|run|pen)(?:es|s)?", r"rabbit \w+", r"barn doors?", r"strain(?:er|ing) posts?", r"corner ties?",
    r"birds?(?! of)|pigeons?|gulls?|herons?", r"netting", r"(?:side|shade|hail|frost|wind ?break|pond|pea|crop|guard)[ -]?nets?", r"(?:insect|bat|owl|nest|bird) (?:hotel|box|house|hide|table|feeder)(?:es|s)?", r"bee ?hives?", r"mouse-?proof \w+", r"feeders?",
    r"tarp\w*", r"fleece", r"(?:silage|compost|crop|tank|well|inspection|machine) covers?|covers? (?:of|over|for)", r"cloches?", r"(?:blackout|shade) cloths?", r"(?:shade|frost|dust|greenhouse|glasshouse|side) curtains?|curtains? (?:of|over|in|for)",
    r"(?:reed|ivy|willow|green|privacy|wind) ?(?:bed )?screens?|screens? (?:of|for)", r"wind ?breaks?", r"green ?houses?|glass ?houses?|poly ?tunnels?|tunnel hoops?|cold frames?|lean-?tos?|wood ?sheds?|thermometer huts?", r"compost", r"leaf bins?",
    r"(?:log|wood|fire ?wood|brick|sand)[ -]?(?:pile|stack|heap)s?", r"hay (?:rack|bale)s?", r"root barriers?", r"gabions?", r"(?:water|rain) (?:butt|barrel|trough|gauge|pipe|tank)s?", r"gutters?", r"(?:drain|water) (?:pipe|plug)s?", r"hoses?", r"sundials?", r"insulators?",
    r"lanyards?", r"(?:pin|lid|gate) keepers?", r"keeper wires?", r"cap chains?", r"lost[ -](?:proof|pin)\w*", r"lids? that (?:is|are) bolted \w+", r"retainers?", r"cable guides?", r"(?:number|name) (?:plate|board)s?", r"wildlife cameras?", r"blinds? down",
    r"(?:shelf|rack) brac\w+|brac\w+ (?:for|of) (?:a|the|my|our) (?:\w+ )?(?:shelf|rack)|(?:archive|flat pack|box|hay) (?:\w+ )?racks?", r"shel(?:f|ves)", r"pictures?|paintings?", r"signs?", r"shutters? that (?:is|are) \w+ shut")
# Things that are there for people, or over them by their nature.
ASKS_PEOPLE = _Words(
    r"back ?cloths?|cycloramas?|kabuki \w+|stage \w+|set pieces?|gauzes?", r"(?:hanging|hung|suspended|floating) (?:\w+ )?(?:tables?|desks?|bars?|counters?|stairs?|steps|kitchens?)", r"puppet \w+", r"magicians?",
    r"scener(?:y|ies)", r"scenic", r"stage (?:set|curtain|light|lighting|cloth|drape|weight)s?", r"back ?drops?", r"flown", r"fly(?:ing)? (?:bar|batten|line|wire|system|loft|tower)s?",
    r"(?:light|lighting|box|stage|speaker|exhibition|display) (?:truss(?:es)?|rigs?|grids?|bars?|bridges?)", r"spot ?lights?", r"flood ?lights?",
    r"(?:fairy|party|string|festoon) lights?", r"festoons?", r"bunting", r"(?:shade|sun)[ -]?sails?", r"sun ?shades?", r"awnings?", r"gazebos?", r"marquees?",
    r"party tents?", r"parasols?", r"barriers?", r"queues?", r"turnstiles?", r"goal ?posts?", r"basketball \w+", r"bill ?boards?", r"scaffold\w*",
    r"chandeliers?", r"(?:disco|mirror) balls?", r"play\w*", r"tents?", r"bouncy castles?|inflatables?", r"(?:clothes|washing|laundry) (?:line|rail|dryer)s?", r"solar (?:panel|module)s?",
    r"shor(?:e|es|ing)", r"bulg\w+", rf"(?:hold|retain|support|prop|brac|stay|tie)\w*(?: up)?(?: for| of| on)? {_A}(?:\w+ )?(?:walls?|roofs?|ceilings?|floors?|beams?|oaks?|trees?(?! guard)|boughs?|limbs?|branch(?:es)?)", r"(?:porch|glass|car ?port) roofs?", r"barricades?|trip ?wires?", r"canop(?:y|ies) (?:tie|stay|brace|wire)s?",
    r"(?:leaning|leans|cracked|broken|sick|damaged|split|dead|overhanging) (?:\w+ )?(?:trees?|oaks?|limbs?|boughs?|branch(?:es)?|walls?)", r"tree brac\w+", r"marquee \w+")
# Over heads by its own words, or over somebody at work there, whoever is said to be near.
OVERHEAD = _Words(
    r"overhead", r"head[ -]?(?:height|high)", r"(?:above|over) (?:the )?heads?(?! of (?:a|the|my|our) (?:\w+ )?(?:bed|stairs?|valley|stream|river|well|weir|lake|pond|field|garden|table)s?\b)", r"(?:above|over) (?:\w+'?s?'? ){1,3}heads?",
    rf"(?:above|over|behind|in front of) {_A}(?:\w+ )?(?:receptionist|cashier|clerk|baker|butcher|barber|hairdresser|seller|vendor|attendant|secretar(?:y|ie)|choir|singer|musician|band|pianist|organist|teacher|waiter|waitres|barista|chef|cook|nurse|dentist|typist|guard|porter|sitter|speaker(?= (?:at|on|in)))(?:s|es)?(?! (?:shop|yard|shed|garden|orchard|field)s?\b)")
# Hung in a room, so that a bed below it is no flower bed.
FURNISHING = _Words(r"shel(?:f|ves|ving)", r"lamps?|lanterns?|lights?", r"mirrors?", r"pictures?|paintings?", r"canop(?:y|ies)", r"televisions?|tvs?", r"cupboards?|cabinets?", r"racks?", r"curtains?|drapes?", r"bookcases?")
MASTS = _Words(r"masts?", r"antennas?|aerials?", r"flag[ -]?(?:pole|staff|mast)s?|flagstaves", r"chimneys?", r"stove ?pipes?|flues?|smoke ?stacks?", r"towers?",
               r"turbines?", r"lightning (?:rod|conductor)s?", r"wind ?socks?", r"wind ?mills?|wind[ -](?:pump|generator)s?", r"pylons?", r"steeples?|spires?", r"satellite dish(?:es)?",
               r"lamp ?posts?|light(?:ing)? (?:pole|column)s?", r"(?:telegraph|telephone|utility|power|electricity) poles?", r"may ?poles?|totem poles?",
               r"sign ?posts?", r"shrouds?|fore ?stays?|back ?stays?")
STAYED = _Words(r"stays?|staying|stayed", r"guys?|guy[ -](?:wire|line|rope|cable)s?|guyed", r"brac(?:e|es|ing)", r"steady|steadies", r"support\w*", r"ties?|tying", r"anchor\w*")
# Whoever answers 'nobody', and then names somebody or a time, has not answered nobody.
NEAR_SOMEBODY = _Words(
    *_PERSON, r"any(?:one|body)", r"some(?:one|body)", r"every(?:one|body)", r"famil(?:y|ies)", r"wi(?:fe|ves)", r"husbands?", r"wom[ae]n|m[ae]n|boys?|girls?|sons?|daughters?",
    r"parents?|mothers?|fathers?|grand\w+", r"neighbou?rs?", r"friends?", r"owners?", r"farmers?", r"gardeners?", r"growers?", r"fitters?", r"drivers?", r"teachers?",
    r"residents?|tenants?", r"members?", r"employees?", r"colleagues?", r"teams?", r"volunteers?", r"caretakers?|keepers?", r"inspectors?|engineers?|maintenance",
    r"riders?|climbers?", r"users?|operators?", r"we|us|i|me|he|she|they|them|you|who(?:ever)?|others?|myself|ourselves|themselves", r"post(?:man|woman)|postmen",
    r"(?:brother|sister|sibling|twin|uncle|aunt|auntie|cousin|niece|nephew|mum|mom|dad|granny|nan|grandad|lodger|nurse|doctor|cook|chef|waiter|vicar|priest|monk|nun|guard|student|apprentice|mate|mechanic|plumber|builder|carpenter|cleaner|janitor|warden|ranger|shepherd|jogger|walker|biker|kayaker|paddler|sailor|fisher\w*|gentleman|gentlemen|lady|ladies|elder|adult|teen\w*|youth|human|soul|patient|rambler|hiker|buyer|seller|trader|delivery \w+|courier|cyclist)s?",
    r"(?:my|our|your|his|her) (?!own )(?:\w+ )?(?:dog|cat|horse|pony|goat|sheep|cow|hen|chicken|rabbit|pet|animal)s?", r"(?:sits|reads|sleeps|plays|lives|dines|eats|drinks|cooks|dances|prays|naps|rests|jogs|cycles|paddles|camps|smokes)(?! (?:still|empty))",
    # a time, or a but
    r"when\w*", r"while|whilst", r"during", r"until|till", r"unless", r"except\w*", r"but", r"apart", r"besides", r"other than", r"save for", r"bar",
    r"sometimes|sometime", r"usually|normally|generally|mostly|mainly|often|rarely|seldom|hardly|scarcely|barely|occasional(?:ly)?|regularly|almost|nearly",
    r"most", r"times?", r"days?|nights?|week\w*|month\w*|years?|hours?|minutes?", r"daytime|night[ -]?time", r"mornings?|evenings?|afternoons?|noon|midday",
    r"(?:mon|tues|wednes|thurs|fri|satur|sun)days?", r"spring|summers?|autumn|winters?|seasons?|holidays?|vacations?|terms?|harvests?",
    r"now|today|tonight|tomorrow|yet|still|currently|at present|so far|later|once|twice|after(?:wards)?|before", r"at first|for long|as a rule",
    r"likely|probably|perhaps|maybe|possibly|hopefully|should|may|might|supposed|think|hope|expect\w*", r"only (?:at|in|on|for|if|by|during)", r"much|many|few|little")

# --- refused work ---------------------------------------------------------------------------------

_AT_HEIGHT = (r"(?:painter|roofer|cleaner|steeplejack|rigger|scaffolder|arborist|tree surgeon|climber|fitter|worker|window cleaner|electrician|man|men|person|people"
              r"|crew|staff|child|children|kid|guest|visitor)s?")
_TRADES = r"(?:painter|roofer|(?:window )?cleaner|steeplejack|rigger|scaffolder|arborist|tree surgeon|climber|worker|electrician|crew|(?:work|maintenance )(?:man|men))s?"
_EDGED = r"(?:balcon(?:y|ies)|deck(?:ing|s)?|stairs?|staircases?|stair ?ways?|landings?|mezzanines?|verandah?s?|porch(?:es)?|roof terraces?|terraces?|parapets?)"
_GUARDS = (
    r"(?:fenc\w+|gates?|netting|nets?|wires?|infill|guards?|barriers?|rails?|trellis)(?: [\w,]+){0,5} (?:mezzanines?|(?:upper|stair|top) landings?|hay ?loft|stair ?heads?|top of (?:the|our|my) (?:stairs|steps)|edge of (?:the|our|my|a) (?:\w+ )?roof|gap in the (?:\w+ )?floor)",  # by the place where somebody would fall
    r"guard[ -]?(?:rail|wire|cable|line|rope)s?", r"guarding", r"edge protection", r"infills?",
    r"(?:deck|stairs?|staircase|stairway|balcony|porch|verandah?|terrace|landing|gallery|mezzanine|loft|bridge|ramp|cable|wire|grab|safety|quay|pier|jetty)[ -]?rail(?:s|ing|ings)?",
    rf"{_EDGED} (?:edge |side )?(?:wire|cable|line|rope|fence|guard|barrier)s?", rf"posts? (?:of|on|along|round) {_A}{_FEW}{_EDGED}", rf"{_EDGED} posts?", r"safety",
    r"(?:walkway|foot ?bridge|bridge|jetty|pier|cliff|quarry) (?:edge |side |top |path )?(?:wire|line|rope|fence|guard|barrier)s?",
    r"(?:fence|fencing|wire|line|rope|rail|guard|barrier)s? (?:\w+ ){0,2}?(?:on|along|at|by|of|for|round|around|above) (?:\w+ ){0,2}?(?:cliff|quarry|ravine|gorge|weir|dam|mine ?shaft|well|pit)(?: \w+)?", r"cliff[ -]?(?:path|top|walk|edge)s?", r"stair ?well net(?:s|ting)?",
    rf"(?:edge|open side|open end|open edge|drop|brink) (?:of|along|at|by) {_A}{_FEW}(?:{_EDGED}|galler(?:y|ies)|loft|platform|stage|pier|jetty|quay|cliff|bridge|ramp|pit|quarry)",
    rf"(?:{_EDGED}|platform|cliff|quay|stage|loft) edges?",
    r"fall(?:s|ing)? (?:off|down|out|into)", r"(?:the|a|steep|deep) drop", r"(?:machine|saw|belt|shaft|blade)[ -]guards?", r"guards? (?:for|of|on|round) (?:a|the|my|our) (?:\w+ )?(?:machine|saw|belt|shaft|blade|drive)s?", r"emergency \w+",
    rf"(?:keep|stop|hold)(?:s|ing)? {_FEW}(?:{'|'.join(_PERSON)}) (?:in|out|off|back|away)", rf"(?:keep|stop|prevent|save|catch)(?:s|ing)? {_FEW}(?:{'|'.join(_PERSON)})(?: from)? (?:fall|tumbl|climb|slip|go|wander)\w*")
_HOLDS_PERSON = (
    r"toe ?holds?", r"with rungs",
    r"jack[ -]?(?:stay|line)s?", rf"{_AT_HEIGHT} (?:\w+ ){{0,3}}?(?:clip|hook|tie|hold|attach|hang|lean|stand|sit|lie|step|walk|climb|balanc|rest|pull)(?:s|ed|ing)?",
    rf"(?:anchor|line|wire|cable|rope|lanyard|strop|eye|ring|strap)s? (?:\w+ ){{0,3}}?for {_FEW}{_TRADES}", r"roof[ -](?:anchor|line|work|worker)s?", r"tie[ -]?off", r"(?:working|access|work) (?:rope|line)s?", r"belt (?:anchor|hook|eye|point)s?", r"sleep(?:s|ing)?",
    r"work\w* at heights?", r"work (?:restraint|positioning)", r"window[ -]clean\w+", r"rescue\w*", r"evacuat\w*", r"via ferrata", r"tree ?houses?",
    r"(?:hold|grab|cling)(?:s|ing)? (?:on ?to|on)", r"hang(?:s|ing)? on ?to|to hang on", r"grab (?:line|wire|bar|handle|rope|cable)s?", r"(?:to|who|they|can|you|we) lean (?:on|against|over)",
    r"(?:to|can|who|will|may|they|we|you|I) (?:\w+ )?(?:sit|lie|stand|walk|step|sleep|lounge|jump|balance|cross|rest)(?: down)? (?:on|in|along|across|over)",
    r"(?:to|for) cross(?:ing)? (?:a|the|our) (?:\w+ )?(?:stream|river|ditch|brook|gully|ravine|creek|gorge|weir|pond)s?",
    r"(?:obstacle|assault) courses?", r"parkour", r"yoga", r"trampolin\w*", r"pole danc\w+", r"exercise\w*", r"fitness", r"work-?outs?", r"dumb ?bells?|bar ?bells?", r"resistance bands?",
    r"bouncers?", r"bassinets?|cradles?|cots?|cribs?", r"wheel ?chairs?|stretchers?", r"ladders?", r"(?:hunting|tree|shooting) (?:stand|seat)s?|high seats?", r"(?:observation|viewing) \w+", r"flying fox(?:es)?", r"cable[ -]?(?:car|way)s?|rope ?ways?|funiculars?|ski \w+")
_FURNITURE = (
    r"(?:rope|bunk|loft|day|box|cable|camp|cabin|child's|children's|wall|fold\w*|guest|sofa|double|single|floating|hanging|dog)[ -]?beds?", r"bunks?", r"mattress(?:es)?",
    r"bed (?:frame|base|slat|support|spring)s?", r"(?:support|wire|cable|rope|tie|brace|base|hanger)s? (?:of|for|under|to hold) (?:a|the|my|our) (?:\w+ )?(?:bed|bench|sofa|couch|settee)s?",
    r"sofas?|couch(?:es)?|armchairs?|settees?|recliners?|loungers?|stools?", r"(?:picnic|park|garden|swing|porch|church) bench(?:es)? (?:support|wire|cable|hanger|tie)s?",
    r"(?:lounge|lounging|lying|catamaran|loft|relax\w*) nets?",
    r"(?:hold|support|carr|suspend|hang|stay|tie)\w* (?:up )?(?:\w+ ){0,3}?(?:balcon(?:y|ies)|mezzanines?|foot ?bridges?|walkways?|staircases?|stairs|catwalks?|(?:viewing |sleeping |loft )?platforms?)",
    r"foot ?bridges?(?! [a-z]* ?(?:wall|side))", r"catwalks?|gangways?", r"(?:suspension|rope|plank|cable) (?:foot)?bridges?")
# Slid down, walked or climbed along; trained on; played on or with.
_SLID = (
    r"(?:zip|death|cable|rope|wire|commando|aerial|giant|tyrolean|tarzan|jungle|burma)[ -]?(?:wire|slide|runway|run|ride|glide|rope|bridge|vine|travers\w*|trail|walkway)s?", r"tyrolean\w*", r"tarzan",
    r"(?:canopy|tree ?tops?|sky)[ -]?(?:tour|walk|trail|bridge|adventure)\w*", r"(?:high|low|challenge)[ -]?ropes?", r"ropes? courses?", r"adventure \w+", r"high ?lines?", r"slack (?:wire|rope)s?", r"top[ -]?ropes?",
    r"rappel\w*", r"canyoning", r"caving", r"potholing", r"mountaineer\w*", r"boulder(?:ing|ers?)", r"alpin(?:e climbing|ists?)", r"rope access", r"fall stops?", r"(?:man|work) (?:basket|cage|bucket)s?", r"cherry ?pickers?",
    r"(?<!second[ -])hand[ -]?(?:rope|wire|cable|hold|grip|strap)s?", r"(?:rope|wire|cable)[ -](?:hand ?)?holds?", rf"(?:ropes? (?:beside|by)|(?:ropes?|wires?|cables?|lines?) (?:for|along|up|down)) {_A}{_FEW}(?:steps|stairs?|staircases?)",
    rf"cross(?:es|ing)? {_A}(?:\w+ )?(?:stream|river|ditch|brook|beck|burn|gully|ravine|creek|gorge|weir|pond|valley|canyon)s?", r"ferr(?:y|ies) (?:wire|rope|cable|line)s?",
    r"ski(?:s|ing|er|ers)?", r"chair ?lifts?", r"gondolas?", r"toboggan\w*", r"sled(?:s|ges?|ging)?", r"snow ?board\w*", r"skate\w*", r"wake ?(?:board\w*|parks?)", r"water[ -]?ski\w*", r"para ?glid\w*", r"sky ?div\w*", r"(?:kite|wind) ?surf\w*", r"base jump\w*",
    rf"(?:fly(?:ing)?|flies) {_A}(?:\w+ )?(?:actor|performer|person|dancer|angel|fairy|witch|peter|child)s?", r"flying (?:ballet|effect|rig|act)s?", r"levitat\w*")
_TRAINED = (
    r"multi-?gyms?", r"(?:weight|cable|rowing|smith|exercise|dip|press) (?:stack|machine|station|cage)s?", r"(?:lat )?pull-?downs?", r"(?:squat|power|kettle ?bell|dumb ?bell|barbell|weights?) (?:rack|cage|stand|tree)s?", r"kettle ?bells?",
    r"calisthenics", r"pilates", r"cross ?fit", r"suspension train\w*", r"battle ropes?", r"rings? for dips|dips?(?: bars?)?|ring dips", r"press-?ups?|push-?ups?|sit-?ups?", r"(?:speed|heavy|punch|boxing|kick) ?(?:bag|ball)s?",
    r"boxing|wrestling|martial arts?|karate|judo|fencing (?:club|piste)s?", r"walking frames?", r"physio\w*", r"(?:sensory|therapy|soft play) \w+", r"patients?")
_PLAYED = (
    r"see-?saws?", r"teeter\w*", r"merry-?go-?rounds?", r"roundabouts?", r"carousels?", r"(?:water|spiral|play|tube|kids|children's) slides?", r"jungle gyms?", r"(?:scramble|scrambling|spider(?:'s)?(?: web)?|cargo|rope) (?:net|web|mesh)s?",
    r"(?:balance|balancing|wobble) (?:beam|board|wire|line|bridge)s?", r"ninja", r"trim trails?", r"assault", r"(?:nest|basket|pod|tyre|tire|cocoon)[ -]?(?:swing|basket|chair|seat)s?", r"(?:hanging|hung|suspended|sensory|floating) (?:pod|nest|cocoon|egg)s?",
    r"fire ?m[ae]n'?s? ?poles?", r"fireman's poles?", r"tether ?balls?", r"tug[ -]?(?:of|o')[ -]?war|tug(?:s|ging)? (?:rope|line)s?", r"jacob'?s ladders?", r"bouncing", r"bumper cars?|dodgems?|roller ?coasters?|ferris \w+",
    r"gladiator\w*", r"tyre run")
# Goals, nets and posts of a game: they tip, they are hung on, and they are equipment; a fence beside the court is none.
_SPORTS = (r"(?:(?:foot|hand|basket|volley|net|base|soft|pickle|korf)[ -]?ball|soccer|rugby|hockey|tennis|badminton|cricket|lacrosse|archery|golf|padel)(?! ?(?:court|pitch|club|ground|field|course|green)s?(?:'s)? (?:fence|wall|hedge|gate))(?= ?(?:\w+ ){0,2}?(?:goal|net|post|hoop|cage|wire|cable|frame|stand|basket|top)s?)",
           r"(?<!behind the )(?<!behind a )goals?", r"batting \w+", r"catch fences?")
_CARRIED = (
    r"(?<!gate )(?<!gate that )(?<!door )(?:swing|swings|swinging|swung)(?![ -](?:gate|door)s?\b)", r"hammocks?", r"trapezes?",
    r"climb(?:s|ed|ing|ers?)?(?! (?:plant|rose|bean|vine|pea|hydrangea)s?\b)", r"(?:pull|chin)[ -]?ups?", r"playgrounds?", r"play (?:rope|net|frame|tower|equipment)s?", r"harness\w*", r"zip[ -]?lin(?:es?|ing)",
    r"fall[ -](?:arrest|restraint|protection)", r"safety[ -](?:line|rope|wire|cable|net|rail|strop)s?", r"life[ -]?lines?", r"acrobat\w*", r"aerialists?",
    r"aerial (?:silks?|hoops?)", r"circus", r"stunts?", r"bungees?", r"abseil\w*", r"belay\w*", r"tight[ -]?ropes?", r"slack[ -]?lines?",
    r"high[ -]wires?", r"rope (?:bridge|ladder|walk|course)s?", r"monkey bars?", r"gym|gymnas\w*", r"(?:bosun|boatswain)\S* chairs?",
    r"(?:hang|hung|hanging|suspended|floating|egg) (?:\w+ )?(?:bed|cot|cradle|chair|seat|bench|sofa|platform|walkway|bridge)s?",
    r"rides?|riders?|riding", *_SLID, *_TRAINED, *_PLAYED)
_LIFTED = (
    r"yank(?:s|ed|ing)?",
    r"hoist\w*", r"lift(?:s|ed|ing)?", r"slings?|slinging", r"winch\w*", r"raise|raises|raising",
    r"raised(?! (?:\w+ )?(?:bed|bench|planter|border|deck|floor)(?:s|es)?\b)",
    r"(?:pull|heave|winch)(?:s|ed|d|ing)? (?:\S+ ){0,4}?(?:up|out|down)", r"haul(?:s|ed|ing|age)?", r"heaving", r"(?:get|gett|bring|tak|mov)(?:s|e|es|ing)? (?:\w+ ){0,3}?(?:boat|engine|motor|log|stone|piano)s? (?:out|in|up|on|onto|over|ashore)", r"carcas\w+", r"(?:engine|motor|car)s? (?:hung|hanging|suspended)", r"lowering|lowered", r"lowers? (?:a|an|the|it|them|my)",
    r"(?:pull|drag|slide|skid)(?:s|ing)? (?:a|an|the|my|our|logs|trees) (?:\w+ ){0,3}?(?:onto|into|along|across|over|through|off|ashore|in|from|to)", r"drag(?:s|ged|ging)?",
    r"(?:hang|hangs|hung|hanging|suspend(?:s|ed|ing)?|holds?) (?:up )?(?:\w+ ){0,2}(?:engine|motor|car|vehicle)s?",
    r"gantr(?:y|ies)", r"derricks?", r"sheer ?legs", r"chain (?:block|hoist|fall)s?", r"snatch ?blocks?", r"block and \w+", r"tackles?", r"capstans?", r"windlass(?:es)?", r"jack(?:s|ed|ing)? (?:up|under|for)", r"skidding", r"stump (?:pull\w*|remov\w*|extract\w*)", r"uproot\w*",
    rf"pull(?:s|ing|ed)? (?:over |down )?{_A}(?:\w+ )?(?:trees?|stumps?|posts?|roots?|oaks?|fences?|walls?|boulders?|rocks?)(?: out)?", r"well (?:bucket|rope|cable|wire)s?", r"up (?:the|a|our) wall", r"trolley (?:wire|line|rope|cable)s?",
    r"crane[sd]?", r"craning", r"heave[sd]?", r"cranked", r"pianos?", r"buckets? (?:\w+ ){0,3}?(?:up|down)", r"(?:is|are) wound", r"draw(?:s|ing)? (?:\w+ ){1,3}up\b", r"slung (?:\w+ )?(?:from|under|below|by) (?:the |a )?(?:\w+ )?(?:loader|fork|bucket|hook|arm|jib|boom)s?", r"davits?", r"block and tackle", r"come[ -]?alongs?", r"gin poles?", r"elevators?", r"dumb[ -]?waiters?", r"\w*pullers?", r"(?:bale|sack|load|bag|box|bike|stone|log|bucket)(?:s|es)? up (?:to|into|onto)", r"fell(?:ing)? (?:\w+ )?trees?")
_TRAVELS = (
    r"(?:milk|carnival|parade) floats?", r"drays?", r"boot of (?:the|my|our|a) (?:car|estate|hatchback|saloon)",
    r"(?:engine|motor|gear ?box|exhaust|bonnet|hood|boot|chassis|bumper|axle|roll|wheel|cab|bull|spare wheel|windscreen)s? ?(?:bay|mount|stay|brace|block|support|hanger|prop|cage|bar|cable|wire|strut|clamp|compartment|rest|carrier|arch)s?(?! (?:test|show))", r"gear ?box(?:es)?", r"tail ?boards?",
    r"hand ?brakes?|parking brakes?|brake rods?|accelerators?|steering|throttles?|pedals?", r"motor ?sports?|race ?tracks?", r"(?:go-?)?karts?", r"golf (?:bugg(?:y|ies)|carts?)", r"harvesters?|(?:front |wheel |skid )?(?<!free )loaders?|telehandlers?|excavators?|diggers?|bulldozers?|ploughs? (?:hitch|beam|lift)s?", r"mowers?",
    r"mini ?bus(?:es)?|jeeps?|suvs?|4x4s?|atvs?|utes?|scooters?|mopeds?|quads?", r"locomotives?|railway carriages?|rail ?cars?|rolling stock", r"jet ?skis?|submarines?|hover ?crafts?",
    r"halyards?", r"(?:main|jib|fore|stay|spinnaker|genoa|gaff)[ -]?(?:sail|sheet)s?", r"(?<!shade )(?<!sun )sail(?:ing|s)? ?(?:sheet|hoist|boom|mast|track|lacing|halyard|rope|wire)s?", r"spinnakers?", r"(?:boom|gaff) ?(?:vang|brace|stay|guy|lift)?s?", r"vangs?|kicking straps?",
    r"(?:standing|running|yacht|boat|ship'?s?|dinghy) rigging", r"(?:yacht|boat|dinghy|ship|barge)s?'? (?:shroud|stay|rail|wire|mast|boom|cradle|trailer)s?", r"bob ?stays?|whisker stays?", r"rudders?|tillers?", r"anchor (?:chain|rode|warp)s?", r"dock(?:ing)? lines?",
    r"balloons?", r"air(?:craft|planes?)|aeroplanes?|helicopters?|gliders?", r"microlights?|ultralights?|parachut\w*", r"drones?", r"tow(?:s|ed|ing)?",
            r"brake (?:cable|wire)s?", r"clutch (?:cable|wire)s?", r"throttle (?:cable|wire)s?", r"break[ -]?away", r"recovery (?:rope|strap|cable|line|wire)s?",
            r"(?:load|cargo) (?:restraint|lashing|strap|securing|net)s?", r"cargo", rf"(?:tie[ -]?downs?|lash\w*|straps?|secur\w+|restrain\w*) (?:for |of )?{_A}(?:\w+ )?(?:loads?|freight)")
_VEHICLES = (r"(?:trucks?|lorr(?:y|ies)|trailers?|flat ?beds?|pick-?ups?|vans?|cars?|caravans?|motor ?homes?|camper ?vans?|motor ?(?:bikes?|cycles?)|quad ?bikes?"
             r"|tractors?|wagons?|fork ?lifts?|vehicles?|roof ?(?:rack|box)(?:s|es)?|tail ?gates?|horse ?box(?:es)?|trams?|ambulances?|carts?|bus(?:es)?(?! (?:stop|shelter))|trains?)")
VEHICLE, BY_VEHICLE = _Words(_VEHICLES), _Words(rf"(?:beside|behind|near|next to|by|past) {_A}{_FEW}{_VEHICLES}")
# Old work that a new sleeve would make look new.
_USED_AGAIN = (r"re-?us(?:e|es|ed|ing)", r"second[ -]?hand", r"re-?(?:terminat|sleev|press)\w*", r"press(?:ed)? again",
               r"new (?:sleeve|end|eye)s? (?:on|onto|for|to) (?:\w+ ){0,2}?(?:old|used)", r"(?:old|used) (?:\w+ )?(?:cable|wire|stay|rope|sleeve|eye|assembl)\w*")
# Whoever is told to be near it, or fits it, and hangs on it, sits on it or is lifted by it.
_IT = r"(?:it|them|this|that|these|those|(?:the|a|an|our|my) (?:\w+ ){0,2}?(?:wire|cable|line|rope|gate|brace|stay|assembly|eye|ring|lantern|lamp|rack|frame|sign)s?)"
ON_IT = _Words(*_CARRIED, rf"(?:sit|stand|hang|lean|jump|pull|walk|lie|lies|lying|step|balance|balancing|hold|cling|rest|reach|lounge|kneel|perch|danc|bounc|dangl)\w*(?: (?:his|her|their|my|our) \w+)? (?:up )?(?:on|onto|off|from|in|over|along|across) (?:to )?{_IT}",
               rf"(?:clip|clipped|tie|tied|hook|hooked|attach|attached|anchored|belayed|harnessed|fastened) (?:him|her|them)?(?:self|selves)? ?(?:on|in|onto|to)\b(?: {_IT})?", rf"{_IT} (?:holds|lifts|carries|catches|raises|lowers|hoists|moves|swings|supports) (?:\w+ ){{0,3}}?(?:{'|'.join(_PERSON)}|basket|load|boat|engine|somebody|man|men|woman|women)s?",
               r"being (?:lifted|carried|raised|lowered)", r"over people|above people'?s heads?(?= (?:is|are) lifted)", r"lifts (?:a|an|the) \w+")
# Plants, birds, snow and what is hung may climb, hang, sit and lie on it; and a person may be named after a hall or a machine.
WITHOUT_HARM = _Words(r"(?:hops?|roses?|clematis|vines?|iv(?:y|ies)|beans?|peas?|plants?|wisteria|jasmine|honeysuckle|creepers?|branches|shoots|leaves|birds?|pigeons?|snow|ice|dew|rain|lamps?|lanterns?|curtains?|nets?|cloth|pins?|signs?|tarps?|tarpaulins?|it|they|pots?)"
                      r" (?:\w+ ){0,2}?(?:climb|hang|hung|grow|sit|lie|lies|lay|perch|rest|lean|run|stand)\w*(?: \w+){0,4}", r"riders? pass\w*", r"climbing (?:hall|wall|club|centre|school)(?:'s)?(?: \w+)?", r"cherry ?pickers?")
# Work that a sentence on the load or on the fitters gives away, as in 'the hoist maker'.
WORKED = _Words(r"hoists?", r"winch\w*", r"cranes? (?:maker|driver|firm|company|operator)s?", r"lifts? (?:maker|firm|company|engineer|load)s?", r"slings?", r"zip\w*", r"cable[ -]?cars?", r"cabins?", r"trapeze\w*", r"tows?|towing",
                r"(?:pull|drag|haul|heav)\w* (?:\w+ ){0,3}?(?:out|up|along|ashore)", r"caught by it|catches (?:him|her|them|who\w*|any\w*)", r"(?:keep|stop|hold|sav)\w* (?:\w+ ){0,3}?from (?:falling|drowning|tumbling)",
                r"steady (?:him|her|them|our|my)(?:self|selves)?", r"bathers?|swimmers? (?:grab|hold)\w*", r"(?:grab|cling)\w*", r"baby|babies|infants?", r"ladders?", r"lock\w* (?:\w+ ){0,3}?to it")
REFUSED = _Words(*_GUARDS, *_HOLDS_PERSON, *_FURNITURE, *_CARRIED, *_LIFTED, *_TRAVELS)
LIFTED, TRAVELS, USED = _Words(*_LIFTED), _Words(*_TRAVELS, _VEHICLES), _Words(*_USED_AGAIN)
# Work that takes the place of old work is new work.
INSTEAD = _Words(r"(?:replac(?:e|es|ed|ing|ement)|instead of|in place of)(?: (?:for|of))? (?:\w+ ){0,3}?(?:old|used) \w+")
# Refused in what the cable is for; a place may be named after them.
PURPOSE = _Words(*_SPORTS, r"(?:bed|bath|toilet) (?:guard|grab|rail)s?", r"(?:deck|balcony|stair) panels?", r"(?:seat|chair)s?", r"bench(?:es)?(?! (?:vice|vise|grinder|saw|drill))", r"platforms?", r"hand[ -]?(?:rail|line)s?", r"balustrades?|bann?isters?|railings?")
BESIDE = _Words(r"(?:above|over|behind|beside|near|under|past|next to) (?:\w+ ){0,3}?(?:seat|chair|bench|platform|railing|balustrade|handrail|banister)(?:s|es)?")
# A place that is only named after a thing: 'behind the sling store'.
NAMED_AFTER = _Words(r"(?:slings?|winch|tow|harness|aircraft|aeroplane|airplane|glider|crane|truck|lorry|trailer|van|car|caravan|tractor|vehicle|wagon|bus|train|boat|cargo)"
                     r"[ -]?(?:store|shed|house|shop|rack|cupboard|hangar|museum|park|port|yard|barn|garage|bay|gate|site|depot|wash)s?")

# --- what moves, cracks, tightens and carries ----------------------------------------------------------

_BEASTS = r"(?:dog|hound|goat|horse|pony|donkey|mule|mare|stallion|cow|bull|ox|calf|cattle|sheep|ram|pig|boar|llama|alpaca|parrot|hawk|falcon|animal)s?'?"
_YOUNG = rf"(?:{_BEASTS}|(?:lamb|foal|puppy|puppies|kid goat|cat|kitten|rooster|cockerel|hen|pigeon|heifer)s?'?)"
# A body is held back by it, or leans on it: whatever is answered, such a cable is not made here.
HELD_BACK = _Words(
    r"(?:bull|stallion|boar|stud|horse|cattle|ram) (?:pen|yard|pound|crush|stall|paddock|box)s?'?",
    rf"{_BEASTS}(?: \w+)? (?:run|runner|line|lead|leash|tether|tie[ -]?out|chain|rope|restraint|walker|hitch|halter|tie|lead)s?", r"tether(?:s|ed|ing)?", r"leash(?:es)?",
    r"kennel (?:chain|rope|wire|line)s?", r"hitching \w+", r"(?:stall|cross|head) ties?", r"(?!(?:roof|gutter|wall|chimney|valley|church|window)'s)\w+'s lead",
    rf"(?:tie|ties|tying|tied|hold|holds|holding|hitch|restrain|catch)\w*(?: up)? {_A}(?:\w+ )?{_BEASTS}", rf"keep(?:s|ing)? {_A}(?:\w+ )?{_YOUNG} in", rf"{_YOUNG} (?:is |are )?(?:tied|fastened|clipped|hitched|tethered|hooked) (?:on )?(?:up )?to", rf"(?:clip|hook|hitch|fasten)\w* {_A}(?:\w+ )?{_YOUNG}",
    rf"stop(?:s|ping)? {_A}(?:\w+ )?{_YOUNG} (?:from )?(?:getting|running|going|jumping|breaking) (?:out|off|away)", rf"contain\w* {_A}(?:\w+ )?{_YOUNG}", rf"{_YOUNG}(?:'s)? (?:halter|lead|collar|chain|tether)s?", rf"(?:tie|ties) for {_A}{_YOUNG}",
    rf"{_YOUNG} to run on", rf"where {_A}{_YOUNG} (?:sits?|perch(?:es)?|roosts?)", r"perch(?:es)?(?: \w+)? (?:for|of)", r"perch wires?", rf"{_BEASTS} (?:lean|pull|push|rub|scratch)s? (?:on|at|against)",
    rf"(?:lean|leans|leaned|leant) (?:on|against) by {_A}(?:\w+ )?{_BEASTS}")
# Moved by the wind, or by itself.
SHAKEN = _Words(r"flap(?:s|ped|ping)", r"flutter\w*", r"sway(?:s|ed|ing)", r"shaking", r"(?:winds?|storms?|gusts?|breezes?) (?:\w+ )?(?:shakes?|rocks?|moves?|swings?|tugs?)", r"billow\w*", r"whips? about|whipping",
                r"rattl\w*", r"bounc(?:e|es|ing)", r"jerk\w*", r"rock(?:s|ing) (?:with|to)", r"gust(?:s|y)", r"blow(?:s|n|ing) (?:about|around|to and fro)", r"(?:moves?|moving) (?:in|with) (?:the )?(?:winds?|storms?|breezes?)")
# Where crowds and children are, plants on the wall are in reach of somebody; and what is high up falls on whoever passes.
_NO_STREET = r"(?! (?:road|street|lane|avenue|close|drive|way|hill|house|gardens?(?= (?:road|street)))\b)"
CROWDED = _Words(rf"(?:kindergartens?|creches?|(?:day|children's) nurser(?:y|ies)|(?:primary|infant|nursery) schools?|hospitals?|(?:railway|train|bus|coach|metro|underground|tube) stations?){_NO_STREET}",
                 r"bus (?:stop|shelter)s?", r"market ?(?:square|place)s?", r"sports? halls?", r"universit(?:y|ies)", r"zoos?", r"(?:care|nursing|old people's) homes?", r"(?:doctor|dentist)'?s?'? surger(?:y|ies)", rf"pharmac(?:y|ies){_NO_STREET}",
                 r"shopping (?:mall|cent(?:re|er)|arcade)s?", r"airports?", r"metro entrances?", r"ferry terminals?", r"(?:city|public|town) (?:park|square)s?", r"promenades?", r"prison\w*(?: yards?)?", r"street fronts?",
                 r"garden cent(?:re|er)s?", r"(?:with|has) (?:a|the|two) (?:\w+ )?(?:seat|bench)(?:es|s)? (?:in|under|below|beneath) (?:it|them)", r"(?:upper|top|second|third|fourth|fifth|sixth|seventh|eighth|ninth|tenth|[2-9](?:nd|rd|th)) (?:floor|store?y)s?", r"(?:second|third|fourth|fifth|sixth)[- ]stor(?:e?y|ies)", r"roof gardens?")
MOVING = _Words(
    rf"{_BEASTS}(?: \w+)? (?:crush|tie|chain|rope|restraint|walker|hitch|halter|lead|perch|stand|grid|guard|stocks|pen rope|holding \w+|kennel chain)s?", r"kennel (?:chain|rope|wire|line)s?", r"hitching \w+", r"(?:stall|cross|head) ties?",
    rf"(?:tie|ties|tying|tied|hold|holds|holding|hitch|restrain|secur|catch)\w*(?: up)? {_A}(?:\w+ )?{_BEASTS}", rf"{_BEASTS}[ -]hold\w*", r"restraints?", r"(?:loading |folding |drop |boat )ramps?", r"that folds? (?:up|down|out|away)", r"clothes (?:airer|horse|maiden|pulley)s?",
    r"puppets?", r"marionettes?", r"trolleys? wires?",
    r"(?:dog|goat|horse|pony|cow|bull|animal)[ -](?:run|runner|line|lead|leash|tether|tie[ -]?out)s?", r"tether(?:s|ed|ing)?", r"leash(?:es)?",
    r"(?:dog|goat|horse|pony|donkey|cow|bull|calf)s?(?: pen)? (?:tie|chain|rope|hitch|halter|lead)s?", r"slam\w*", r"(?:door|gate) (?:spring|closer|check|stop|chain|catch)s?", r"swinging (?:door|gate)s?", r"bells?", r"conveyors?", r"portcullis", r"pulled (?:open|back|along|shut)", r"openers?", r"buckets? on", r"run for (?:\w+ ){0,2}dogs?", r"pulleys?", r"(?:punch|punching|boxing) ?bags?", r"counter[ -]?(?:weight|balanc|pois)\w*", r"balance weights?",
    r"hatch(?:es)?", r"trap[ -]?doors?", r"(?:garage|sliding|rolling|roller|overhead|up[ -]and[ -]over|folding|bi-?fold|sectional|tilting|lift-up) (?:door|gate|shutter|window)s?", r"gas struts?|struts? (?:for|of)", r"(?:for|of|on) (?:a|the|my|our) (?:\w+ )?lids?(?! that is)",
    r"(?:cellar|loft|bar|counter|tail) flaps?", r"(?:lid|door|window) (?:stay|check|restraint|closer)s?", r"(?:stay|check|restraint|closer)s? (?:for|of|on) (?:\w+ ){0,3}?(?:lid|door|window|flap)s?",
    r"sash(?:es)?(?: \w+)?", r"draw ?bridges?", r"(?:loft|attic|folding) ladders?", r"(?:vent|window) openers?", r"opening (?:vent|window|roof|light)s?", r"self[ -]closing",
    r"wind ?(?:chime|spinner)s?", r"weather ?vanes?", r"flags?(?![ -]?(?:pole|staff|mast|stone)s?)", r"pennants?", r"kites?", r"trolleys?",
    r"moor(?:s|ed|ing|ings)", r"buoys?", r"pontoons?", r"rafts?", r"rotat\w*", r"spin(?:s|ning)", r"revolv\w*", r"swivel\w*", r"vibrat\w*", r"spring[ -]loaded",
    r"(?:control|gear|bowden|release) cables?")
AFLOAT = _Words(rf"(?:on|aboard|in|of|for) {_A}{_FEW}(?:boats?|ships?|yachts?|dinghy|dinghies|barges?|ferr(?:y|ies)|vessels?|catamarans?)", r"^(?:\w+ )?(?:boat|ship|yacht|dinghy|barge|ferry)$")
CRACKING = _Words(
    r"(?<!fish )(?<!koi )(?<!rock )(?<!tide )(?<!car )(?<!lily )pools?(?! tables?\b)", r"poolside", r"swimming[ -]?\w+", r"natatori(?:a|ums?)", r"baths?", r"bath ?houses?", r"spas?", r"thermes?|thermal \w+",
    r"hammams?", r"saunas?", r"steam rooms?", r"onsens?", r"plunge \w+", r"lidos?", r"(?:water|aqua|splash)[ -]?(?:park|pad|world|slide)s?", r"aquatic \w+", r"leisure cent(?:re|er)s?",
    r"hydro-?therapy", r"chlorin\w+", r"hot tubs?", r"whirl ?pools?", r"jacuzzis?")
TIGHTENERS = _Words(r"turn ?buckles?", r"strainers?", r"straining \w+", r"tension(?:er|ers|ing)", r"tighten(?:er|ers|ing)", r"(?:rigging|bottle|stretching|straining|tension) screws?",
                    r"wire vi[cs]es?", r"ratchets?", r"adjust(?:er|ers|able|ment)", r"threaded (?:end|terminal|rod|stud)s?", r"load binders?", r"lever locks?")
# A ring with a lap splice carries nothing: words by which it would.
LOADS = _Words(r"carr(?:y|ies|ying)", r"hang(?:s|ing)?|hung", r"support\w*", r"hold(?:s|ing)? up", r"suspen\w+", r"bear(?:s|ing)?", r"pull(?:s|ed|ing)?", r"stays?", r"guys?", r"brac(?:e|es|ing)",
               r"tight(?:en|ens|ened|ening)?", r"tension\w*", r"strap(?:s|ped)?", r"clamp\w*", r"[0-9.]+ ?(?:lbf?|lbs|kg|k?n|tons?|tonnes?)")
