package desk

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/teardown"
	"slipcase/rules"
)

// FoundInput is a part that was found failed.
type FoundInput struct {
	Component, Mode, Cause, Note, Photo string
}

// Found confirms that a component has failed, and how.
func (d *Desk) Found(ref JobRef, in FoundInput) (Answer, error) {
	j, err := d.forWriting(ref)
	if err != nil {
		return Answer{}, err
	}
	defer j.close()
	if _, err := j.w.find(in.Component + "/" + in.Mode); err != nil {
		return Answer{}, err
	}
	if in.Cause != "" {
		if err := j.w.rootCause(in.Cause); err != nil {
			return Answer{}, err
		}
	}
	var out Written
	for _, o := range j.c.Seen {
		switch {
		case o.Component != in.Component:
		case o.Cleared:
			out.Said = append(out.Said, fmt.Sprintf("replaces: it was cleared (entry %d)", o.Seq))
		case o.Mode == in.Mode:
			out.Said = append(out.Said, fmt.Sprintf("replaces: it was found so already (entry %d)", o.Seq))
		}
	}
	ans, err := j.write(out, engine.Seen{Component: in.Component, Mode: in.Mode, Cause: in.Cause, Note: in.Note, Photo: in.Photo})
	if err != nil {
		return Answer{}, err
	}
	if in.Photo != "" {
		if _, err := os.Stat(in.Photo); errors.Is(err, fs.ErrNotExist) {
			ans.Warnings = append(ans.Warnings, warning("there is no file "+in.Photo+" from here", "the path is kept as given"))
		}
	}
	ans.Warnings = append(ans.Warnings, j.unsettled(in.Component)...)
	return ans, nil
}

func warning(summary, detail string) engine.Diagnostic {
	return engine.Diagnostic{Severity: engine.Warning, Summary: summary, Detail: detail}
}

// rootCause refuses a name that is no root cause.
func (w *work) rootCause(name string) error {
	var known []string
	for _, c := range w.k.Causes {
		known = append(known, c.Name)
	}
	return oneOf("root cause", name, known)
}

// unsettled warns of what was found and why it failed is not settled, of the
// components named or of all: a new part in an old trouble comes back.
func (j *job) unsettled(components ...string) []engine.Diagnostic {
	var open []teardown.Confirmed
	for _, f := range teardown.Found(j.w.m, j.w.c) {
		if f.Open() && (len(components) == 0 || slices.Contains(components, f.Component.Name)) {
			open = append(open, f)
		}
	}
	if len(open) == 0 {
		return nil
	}
	r, diags, err := diagnose.Read(j.w.m, j.w.c)
	if err != nil || rules.HasErrors(diags) {
		return nil // told already
	}
	const most = 3
	var likely, how []string
	causes := teardown.OpenCauses(j.w.m, j.w.c, r, open)
	for _, o := range causes[:min(most, len(causes))] {
		text := fmt.Sprintf("%s [%s] %s", title(o.Title, o.Name), o.Name, wording.Percent(o.P))
		var by []string
		for _, c := range o.SettledBy {
			by = append(by, title(c.Title, c.Name))
		}
		if o.Step != nil {
			by = append(by, title(o.Step.Title, o.Step.Name))
		}
		if len(by) > 0 {
			text += " (settled by: " + strings.Join(by, ", ") + ")"
		}
		likely = append(likely, text)
		say := "slipcase settle CAUSE yes or no"
		if strings.Contains(o.Name, "/") {
			say = "of a part, slipcase found or clear"
		}
		if !slices.Contains(how, say) {
			how = append(how, say)
		}
	}
	return []engine.Diagnostic{warning(clause(wording.Unsettled(open)),
		"likeliest: "+strings.Join(likely, "; ")+"; say which with "+strings.Join(how, "; "))}
}

// clause is a sentence as a diagnostic puts it: without capital and full stop.
func clause(sentence string) string {
	if sentence == "" {
		return ""
	}
	return strings.ToLower(sentence[:1]) + strings.TrimSuffix(sentence[1:], ".")
}

