package refine_test

import (
	"fmt"
	"maps"
	"slices"

	"slipcase/engine"
	"slipcase/engine/refine/rulepath"
)

// with is the knowledge with other values for the numbers named by their
// path's String; text and basis of a number go with the old value. The
// argument is not changed. A name that the knowledge lacks is an error.
func with(k *engine.Knowledge, values map[string]float64) (*engine.Knowledge, error) {
	c := clone(k)
	left := len(values)
	rulepath.Walk(c, func(p rulepath.Path, n *engine.Number) {
		if v, ok := values[p.String()]; ok {
			n.Value = v
			left--
		}
	})
	if left == 0 {
		return c, nil
	}
	known := map[string]bool{}
	rulepath.Walk(c, func(p rulepath.Path, _ *engine.Number) { known[p.String()] = true })
	for _, name := range slices.Sorted(maps.Keys(values)) {
		if !known[name] {
			return nil, fmt.Errorf("the rules have no number %s", name)
		}
	}
	return c, nil
}

// clone copies what Walk reaches; the rest is shared.
func clone(k *engine.Knowledge) *engine.Knowledge {
	c := *k
	c.Causes = slices.Clone(k.Causes)
	for i := range c.Causes {
		x := &c.Causes[i]
		x.Stresses, x.Shows = slices.Clone(x.Stresses), slices.Clone(x.Shows)
	}
	c.Modes = slices.Clone(k.Modes)
	for i := range c.Modes {
		x := &c.Modes[i]
		x.Effects, x.Shows, x.Stresses = slices.Clone(x.Effects), slices.Clone(x.Shows), slices.Clone(x.Stresses)
		x.Because = slices.Clone(x.Because)
	}
	c.Findings = slices.Clone(k.Findings)
	for i := range c.Findings {
		c.Findings[i].Signs = slices.Clone(c.Findings[i].Signs)
	}
	c.Codes = slices.Clone(k.Codes)
	for i := range c.Codes {
		c.Codes[i].Signs = slices.Clone(c.Codes[i].Signs)
	}
	c.Reporters = slices.Clone(k.Reporters)
	c.Units = slices.Clone(k.Units)
	for i, u := range c.Units {
		v := *u
		v.Frequency = maps.Clone(u.Frequency)
		v.Components = slices.Clone(u.Components)
		for j := range v.Components {
			v.Components[j].Frequency = maps.Clone(v.Components[j].Frequency)
		}
		c.Units[i] = &v
	}
	return &c
}
