package rules

import (
	"slipcase/engine"
	"slipcase/rules/diag"
	"slipcase/rules/syntax"
)

// LoadCase reads a file that holds one case. Its names are not looked up;
// ResolveCase does that.
func LoadCase(name string, src []byte) (*engine.CaseFile, []engine.Diagnostic) {
	d := newDecoder()
	file, found := syntax.Parse(name, string(src))
	d.Take(found)
	if file.Refused {
		return nil, d.Done()
	}
	if newer(file) {
		d.problems = problems{}
	}
	s := &shaper{src: &source{file: file}}
	nodes := s.file(func(b *syntax.Block) string {
		if b.Type != "case" {
			return "A case file holds one case and nothing else."
		}
		return ""
	})
	var c *engine.CaseFile
	for _, n := range refuseDrops(&s.problems, nodes) {
		if c != nil {
			d.Error(n.at(), "second case in the file", "A case file holds one case.")
			break
		}
		d.required(n)
		body := d.caseBody(n)
		c = &body
	}
	d.Take(s.Collector)
	if c == nil && !diag.HasErrors(d.List) {
		d.Error(engine.Range{File: name, Line: 1, Column: 1, EndLine: 1, EndColumn: 1}, "no case in the file", "A case file holds one block: case \"name\" {")
	}
	return c, d.Done()
}

// ResolveCase looks up every name of a case in the knowledge, which must hold
// its unit, and puts present names in the place of former ones.
func ResolveCase(k *engine.Knowledge, c *engine.CaseFile) []engine.Diagnostic {
	var p problems
	var scopes []*scope
	var ids []string
	for _, u := range k.Units {
		scopes = append(scopes, &scope{unit: u})
		ids = append(ids, u.ID)
	}
	r := newResolver(&p, k, scopes, false, ids)
	s := r.byID[c.Unit]
	if s == nil {
		if c.Unit != "" {
			r.unknown(aUnit, nil, c.Unit, c.UnitAt)
		}
		return p.Done()
	}
	r.caseFile(s, c)
	return p.Done()
}
