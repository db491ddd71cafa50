package complaint

import (
	"maps"
	"slices"
	"strings"

	"slipcase/engine"
)

// The everyday English around the phrases of the rules: which words say the
// same, which tell nothing. What a finding is called by drivers stands in the
// rules.

var contractions = map[string]string{
	"won't": "will not", "can't": "can not", "cannot": "can not", "ain't": "is not", "wont": "will not", "cant": "can not", "dont": "do not",
	"doesnt": "does not", "didnt": "did not", "isnt": "is not", "aint": "is not", "wouldnt": "would not", "wasnt": "was not", "hasnt": "has not",
	"havent": "have not", "couldnt": "could not", "don't": "do not", "gonna": "going to", "wanna": "want to", "gotta": "got to", "nuthin": "nothing", "nothin": "nothing",
	"nothin'": "nothing", "outta": "out of", "kinda": "kind of", "til": "until", "'til": "until", "till": "until", "thru": "through", "o'clock": "oclock",
	"its": "it", "it's": "it", "that's": "that", "there's": "there", "let's": "lets", "trans": "transmission", "tranny": "transmission", "trany": "transmission", "tranmission": "transmission",
	"rpms": "rpm", "r's": "rpm", "lockup": "lock up", "upshift": "shift up", "upshifts": "shifts up", "upshifting": "shifting up",
	"goin": "going", "goin'": "going", "slippin": "slipping", "slippin'": "slipping", "shiftin": "shifting", "bangin": "banging", "whinin": "whining", "without": "without",
	"motorway": "highway", "freeway": "highway", "interstate": "highway", "kerb": "curb", "tyres": "tires", "tyre": "tire", "colour": "color",
}

// saying is a group of words with a meaning of its own.
type saying struct {
	words []string
	means string
}

var sayings = map[string][]saying{}

