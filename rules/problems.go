package rules

import (
	"fmt"
	"sort"

	"slipcase/engine"
)

// MaxDiagnostics is how many diagnostics one run gives; a last one tells how
// many there are beyond.
const MaxDiagnostics = 100

// problems collects diagnostics. Beyond a bound it only counts, so that a
// hostile file cannot make it grow or spend time on near names.
type problems struct {
	list []engine.Diagnostic
	more int
}

const keepProblems = 10 * MaxDiagnostics

func (p *problems) full() bool { return len(p.list) >= keepProblems }

func (p *problems) add(d engine.Diagnostic) {
	if p.full() {
		p.more++
		return
	}
	p.list = append(p.list, d)
}

func (p *problems) error(at engine.Range, summary, detail string) {
	p.add(engine.Diagnostic{Severity: engine.Error, Summary: summary, Detail: detail, Subject: at})
}

func (p *problems) warn(at engine.Range, summary, detail string) {
	p.add(engine.Diagnostic{Severity: engine.Warning, Summary: summary, Detail: detail, Subject: at})
}

// done sorts, takes doubles out and cuts to MaxDiagnostics.
func (p *problems) done() []engine.Diagnostic {
	list := Sort(p.list)
	if len(list) > MaxDiagnostics {
		p.more += len(list) - MaxDiagnostics
		// Errors before warnings when not all can be told.
		sort.SliceStable(list, func(i, j int) bool {
			return list[i].Severity == engine.Error && list[j].Severity != engine.Error
		})
		list = Sort(list[:MaxDiagnostics])
	}
	if p.more > 0 {
		list = append(list, engine.Diagnostic{
			Severity: engine.Error,
			Summary:  fmt.Sprintf("and %d more", p.more),
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
