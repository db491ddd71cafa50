// Package notation reads what is typed on a command line: findings, readings
// and trouble codes (slips@D/4:hot=no, line_pressure idle R 62 psi, P0741),
// what was driven, root causes, numbers of entries. It knows no use case and
// no unit: whether a name is known is for others to say. A word that cannot be
// read is a failure of code WrongUse.
package notation

import (
	"errors"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/quantity"
)

// Item is one thing that is noted: a report or a reading, as yet without a
// reporter, or what is wrong with the words.
type Item struct {
	Report  *engine.Report // of good@D/3 too: a row that is good
	Reading *engine.Reading
	Wrong   *answer.Failure
}

// states are the words for the state of a finding.
var states = map[string]engine.State{
	"present": engine.Present, "yes": engine.Present, "absent": engine.Absent, "no": engine.Absent, "unknown": engine.Unknown,
}

var codeName = regexp.MustCompile(`^(?i:[PCBU][0-9A-F]{4})$`)

// Notes reads the words of a note. isReading tells names of what is measured
// from names of findings: only the unit knows.
func Notes(words []string, isReading func(name string) bool) []Item {
	var out []Item
	for i := 0; i < len(words); {
		word := words[i]
		head, state, given := strings.Cut(word, "=")
		switch {
		case states[word] != "":
			out = append(out, Item{Wrong: fault.WrongUse(wording.StateAlone(word))})
			i++
			continue
		case isReading(engine.ParseFindingName(head).Name), measured(words[i:], isReading):
			// A value with its unit is a reading, whether the unit has limits for it
			// or not: so a wrong name is one error, not one for each word.
			r, used, err := Reading(words[i:])
			i += max(used, 1)
			if err != nil {
				out = append(out, Item{Wrong: err})
			} else {
				out = append(out, Item{Reading: &r})
			}
			continue
		}
		i++
		if at, good, more := goodRow(head, state, given, words[i:]); good != nil {
			i += more
			out = append(out, *good)
			continue
		} else if at {
			out = append(out, Item{Wrong: fault.WrongUse(wording.RowAlone(head))})
			continue
		}
		s := engine.Present
		if given {
			if s = states[state]; s == "" {
				out = append(out, Item{Wrong: fault.WrongUse(wording.NoState(word, state))})
				continue
			}
		} else if i < len(words) && states[words[i]] != "" {
			s = states[words[i]]
			i++
		}
		if codeName.MatchString(head) {
			head = "code_" + strings.ToUpper(head)
		}
		out = append(out, Item{Report: &engine.Report{Finding: head, State: s}})
	}
	return out
}

// measured tells whether words begin a reading by their looks: a name, up to
// two places, a number with a unit of measure.
func measured(words []string, isReading func(string) bool) bool {
	value := func(n int) bool {
		if n >= len(words) || !numeric.MatchString(words[n]) {
			return false
		}
		text := words[n]
		if n+1 < len(words) && quantity.DimensionOf(words[n+1]) != "" {
			text += " " + words[n+1]
		}
		_, err := quantity.Parse(text)
		return err == nil
	}
	if _, text, given := strings.Cut(words[0], "="); given {
		_, err := quantity.Parse(text)
		return err == nil
	}
	for n := 1; n <= 3 && n < len(words); n++ {
		if value(n) {
			return true
		}
		if strings.ContainsAny(words[n], "@=:") || states[words[n]] != "" || codeName.MatchString(words[n]) || isReading(words[n]) {
			return false
		}
	}
	return false
}

var rowName = regexp.MustCompile(`^[A-Za-z0-9]+/[A-Za-z0-9]+$`)

// goodRow reads D/3=good and D/3 good. isRow tells that the word is a
// row's name; item is nil where it is not said to be good; more counts the
// words behind it that belong to it.
func goodRow(head, state string, given bool, behind []string) (isRow bool, item *Item, more int) {
	good := func(row string) *Item {
		return &Item{Report: &engine.Report{Finding: engine.GoodPrefix + row, State: engine.Present}}
	}
	if !rowName.MatchString(head) {
		return false, nil, 0
	}
	switch {
	case given && goodWords[state]:
		return true, good(head), 0
	case !given && len(behind) > 0 && goodWords[behind[0]]:
		return true, good(head), 1
	}
	return true, nil, 0
}

// goodWords say of a row that it is good.
var goodWords = map[string]bool{"good": true, "ok": true, "fine": true}

var numeric = regexp.MustCompile(`^[-+]?[.\d]`)