// sayingLists are sayings by their meaning, parted by "|".
var sayingLists = map[string]string{
	// places
	"_back":    "back up|backs up|backing up|back out|back out of|i back|backs out|back it|backing it up",
	"_fwd":     "going forward|forward gears|forward gear|going ahead|forward ranges|forward range|going forwards",
	"_all":     "any gear|every gear|all gears|all the gears|no gear|all of the gears|each gear|any range|every range|all ranges|gear or out|any of the gears|whatever gear|all three gears|all four gears|all my gears|every single gear|what gear",
	"_allfwd":  "all forward gears|all the forward gears|every forward gear|all my forward gears|all forwards|all of the forward gears",
	"_shifts":  "all the shifts|every shift|all shifts|all the way through|each shift|all of the shifts|all of its shifts|every single shift|every time it shifts|all upshifts|every gear change|all the gear changes",
	"_others":  "the others|the rest|other gears|all the others|the other gears|the other shifts|other shifts|everything else|all other gears|all the other gears|all else|the other ones|rest of the gears|rest of them",
	"_takeoff": "take off|takes off|taking off|pull away|pulls away|pulling away|pull off|pulling off|from a stop|from a standstill|off the line|from a dead stop|dead stop|set off|setting off|start off|starts off|starting off|start out|starts out|starting out|from stop|from standstill|leaving a stop|getting going|get going|get moving|getting it moving|started from a stop|first take off|pull out|pulls out|pulling out|from rest|from a standing start|a standing start|standing start|from zero|at take off",
	"_stopped": "from a light|stop lights|stop light|at lights|at the light|at the lights|traffic light|traffic lights|red light|red lights|stop sign|stop signs|come to a stop|comes to a stop|coming to a stop|at a light|a stop light|pulling up|roll to a stop|slow to a stop|slowing to a stop|at stops|at a stop|when i stop|when stopping|when i am stopping|when i stopping|as i stop|as it stops|as i come to a stop|when it stops|when stopped|the light",
	"_top":     "over drive|top gear|high gear|the highest gear|highest gear|o d|last gear|final gear",
	"_highest": "highway speed|highway speeds|at cruise|cruising speed|steady speed|on the highway|at highway speed",
	"_byhand":  "by hand|by the lever|with the lever|the lever|manually|selector|the shifter|with the shifter|pulled down|pull it down|pull down|pull it back|pulled back|shifted down|hold it",
	// conditions
	"_afterstanding": "in the morning|in the mornings|first thing|over night|all night|after sitting|after it sits|sat overnight|sits overnight|sat over night|after standing|stood overnight|sit overnight|stands overnight|after it has stood|when it sits|sitting overnight|after a night|been sitting|sat all night|sits all night|after it sat|parked overnight|sat for a while|sits for a while|sits a while|sat a while|sitting a while|sitting for a while|cold start|after it stood|first start|every morning|each morning|the next morning|after it has sat|morning|mornings|overnight|sitting all night",
	"_cold":          "not warm|below freezing|until it warm|until it warms up|until warm|until it is warm|until it gets warm|until it warms|until it has warmed up|until it hot|until it is hot|until it gets hot|first mile|first few miles|before it warms up|until warmed up|first couple miles|cold weather|winter time|until it run a while|first couple of miles|until it has run a while",
	"_hot":           "warms up|warmed up|heats up|heated up|up to temperature|up to temp|fully warm|good and warm|gets warm|gets hot|hot day|warm up|heat up|half an hour|after a while|long drive|after an hour|after half an hour|operating temperature|been driven a while|been running a while|at temp",
	"_lightfoot":     "light foot|light throttle|light gas|light pedal|light load|easy on the gas|easy on it|baby it|babying it|barely on the pedal|barely on the gas|barely touching the gas|part throttle|half throttle|a feather foot|drive it easy|driving easy|little gas|little throttle|just cruising|take it easy|taking it easy|easy throttle|light acceleration|drive gently|go easy|touch of gas|feathering it|feather it",
	"_heavyfoot":     "heavy foot|full throttle|wide open|step on it|stepping on it|floor it|floored|flooring it|stomp on it|stand on it|standing on it|hard acceleration|accelerate hard|accelerating hard|get on it|get into it|getting on it|heavy throttle|lot of gas|lots of gas|a heavy load|under a load|under load|under heavy load|up hill|up a hill|up hills|up the hill|on hills|on a hill|on the hills|a steep hill|steep hills|climbing a hill|when climbing|uphill|when i tow|when towing|when i am towing|while towing|when im towing|when it is loaded|when loaded|when it loaded|loaded down|pulling a trailer|pull the trailer|pulling the trailer|pulling the camper|with the trailer|with a trailer|when i am pulling|going uphill|put my foot down|foot down|mash it|mash the gas|hammer it|punch it|give it gas hard|on grades|up grades|up a grade|a grade|when i give it gas|press hard|when i tow the|up the pass|stomp it|hooked up|romp on it|to the floor|pedal to the metal|lean on it|hard throttle|more than half throttle|getting on the gas|get on the gas hard|when hauling|when i haul",
	"_highrpm":       "high rpm|wound out|high revs|at high rpm",
	// trouble and praise
	"_likeneutral": "like neutral|like in neutral|like it in neutral|like it is in neutral|like it was in neutral|like it still in n|like it still in neutral|like it is still in neutral|like it is still in n|as if in neutral|like it were in neutral|like im in neutral|like i am in neutral|pulled it out of gear|like n|like being in neutral|as if it were in neutral",
	"_tonaught":    "drops into neutral|drop into neutral|goes into neutral|goes to neutral|go into neutral|go to neutral|falls into neutral|pops into neutral|pop into neutral|jumps into neutral|kicks into neutral|slips into neutral|hangs in neutral|drops to neutral|fall into neutral|pops out of gear|jumps out of gear|pop out of gear|jump out of gear|slips out of gear|drops out of gear|kicks out of gear|comes out of gear|falls out of gear|popped out of gear|jumped out of gear|jumping out of gear|popping out of gear|drop out of gear|loses gear|finds neutral|a neutral|knocks out of gear|goes out of gear|popped into neutral|went into neutral|dropped into neutral|falls to neutral|pops to neutral|jumps to neutral|kicks to neutral|false neutral|going into neutral",
	"_notthere":    "went out|gone out|quit working|stopped working|does not work|do not work|not work|not working|is out|are out|does nothing|did nothing|not there|is not there|not do anything|not do nothing|no longer works|no longer there|will not work|no response|went away|do nothing|doing nothing|quit on me|does not do anything|out of it",
	"_goesaway":    "goes away|go away|disappears|disappear|went quiet|gets quiet|clears up|dies down|stops whining|goes quiet|stops making noise|vanishes|cleared up|quiets down|dies out|smooths out|stops shaking|stops when|quits when|quits the moment|stops as soon as|quits as soon as",
	"_good":        "no problem|no problems|no trouble|no issue|no issues|nothing wrong|not a problem|like a champ|like new|no complaints|like a dream|no complaint|just fine|okey doke|a ok|all right|like it should|as it should|the way it should|like a charm|problem free|no sweat|like they should|perfectly well",
	"_weakgood":    "right there|no delay|right away|like silk|like butter|lets up",
	"_nomatter":    "does not matter|no matter|no kidding|not sure|does not matter if|no doubt|not matter|not matter if|not only|no joke|do not know|for no reason|no reason|no difference whether|not just",
	"_nodiff":      "makes no difference|no difference|does not help|not help|no help|does nothing for|no change|changes nothing|does not change|does not make a difference|not make a difference|did not help|does not fix|will not fix|does not change anything",
	"_moregas":     "more gas|more fuel|too much gas|too much fuel|gas mileage|fuel mileage|lousy mileage|mileage dropped|mileage is down|fuel economy|drinks gas|burns more gas|mileage went down|poor mileage|bad mileage",
	"_letoff":      "let off|let up|lets off|letting off|lift off|back off|come off the gas|off the gas|let go of the gas|off the throttle|off the pedal|when i lift|lift my foot|take my foot off|ease off|backing off|back out of it|lifting off|off throttle|letting up|get off the gas|close the throttle|come off the throttle|coming off the gas",
	"_onoff":       "on and off throttle|on and off the throttle|on and off the gas|on off throttle|on the gas off the gas|gas on gas off|get back on it|back on it|back on the gas|on and off gas|from drive to coast|back on the throttle",
	"_keycycle":    "turn it off and restart|turn it off and on|turn it off and back on|turn it off then on|turning it off and on|shut it off|shut the engine off|shut it off and restart|switch it off|switching off|turn the key off|key off|cycling the key|cycle the key|turn it off|turning it off|restart it|restart|restarting|turn off the key|shut off the engine|shutting it off|turn the engine off|off and on again|off and on|shut it down|shut her off|kill the engine|turn off the engine|turn the ignition off|switch off|switch the engine off|turning off the engine|cycling the ignition|restarting it|re start",
	"_fluid":       "transmission fluid|a t f|red stuff|trans fluid|red fluid|red oil|transmission oil|gear oil",
	"_dipstick":    "the stick|dip stick|the dipstick",
	"_moreadded":   "adding a quart|add a quart|added a quart|put a quart in|put in a quart|topped off|topped it off|top it off|topped up|topped it up|adding fluid|add fluid|put fluid in|added fluid|keep adding|adding oil|added some fluid|poured in|put in two quarts|put two quarts in|poured a quart|top it up|topping it off|topping it up|putting fluid in|add some fluid|put some fluid in|have to add",
	"_mealy":       "strawberry milkshake|chocolate milk|milk shake|looks like milk",
	"_strip":       "rumble strip|rumble strips|railroad ties|wash board|cattle guard|cobblestones|cobble stones|railroad tracks|washboard road|speed bumps|corrugations",
	"_bellhouse":   "bell housing|where the engine meets|between engine and transmission|between the engine and transmission|between the motor and the transmission|inspection cover|torque converter housing|front seal|front of the transmission|where the motor meets",
	"_twogears":    "two gears|two gears at once|both gears at once|2 gears at once|2 gears|two gears at the same time",
	"_brakeson":    "the brakes are on|brakes were on|brakes on|brake on|parking brake is on|parking brake on|hand brake on|hand brake is on|emergency brake is on|emergency brake on|like dragging a trailer|dragging a trailer|like pulling a trailer|dragging an anchor|like towing a trailer|like braking|the brake is on|threw an anchor|an anchor|throws an anchor|thrown an anchor|anchor|dragging a brake|brakes are dragging|brake is on|held back|holding it back|hits a wall|brakes being on|riding the brake",
	"_holdback":    "hold back|holds back|hold me back|hold it back|slow down|slows down|hold it back|slow me down|slow it down|slows me down|hold the truck back|hold the car back|engine braking|engine brake|compression braking|coast braking|holds me back|slows the car|slows the truck|slowing down|braking effect|brake with the engine|slow the truck|slow the car|holding back",
	"_freewheel":   "free wheels|free wheel|freewheels|coasts like|coasts free|like a bicycle|runs away|coasts down",
	"_otherthing":  "power steering|wheel bearing|other car|lawn mower|air conditioner|air conditioning|steering wheel|brake pads|tail light|cruise control|wiper blades|head lights|turn signal|fuel pump|water pump|spare tire|oil change|door lock|power window|brakes squeal|brakes squeak|brakes grind|brake squeal|belt squeals|my other|alternator belt|engine idles rough|idles rough",
	"_passing":     "passing gear|for passing|to pass|kick down|kicks down|kick it down|kickdown",
	"_downshift":   "going down|coming down through the gears|on the way down|down shift|down shifts|downshifting|shift down|shifts down|shifting down|down shifting|down into|comes down|drops down|down to first|down to second|go down a gear|drop down|dropping down|gears down",
	"_hunt":        "in and out|back and forth|hunts|hunting|can not make up its mind|not make up its mind|in and out of|not make up it mind|up and down between|can not decide|not decide|keeps shifting|undecided|shifting all the time|searching for gears|can not make up it mind|busy shifting",
	"_goneagain":   "gears come back|comes back|back to normal|works again|fine again|back for a while|it back|fixes it|fine for a while|come back|good again|normal again|cures it|all better|okay again",
	"_onegear":     "one gear|only one gear|only gear|single gear",
	"_limphome":    "limp home|limp mode|limp in|failsafe|fail safe|safe mode|get home mode|limp-in|limps|emergency mode|reduced mode",
	"_checklight":  "lights on the dash|dash lights|check engine|service engine|warning light|warning lamp|engine light|overdrive light|od light|transmission light|a light came on|light came on|light comes on|light is on|lights on|dash light|light on|lights are on|od lamp|overdrive lamp|od button flashes|trouble light|idiot light|light blinks|light flashes|light is blinking|light flashing|light blinking|cel|mil|lamp on|lamp is on|o d light|light flashes at me|wrench light|amber light|gear light|engine lamp",
	"_usedto":      "used to",
	"_than":        "than it used to|than used to|like it used to",
	"_toofull":     "too full|over full|overfull|over filled|overfilled|above the full|above full|over the full|past the full",
	"downhill":     "going down the hill|going down a hill|down the hill|down hill|going downhill|down a hill|down a grade|down the grade",
	"_notwhen":     "not when|not if|never when|never if|not while|not after",
	"_countto":     "count to|counts to|counting to",
	"_oneshift":    "only shifts once|shifts once|one shift missing|one shift|two shifts|only two gears|only has two gears",
	"_outofpark":   "come out of park|comes out of park|came out of park|shift out of park|shifts out of park|move out of park|get it out of park|get out of park|pull it out of park|take it out of park|out of park",
	"_jumpsout":    "jumps out of|pops out of|kicks out of|drops out of|slips out of|falls out of|jump out of|pop out of|drop out of",
	"_runshot":     "runs hot|running hot|run hot|running too hot",
	"_temp":        "temperature light|temp light|temp gauge|temperature gauge|transmission temp|transmission temperature|temp warning|trans temperature|temperature warning|hot light|oil temp",
	"_sudden":      "all of a sudden|all at once|suddenly|out of the blue|from one moment to the next|just like that|no warning|without warning|out of nowhere|with a bang|heard a bang|in an instant|overnight failure|a loud bang|loud bang|a snap|let go all at once|with a pop|from one day to the next",
	"_little":      "little by little|bit by bit|slowly got worse|getting worse|gradually|over time|worse and worse",
	"_waitsec":     "couple of seconds|few seconds|several seconds|a second or two|second or two|a while|a minute|full second|some seconds|whole second|long time|forever|sweet time|ages|an eternity|good long while",
	"_rearend":     "rear end|rear axle|axle ratio|ring and pinion|differential gears|rear gears|rear end gears",
	"_roadspeed":   "road speed|faster i go|with speed|vehicle speed|car speed|speed of the car|faster you go|faster it goes|the speed goes up|the faster|speed up|as i speed up",
	"_withrpm":     "follows the rpm|with rpm|engine speed|with the engine|with revs|with the revs|with the rpm|when i rev|rev it|faster with|follows engine|revving it|with the motor|rev the engine|as i rev|with rev|follows the engine|motor speed|rev up the engine",
	"_atidle":      "at idle|idling|sitting still|when idling|engine idling|standing still|at a standstill|idles",
	"_corner":      "left turns|right turns|around corners|in corners|in bends|going around a corner|turning left|turning right|left hand turns|right hand turns|on curves|in turns|turn left|turn right|around a corner|around curves|in curves|sharp turn|cornering|on turns|hard turns|in a turn|in a corner|sharp turns|around a curve|around a bend|round a bend|on a curve|in a curve|right hand turn|left hand turn|take a corner|turn a corner|hard left|hard right|on ramps|on the ramp|off ramp|a turn|brake hard|braking hard|hard braking|brakes hard|brake hard it",
	"_topspeed":    "over fifty|over 50|past fifty|past 50|over sixty|over 60|past sixty|past 60|tops out|top speed|over forty|over 40|past forty|past 40|over fifty five|over 55|past fifty five|past 55|over 45|past 45|over seventy|over 70|past seventy|past 70|go any faster|flat out|top end|over 65|maxes out|will not go faster",
	"_hardstart":   "cranks slow|slow crank|cranks slowly|slow to crank|lights flicker|lights dim|lights go dim|dim lights|lights flickering|weak starts|headlights dim|dims|electrical gremlins|gauges go dead|lights dimming|electrical problems|battery light|turns over slow|charging light|lights get dim|alternator",
	"_milehigh":    "high mileage|lots of miles|thousand miles|hundred thousand|thousand on it|many miles|thousand kilometers|on the clock|on the odometer|000 miles|k on it|k miles|thousand mile",
	"_stuckmud":    "stuck in mud|stuck in snow|stuck in the mud|stuck in the snow|stuck in the sand|stuck in sand|mud hole|rocked it|rocking it|rocked back|stuck in a ditch|snow bank|snowbank|spun the tires|spun the wheels|spinning the tires|spinning the wheels|spun my tires|rock it out|rocked it back|in the ditch|buried in|the wheels spun|rocked out|stuck on ice|mud bogging",
	"_flood":       "the river|in a river|high water|deep water|the river|flooded|flood|through water|under water|a creek|drove through water|water up to|the creek|the lake|flood water|the flood|boat ramp",
	"_boil":        "boiled over|boil over|ran hot|overheated|got hot|got real hot|radiator went|over heated|got really hot|ran low on coolant|engine overheated|blew a radiator hose|lost its coolant|radiator blew|got too hot|red hot",
	"_towedhome":   "was towed|got towed|been towed|flat towed|towed home|towed it|tow truck|dinghy towed|towed in|on a hook|towed to|towed behind|had it towed|wrecker|towed with|on a tow bar|a tow dolly|towed here",
	"_trailer":     "tow a|tows a|towed a|towing a|pull a trailer|pulls a trailer|pulled a trailer|haul|hauled|hauls|hauling|a trailer|the trailer|the camper|tow the|horse trailer|travel trailer|tow my|tows the|pulls a boat|pull a boat|heavy loads|always loaded|work truck|fifth wheel|a plow|plows snow|plow snow|snow plow|pulls my boat|pull my boat|the boat|my boat|my camper|my trailer|a camper|a caravan|the caravan|loaded heavy|used for towing|a boat",
	"_rebuilt":     "rebuilt|rebuild|overhauled|overhaul|junkyard transmission|used transmission|reman|remanufactured|put a used one in|replaced the transmission|new transmission|had it rebuilt|swapped the transmission|transmission replaced|been apart|been opened|opened up before|a junkyard|used one put|another transmission|salvage yard|transmission out of|was opened|changed the transmission|transmission changed|different transmission|it apart|went through it|exchange unit|used one|been out before|been worked on|new band|new clutches|opened before|had the transmission out",
	"_changed":     "fluid changed|changed the fluid|fluid change|changed fluid|flushed|flush|serviced|filter changed|changed the filter|new fluid|fresh fluid|had it serviced|fluid and filter|a service|service done|filter and fluid|drained and filled|drain and fill|changed the oil in the transmission|transmission service|fluid exchange|put new fluid|a fluid exchange",
	"_never":       "never changed|never been changed|never been serviced|never had|original fluid|never been touched|factory fluid|never touched|not been changed|sealed for life|still the original|never been changed in|never had a|fill for life|lifetime fluid|never once changed|no service|never serviced",
	"_battery":     "new battery|battery died|dead battery|battery was dead|jump started|jump start|battery went|replaced the battery|battery disconnected|disconnected the battery|battery changed|changed the battery|battery swap|swapped the battery|jumped it|got a jump|put a battery|battery was off|unhooked the battery|battery was out|put in a battery|battery replaced|pulled the battery",
	"_tires":       "new tires|bigger tires|bigger wheels|different tires|larger tires|new wheels|oversize tires|taller tires|changed the tires|smaller tires|other wheels|tires changed|tire size|different size tires|mismatched tires|bigger rims|new rims|put tires|odd tire",
	"_hitthing":    "hit a curb|hit a pothole|hit a deer|in an accident|an accident|hit something|a wreck|hit a rock|hit bottom|bottomed out|fender bender|rear ended|hit a stump|ran over|high centered|was wrecked|after a repair|had the engine out|engine swap|body shop|collision|hit a log|hit a bump|hit a big pothole|slid into a curb|work done on it",
	"_drivenon":    "driving it like that|kept driving|keep driving|driven it like that|for months|for two months|for weeks|still driving it|drove it like that|for a month|been driving it|drove it for|driving on it|drove it anyway|kept on driving|for two weeks|for a couple of weeks|for three weeks|a long time with it|for a few weeks|for a year|driven with it",
}

