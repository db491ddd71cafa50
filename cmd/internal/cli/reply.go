package cli

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"slipcase/cmd/internal/desk"
	"slipcase/engine"
)

// reply is an answer typed as a line: findings present and not known; the rest
// of the question is absent.
type reply struct{ present, unknown []string }

func isWord(line string, words ...string) bool {
	line = strings.ToLower(strings.ReplaceAll(line, "’", "'"))
	return slices.Contains(words, line)
}

// parseReply reads a line as the answer to a question. The error says what can
// be typed.
func parseReply(q *desk.Question, line string) (reply, error) {
	var r reply
	if q.Single {
		switch {
		case isWord(line, "yes", "y", "1", "all"):
			return reply{present: []string{q.Options[0].Finding}}, nil
		case isWord(line, "no", "n", "none", "0"):
			return r, nil
		}
		return r, fmt.Errorf("yes, no, ? (the driver does not know), skip, back or quit")
	}
	if isWord(line, "none", "no", "n", "0") {
		return r, nil
	}
	if isWord(line, "all") {
		for _, o := range q.Options {
			r.present = append(r.present, o.Finding)
		}
		return r, nil
	}
	tokens := strings.FieldsFunc(line, func(c rune) bool { return c == ' ' || c == ',' || c == ';' })
	if len(tokens) == 0 {
		return r, fmt.Errorf("the numbers of what is so, none, ? (the driver does not know), skip, back or quit")
	}
	taken := map[string]string{}
	for _, tok := range tokens {
		name, unknown := strings.CutPrefix(tok, "?")
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
		if unknown {
			r.unknown = append(r.unknown, finding)
		} else {
			r.present = append(r.present, finding)
		}
	}
	return r, nil
}

// pick finds an option by its number or by its place ("D/4").
func pick(q *desk.Question, name string) (string, error) {
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
		return "", fmt.Errorf("%q is none of them; numbers from 1 to %d, none, ?, skip, back or quit", name, len(q.Options))
	}
	return "", fmt.Errorf("%q stands for %d of them; give the number", name, len(at))
}

// words repeat an answer.
func (r reply) words(q *desk.Question) string {
	var so, unknown []string
	for _, o := range q.Options {
		switch {
		case slices.Contains(r.present, o.Finding):
			so = append(so, o.Title)
		case slices.Contains(r.unknown, o.Finding):
			unknown = append(unknown, o.Title)
		}
	}
	rest := len(q.Options) - len(so) - len(unknown)
	var parts []string
	if len(so) > 0 {
		parts = append(parts, strings.Join(so, "; "))
	}
	if len(unknown) > 0 {
		parts = append(parts, "not known: "+strings.Join(unknown, "; "))
	}
	switch {
	case rest == 1 && q.Single:
		parts = append(parts, "not so")
	case rest == 1 && len(so)+len(unknown) > 0:
		parts = append(parts, "the other not")
	case rest > 0 && len(so)+len(unknown) > 0:
		parts = append(parts, fmt.Sprintf("the other %d not", rest))
	case rest > 0:
		parts = append(parts, "none of them")
	}
	return strings.Join(parts, "; ") + "."
}
