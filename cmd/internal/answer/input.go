package answer

import (
	"fmt"

	"slipcase/engine"
	"slipcase/engine/quantity"
)

// Input is what an answer can be worked out from again, bit for bit, by a
// program of the same version with the same rules.
type Input struct {
	Unit    string            `json:"unit"`    // id or file
	Case    *Case             `json:"case"`    // null where no case was asked about
	Options map[string]string `json:"options"` // as the use case names them
}

// Case is a case as it was worked with: what today's rules do not know is left
// out already.
type Case struct {
	ID       string    `json:"id"`
	Title    string    `json:"title"`
	Status   string    `json:"status"` // "" where it is not from a casebook
	Vehicle  string    `json:"vehicle"`
	Reports  []Report  `json:"reports"`
	Readings []Reading `json:"readings"`
	Seen     []Seen    `json:"seen"`
	Settled  []Settled `json:"settled"`
	Done     []string  `json:"done"` // steps, in order
}

// Report is one observation of a finding.
type Report struct {
	Finding string `json:"finding"`
	State   string `json:"state"` // present, absent, unknown
	By      string `json:"by"`
	Seq     int64  `json:"seq"` // 0 where it is not from a casebook
}

// Reading is something measured.
type Reading struct {
	Name  string `json:"name"`
	Place string `json:"place"`
	Value string `json:"value"` // with its unit, as written
	By    string `json:"by"`
	Seq   int64  `json:"seq"`
}

// Seen is a part that was looked at.
type Seen struct {
	Component string `json:"component"`
	Mode      string `json:"mode"` // "" when cleared
	Cause     string `json:"cause"`
	Cleared   bool   `json:"cleared"`
	Seq       int64  `json:"seq"`
}

// Settled is a root cause confirmed or ruled out.
type Settled struct {
	Cause   string `json:"cause"`
	Present bool   `json:"present"`
	Seq     int64  `json:"seq"`
}

// CaseOf gives a case as plain data, with its status in the casebook.
func CaseOf(c *engine.CaseFile, status engine.CaseStatus) *Case {
	out := &Case{ID: c.ID, Title: c.Title, Status: string(status), Vehicle: c.Vehicle,
		Reports: []Report{}, Readings: []Reading{}, Seen: []Seen{}, Settled: []Settled{}, Done: append([]string{}, c.Done...)}
	for _, r := range c.Reports {
		out.Reports = append(out.Reports, Report{r.Finding, string(r.State), r.By, r.Seq})
	}
	for _, r := range c.Readings {
		out.Readings = append(out.Readings, Reading{r.Name, r.Place, r.Value.String(), r.By, r.Seq})
	}
	for _, s := range c.Seen {
		out.Seen = append(out.Seen, Seen{s.Component, s.Mode, s.Cause, s.Cleared, s.Seq})
	}
	for _, s := range c.Settled {
		out.Settled = append(out.Settled, Settled{s.Cause, s.Present, s.Seq})
	}
	return out
}

// File gives the case back to the engine. A value that cannot be read is an
// error.
func (c *Case) File(unit string) (*engine.CaseFile, error) {
	out := &engine.CaseFile{ID: c.ID, Title: c.Title, Unit: unit, Vehicle: c.Vehicle, Done: append([]string(nil), c.Done...)}
	for _, r := range c.Reports {
		out.Reports = append(out.Reports, engine.Report{Finding: r.Finding, State: engine.State(r.State), By: r.By, Seq: r.Seq})
	}
	for _, r := range c.Readings {
		q, err := quantity.Parse(r.Value)
		if err != nil {
			return nil, fmt.Errorf("reading %s: %w", r.Name, err)
		}
		out.Readings = append(out.Readings, engine.Reading{Name: r.Name, Place: r.Place, Value: q, By: r.By, Seq: r.Seq})
	}
	for _, s := range c.Seen {
		out.Seen = append(out.Seen, engine.Seen{Component: s.Component, Mode: s.Mode, Cause: s.Cause, Cleared: s.Cleared, Seq: s.Seq})
	}
	for _, s := range c.Settled {
		out.Settled = append(out.Settled, engine.SettledCause{Cause: s.Cause, Present: s.Present, Seq: s.Seq})
	}
	return out, nil
}