func init() {
	taken := map[string]bool{}
	for _, means := range slices.Sorted(maps.Keys(sayingLists)) {
		for _, said := range strings.Split(sayingLists[means], "|") {
			var words []string
			for _, w := range strings.Fields(said) {
				words = append(words, strings.Fields(expand(w))...)
			}
			if said = strings.Join(words, " "); !taken[said] {
				taken[said] = true
				sayings[words[0]] = append(sayings[words[0]], saying{words, means})
			}
		}
	}
	for _, g := range slices.Sorted(maps.Keys(groupLists)) {
		for _, w := range strings.Fields(groupLists[g]) {
			groups[w] = g
			if s := stemOf(w); groups[s] == "" {
				groups[s] = g
			}
		}
	}
	for _, w := range strings.Fields(idleList) {
		idle[w] = true
	}
}

// placeWords are the words, and sayings, that name a place wherever they stand.
var placeWords = map[string]place{
	"reverse": {kind: span, name: "R"}, "backwards": {kind: span, name: "R"}, "backward": {kind: span, name: "R"}, "_back": {kind: span, name: "R"}, "revers": {kind: span, name: "R"},
	"neutral": {kind: span, name: "N"}, "overdrive": {kind: gear, name: "top"}, "_top": {kind: gear, name: "top"}, "od": {kind: gear, name: "top"},
	"_fwd": {kind: ahead}, "forward": {kind: ahead}, "forwards": {kind: ahead}, "_allfwd": {kind: ahead, name: "all"}, "_all": {kind: all}, "_shifts": {kind: all, name: "shifts"}, "_others": {kind: others},
	"_takeoff": {kind: takeoff},
}