// Reading reads NAME[@PLACE] [PLACE…] VALUE [UNIT] [at TEMPERATURE], with "="
// in place of the first space too, from the front of words; used is how many
// of them belong to it. Two places are joined in the order they were typed.
func Reading(words []string) (r engine.Reading, used int, bad *answer.Failure) {
	head, value, given := strings.Cut(words[0], "=")
	used = 1
	name, place, _ := strings.Cut(head, "@")
	var parts []string
	if place != "" {
		parts = append(parts, place)
	}
	if !given {
		for used < len(words) && !numeric.MatchString(words[used]) && len(parts) < 2 {
			parts = append(parts, words[used])
			used++
		}
		if used == len(words) || !numeric.MatchString(words[used]) {
			return r, used, fault.WrongUse(wording.NoValue(words[:used]))
		}
		value = words[used]
		used++
	}
	q, err := quantity.Parse(value)
	var bare *quantity.UnitError
	if errors.As(err, &bare) && bare.Unit == "" && used < len(words) && quantity.DimensionOf(words[used]) != "" {
		value += " " + words[used]
		used++
		q, err = quantity.Parse(value)
	}
	if err != nil {
		return r, used, fault.WrongUse(wording.BadValue(words[:used], err))
	}
	// "at 20 degC" after a resistance.
	for n := 2; n <= 3 && used+n <= len(words) && words[used] == "at"; n++ {
		if with, err := quantity.Parse(value + " " + strings.Join(words[used:used+n], " ")); err == nil {
			q, used = with, used+n
			break
		}
	}
	return engine.Reading{Name: name, Place: strings.Join(parts, "/"), Value: q}, used, nil
}

// Measures reads what was measured at a step, each as name=value.
func Measures(list []string) []Item {
	var out []Item
	for _, m := range list {
		if !strings.Contains(m, "=") {
			out = append(out, Item{Wrong: fault.WrongUse(wording.MeasureWithoutValue(m))})
			continue
		}
		words := strings.Fields(m)
		r, used, bad := Reading(words)
		if bad == nil && used < len(words) {
			bad = fault.WrongUse(wording.MeasureAndMore(m, words[used]))
		}
		if bad != nil {
			out = append(out, Item{Wrong: bad})
		} else {
			out = append(out, Item{Reading: &r})
		}
	}
	return out
}

// Drive is a place that was driven, or what is wrong with the words.
type Drive struct {
	engine.DriveResult
	Wrong *answer.Failure
}

// Drives reads PLACE[,PLACE…]=good|bad[:note].
func Drives(list []string) []Drive {
	var out []Drive
	for _, text := range list {
		places, result, given := strings.Cut(text, "=")
		word, note, _ := strings.Cut(result, ":")
		good := slices.Contains([]string{"good", "ok", "yes"}, word)
		if !given || !good && !slices.Contains([]string{"bad", "no"}, word) {
			out = append(out, Drive{Wrong: fault.WrongUse(wording.DriveWithoutResult(text))})
			continue
		}
		for _, place := range strings.Split(places, ",") {
			out = append(out, Drive{DriveResult: engine.DriveResult{Place: place, OK: good, Note: strings.TrimSpace(note)}})
		}
	}
	return out
}

// Causes reads CAUSE yes, CAUSE no, CAUSE=yes and CAUSE=no. Fails with WrongUse for
// anything else, and for nothing.
func Causes(args []string) ([]engine.SettledCause, error) {
	var out []engine.SettledCause
	for i := 0; i < len(args); i++ {
		cause, word, given := strings.Cut(args[i], "=")
		if !given {
			i++
			if i == len(args) {
				return nil, fault.WrongUse(wording.CauseOpen(cause))
			}
			word = args[i]
		}
		if word != "yes" && word != "no" {
			return nil, fault.WrongUse(wording.CauseIsNot(cause, word))
		}
		out = append(out, engine.SettledCause{Cause: cause, Present: word == "yes"})
	}
	if len(out) == 0 {
		return nil, fault.WrongUse(wording.NoCauseNamed())
	}
	return out, nil
}

// Entries reads numbers of entries and ranges of them, like 3-7. Fails with WrongUse
// for anything else.
func Entries(args []string) ([]int64, error) {
	const most = 10_000 // longer stretches are slips of the finger
	var out []int64
	for _, arg := range args {
		from, to, stretch := strings.Cut(arg, "-")
		if !stretch {
			to = from
		}
		a, err := strconv.ParseInt(from, 10, 64)
		b, err2 := strconv.ParseInt(to, 10, 64)
		if err != nil || err2 != nil || a < 1 || b < a || b-a > most {
			return nil, fault.WrongUse(wording.NoEntries(arg))
		}
		for n := a; n <= b; n++ {
			out = append(out, n)
		}
	}
	return out, nil
}

// Suspect reads COMPONENT[/MODE], or the two as words of their own.
func Suspect(words ...string) (component, mode string) {
	component, mode, _ = strings.Cut(strings.Join(words, "/"), "/")
	return component, mode
}

// Suspects splits COMPONENT/MODE words, a colon stands for the slash; two words
// without either are one COMPONENT and its MODE. Each is component, mode.
func Suspects(words []string) (out [][2]string) {
	if len(words) == 2 && !strings.ContainsAny(words[0]+words[1], "/:") {
		return [][2]string{{words[0], words[1]}}
	}
	for _, w := range words {
		component, mode := Suspect(strings.Replace(w, ":", "/", 1))
		out = append(out, [2]string{component, mode})
	}
	return out
}
