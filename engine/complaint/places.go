package complaint

import (
	"strconv"
	"strings"

	"slipcase/engine"
)

// placeKind tells what a driver names.
type placeKind int

const (
	gear    placeKind = iota // "third", "overdrive" (top)
	span                     // a range: R, D, N, P, L, 2
	shift                    // "2-3"
	ahead                    // "forward", "the forward gears"
	all                      // "every gear", "all shifts"
	others                   // "the others"
	takeoff                  // "from a stop"
)

// place is a gear, range or shift that the words name.
type place struct {
	kind placeKind
	name string // "3", "top", "R", "2-3"
	from bool   // "out of second", "past second", "stuck in second"
}

// class is the idea that stands in a phrase for any place of the kind.
func (p place) class() string {
	switch p.kind {
	case gear:
		return "@gear"
	case shift:
		return "@shift"
	case takeoff:
		return "takeoff"
	case others:
		return "@others"
	case all:
		if p.name == "shifts" {
			return "@shift"
		}
	}
	return "@range"
}

var ordinals = map[string]string{
	"first": "1", "second": "2", "third": "3", "fourth": "4", "fifth": "5", "sixth": "6", "seventh": "7", "eighth": "8", "ninth": "9", "tenth": "10",
	"1st": "1", "2nd": "2", "3rd": "3", "4th": "4", "5th": "5", "6th": "6", "7th": "7", "8th": "8", "9th": "9", "10th": "10",
}

var numerals = map[string]string{
	"one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8", "nine": "9", "ten": "10",
	"1": "1", "2": "2", "3": "3", "4": "4", "5": "5", "6": "6", "7": "7", "8": "8", "9": "9", "10": "10",
}

var letters = map[string]string{"r": "R", "d": "D", "n": "N", "p": "P", "l": "L"}

func wordSet(list string) map[string]bool {
	out := map[string]bool{}
	for _, w := range strings.Fields(list) {
		out[w] = true
	}
	return out
}

var (
	intoWords  = wordSet("in into to from out of or and / past the than _into between")
	fromWords  = wordSet("past beyond of from leave leaves holds hold stays stay stuck hangs hang _stuck _holds _out")
	afterFirst = wordSet("time times thing minute minutes mile miles start few hour day days place couple drive started")
	verbAfter  = wordSet("it her him home this that them to like the my a around away up off anyway forward")
	verbBefore = wordSet("i we you they she he not can could no all any lose loses lost losing without some test still when would will people")
	nounAfter  = wordSet("is was still works work pulls pull comes goes takes engages engagement or and hits range gear has seems feels just acts")
	highAfter  = wordSet("slips slides slipping flares is was works pulls holds has feels seems shudders whines")
	parkAfter  = wordSet("will does is not or and hold holds gear pawl _hold")
	pronouns   = wordSet("i you it we he she they my the")
	thrown     = wordSet("lurch lurches lurched jump jumps hop hops roll rolls leaps leap jerks jerk kicks creep creeps creeping crawl crawls inches")
	starting   = wordSet("start starts starting started")
	goesFrom   = wordSet("goes go jumps jump shifts shift went straight directly right")
	tens       = wordSet("twenty thirty forty fifty sixty seventy eighty ninety hundred thousand")
	counted    = wordSet("second seconds minute minutes mile miles rpm thousand hundred times quart quarts weeks week days day months month years year mph amps volts o'clock shops people kids grand pints gallons cylinders doors")
)