var conditionWords = map[string]engine.Condition{
	"cold": engine.Cold, "winter": engine.Cold, "freezing": engine.Cold, "_cold": engine.Cold, "frost": engine.Cold, "cool": engine.Cold,
	"hot": engine.Hot, "warm": engine.Hot, "warmed": engine.Hot, "heat": engine.Hot, "warms": engine.Hot, "_hot": engine.Hot, "hotter": engine.Hot, "summer": engine.Hot,
	"_afterstanding": engine.AfterStanding,
	"_lightfoot":     engine.LightFoot, "gently": engine.LightFoot,
	"_heavyfoot": engine.HeavyFoot, "hills": engine.HeavyFoot, "towing": engine.HeavyFoot, "hill": engine.HeavyFoot, "climbing": engine.HeavyFoot, "grades": engine.HeavyFoot,
	"_highrpm": engine.HighRPM,
}

var goodWords = map[string]praise{
	"fine": strong, "good": strong, "ok": strong, "okay": strong, "normal": strong, "normally": strong, "perfect": strong, "perfectly": strong, "great": strong, "strong": strong, "alright": strong, "_good": strong,
	"smooth": weak, "smoothly": weak, "quiet": weak, "silent": weak, "instant": weak, "instantly": weak, "_weakgood": weak, "holds": weak, "silk": weak, "quick": weak, "crisp": weak, "_goesaway": weak, "better": weak, "prompt": weak, "clean": weak,
	"works": works, "work": works, "pulls": works, "moves": works, "move": works, "drives": works, "goes": works, "working": works, "_goneagain": works,
}

