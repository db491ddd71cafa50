// Package check goes over loaded knowledge and tells what a builder or the
// engine would stumble on: rules that cannot matter, declared facts that the
// gear train contradicts, steps in a circle, work without its caution.
//
// It is pure: knowledge in, diagnostics out. What the loader finds (unknown
// names, numbers without basis, wrong dimensions) it does not repeat. Adding a
// check is one function and one line in `lints`.
package check

import (
	"fmt"
	"sort"
	"strings"

	"slipcase/engine"
	"slipcase/engine/geartrain"
	"slipcase/rules"
	"slipcase/rules/diag"
)

// Options say how far to go.
type Options struct {
	// RunExample works one example on its unit and gives the suspects, best
	// first, as "component/mode", and the root causes to settle, likeliest first; nil
	// leaves examples unrun.
	RunExample func(u *engine.Unit, e engine.Example) (ranked, causes []string, err error)
	// Known are the diagnostics that loading gave. What stands at the place of
	// one of these errors is not told a second time.
	Known []engine.Diagnostic
	// Part says that only some units are loaded: whether a rule is of use to
	// any unit cannot be told then.
	Part bool
}

// lint is one thing that is looked for. over says over what it goes.
type lint struct {
	name string
	run  func(*run)
	over over
}

type over uint8

const (
	everything over = iota
	soundUnit       // the units, each by itself, that were read without an error: what follows from one is not told again
)

// lints lists them all; testdata has a case for each, by its name.
var lints = []lint{
	{"source-and-victim", sourceAndVictim, everything},
	{"idle-cause", idleCauses, everything},
	{"idle-mode", idleModes, everything},
	{"idle-stress", idleStresses, everything},
	{"width", width, everything},
	{"idle-finding", idleFindings, everything},
	{"reporter", reporters, everything},
	{"check-minutes", checkMinutes, everything},
	{"check-caution", checkCautions, everything},
	{"choices", choices, everything},
	{"physics", physics, soundUnit},
	{"idle-element", idleElements, soundUnit},
	{"solenoids", solenoids, soundUnit},
	{"circuits", circuits, soundUnit},
	{"components", components, soundUnit},
	{"effects-served", effectsServed, soundUnit},
	{"step-order", stepOrder, soundUnit},
	{"step-minutes", stepMinutes, soundUnit},
	{"step-caution", stepCautions, soundUnit},
	{"exposed-once", exposedOnce, soundUnit},
	{"limits", limits, soundUnit},
	{"examples", examples, everything},
}

// run is the state of one Run.
type run struct {
	k        *engine.Knowledge
	opt      Options
	found    []engine.Diagnostic
	known    map[engine.Range]bool
	kinds    map[string]*engine.Kind
	modes    map[string]*engine.Mode
	modesOf  map[string][]*engine.Mode // kind -> its modes
	machines map[string]*geartrain.Machine
}

// Run goes over the knowledge. The diagnostics come sorted by file and place.
func Run(k *engine.Knowledge, opt Options) []engine.Diagnostic {
	r := newRun(k, opt)
	for _, l := range lints {
		if l.over == everything {
			l.run(r)
			continue
		}
		all := k.Units
		for _, u := range all {
			if r.broken(u) {
				continue
			}
			from := len(r.found)
			own := *k
			own.Units = []*engine.Unit{u}
			r.k = &own
			l.run(r)
			if u.Like != nil {
				moved := rules.AtOwnLines(u, r.found[from:])
				r.found = r.found[:from:from]
				for _, d := range moved {
					r.add(d)
				}
			}
		}
		r.k = k
	}
	return diag.Sort(r.found)
}

// broken tells whether loading found an error in a unit's file.
func (r *run) broken(u *engine.Unit) bool {
	for at := range r.known {
		if at.File == u.At.File || at.File == rules.MadeFile(u.ID) {
			return true
		}
	}
	return false
}

// newRun looks up what the checks ask for again and again.
func newRun(k *engine.Knowledge, opt Options) *run {
	r := &run{k: k, opt: opt, known: map[engine.Range]bool{}, kinds: map[string]*engine.Kind{}, modes: map[string]*engine.Mode{},
		modesOf: map[string][]*engine.Mode{}, machines: map[string]*geartrain.Machine{}}
	for _, d := range opt.Known {
		if d.Severity == engine.Error {
			r.known[d.Subject] = true
		}
	}
	for i := range k.Kinds {
		r.kinds[k.Kinds[i].Name] = &k.Kinds[i]
	}
	for i := range k.Modes {
		m := &k.Modes[i]
		r.modes[m.Name] = m
		for _, kind := range m.Of {
			r.modesOf[kind] = append(r.modesOf[kind], m)
		}
	}
	return r
}

func (r *run) error(at engine.Range, summary, detail string) {
	r.tell(engine.Error, at, summary, detail)
}

func (r *run) warn(at engine.Range, summary, detail string) {
	r.tell(engine.Warning, at, summary, detail)
}

func (r *run) tell(s engine.Severity, at engine.Range, summary, detail string) {
	r.add(engine.Diagnostic{Severity: s, Summary: summary, Detail: detail, Subject: at})
}

func (r *run) add(d engine.Diagnostic) {
	if r.known[d.Subject] {
		return
	}
	r.found = append(r.found, d)
}

// names joins names for a message, few of them.
func names(list []string) string {
	const most = 12
	if len(list) > most {
		return strings.Join(list[:most], ", ") + fmt.Sprintf(" and %d more", len(list)-most)
	}
	return strings.Join(list, ", ")
}

func sorted[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for s := range m {
		out = append(out, s)
	}
	sort.Strings(out)
	return out
}
