package complaint

import (
	"slipcase/engine"
)

// place is what a clause says of where and when.
type place struct {
	gears      []string // "1", "R", "N", "D", "top"
	shifts     []string // "2-3"
	conditions []engine.Condition
}

func (p place) empty() bool { return len(p.gears) == 0 && len(p.shifts) == 0 }

// gearWords are the words for gears.
var gearWords = map[string]string{
	"first": "1", "1st": "1", "low": "1", "second": "2", "2nd": "2", "third": "3", "3rd": "3",
	"fourth": "4", "4th": "4", "fifth": "5", "5th": "5", "sixth": "6", "6th": "6",
	"reverse": "R", "backwards": "R", "backing": "R", "neutral": "N", "drive": "D", "overdrive": "top", "top": "top",
}

// numberGears are gears only beside another ("2 to 3", "3-4 shift") or after
// the word gear.
var numberGears = map[string]bool{"1": true, "2": true, "3": true, "4": true, "5": true, "6": true, "7": true, "8": true, "9": true}

// conditionWords are the words for conditions.
var conditionWords = map[string]engine.Condition{
	"cold": engine.Cold, "winter": engine.Cold,
	"hot": engine.Hot, "warm": engine.Hot, "warmed": engine.Hot, "heat": engine.Hot,
	"overnight": engine.AfterStanding, "morning": engine.AfterStanding, "mornings": engine.AfterStanding,
	"gently": engine.LightFoot, "hard": engine.HeavyFoot, "floor": engine.HeavyFoot, "floored": engine.HeavyFoot,
}

// idle words tell nothing of a fault.
var idle = map[string]bool{}

func init() {
	for _, w := range []string{
		"a", "an", "the", "it", "its", "is", "are", "was", "were", "be", "been", "i", "my", "me", "you", "he", "she", "they", "we", "this", "that", "there",
		"to", "of", "in", "into", "at", "on", "from", "for", "with", "as", "by", "and", "or", "but", "when", "if", "so", "then", "than", "just", "very", "really",
		"car", "vehicle", "truck", "van", "pickup", "gear", "gears", "transmission", "gearbox", "box", "does", "do", "did", "has", "have", "had", "will", "would",
		"always", "sometimes", "often", "also", "too", "now", "while", "after", "before", "about", "some", "once", "still", "only", "again", "can", "could",
	} {
		idle[w] = true
	}
}

// placeOf reads gears, shifts and conditions in a clause. "Second to third"
// and "2-3" are a shift; "hard" is a heavy foot only beside a foot, a pedal or
// pulling away, for "shifts hard" is a hard shift.
func placeOf(clause string) place {
	ws := words(clause)
	has := map[string]bool{}
	for _, w := range ws {
		has[w] = true
	}
	var p place
	gear := func(i int) string {
		if g := gearWords[ws[i]]; g != "" {
			if ws[i] == "low" && !(i+1 < len(ws) && (ws[i+1] == "gear" || ws[i+1] == "range")) || ws[i] == "drive" && i > 0 && (ws[i-1] == "no" || ws[i-1] == "not" || ws[i-1] == "to" || ws[i-1] == "i") {
				return ""
			}
			return g
		}
		if ws[i] == "r" || ws[i] == "d" || ws[i] == "n" {
			return map[string]string{"r": "R", "d": "D", "n": "N"}[ws[i]]
		}
		if numberGears[ws[i]] && (i > 0 && (ws[i-1] == "gear" || ws[i-1] == "in" || ws[i-1] == "into") || i+1 < len(ws) && ws[i+1] == "gear") {
			return ws[i]
		}
		return ""
	}
	step := func(a, b string) bool {
		return len(a) == 1 && len(b) == 1 && a >= "1" && b == string(a[0]+1) && b <= "9"
	}
	used := map[int]bool{}
	for i := range ws {
		j := i + 1
		if j < len(ws) && (ws[j] == "to" || ws[j] == "into") {
			j++
		}
		if j >= len(ws) {
			continue
		}
		a, b := gear(i), gear(j)
		if numberGears[ws[i]] && numberGears[ws[j]] {
			a, b = ws[i], ws[j]
		}
		if step(a, b) && (j > i+1 || numberGears[ws[i]] && numberGears[ws[j]]) {
			p.shifts = append(p.shifts, a+"-"+b)
			used[i], used[j] = true, true
		}
	}
	for i := range ws {
		if g := gear(i); g != "" && !used[i] {
			p.gears = add(p.gears, g)
		}
		c := conditionWords[ws[i]]
		switch {
		case c == "", ws[i] == "hot" && has["runs"], ws[i] == "morning" && has["every"] && has["cold"]:
		case ws[i] == "hard" && !(has["foot"] || has["pedal"] || has["accelerate"] || has["accelerating"] || has["pull"]):
		case ws[i] == "floor" && !has["pedal"] && !has["it"]:
		default:
			p.conditions = addCondition(p.conditions, c)
		}
	}
	return p
}

func add(list []string, s string) []string {
	for _, x := range list {
		if x == s {
			return list
		}
	}
	return append(list, s)
}

func addCondition(list []engine.Condition, c engine.Condition) []engine.Condition {
	for _, x := range list {
		if x == c {
			return list
		}
	}
	return append(list, c)
}
