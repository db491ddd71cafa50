package advise

import "slipcase/engine"

// Findings lists what a check reports on, all of it, priced or not; nil when
// no check has this name.
func (a *Adviser) Findings(check string) []Open {
	for i := range a.checks {
		if a.checks[i].Name != check {
			continue
		}
		out := []Open{}
		for _, it := range a.checks[i].items {
			out = append(out, Open{Name: it.name, Reporter: it.by})
		}
		return out
	}
	return nil
}

// Reporter is who reports the finding when by says so or says nothing; false
// when finding or reporter is unknown.
func (a *Adviser) Reporter(finding, by string) (string, bool) {
	s, _, _, ok := a.sign(finding, by)
	return s.by, ok
}

// Left lists the findings of a check that may still be asked for in a case.
func (a *Adviser) Left(c *engine.CaseFile, check string, closed func(finding string) bool) ([]Open, error) {
	pieces, err := a.evidence(c)
	if err != nil {
		return nil, err
	}
	opt := Options{Closed: closed, Only: func(k *engine.Check) bool { return k.Name == check }}
	open, _, _ := a.offer(c, pieces, opt.filled())
	var out []Open
	for _, k := range open {
		for _, it := range k.items {
			out = append(out, Open{Name: it.name, Reporter: it.by})
		}
	}
	return out, nil
}