var turnWords = wordSet("but although though except then while however unless whereas yet otherwise because so excepting besides until")

var negations = wordSet("_notwhen not no never none nor neither without hardly nothing nobody _notany")

var endsNegation = wordSet("just only if when unless like because _nomatter")

// groupLists are the words that say the same to a mechanic.
var groupLists = map[string]string{
	"slip":     "slip slips slipping slipped slippage spins",
	"bang":     "bang slam thump jerk kick lurch jolt hammer whack wham banged bangs slams thud buck_ neck sledgehammer thumps jars jar snaps slammed bam",
	"clunk":    "clunk clank knock clunks clunking",
	"hard":     "hard harsh rough firm violent abrupt harshly violently roughly firmly stiff brutal rude",
	"soft":     "soft mushy sloppy slushy spongy mush stretched softly squishy",
	"late":     "late delay delayed slow slowly delays lag lags hesitates hesitate hesitation lazy long wait waits waiting forever later pause pauses _longtime",
	"_second":  "_waitsec seconds second minute",
	"engage":   "engage engagement engages grab grabs catch catches bite bites grip grips hook hooks engaged engaging catching",
	"move":     "move budge pull go moves pulls goes moving going went pulling drive drives driving power gets",
	"gone":     "gone lost lose loses losing missing quit quits dead kaput toast _notthere nothing zip zilch",
	"rev":      "rev revs revving race races racing zoom zooms rpm tach scream screams revved runaway tachometer",
	"up":       "up climb climbs climbing_ shoot shoots jump jumps rise rises soar soars higher moon sky",
	"flare":    "flare flares flaring flared",
	"whine":    "whine whines whining howl howls howling sing sings singing hum hums humming whir whirs whirring whirr moan moans roar roars roaring drone drones buzz buzzes buzzing growl growls growling squeal_",
	"noise":    "noise noises noisy sound sounds racket loud",
	"grind":    "grind grinds grinding crunch crunches crunching ratchet ratchets gnash rocks gravel grates",
	"rattle":   "rattle rattles rattling marbles rattly tinny jingle jingles",
	"shudder":  "shudder shudders shuddering shake shakes shaking vibrate vibrates vibration vibrating judder shiver shivers shivering _strip quiver quivers shimmy chatter chatters",
	"shift":    "shift shifts shifting shifted change_ changes_ upshift upshifts change",
	"stuck":    "stuck stays stay locked_ remains _stuck hung",
	"hold":     "hold holds hang hangs holding hanging",
	"_minutes": "minutes",
	"wind":     "wind winds winding",
	"coast":    "coast coasts coasting",
	"crank":    "crank cranks cranking",
	"early":    "early soon premature prematurely",
	"creep":    "creep creeps creeping crawls crawl inches",
	"roll":     "roll rolls rolling rolled roll_off",
	"bind":     "bind binds binding bound ties tie tied bunds",
	"lock":     "lock locks locked locking",
	"drag":     "drag drags dragging",
	"stall":    "stall stalls stalling die dies dying stalled died conk conks",
	"engine":   "engine motor",
	"light":    "_checklight",
	"hot":      "_runshot overheat overheats overheating _temp heating",
	"leak":     "leak leaks leaking leaked drip drips dripping puddle puddles seep seeps seeping spot spots leaky drips puddling",
	"fluid":    "fluid atf oil _fluid _dipstick dipstick",
	"burnt":    "burnt burned burning stink stinks scorched stinky cooked",
	"dark":     "dark black brown",
	"low":      "low down_ short empty",
	"pan":      "pan magnet",
	"steel":    "steel iron metal slivers splinters",
	"bronze":   "bronze brass gold golden copper",
	"lining":   "lining clutch_material flakes crumbs friction",
	"weak":     "weak gutless doggy dog weakly powerless sluggish",
	"touch":    "touch tap touching tapping tapped press brush",
	"brake":    "brake brakes braking",
	"start":    "start starts starting started",
	"speedo":   "speedo speedometer odometer",
	"miss":     "miss misses misfire misfires misfiring stumble stumbles stumbling bucks sputter sputters buck bucking hiccups",
	"smoke":    "smoke smokes smoking",
	"gear":     "gear gears",
	"skip":     "skip skips skipping skipped",
	"only":     "only just",
	"vent":     "vent filler breather",
	"push":     "push pushes pukes puke blows blow spits spit throws pushing spews spew",
	"foam":     "foam foamy foams bubbles bubbly frothy aerated froth",
	"milky":    "milky milkshake _mealy pink",
	"bog":      "bog bogs lug lugs lugging",
}