// findPlaces reads gears, ranges and shifts. "Second to third" and "2-3" are a
// shift; "a second" is time, "the first time" no gear, and "I drive" no range.
func findPlaces(list []token) {
	at := func(i int) string {
		if i < 0 || i >= len(list) || list[i].stop != 0 {
			return ""
		}
		return list[i].word
	}
	set := func(i int, p place) { list[i].place = &p }
	ordinal := func(i int) string {
		g := ordinals[at(i)]
		switch {
		case g == "":
		case at(i) == "second" && (at(i-1) == "a" || at(i-1) == "one" || at(i-1) == "split" || at(i-1) == "every" || numerals[at(i-1)] != ""):
			return ""
		case at(i) == "second" && at(i-1) == "the" && pronouns[at(i+1)]:
			return "" // "the second I let go"
		case at(i) == "first" && (afterFirst[at(i+1)] || at(i-1) == "at"):
			return ""
		}
		return g
	}
	number := func(i int) string {
		if tens[at(i-1)] || tens[at(i+1)] || counted[at(i+1)] {
			return ""
		}
		return numerals[at(i)]
	}
	either := func(i int) string {
		if g := ordinal(i); g != "" {
			return g
		}
		return number(i)
	}
	// "from one shift to another": pairs first, so that their numbers are used up.
	for i := 0; i < len(list); i++ {
		a := either(i)
		if a == "" {
			continue
		}
		j := i + 1
		link := at(j)
		if at(j) == "gear" {
			j++
			link = at(j)
		}
		between := at(i-1) == "between" || at(i-2) == "between"
		joined := link == "to" || link == "into" || link == "_into" || link == "and" && between
		if joined {
			j++
		} else if ordinal(i) != "" && ordinal(j) != "" && j == i+1 && ordinals[at(i)] != "" {
			joined = true // "second third"
		} else if number(i) == "" || number(j) == "" {
			continue
		}
		b := either(j)
		x, _ := strconv.Atoi(a)
		y, _ := strconv.Atoi(b)
		if y == x+2 && ordinal(i) != "" && at(i-1) == "from" && goesFrom[at(i-2)] {
			// "goes from first to third": second is skipped.
			for k := i; k <= j; k++ {
				list[k].word = ""
			}
			list[i].word = "skips"
			set(j, place{kind: gear, name: strconv.Itoa(x + 1)})
			i = j
			continue
		}
		// Up by one gear, down by one or two: "the 4-2 kickdown".
		if b == "" || y != x+1 && y != x-1 && y != x-2 {
			continue
		}
		set(i, place{kind: shift, name: a + "-" + b})
		for k := i + 1; k <= j; k++ {
			list[k].word = ""
		}
		i = j
	}
	for i := range list {
		if list[i].place != nil || list[i].stop != 0 {
			continue
		}
		w, before, after := at(i), at(i-1), at(i+1)
		if w == "forward" && thrown[before] {
			continue
		}
		if p, ok := placeWords[w]; ok {
			p.from = p.kind == gear && (fromWords[before] || before == "in" && fromWords[at(i-2)])
			set(i, p)
			continue
		}
		from := fromWords[before] || before == "gear" || (before == "in" || before == "_into") && fromWords[at(i-2)]
		by := func() bool { return at(i+1) == "_byhand" || at(i+2) == "_byhand" || before == "manual" }
		switch {
		case ordinal(i) != "":
			g := ordinal(i)
			switch {
			case by() && g == "1":
				set(i, place{kind: span, name: "L"})
			case by():
				set(i, place{kind: span, name: g})
			default:
				set(i, place{kind: gear, name: g, from: from})
				// "Starts in second", "a second gear start".
				switch {
				case g == "1":
				case before == "in" && starting[at(i-2)]:
					set(i-2, place{kind: takeoff})
				case after == "gear" && starting[at(i+2)]:
					set(i+2, place{kind: takeoff})
				}
			}
		case number(i) != "" && (before == "gear" || after == "gear" || before == "_into"):
			set(i, place{kind: gear, name: number(i), from: from})
		case number(i) != "" && (before == "in" || before == "manual" || before == "to"):
			set(i, place{kind: span, name: number(i)})
		case w == "low" && (intoWords[before] || before == "manual" || before == "stuck" || before == "_stuck" || after == "gear" || after == "range" || before == "by" || after == "or" || (before == "" || turnWords[before]) && nounAfter[after]):
			if fromWords[before] || before == "in" && fromWords[at(i-2)] {
				set(i, place{kind: gear, name: "1", from: true})
			} else {
				set(i, place{kind: span, name: "L"})
			}
		case w == "high" && (before == "in" || before == "into" || before == "_into" || before == "of" || after == "gear"), w == "high" && before == "" && highAfter[after], w == "top" && after == "gear":
			set(i, place{kind: gear, name: "top", from: from})
		case w == "drive" && before == "not" && turnWords[at(i-2)]:
			set(i, place{kind: span, name: "D"}) // "but not drive"
		case w == "drive" && !verbBefore[before] && !(before == "to" && verbAfter[after]) && (intoWords[before] || nounAfter[after] || before == "" || after == "" && before != "to"):
			set(i, place{kind: span, name: "D"})
		case w == "park" && (intoWords[before] || before == "" && (parkAfter[after] || after == "")):
			set(i, place{kind: span, name: "P"})
		case letters[w] != "" && (intoWords[before] || nounAfter[after] || before == "" && after == "" || numerals[before] == "" && len(before) == 1):
			set(i, place{kind: span, name: letters[w]})
		}
	}
}

// where is what a part of a complaint says of place and condition.
type where struct {
	places []place
	when   []engine.Condition
	never  []engine.Condition // "not when it is cold"
}

func (w where) placed() bool { return len(w.places) > 0 }

// whereOf gathers the places and conditions of some tokens, without those that
// a phrase used up.
func whereOf(list []token, used map[int]bool) where {
	var out where
	explicit := false
	for i, t := range list {
		if t.place != nil && !used[i] && t.place.kind != takeoff {
			explicit = true
		}
	}
	for i, t := range list {
		if t.when != "" {
			if t.neg {
				out.never = addCondition(out.never, t.when)
			} else {
				out.when = addCondition(out.when, t.when)
			}
		}
		if t.place == nil || used[i] || explicit && t.place.kind == takeoff {
			continue
		}
		out.places = addPlace(out.places, *t.place)
	}
	hasCold, hasHot := false, false
	for _, c := range out.when {
		hasCold, hasHot = hasCold || c == engine.Cold, hasHot || c == engine.Hot
	}
	if hasCold && hasHot {
		out.when = nil // "hot or cold": always
	}
	return out
}

func addPlace(list []place, p place) []place {
	for _, x := range list {
		if x.kind == p.kind && x.name == p.name {
			return list
		}
	}
	return append(list, p)
}

func addCondition(list []engine.Condition, c engine.Condition) []engine.Condition {
	for _, x := range list {
		if x == c {
			return list
		}
	}
	return append(list, c)
}
