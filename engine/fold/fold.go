// Package fold turns the entries of a case into the case as it now stands.
// It is a pure function of the record: same entries, same case.
package fold

import (
	"fmt"
	"slices"

	"slipcase/engine"
)

// Case is a case as it now stands: the fold of its record.
type Case struct {
	engine.CaseFile
	Words     string // the customer's own words
	RulesHash string
	Status    engine.CaseStatus
	Closing   *engine.Closing // the closing in force; nil while open
	Steps     []engine.StepDone
	Notes     []engine.Note
	// Question is where the interview stands; Interviewed says that a mark was
	// made at all, so that "" can mean that it is over.
	Question    string
	Interviewed bool
	// Back is the entry that says of which earlier repair this case is the
	// comeback; nil for none. See Earlier.
	Back    *engine.ComeBack
	LastSeq int64
}

// InForce tells for each entry whether it counts: one that a retraction in
// force refers to does not. A retraction of anything but an earlier entry is an
// error.
func InForce(entries []engine.Entry) ([]bool, error) {
	force := make([]bool, len(entries))
	for i := range force {
		force[i] = true
	}
	// Retractions point backward only, so from the end every retraction is
	// settled before the entry that it refers to.
	for i := len(entries) - 1; i >= 0; i-- {
		e := entries[i]
		if e.Seq != int64(i+1) {
			return nil, fmt.Errorf("entry %d of the case has number %d: entries must count from 1 without gaps", i+1, e.Seq)
		}
		r, ok := e.Body.(engine.Retraction)
		if !ok {
			continue
		}
		if r.Of < 1 || r.Of >= e.Seq {
			return nil, fmt.Errorf("entry %d retracts entry %d, which is not an earlier one", e.Seq, r.Of)
		}
		if force[i] {
			force[r.Of-1] = false
		}
	}
	return force, nil
}

// Fold computes the case as it now stands. What a later entry replaces:
//
//   - a report: the earlier one of the same reporter, finding and condition;
//   - a reading: the earlier one of the same reporter, name and place;
//   - a component seen: cleared replaces all that was found on it; found
//     replaces cleared, and the same mode;
//   - a settled cause: the earlier answer about the same cause.
//
// Readings taken at a step count as readings. What stays is in order of
// sequence. Errors are those of InForce, and bodies that are missing.
func Fold(rec engine.CaseRecord) (*Case, error) {
	force, err := InForce(rec.Entries)
	if err != nil {
		return nil, fmt.Errorf("case %s: %w", rec.ID, err)
	}
	c := &Case{
		CaseFile: engine.CaseFile{ID: rec.ID, Title: rec.Opening.Title, Unit: rec.Opening.Unit, Vehicle: rec.Opening.Vehicle},
		Words:    rec.Opening.Words, RulesHash: rec.Opening.RulesHash,
		Status:  engine.CaseOpen,
		LastSeq: int64(len(rec.Entries)),
	}
	open, batch := "", "" // the question marked last, and what was written with it
	for i, e := range rec.Entries {
		if !force[i] {
			continue
		}
		if _, report := e.Body.(engine.Report); !report {
			open = "" // what comes after something else is no answer
		}
		switch b := e.Body.(type) {
		case engine.Report:
			b.Seq = e.Seq
			if open != "" && e.Batch() == batch {
				c.put(open) // written together with the question: its answer
			}
			finding := normal(b.Finding)
			c.Reports = without(c.Reports, func(o engine.Report) bool {
				return o.By == b.By && normal(o.Finding) == finding
			})
			c.Reports = append(c.Reports, b)
		case engine.Reading:
			c.read(b, e.Seq)
		case engine.Seen:
			b.Seq = e.Seq
			c.Seen = without(c.Seen, func(o engine.Seen) bool {
				return o.Component == b.Component && (b.Cleared || o.Cleared || o.Mode == b.Mode)
			})
			c.Seen = append(c.Seen, b)
		case engine.SettledCause:
			b.Seq = e.Seq
			c.Settled = without(c.Settled, func(o engine.SettledCause) bool { return o.Cause == b.Cause })
			c.Settled = append(c.Settled, b)
		case engine.StepDone:
			if !slices.Contains(c.Done, b.Step) {
				c.Done = append(c.Done, b.Step)
			}
			c.Steps = append(c.Steps, b)
			for _, r := range b.Readings {
				c.read(r, e.Seq)
			}
		case engine.Note:
			c.Notes = append(c.Notes, b)
		case engine.InterviewMark:
			c.Interviewed = true
			if !b.Skipped {
				c.Question, open, batch = b.Question, b.Question, e.Batch()
			} else {
				c.put(b.Question)
			}
		case engine.Retraction:
		case engine.Closing:
			c.Status, c.Closing = b.Outcome, &b
		case engine.Reopening:
			c.Status, c.Closing = engine.CaseOpen, nil
		case engine.ComeBack:
			c.Back = &b
		default:
			return nil, fmt.Errorf("case %s, entry %d: a body of type %T is no entry", rec.ID, e.Seq, e.Body)
		}
	}
	return c, nil
}

// Earlier is the case whose repair came back, "" for none: what the closing
// names, or else the newest entry that says so.
func (c *Case) Earlier() string {
	switch {
	case c.Closing != nil && c.Closing.Earlier != "":
		return c.Closing.Earlier
	case c.Back != nil:
		return c.Back.Earlier
	}
	return ""
}

// put notes that a question was put.
func (c *Case) put(question string) {
	if question != "" && !slices.Contains(c.Put, question) {
		c.Put = append(c.Put, question)
	}
}

// Culprits lists what was found failed, as component/mode, in order of sequence.
func (c *Case) Culprits() []string {
	var out []string
	for _, s := range c.Seen {
		if !s.Cleared {
			out = append(out, s.Component+"/"+s.Mode)
		}
	}
	return out
}

func (c *Case) read(r engine.Reading, seq int64) {
	r.Seq = seq
	c.Readings = without(c.Readings, func(o engine.Reading) bool {
		return o.By == r.By && o.Name == r.Name && o.Place == r.Place
	})
	c.Readings = append(c.Readings, r)
}

func normal(finding string) string { return engine.ParseFindingName(finding).String() }

// without drops what matches, in place, keeping the order.
func without[T any](list []T, match func(T) bool) []T {
	kept := list[:0]
	for _, x := range list {
		if !match(x) {
			kept = append(kept, x)
		}
	}
	return kept
}