var groups = map[string]string{}

var idle = map[string]bool{}

// idleList are words that tell nothing of a fault.
const idleList = `a an the it its is are was were be been being am i my me you your he she her his him they them their we us our this that these those there here
to of in into at on from for with as by or if than very really quite pretty real bad badly car vehicle truck van pickup suv wagon rig thing transmission gearbox box unit does do did has have had having
would could should might may must can will shall always sometimes often usually also too now after before about some once still again even ever lot lots bit kind sort sorta much many more most less least
get got gets getting put puts putting drop drops stick throw throw throws throwing like likes when where what who how why which says say said think thinks guess feels feel feeling seems seem seem
want wants need needs make makes making made take takes took taking takes until every each any all both other another same one two three four five six seven eight nine ten zero
twenty thirty forty fifty sixty seventy eighty ninety hundred thousand mph miles mile kilometers degrees minute minutes hour hours day days week weeks month months year years time times o'clock today yesterday tomorrow
monday tuesday wednesday thursday friday saturday sunday flat level 
 way ways well back out off over under down through around along across near far way home work 
her's yes okay oh hey um uh please thanks thank call little used 
then maybe perhaps probably almost nearly barely anymore longer far right left side front rear back top bottom middle end whole half part first last next
 lines
fifty fifteen sixteen 
let lets see sees look looks looking come comes coming came know knows knew try tries tried keep keeps kept give gives gave turn turns turned found find
speed speeds cruise cruising highway idle gas pedal throttle foot accelerator steady
doing done instead while during since ago later soon whenever wherever anything something everything nothing everybody someone somebody
moment instant instance act acts acting action act normal mode her him someone's it'll kidding matter somehow such own via per versus vs`

