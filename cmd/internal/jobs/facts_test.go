package jobs

import (
	"regexp"
	"strings"

	"slipcase/engine"
)

// Facts are what a driver says and what is so, as patterns of findings:
// name[@place][:condition], with * for anything and {a,b} for either. Without
// a condition a fact holds hot and cold; with one it does not hold in the
// opposite condition. The name "fine" stands for all complaints of a row, a
// shift or an engagement.
type Facts struct {
	Says    []string `json:"says"`    // by the driver, if asked
	Denies  []string `json:"denies"`  // by the driver, if asked
	Truth   []string `json:"truth"`   // what a look shows; all else is absent
	Unknown []string `json:"unknown"` // what no look before teardown can show
}

// complaints are the names that "fine" denies.
var complaints = map[string]bool{
	"slips": true, "no_drive": true, "wrong_gear": true, "ties_up": true, "drags": true, "weak_launch": true, "shudder": true, "creeps": true,
	"flare": true, "late_shift": true, "early_shift": true, "harsh_shift": true, "soft_shift": true, "bind_shift": true, "no_shift": true,
	"late_engagement": true, "harsh_engagement": true,
}

// opposite are the conditions that exclude each other.
var opposite = map[[2]engine.Condition]bool{
	{"hot", "cold"}: true, {"cold", "hot"}: true, {"hot", "after_standing"}: true, {"after_standing", "hot"}: true, {"after_standing", "cold"}: true,
	{"light_foot", "heavy_foot"}: true, {"heavy_foot", "light_foot"}: true,
}

// implied tells whether a fact in condition a is one in condition b, too: what
// is so whenever cold is so after standing, and what is so at any pedal is so at a
// heavy foot.
func implied(a, b engine.Condition) bool {
	switch b {
	case "", a:
		return true
	case "hot":
		return a == ""
	case "cold":
		return a == "" // "only the first time after sitting overnight" is not "whenever cold"
	case "after_standing":
		return a == "cold"
	case "heavy_foot":
		return a == ""
	}
	return false
}

var globs = map[string]*regexp.Regexp{}

// glob tells whether text matches a pattern with * for anything.
func glob(pattern, text string) bool {
	re := globs[pattern]
	if re == nil {
		re = regexp.MustCompile("^" + strings.ReplaceAll(regexp.QuoteMeta(pattern), `\*`, ".*") + "$")
		globs[pattern] = re
	}
	return re.MatchString(text)
}

// either spells out {a,b}.
func either(pattern string) []string {
	head, rest, ok := strings.Cut(pattern, "{")
	inner, tail, closed := strings.Cut(rest, "}")
	if !ok || !closed {
		return []string{pattern}
	}
	var out []string
	for _, x := range strings.Split(inner, ",") {
		out = append(out, either(head+x+tail)...)
	}
	return out
}

// match calls f with the condition of every pattern that speaks of a finding.
func match(patterns []string, of engine.FindingName, f func(condition engine.Condition)) {
	for _, p := range patterns {
		for _, one := range either(p) {
			n := engine.ParseFindingName(one)
			if !glob(n.Place, of.Place) {
				continue
			}
			if glob(n.Name, of.Name) || n.Name == "fine" && (complaints[of.Name] || strings.HasPrefix(of.Name, "acts_as_")) {
				f(n.Condition)
			}
		}
	}
}

// holds says what patterns of facts say of a finding.
func holds(patterns []string, of engine.FindingName) engine.State {
	s := engine.Unknown
	match(patterns, of, func(condition engine.Condition) {
		switch {
		case implied(condition, of.Condition):
			s = engine.Present
		case s == engine.Unknown && opposite[[2]engine.Condition{condition, of.Condition}]:
			s = engine.Absent
		}
	})
	if s == engine.Unknown && of.Name == "wrong_gear" { // acting as another gear is one
		for _, gear := range []string{"1", "2", "3", "4"} {
			if holds(patterns, engine.FindingName{Name: "acts_as_" + gear, Place: of.Place, Condition: of.Condition}) == engine.Present {
				return engine.Present
			}
		}
	}
	return s
}

// Driver is what the driver answers about a finding.
func (f *Facts) Driver(finding string) engine.State {
	of := engine.ParseFindingName(finding)
	if s := holds(f.Says, of); s != engine.Unknown {
		return s
	}
	s := engine.Unknown
	match(f.Denies, of, func(condition engine.Condition) {
		if condition == "" || condition == of.Condition {
			s = engine.Absent
		}
	})
	if strings.HasPrefix(of.Name, "acts_as_") && holds(f.Says, engine.FindingName{Name: "wrong_gear", Place: of.Place}) == engine.Present {
		s = engine.Absent // he named the gear that it is
	}
	return s
}

// Shop is what a look, a road test or a gauge shows of a finding.
func (f *Facts) Shop(finding string) engine.State {
	of := engine.ParseFindingName(strings.TrimPrefix(finding, "code_"))
	if s := holds(f.Truth, of); s != engine.Unknown {
		return s
	}
	hidden := false
	match(f.Unknown, of, func(engine.Condition) { hidden = true })
	if hidden || strings.HasPrefix(of.Name, "history_") {
		return engine.Unknown
	}
	lost := func(row string) bool {
		return holds(f.Truth, engine.FindingName{Name: "no_drive", Place: row, Condition: of.Condition}) == engine.Present
	}
	switch of.Name {
	case "ratio_off":
		for _, n := range []string{"slips", "no_drive", "wrong_gear"} {
			if holds(f.Truth, engine.FindingName{Name: n, Place: of.Place, Condition: of.Condition}) == engine.Present {
				return engine.Present
			}
		}
	case "stall_high", "stall_low", "creeps":
		return engine.Absent
	}
	// A row without drive shows nothing else, and no shift into or out of it.
	if r, gears, ok := strings.Cut(of.Place, "/"); ok && !strings.Contains(of.Name, "pressure") {
		for _, g := range strings.Split(gears, "-") {
			if lost(r + "/" + g) {
				return engine.Unknown
			}
		}
	}
	return engine.Absent
}
