package casework

import (
	"context"
	"slices"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/notation"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

// DoneInput is teardown steps that were done, with what was measured.
type DoneInput struct {
	Steps    []string
	Measures []notation.Item // readings
	Note     string
	Anyway   bool // pull the unit though looks were not taken that need it in the vehicle
}

// Done ticks off steps, and keeps what was measured at them. Fails with NotFound
// for a case that is not there, with Conflict for a closed one, with WrongUse
// for steps and measures that the unit has not, and with Conflict where a step
// pulls the unit and looks were not taken before that need it in the vehicle.
func (d *Casework) Done(ctx context.Context, ref opened.Ref, in DoneInput) (answer.Answer[opened.Written], error) {
	j, err := d.forWriting(ctx, ref)
	if err != nil {
		return answer.Answer[opened.Written]{}, err
	}
	defer j.Close()
	w := j.w
	var known []string
	for _, s := range w.Model.Unit.Steps {
		known = append(known, s.Name)
	}
	var bad []answer.Message
	var steps []*engine.Step
	for _, name := range in.Steps {
		s := w.Model.Step(name)
		if s == nil {
			bad = append(bad, fault.Error(wording.NoStep(w.Model.Unit.ID, name, known)))
		} else if !slices.Contains(steps, s) {
			steps = append(steps, s)
		}
	}
	at := map[string][]engine.Reading{} // by step
	for _, m := range in.Measures {
		if m.Wrong != nil {
			bad = append(bad, m.Wrong.Messages...)
			continue
		}
		r := *m.Reading
		if err := w.Admit(&r); err != nil {
			bad = append(bad, fault.Messages(err)...)
			continue
		}
		if len(steps) > 0 {
			step := w.stepOf(r.Name, steps)
			at[step] = append(at[step], r)
		}
	}
	if len(bad) > 0 {
		return answer.Answer[opened.Written]{}, w.Refused(nothing(bad, len(in.Steps)+len(in.Measures)))
	}
	if missed := w.Gate(steps, w.Case); len(missed) > 0 && !in.Anyway {
		missed = append(missed, fault.Error(wording.NothingWrittenYet(), answer.Do(answer.LookFirst, in.Steps...)))
		return answer.Answer[opened.Written]{}, &answer.Failure{Code: answer.Conflict, Rules: w.Knowledge.Hash, Messages: missed}
	}
	var out opened.Written
	var bodies []engine.Body
	for _, s := range steps {
		if slices.Contains(j.Case.Done, s.Name) && len(at[s.Name]) == 0 && in.Note == "" {
			out.Said = append(out.Said, opened.Say(wording.DoneAlready(s)))
			continue
		}
		bodies = append(bodies, engine.StepDone{Step: s.Name, Readings: at[s.Name], Note: in.Note})
	}
	out.Said = append(out.Said, w.inView(steps, j.Case.Seen)...)
	missing := w.earlier(steps, append(slices.Clone(j.Case.Done), in.Steps...))
	ans, err := j.Write(out, bodies...)
	if err == nil && len(missing) > 0 {
		ans.Warnings = append(ans.Warnings, fault.Warning(wording.StepsMissing(missing), answer.Do(answer.TickOff, missing...)))
	}
	return ans, err
}

// stepOf is the step to which a measure belongs: the one that its limit names,
// or the last.
func (w *work) stepOf(limit string, steps []*engine.Step) string {
	for _, l := range w.Model.Unit.Limits {
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
func (w *work) inView(steps []*engine.Step, seen []engine.Seen) []opened.Remark {
	var out []opened.Remark
	for _, s := range steps {
		var names []string
		for _, c := range s.Exposes {
			if !slices.ContainsFunc(seen, func(x engine.Seen) bool { return x.Component == c }) {
				names = append(names, c)
			}
		}
		if len(names) > 0 {
			out = append(out, opened.Say(wording.NowInView(names)).With(answer.Do(answer.JudgeParts)))
		}
		for _, l := range s.Look {
			out = append(out, opened.Say(wording.Look(l)))
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
		if s := w.Model.Step(name); s != nil {
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
	for _, s := range w.Model.Unit.Steps {
		if need[s.Name] {
			out = append(out, s.Name)
		}
	}
	return out
}

// StepWords lists the steps not yet done, for completion.
func (d *Casework) StepWords(ctx context.Context, ref asking.CaseRef) []asking.Word {
	w, err := d.open(ctx, ref)
	if err != nil {
		return nil
	}
	var out []asking.Word
	for _, s := range w.Model.Unit.Steps {
		if !slices.Contains(w.Case.Done, s.Name) {
			out = append(out, asking.Word{Name: s.Name, Title: wording.Title(s.Title, s.Name)})
		}
	}
	return out
}
