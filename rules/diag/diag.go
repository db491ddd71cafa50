// Package diag keeps what is wrong with texts of rules: it collects
// diagnostics, sorts and caps a list of them and writes one as a compiler does,
// with the lines at fault. What a diagnostic is stands in engine.
package diag

import (
	"fmt"
	"sort"

	"slipcase/engine"
)

// Most is how many diagnostics one run gives; a last one tells how many there
// are beyond.
const Most = 100

// A Collector keeps diagnostics. Beyond a bound it only counts, so that a
// hostile file cannot make it grow or spend time on near names.
type Collector struct {
	List  []engine.Diagnostic
	More  int // beyond the bound
	Bound int // how many are kept; 0 for ten times Most
}

// Full tells whether the next diagnostic would only be counted.
func (c *Collector) Full() bool {
	bound := c.Bound
	if bound == 0 {
		bound = 10 * Most
	}
	return len(c.List) >= bound
}

// Add keeps a diagnostic, or counts it.
func (c *Collector) Add(d engine.Diagnostic) {
	if c.Full() {
		c.More++
		return
	}
	c.List = append(c.List, d)
}

// Take adds all that another has collected.
func (c *Collector) Take(o Collector) {
	for _, d := range o.List {
		c.Add(d)
	}
	c.More += o.More
}

// Error adds an error at a place.
func (c *Collector) Error(at engine.Range, summary, detail string) {
	c.Add(engine.Diagnostic{Severity: engine.Error, Summary: summary, Detail: detail, Subject: at})
}

// Warn adds a warning at a place.
func (c *Collector) Warn(at engine.Range, summary, detail string) {
	c.Add(engine.Diagnostic{Severity: engine.Warning, Summary: summary, Detail: detail, Subject: at})
}

// Done sorts what was collected, takes doubles out and cuts to Most, errors
// before warnings.
func (c *Collector) Done() []engine.Diagnostic {
	list, more := Sort(c.List), c.More
	if len(list) > Most {
		more += len(list) - Most
		// Errors before warnings when not all can be told.
		sort.SliceStable(list, func(i, j int) bool {
			return list[i].Severity == engine.Error && list[j].Severity != engine.Error
		})
		list = Sort(list[:Most])
	}
	if more > 0 {
		list = append(list, engine.Diagnostic{
			Severity: engine.Error,
			Summary:  fmt.Sprintf("and %d more", more),
			Detail:   fmt.Sprintf("The first %d are shown. Fix these and run again.", len(list)),
		})
	}
	return list
}

// Sort puts diagnostics in the order of files and places, and takes out
// doubles. Those without a place come last.
func Sort(list []engine.Diagnostic) []engine.Diagnostic {
	sort.SliceStable(list, func(i, j int) bool { return less(&list[i], &list[j]) })
	out := list[:0]
	for i, d := range list {
		if i == 0 || d != list[i-1] {
			out = append(out, d)
		}
	}
	return out
}

func less(a, b *engine.Diagnostic) bool {
	x, y := a.Subject, b.Subject
	if (x.File == "") != (y.File == "") {
		return y.File == ""
	}
	switch {
	case x.File != y.File:
		return x.File < y.File
	case x.Byte != y.Byte:
		return x.Byte < y.Byte
	case x.EndByte != y.EndByte:
		return x.EndByte < y.EndByte
	case a.Severity != b.Severity:
		return a.Severity == engine.Error
	case a.Summary != b.Summary:
		return a.Summary < b.Summary
	}
	return a.Detail < b.Detail
}

// HasErrors tells whether any diagnostic is an error.
func HasErrors(list []engine.Diagnostic) bool {
	for _, d := range list {
		if d.Severity == engine.Error {
			return true
		}
	}
	return false
}
