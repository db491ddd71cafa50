package cli

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"slipcase/cmd/internal/desk/talk"
	"slipcase/engine"
)

// reply is an answer typed as a line. One that says nothing passes the question
// over.
type reply struct {
	said    talk.Said
	choices []string // names
	count   string   // the number as it was typed
}

func isWord(line string, words ...string) bool {
	line = strings.ToLower(strings.ReplaceAll(line, "’", "'"))
	return slices.Contains(words, line)
}

// parseReply reads a line as the answer to a question. The error says what can
// be typed.
func parseReply(q *talk.Question, line string) (reply, error) {
	switch {
	case line == "":
		return reply{}, nil
	case q.Counts != "":
		return reply{count: line}, nil
	case len(q.Choices) > 0:
		return parseChoice(q, line)
	case q.Single:
		switch f := q.Options[0].Finding; {
		case isWord(line, "yes", "y", "1", "all"):
			return reply{said: talk.Said{Present: []string{f}}}, nil
		case isWord(line, "no", "n", "none", "0"):
			return reply{said: talk.Said{Absent: []string{f}}}, nil
		}
		return reply{}, fmt.Errorf("yes, no, ? (the driver does not know), back or quit; an empty line skips")
	}
	return parseMany(q, line)
}

// restFine are the ways to say that all that was not named is ruled out.
var restFine = regexp.MustCompile(`(?i)[,;]?\s*\b(the\s+)?(rest|others?)\s+(is\s+|are\s+)?(fine|ok|okay|good|no|not)\b`)

// neverUsed names ranges that the driver does not use: "never 2 L".
var neverUsed = regexp.MustCompile(`(?i)[,;]?\s*\bnever(\s+used?)?:?\s+([a-z0-9]+([ ,]+[a-z0-9]+)*)\s*$`)

func parseMany(q *talk.Question, line string) (reply, error) {
	var r reply
	if isWord(line, "none", "none of these", "no", "n", "0") {
		r.said.Rest = engine.Absent
		return r, nil
	}
	if isWord(line, "all") {
		for _, o := range q.Options {
			r.said.Present = append(r.said.Present, o.Finding)
		}
		return r, nil
	}
	if at := restFine.FindStringIndex(line); at != nil {
		r.said.Rest, line = engine.Absent, line[:at[0]]+" "+line[at[1]:]
	}
	if at := neverUsed.FindStringSubmatchIndex(line); at != nil {
		for _, name := range fields(line[at[4]:at[5]]) {
			name = strings.ToUpper(name)
			if !slices.Contains(q.Ranges, name) {
				return reply{}, fmt.Errorf("the question has no range %s; it asks about %s", name, strings.Join(q.Ranges, ", "))
			}
			r.said.NotTried = append(r.said.NotTried, name)
		}
		line = line[:at[0]]
	}
	tokens := fields(line)
	if len(tokens) == 0 && r.said.Rest == "" && r.said.NotTried == nil {
		return r, fmt.Errorf("%s", howMany)
	}
	taken := map[string]string{}
	for _, tok := range tokens {
		name, list := tok, &r.said.Present
		if n, ok := strings.CutPrefix(tok, "?"); ok {
			name, list = n, &r.said.Unknown
		} else if n, ok := strings.CutPrefix(tok, "-"); ok {
			name, list = n, &r.said.Absent
		}
		finding, err := pick(q, name)
		if err != nil {
			return reply{}, err
		}
		if before, ok := taken[finding]; ok && before != tok {
			return reply{}, fmt.Errorf("%s and %s contradict each other", before, tok)
		} else if ok {
			continue
		}
		taken[finding] = tok
		*list = append(*list, finding)
	}
	return r, nil
}

const howMany = "the numbers of what applies, -3 for what does not, ?3 for not known, \"rest fine\", none, ?, back or quit; an empty line skips"

func fields(line string) []string {
	return strings.FieldsFunc(line, func(c rune) bool { return c == ' ' || c == ',' || c == ';' })
}

// parseChoice reads the number of a choice, or its name; several where the
// question takes several.
func parseChoice(q *talk.Question, line string) (reply, error) {
	var r reply
	tokens := fields(line)
	if len(tokens) > 1 && !q.Several {
		return r, fmt.Errorf("one number from 1 to %d, ?, back or quit; an empty line skips", len(q.Choices))
	}
	for _, tok := range tokens {
		name := ""
		for i, c := range q.Choices {
			if tok == strconv.Itoa(i+1) || strings.EqualFold(tok, c.Name) {
				name = c.Name
			}
		}
		if name == "" {
			return reply{}, fmt.Errorf("%q is none of them; 1 to %d, ?, back or quit; an empty line skips", tok, len(q.Choices))
		}
		if !slices.Contains(r.choices, name) {
			r.choices = append(r.choices, name)
		}
	}
	return r, nil
}

// pick finds an option by its number or by its place ("D/4").
func pick(q *talk.Question, name string) (string, error) {
	if n, err := strconv.Atoi(name); err == nil {
		if n < 1 || n > len(q.Options) {
			return "", fmt.Errorf("there is no number %d; 1 to %d", n, len(q.Options))
		}
		return q.Options[n-1].Finding, nil
	}
	var at []string
	for _, o := range q.Options {
		if f := engine.ParseFindingName(o.Finding); f.Place != "" && strings.EqualFold(f.Place, name) {
			at = append(at, o.Finding)
		}
	}
	switch len(at) {
	case 1:
		return at[0], nil
	case 0:
		return "", fmt.Errorf("%q is none of them; numbers from 1 to %d, none, ?, back or quit; an empty line skips", name, len(q.Options))
	}
	return "", fmt.Errorf("%q matches %d of them; give the number", name, len(at))
}

// silent tells that nothing was said.
func (r reply) silent() bool {
	s := r.said
	return r.count == "" && len(r.choices) == 0 && s.Rest == "" &&
		len(s.Present)+len(s.Absent)+len(s.Unknown)+len(s.NotTried) == 0
}

// words repeat an answer.
func (r reply) words(q *talk.Question) string {
	if r.silent() {
		return "skipped."
	}
	if r.count != "" {
		return r.count + " (" + q.Counts + ")."
	}
	var parts []string
	for _, c := range q.Choices {
		if slices.Contains(r.choices, c.Name) {
			parts = append(parts, c.Title)
		}
	}
	named := 0
	list := func(what string, names []string) {
		var titles []string
		for _, o := range q.Options {
			if slices.Contains(names, o.Finding) {
				titles = append(titles, o.Title)
				named++
			}
		}
		if len(titles) > 0 {
			parts = append(parts, what+strings.Join(titles, "; "))
		}
	}
	list("", r.said.Present)
	list("not so: ", r.said.Absent)
	list("not known: ", r.said.Unknown)
	if len(r.said.NotTried) > 0 {
		parts = append(parts, "not tried: "+strings.Join(r.said.NotTried, ", "))
	}
	rest := len(q.Options) - named
	switch {
	case len(q.Choices) > 0 || rest == 0:
	case r.said.Rest == engine.Absent && named == 0 && len(r.said.NotTried) == 0:
		parts = append(parts, "none of them")
	case r.said.Rest == engine.Absent:
		parts = append(parts, "all else here is fine")
	default:
		parts = append(parts, "the rest not asked")
	}
	return strings.Join(parts, "; ") + "."
}
