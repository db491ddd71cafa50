package casework

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"slices"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/engine/teardown"
)

// FoundInput is what was found failed at once: the cause, note and photo are
// those of every part.
type FoundInput struct {
	Parts              []FoundPart
	Cause, Note, Photo string
}

// FoundPart is a part that was found failed, and how.
type FoundPart struct{ Component, Mode string }

// Found confirms that components have failed, and how: all of them, or none.
// Fails with NotFound for a case, component, mode or cause that is not there,
// with Conflict for a closed case.
func (d *Casework) Found(ctx context.Context, ref opened.Ref, in FoundInput) (answer.Answer[opened.Written], error) {
	j, err := d.forWriting(ctx, ref)
	if err != nil {
		return answer.Answer[opened.Written]{}, err
	}
	defer j.Close()
	var bad []answer.Message
	if in.Cause != "" {
		if err := j.w.rootCause(in.Cause); err != nil {
			bad = append(bad, fault.Messages(err)...)
		}
	}
	var components []string
	ans, err := j.several(bad, len(in.Parts), func(i int, out *opened.Written) (engine.Body, error) {
		p := in.Parts[i]
		if _, err := j.w.Find(p.Component + "/" + p.Mode); err != nil || slices.Contains(in.Parts[:i], p) {
			return nil, err
		}
		for _, o := range j.Case.Seen {
			switch {
			case o.Component != p.Component:
			case o.Cleared:
				out.Said = append(out.Said, opened.Say(wording.WasCleared(wording.ComponentOf(j.w.Model, p.Component), o.Seq)))
			case o.Mode == p.Mode:
				out.Said = append(out.Said, opened.Say(wording.WasFound(wording.SuspectOf(j.w.Model, p.Component, p.Mode), o.Seq)))
			}
		}
		components = append(components, p.Component)
		return engine.Seen{Component: p.Component, Mode: p.Mode, Cause: in.Cause, Note: in.Note, Photo: in.Photo}, nil
	})
	if err != nil {
		return answer.Answer[opened.Written]{}, err
	}
	if in.Photo != "" {
		if _, err := os.Stat(in.Photo); errors.Is(err, fs.ErrNotExist) {
			ans.Warnings = append(ans.Warnings, fault.Warning(wording.NoPhotoFile(in.Photo)))
		}
	}
	ans.Warnings = append(ans.Warnings, j.unsettled(components...)...)
	for _, f := range teardown.Found(j.w.Model, j.w.Case) {
		if parts := teardown.Soiled(j.w.Model, f); len(parts) > 0 && slices.Contains(components, f.Component.Name) {
			ans.Warnings = append(ans.Warnings, fault.Warning(wording.Soiled(f.Component, parts)))
		}
	}
	return ans, nil
}

// rootCause refuses a name that is no root cause.
func (w *work) rootCause(name string) error {
	var known []string
	for _, c := range w.Knowledge.Causes {
		known = append(known, c.Name)
	}
	return fault.OneOf(name, known, wording.NoRootCause)
}

// unsettled warns of what was found and why it failed is not settled, of the
// components named or of all: a new part in an old trouble comes back.
func (j *job) unsettled(components ...string) []answer.Message {
	var open []teardown.Confirmed
	for _, f := range teardown.Found(j.w.Model, j.w.Case) {
		if f.Open() && (len(components) == 0 || slices.Contains(components, f.Component.Name)) {
			open = append(open, f)
		}
	}
	if len(open) == 0 {
		return nil
	}
	r, diags, err := diagnose.Read(j.w.Model, j.w.Case)
	if err != nil || model.Refused(diags) {
		return nil // told already
	}
	const most = 3
	var likely, how []string
	causes := teardown.OpenCauses(j.w.Model, j.w.Case, r, open)
	for _, o := range causes[:min(most, len(causes))] {
		var by []string
		for _, c := range o.SettledBy {
			by = append(by, wording.Title(c.Title, c.Name))
		}
		if o.Step != nil {
			by = append(by, wording.Title(o.Step.Title, o.Step.Name))
		}
		likely = append(likely, wording.Open(wording.Title(o.Title, o.Name), o.Name, o.P, by))
		kind := "cause"
		if strings.Contains(o.Name, "/") {
			kind = "part"
		}
		if !slices.Contains(how, kind) {
			how = append(how, kind)
		}
	}
	return []answer.Message{answer.Warning(wording.Clause(wording.Unsettled(open)), wording.Likeliest(likely), answer.Do(answer.SayWhich, how...))}
}

