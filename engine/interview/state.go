package interview

import "slipcase/engine"

// State is where an interview stands. It is plain data: kept as JSON, or as
// entries of the casebook (see Resume), it lets the next start go on at the
// same question.
type State struct {
	Turns []Turn `json:"turns,omitempty"`
	At    string `json:"at,omitempty"`   // check whose question stands open; "" before the first
	Over  bool   `json:"over,omitempty"` // nothing was worth asking any more, or the user ended it
}

// Turn is one question that was put.
type Turn struct {
	Check   string          `json:"check"`
	Skipped bool            `json:"skipped,omitempty"`
	Answer  string          `json:"answer,omitempty"` // choices taken, parted by spaces, or a number
	Reports []engine.Report `json:"reports,omitempty"`
}

// Resume reads the state back from the entries of a case: a mark names the
// question, the reports that were written together with it are its answer, a
// skipped mark passes it over, or ends an answer that makes no report. A report written otherwise answers no question,
// but the order of the entries decides: it replaces what was answered before.
// inForce tells which entries count; nil for all.
func Resume(entries []engine.Entry, inForce []bool) State {
	var s State
	last, batch, answer := "", "", ""
	fresh := false // the next report starts a new answer to last
	for i, e := range entries {
		if inForce != nil && !inForce[i] {
			continue
		}
		switch b := e.Body.(type) {
		case engine.InterviewMark:
			if b.Skipped {
				t := s.turn(b.Question)
				t.Skipped, t.Answer = b.Answer == "", b.Answer
				if b.Answer != "" {
					t.Reports = nil
				}
				last, s.At = "", ""
				continue
			}
			last, s.At, s.Over = b.Question, b.Question, b.Question == ""
			fresh, batch, answer = true, e.Batch(), b.Answer
		case engine.Report:
			mine := last != "" && e.Batch() == batch
			if mine && fresh {
				t := s.turn(last)
				t.Reports, t.Skipped, t.Answer, fresh = nil, false, answer, false
			}
			replaced := s.replace(b, last)
			if mine {
				if t := s.turn(last); !replaced {
					t.Reports = append(t.Reports, b)
				}
				s.At = ""
			}
		default:
			last = ""
		}
	}
	return s
}

// turn is the turn of a check, a new one when it was not put yet.
func (s *State) turn(name string) *Turn {
	for i := range s.Turns {
		if s.Turns[i].Check == name {
			return &s.Turns[i]
		}
	}
	s.Turns = append(s.Turns, Turn{Check: name})
	return &s.Turns[len(s.Turns)-1]
}

// replace sets every report of the same finding by the same reporter to what
// is said now, in whichever turn it was said. True when one is in the turn of
// the check named.
func (s *State) replace(r engine.Report, check string) (there bool) {
	for i := range s.Turns {
		t := &s.Turns[i]
		for k, o := range t.Reports {
			if sameReport(o, r) {
				t.Reports[k] = r
				t.Reports[k].Finding = o.Finding // as the question spells it
				there = there || t.Check == check
			}
		}
	}
	return there
}