// Clear says that components were looked at and are good.
func (d *Desk) Clear(ref JobRef, components []string, note string) (Answer, error) {
	j, err := d.forWriting(ref)
	if err != nil {
		return Answer{}, err
	}
	defer j.close()
	var out Written
	var bodies []engine.Body
	var diags []engine.Diagnostic
	for i, name := range components {
		if _, err := j.w.find(name); err != nil || strings.Contains(name, "/") {
			if err == nil {
				err = usage(fmt.Sprintf("%s names one way to fail", name), "a component is cleared as a whole: slipcase clear "+strings.SplitN(name, "/", 2)[0])
			}
			diags = append(diags, AsFailure(err).Diagnostics...)
			continue
		}
		if slices.Contains(components[:i], name) {
			continue
		}
		again := false
		for _, o := range j.c.Seen {
			switch {
			case o.Component != name:
			case o.Cleared:
				again = true
				out.Said = append(out.Said, fmt.Sprintf("%s: cleared already (entry %d)", componentTitle(j.w.m, name), o.Seq))
			default:
				out.Said = append(out.Said, fmt.Sprintf("replaces: %s (entry %d)", suspectTitle(j.w.m, o.Component, o.Mode), o.Seq))
			}
		}
		if !again {
			bodies = append(bodies, engine.Seen{Component: name, Cleared: true, Note: note})
		}
	}
	if len(diags) > 0 {
		return Answer{}, &Failure{Rules: j.w.k.Hash, Usage: true, Diagnostics: nothing(diags, len(components))}
	}
	return j.write(out, bodies...)
}

// nothing ends a list of refusals: nothing of the command was written.
func nothing(diags []engine.Diagnostic, items int) []engine.Diagnostic {
	if items < 2 {
		return diags
	}
	return append(diags, engine.Diagnostic{Severity: engine.Error, Summary: "nothing was written", Detail: "set it right and say all of it again"})
}

// CauseAnswer is a root cause that was settled.
type CauseAnswer struct {
	Cause   string
	Present bool
}

// Settle says of root causes whether they were so.
func (d *Desk) Settle(ref JobRef, answers []CauseAnswer) (Answer, error) {
	j, err := d.forWriting(ref)
	if err != nil {
		return Answer{}, err
	}
	defer j.close()
	var out Written
	var bodies []engine.Body
	var diags []engine.Diagnostic
	for _, a := range answers {
		if err := j.w.rootCause(a.Cause); err != nil {
			diags = append(diags, AsFailure(err).Diagnostics...)
			continue
		}
		again := false
		for _, o := range j.c.Settled {
			if o.Cause != a.Cause {
				continue
			}
			again = o.Present == a.Present
			word := "replaces"
			if again {
				word = "settled already"
			}
			out.Said = append(out.Said, fmt.Sprintf("%s: %s: %s (entry %d)", causeTitle(j.w.m, a.Cause), word, yesNo(o.Present), o.Seq))
		}
		if !again {
			bodies = append(bodies, engine.SettledCause{Cause: a.Cause, Present: a.Present})
		}
		if a.Present {
			for _, c := range j.w.k.Causes {
				if c.Name == a.Cause && c.Advice != "" {
					out.Said = append(out.Said, "for the build: "+c.Advice)
				}
			}
		}
	}
	if len(diags) > 0 {
		return Answer{}, &Failure{Rules: j.w.k.Hash, Usage: true, Diagnostics: nothing(diags, len(answers))}
	}
	return j.write(out, bodies...)
}

// CauseWords lists the root causes, for completion.
func (d *Desk) CauseWords(ref CaseRef) []Word {
	w, err := d.open(ref)
	if err != nil {
		return nil
	}
	var out []Word
	for _, c := range w.k.Causes {
		out = append(out, Word{c.Name, title(c.Title, c.Name)})
	}
	return out
}