// Clear says that components were looked at and are good. Fails as Found does;
// with WrongUse where one mode is named.
func (d *Casework) Clear(ctx context.Context, ref opened.Ref, components []string, note string) (answer.Answer[opened.Written], error) {
	j, err := d.forWriting(ctx, ref)
	if err != nil {
		return answer.Answer[opened.Written]{}, err
	}
	defer j.Close()
	return j.several(nil, len(components), func(i int, out *opened.Written) (engine.Body, error) {
		name := components[i]
		if _, err := j.w.Find(name); err != nil || slices.Contains(components[:i], name) {
			return nil, err
		}
		if component, _, one := strings.Cut(name, "/"); one {
			return nil, fault.WrongUse(wording.OneWayToFail(name), answer.Do(answer.ClearWhole, component))
		}
		again := false
		for _, o := range j.Case.Seen {
			switch {
			case o.Component != name:
			case o.Cleared:
				again = true
				out.Said = append(out.Said, opened.Say(wording.ClearedAlready(j.w.Model, name, o.Seq)))
			default:
				out.Said = append(out.Said, opened.Say(wording.ReplacesSeen(j.w.Model, o)))
			}
		}
		if again {
			return nil, nil
		}
		return engine.Seen{Component: name, Cleared: true, Note: note}, nil
	})
}

// several writes what each of some items adds, nil where it adds nothing; when
// one is refused, or something was before (bad), nothing is written.
func (j *job) several(bad []answer.Message, items int, add func(i int, out *opened.Written) (engine.Body, error)) (answer.Answer[opened.Written], error) {
	var out opened.Written
	var bodies []engine.Body
	for i := range items {
		switch body, err := add(i, &out); {
		case err != nil:
			bad = append(bad, fault.Messages(err)...)
		case body != nil:
			bodies = append(bodies, body)
		}
	}
	if len(bad) > 0 {
		return answer.Answer[opened.Written]{}, j.w.Refused(nothing(bad, items))
	}
	return j.Write(out, bodies...)
}

// nothing ends a list of refusals: nothing of the command was written.
func nothing(bad []answer.Message, items int) []answer.Message {
	if items < 2 {
		return bad
	}
	return append(bad, fault.Error(wording.NothingWritten()))
}

// Settle says of root causes whether they were so. Fails as Found does.
func (d *Casework) Settle(ctx context.Context, ref opened.Ref, answers []engine.SettledCause) (answer.Answer[opened.Written], error) {
	j, err := d.forWriting(ctx, ref)
	if err != nil {
		return answer.Answer[opened.Written]{}, err
	}
	defer j.Close()
	return j.several(nil, len(answers), func(i int, out *opened.Written) (engine.Body, error) {
		a := answers[i]
		if err := j.w.rootCause(a.Cause); err != nil {
			return nil, err
		}
		again := false
		for _, o := range j.Case.Settled {
			if o.Cause != a.Cause {
				continue
			}
			again = o.Present == a.Present
			out.Said = append(out.Said, opened.Say(wording.ReplacesSettled(j.w.Model, o, again)))
		}
		if a.Present {
			for _, c := range j.w.Knowledge.Causes {
				if c.Name == a.Cause && c.Advice != "" {
					out.Said = append(out.Said, opened.Say(wording.ForBuild(c.Advice)))
				}
			}
		}
		if again {
			return nil, nil
		}
		return engine.SettledCause{Cause: a.Cause, Present: a.Present}, nil
	})
}

// CauseWords lists the root causes, for completion.
func (d *Casework) CauseWords(ctx context.Context, ref asking.CaseRef) []asking.Word {
	w, err := d.open(ctx, ref)
	if err != nil {
		return nil
	}
	var out []asking.Word
	for _, c := range w.Knowledge.Causes {
		out = append(out, asking.Word{Name: c.Name, Title: wording.Title(c.Title, c.Name)})
	}
	return out
}