// commonList are everyday words that must not be taken for a misspelled one.
const commonList = `pick picks picked paid said side wide hide ride rides rode road bike car's cart card care cars park's
able above across add age ago air almost alone along already am among amount answer arm art ask asked away baby bed began begin behind believe below best better big bill bit blue board boat body book born boss both bought bowl box bread break bring broke brought build built busy buy case cause cent chance cheap check child children church class close cloth coat coffee color cook corner cost count country couple course cover cut date dear decided different dinner doctor dog dollar double dream dress dry dust early earn earth east eat egg eight either else end enough evening everyone exact eye face fact fair family farm father fear feed feet felt field fight figure fill finally find finger finish fire fish fit five floor food forget form four free fresh friend fruit fun game garden gave girl glad glass god grass green ground group grow guess gun guy hair hand happen happy hat hate head health hear heard heart heavy held help hole hope horse hospital huge hurt ice idea important inside job join joke key kid kids kill kitchen knee knock lady land laugh law lay lead learn leave leg lend letter lie life listen live love lunch luck lucky mad mail main man map mark market marry maybe meal mean meat meet men mention mess met mind mom money mother mouth movie music name near neck need nice night noon nose note notice number office often order outside page pain paint pair paper parents part party pass past pay people pet phone photo piece plan plane plant plate play please point police pool poor post pound present price promise proud pull put quarter question radio rain raise ran reach read ready reason red remember rent reply report rest rich ride river rock roof room round rule run safe sale salt same sand save scared seat sell send sense serious set seven shape share she shine shoe shoot shop short show shower shut sick sign silver simple sir sister sit six size skin sky sleep small smart smile snow soap song sorry soul south space speak special spend sport spring stand star state step stone store story strange student study stuff stupid sugar suit sun sure sweet swim table talk taste teach team tear test than thick thin third throat ticket tight tired toe tonight tooth touch tough towel track train trash tree trip truth twice type ugly under upset use visit voice vote wage walk wall want war wash watch water wear weather week weight wet white wife wild win wind wing winter wish woman wonder wood word work world worry wrong yard yell yellow young zone
problem problems issue trouble deal
bank tank thank think thing sing shirt ship ships clip clips flip drip lip lips skip whip trip trips grip hung hunt hint shine
forth worth north south wall call ball tall fall well tell sell bell smell spell
big small new old
city house garage driveway shop guy people wife husband son daughter brother buddy dad mom cousin neighbor seat lever shifter selector knob console column cable button dash school store road street hill town`

// foreign are things that are no part of the drive: what is said of them says
// nothing of the transmission, unless a phrase names them.
var foreign = wordSet("_otherthing _usedto radio stereo window windows heater steering mower wiper wipers hood trunk bearing belt horn mirror antenna headlight headlights carpet stereo speaker speakers squeal squeals squeak squeaks windshield_ sunroof blinker washer dryer airbag muffler")
