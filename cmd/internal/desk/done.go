package desk

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/engine"
)

// DoneInput is teardown steps that were done, with what was measured.
type DoneInput struct {
	Steps    []string
	Measures []string // name=value
	Note     string
}

// Done ticks off steps, and keeps what was measured at them.
func (d *Desk) Done(ref JobRef, in DoneInput) (Answer, error) {
	j, err := d.forWriting(ref)
	if err != nil {
		return Answer{}, err
	}
	defer j.close()
	w := j.w
	var known []string
	for _, s := range w.m.Unit.Steps {
		known = append(known, s.Name)
	}
	var diags []engine.Diagnostic
	var steps []*engine.Step
	for _, name := range in.Steps {
		s := w.m.Step(name)
		if s == nil {
			hint := nearestOr(name, known, "its steps are "+strings.Join(known, ", "))
			diags = append(diags, usage(fmt.Sprintf("unit %s has no step %q", w.m.Unit.ID, name), hint).Diagnostics...)
		} else if !slices.Contains(steps, s) {
			steps = append(steps, s)
		}
	}
	at := map[string][]engine.Reading{} // by step
	for _, m := range in.Measures {
		if !strings.Contains(m, "=") {
			diags = append(diags, usage(fmt.Sprintf("--measure %s has no value", m), "write name=value with its unit: input_end_play=0.62mm").Diagnostics...)
			continue
		}
		words := strings.Fields(m)
		r, used, err := w.takeReading(words, "")
		if err == nil && used < len(words) {
			err = usage(fmt.Sprintf("--measure %q: what is %q for?", m, words[used]), "one measure is name=value")
		}
		if err != nil {
			diags = append(diags, AsFailure(err).Diagnostics...)
			continue
		}
		if len(steps) > 0 {
			step := w.stepOf(r.Name, steps)
			at[step] = append(at[step], r)
		}
	}
	if len(diags) > 0 {
		return Answer{}, &Failure{Rules: w.k.Hash, Usage: true, Diagnostics: nothing(diags, len(in.Steps)+len(in.Measures))}
	}
	var out Written
	var bodies []engine.Body
	for _, s := range steps {
		if slices.Contains(j.c.Done, s.Name) && len(at[s.Name]) == 0 && in.Note == "" {
			out.Said = append(out.Said, title(s.Title, s.Name)+": ticked off already")
			continue
		}
		bodies = append(bodies, engine.StepDone{Step: s.Name, Readings: at[s.Name], Note: in.Note})
	}
	out.Said = append(out.Said, w.inView(steps, j.c.Seen)...)
	missing := w.earlier(steps, append(slices.Clone(j.c.Done), in.Steps...))
	ans, err := j.write(out, bodies...)
	if err == nil && len(missing) > 0 {
		ans.Warnings = append(ans.Warnings, warning("earlier steps are not ticked off: "+strings.Join(missing, ", "),
			"tick them off too, so that plan and minutes are right: slipcase done "+strings.Join(missing, " ")))
	}
	return ans, err
}

// stepOf is the step to which a measure belongs: the one that its limit names,
// or the last.
func (w *work) stepOf(limit string, steps []*engine.Step) string {
	for _, l := range w.m.Unit.Limits {
		if l.Name != limit {
			continue
		}
		for _, s := range steps {
			if s.Name == l.Step {
				return s.Name
			}
		}
	}
	return steps[len(steps)-1].Name
}

// inView says what the steps bring into view that nobody has looked at yet,
// and what to look for.
func (w *work) inView(steps []*engine.Step, seen []engine.Seen) []string {
	var out []string
	for _, s := range steps {
		var names []string
		for _, c := range s.Exposes {
			if !slices.ContainsFunc(seen, func(x engine.Seen) bool { return x.Component == c }) {
				names = append(names, c)
			}
		}
		if len(names) > 0 {
			out = append(out, "now in view: "+strings.Join(names, ", ")+"; say what they are like with slipcase found, or slipcase clear")
		}
		for _, l := range s.Look {
			out = append(out, "look: "+l)
		}
	}
	return out
}

// earlier lists the steps that must come before and are not done, in order.
func (w *work) earlier(steps []*engine.Step, done []string) []string {
	need := map[string]bool{}
	var visit func(name string)
	visit = func(name string) {
		if need[name] || slices.Contains(done, name) {
			return
		}
		need[name] = true
		if s := w.m.Step(name); s != nil {
			for _, a := range s.After {
				visit(a)
			}
		}
	}
	for _, s := range steps {
		for _, a := range s.After {
			visit(a)
		}
	}
	var out []string
	for _, s := range w.m.Unit.Steps {
		if need[s.Name] {
			out = append(out, s.Name)
		}
	}
	return out
}

// StepWords lists the steps not yet done, for completion.
func (d *Desk) StepWords(ref CaseRef) []Word {
	w, err := d.open(ref)
	if err != nil {
		return nil
	}
	var out []Word
	for _, s := range w.m.Unit.Steps {
		if !slices.Contains(w.c.Done, s.Name) {
			out = append(out, Word{s.Name, title(s.Title, s.Name)})
		}
	}
	return out
}
