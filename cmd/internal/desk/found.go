package desk

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/diagnose"
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
	node, err := j.w.find(in.Component + "/" + in.Mode)
	if err != nil {
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
	ans.Warnings = append(ans.Warnings, j.unsettled(node)...)
	return ans, nil
}

func warning(summary, detail string) engine.Diagnostic {
	return engine.Diagnostic{Severity: engine.Warning, Summary: summary, Detail: detail}
}

// rootCause refuses a name that is no root cause.
func (w *work) rootCause(name string) error {
	var known []string
	for _, c := range w.k.Causes {
		if c.Name == name {
			return nil
		}
		known = append(known, c.Name)
	}
	hint := Nearest(name, known)
	if hint == "" {
		hint = "they are " + strings.Join(known, ", ")
	}
	return usage(fmt.Sprintf("there is no root cause %q", name), hint)
}

// unsettled warns that a fault found has no root cause settled, where the
// rules know any: a new part in an old trouble comes back.
func (j *job) unsettled(node int) []engine.Diagnostic {
	r, err := j.w.diagnose(diagnose.Options{Top: 1})
	if err != nil {
		return nil // told already
	}
	leads := j.w.leads(node, r)
	var open []LeadsTo
	for _, l := range leads {
		if l.Layer != "cause" {
			// Another part that was found failed explains this one.
			if j.foundFailed(l.Name) {
				return nil
			}
			continue
		}
		if present, settled := j.settled(l.Name); present {
			return nil
		} else if !settled {
			open = append(open, l)
		}
	}
	if len(open) == 0 {
		return nil
	}
	const most = 3
	var likely []string
	for _, l := range open[:min(most, len(open))] {
		text := fmt.Sprintf("%s [%s] %s", l.Title, l.Name, diagnose.Percent(float64(l.Probability)))
		if by := j.w.settledBy(l.Name); len(by) > 0 {
			text += " (settled by: " + strings.Join(by, ", ") + ")"
		}
		likely = append(likely, text)
	}
	return []engine.Diagnostic{warning(
		"no root cause is settled: what did this to "+j.w.m.Nodes[node].Component.Name+" will do it to the new part",
		"likeliest: "+strings.Join(likely, "; ")+"; say which with slipcase settle CAUSE yes or no",
	)}
}

func (w *work) settledBy(cause string) []string {
	var out []string
	for _, c := range w.k.Causes {
		if c.Name == cause {
			for _, name := range c.SettledBy {
				out = append(out, w.checkTitle(name))
			}
		}
	}
	return out
}

// settled tells whether a root cause is settled in the case, and how.
func (j *job) settled(cause string) (present, settled bool) {
	for _, s := range j.w.c.Settled {
		if s.Cause == cause {
			return s.Present, true
		}
	}
	for _, s := range j.w.c.Seen {
		if !s.Cleared && s.Cause == cause {
			return true, true
		}
	}
	return false, false
}

func (j *job) foundFailed(suspect string) bool {
	for _, s := range j.w.c.Seen {
		if !s.Cleared && s.Component+"/"+s.Mode == suspect {
			return true
		}
	}
	return false
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
