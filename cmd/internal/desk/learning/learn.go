package learning

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/books"
	"slipcase/cmd/internal/desk/shown"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/load"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/fold"
	"slipcase/engine/model"
	"slipcase/engine/network"
	"slipcase/engine/refine"
	"slipcase/engine/refine/rulepath"
	"slipcase/knowledge"
	"slipcase/rules"
	"slipcase/rules/diag"
	"slipcase/rules/edit"
)

// LearnInput says what to learn from, and whether to write it.
type LearnInput struct {
	Unit  string // only cases of this unit; "" for all
	Apply bool   // write to the shop's rules
	All   bool   // give every number and case, not only those worth a screen
	// Anyway writes new numbers that do worse than the old on cases held out.
	Anyway bool
	// Progress is told how far the work is; nil for none.
	Progress func(part string, done, of int)
}

// Learned is what the confirmed cases say about the numbers of the rules.
type Learned struct {
	State    string         `json:"state"` // "proposed", "applied", "undone"
	Sentence string         `json:"sentence"`
	Book     string         `json:"book"`
	Unit     string         `json:"unit"`      // "" for every unit
	InBook   int            `json:"in_book"`   // cases read
	Cases    int            `json:"confirmed"` // cases learned from
	Changes  []LearnChange  `json:"changes"`   // those that move most first
	More     int            `json:"more"`      // numbers that move less than those
	Kept     []LearnKept    `json:"kept"`      // in order of the rules; examples of rivals where not all are asked for
	MoreKept int            `json:"more_kept"` // others that stay
	Reasons  []LearnReason  `json:"reasons"`   // how many were kept for each reason
	Skipped  []LearnSkipped `json:"skipped"`   // by reason
	Cut      bool           `json:"cut"`       // the estimate ended at its limit: the numbers would still move
	HeldOut  *LearnHeldOut  `json:"held_out"`  // null where no case could be held out
	// How much of what had failed, and of the root causes, this shop seems to
	// note; estimated with the numbers. 0 where that was not asked.
	NotesFailed answer.Num  `json:"notes_failed"`
	NotesCauses answer.Num  `json:"notes_causes"`
	Shop        string      `json:"shop"`
	Files       []LearnFile `json:"files"` // written; none of a proposal
}

// LearnNumber names a number of the rules.
type LearnNumber struct {
	Path  string `json:"path"`  // as messages and the journal name it
	Words string `json:"words"` // what it says
	File  string `json:"file"`  // where it stands
	Line  int    `json:"line"`
	Basis string `json:"basis"` // of the number as it stands
}

// LearnChange is a number that the cases move.
type LearnChange struct {
	LearnNumber
	Old        answer.Num `json:"old"`
	New        answer.Num `json:"new"`
	Text       string     `json:"text"` // New as it is written to a file
	Low        answer.Num `json:"low"`  // the 90% interval
	High       answer.Num `json:"high"`
	Cases      answer.Num `json:"cases"`       // behind it: effective number of fully observed cases
	Prior      answer.Num `json:"prior"`       // before anything was learned
	PriorBasis string     `json:"prior_basis"` // of Prior
}

// LearnKept is a number that stays.
type LearnKept struct {
	LearnNumber
	Value  answer.Num `json:"value"`
	Why    string     `json:"why"` // one of the reasons
	Reason string     `json:"reason"`
	Rival  string     `json:"rival"` // words of the number that it cannot be told from; "" for none
	Cases  answer.Num `json:"cases"`
}

// LearnReason counts what was kept for one reason.
type LearnReason struct {
	Why   string `json:"why"`
	Count int    `json:"count"`
}

// LearnSkipped are cases that were not learned from, for one reason.
type LearnSkipped struct {
	Reason string   `json:"reason"`
	Cases  []string `json:"cases"`
	More   int      `json:"more"` // cases behind those shown
}

// LearnHeldOut compares the rules before and after, on cases that they were
// not learned from.
type LearnHeldOut struct {
	Cases    int        `json:"cases"`
	Culprits int        `json:"culprits"` // of them, with a part found failed
	Parts    int        `json:"parts"`    // held out in turn
	Before   LearnScore `json:"before"`
	After    LearnScore `json:"after"`
	Gain     answer.Num `json:"gain"`       // of the log score, per case
	Error    answer.Num `json:"gain_error"` // its standard error
}

// LearnScore says how well rules foretell what was found.
type LearnScore struct {
	Log   answer.Num `json:"log"`   // nat per case; higher is better
	Brier answer.Num `json:"brier"` // per case; lower is better
	Top1  answer.Num `json:"top1"`
	Top3  answer.Num `json:"top3"`
}

// LearnFile is a file of the shop's rules that was written.
type LearnFile struct {
	File  string `json:"file"`
	State string `json:"state"` // "changed", "new", "restored", "removed"
}

// learnReasons are the reasons in the order in which they are told.
var learnReasons = []refine.Why{refine.NoCase, refine.TooFew, refine.Unseen, refine.NotIdentifiable, refine.OneSided, refine.Confirmed, refine.Allowed, refine.Chance}

// Learn proposes numbers for the rules from the confirmed cases of the
// casebook, and with Apply writes them to the shop's own rules. Fails with Rules
// for errors in rule files, with Unavailable or Damaged as the casebook and the
// shop's folder are, with Canceled.
func (d *Learning) Learn(ctx context.Context, in LearnInput) (answer.Answer[Learned], error) {
	x, err := d.load.Load(ctx, in.Unit)
	if err != nil {
		return answer.Answer[Learned]{}, err
	}
	k := x.Knowledge
	wrong := func(err error) (answer.Answer[Learned], error) {
		return answer.Answer[Learned]{}, fault.Under(k, err)
	}
	out := Learned{State: "proposed", Book: d.books.Name(), Unit: in.Unit, Shop: d.load.Shop(), Changes: []LearnChange{}, Kept: []LearnKept{},
		Reasons: []LearnReason{}, Skipped: []LearnSkipped{}, Files: []LearnFile{}}
	models, byUnit, err := learnModels(ctx, x)
	if err != nil {
		return wrong(err)
	}
	cases, warn, err := d.learnCases(ctx, in, &out, k, byUnit)
	if err != nil {
		return wrong(err)
	}
	ans := answer.Answer[Learned]{Rules: k.Hash, Diagnostics: answer.Messages(x.Diagnostics), Warnings: warn}
	p, err := d.propose(ctx, in, k, models, cases)
	if err != nil {
		return wrong(err)
	}
	settled(p, k)
	d.told(&out, k, p)
	if in.Apply && len(p.Changes) > 0 {
		note, err := applied(&out, in.Anyway)
		if err == nil {
			err = d.apply(&out, p, note)
		}
		if err != nil {
			return wrong(err)
		}
	}
	out.Sentence = wording.Learned(wording.LearnedCounts{Book: out.Book, Unit: out.Unit, Cases: out.Cases, Changes: len(out.Changes), Kept: len(out.Kept), Agree: out.agree(), Applied: out.State == "applied"})
	ans.Warnings = append(ans.Warnings, doubts(&out)...)
	if p.Cases > 0 {
		ans.Method = wording.LearnedBy(p.Cases)
	}
	if !in.All {
		out = out.Shown()
	}
	ans.Data = out
	return ans, nil
}

// Shown is what is shown of an answer where not all is asked for.
func (x Learned) Shown() Learned {
	x.Changes, x.More = shown.First(x.Changes, shown.MostLearned)
	var rivals []LearnKept
	for _, k := range x.Kept {
		if k.Rival != "" {
			rivals = append(rivals, k)
		}
	}
	all := len(x.Kept)
	rivals, _ = shown.First(rivals, shown.MostKept)
	x.Kept = append([]LearnKept{}, rivals...)
	x.MoreKept = all - len(x.Kept)
	x.Skipped = slices.Clone(x.Skipped)
	for i := range x.Skipped {
		x.Skipped[i].Cases, x.Skipped[i].More = shown.First(x.Skipped[i].Cases, shown.MostKept)
	}
	return x
}

func learnModels(ctx context.Context, x *load.Loaded) (list []*model.Model, byUnit map[string]*model.Model, err error) {
	byUnit = map[string]*model.Model{}
	for _, u := range x.Knowledge.Units {
		if err := ctx.Err(); err != nil {
			return nil, nil, answer.AsFailure(err)
		}
		m, err := x.Model(u.ID)
		if err != nil {
			return nil, nil, err
		}
		list, byUnit[u.ID] = append(list, m), m
	}
	return list, byUnit, nil
}

// learnCases reads the cases as they now stand. What a report or reading names
// that today's rules do not know any more is left out, and said; a case whose
// find or cause is not known stays whole, and the learning passes it over.
func (d *Learning) learnCases(ctx context.Context, in LearnInput, out *Learned, k *engine.Knowledge, models map[string]*model.Model) ([]refine.Case, []answer.Message, error) {
	book, err := d.books.Open(ctx, false)
	if errors.Is(err, fs.ErrNotExist) && d.books.Own() {
		return nil, nil, nil // none was asked for, and there is none yet
	}
	if err != nil {
		return nil, nil, err
	}
	defer book.Close()
	var cases []refine.Case
	var warn []answer.Message
	err = book.Each(ctx, in.Unit, func(rec engine.CaseRecord, of int) error {
		c, err := fold.Fold(rec)
		if err != nil {
			return books.Unreadable(err)
		}
		one := refine.Case{ID: c.ID, File: c.CaseFile, Outcome: c.Status, ComeBackOf: c.Earlier()}
		if m := models[c.Unit]; m != nil {
			warn = append(warn, today(&one.File, k, m)...)
		}
		cases = append(cases, one)
		if in.Progress != nil {
			in.Progress("casebook", len(cases), of)
		}
		return nil
	})
	if err != nil {
		return nil, nil, d.books.Failure(err)
	}
	out.InBook = len(cases)
	if more := len(warn) - shown.MostLeftOut; more > 0 {
		warn = append(warn[:shown.MostLeftOut], fault.Warning(wording.MoreLeftOut(more)))
	}
	return cases, warn, nil
}

// today gives the names of a case as today's rules have them.
func today(c *engine.CaseFile, k *engine.Knowledge, m *model.Model) []answer.Message {
	if !diag.HasErrors(asking.Amiss(k, m, c)) {
		return nil
	}
	w := asking.Work{Knowledge: k, Model: m, Case: c}
	warn := w.LeaveOut()
	if len(w.Case.Seen) != len(c.Seen) || len(w.Case.Settled) != len(c.Settled) {
		return nil
	}
	*c = *w.Case
	for i := range warn {
		warn[i].Summary = wording.InCase(c.ID, warn[i].Summary)
	}
	return warn
}

func (d *Learning) propose(ctx context.Context, in LearnInput, k *engine.Knowledge, models []*model.Model, cases []refine.Case) (*refine.Proposal, error) {
	kept, err := edit.Origins(d.load.Shop(), k)
	if err != nil {
		return nil, editFailure(err)
	}
	origins := make(map[string]refine.Origin, len(kept))
	for name, o := range kept {
		origins[name] = refine.Origin(o)
	}
	var last refine.Progress
	p, err := refine.Propose(ctx, models, cases, refine.Options{Origins: origins, HeardOnly: true, Progress: func(p refine.Progress) {
		if p.Phase != last.Phase || p.Iteration != last.Iteration {
			// The value is that of the step before, and is none at the first.
			if math.IsNaN(p.LogPosterior) || math.IsInf(p.LogPosterior, 0) {
				d.log.Debug("learning", "part", p.Phase, "step", p.Iteration, "cases", p.Total)
			} else {
				d.log.Debug("learning", "part", p.Phase, "step", p.Iteration, "cases", p.Total, "log_posterior", fmt.Sprintf("%.3f", p.LogPosterior))
			}
		}
		last = p
		if in.Progress != nil {
			part := p.Phase
			if p.Iteration > 0 { // 0: asking about what was held out
				part += wording.AtStep(p.Iteration)
			}
			in.Progress(part, p.Done, p.Total)
		}
	}})
	switch {
	case errors.Is(err, refine.ErrWork):
		return nil, fault.Fail(answer.TooWide, wording.LearningTooWide()).Because(err)
	case errors.Is(err, network.ErrWide):
		return nil, fault.Fail(answer.TooWide, wording.TooWideToLearn()).Because(err)
	}
	return p, err
}

// settled moves to what stays the numbers whose new value is, as it would be
// written, the old one.
func settled(p *refine.Proposal, k *engine.Knowledge) {
	p.Changes = slices.DeleteFunc(p.Changes, func(c refine.Change) bool {
		same := c.New == c.Old.Value
		if same {
			p.Kept = append(p.Kept, refine.Kept{Path: c.Path, Number: c.Old, Why: refine.Confirmed, Cases: c.Cases})
		}
		return same
	})
	place, n := map[string]int{}, 0
	rulepath.Walk(k, func(path rulepath.Path, _ *engine.Number) { n++; place[path.String()] = n })
	sort.SliceStable(p.Kept, func(i, j int) bool { return place[p.Kept[i].Path.String()] < place[p.Kept[j].Path.String()] })
}

// told turns a proposal into plain data.
func (d *Learning) told(out *Learned, k *engine.Knowledge, p *refine.Proposal) {
	out.Cases, out.Cut = p.Cases, p.Cut
	n := wording.NewNumbers(k)
	for _, c := range p.Changes {
		out.Changes = append(out.Changes, LearnChange{
			LearnNumber: learnNumber(n, c.Path, c.Old), Old: answer.Num(c.Old.Value), New: answer.Num(c.New), Text: c.Text, Low: answer.Num(c.Low), High: answer.Num(c.High),
			Cases: answer.Num(c.Cases), Prior: answer.Num(c.Prior.Value), PriorBasis: string(c.Prior.Kind),
		})
	}
	far := func(c *LearnChange) float64 { return math.Abs(logOdds(float64(c.New)) - logOdds(float64(c.Old))) }
	sort.SliceStable(out.Changes, func(i, j int) bool { return far(&out.Changes[i]) > far(&out.Changes[j]) })
	counts := map[refine.Why]int{}
	for _, x := range p.Kept {
		one := LearnKept{LearnNumber: learnNumber(n, x.Path, x.Number), Value: answer.Num(x.Number.Value), Why: string(x.Why), Cases: answer.Num(x.Cases)}
		if x.Rival != nil {
			one.Rival = n.Words(*x.Rival)
		}
		one.Reason = wording.Kept(x, one.Rival)
		counts[x.Why]++
		out.Kept = append(out.Kept, one)
	}
	for _, w := range learnReasons {
		if counts[w] > 0 {
			out.Reasons = append(out.Reasons, LearnReason{string(w), counts[w]})
		}
	}
	out.NotesFailed, out.NotesCauses = answer.Num(p.Found), answer.Num(p.Settled)
	for _, s := range p.Skipped {
		reason := wording.Skipped(s)
		i := slices.IndexFunc(out.Skipped, func(x LearnSkipped) bool { return x.Reason == reason })
		if i < 0 {
			i = len(out.Skipped)
			out.Skipped = append(out.Skipped, LearnSkipped{Reason: reason})
		}
		out.Skipped[i].Cases = append(out.Skipped[i].Cases, s.ID)
	}
	if h := p.HeldOut; h != nil && h.Cases > 0 {
		score := func(s refine.Score) LearnScore {
			return LearnScore{answer.Num(s.Log), answer.Num(s.Brier), answer.Num(s.Top1), answer.Num(s.Top3)}
		}
		out.HeldOut = &LearnHeldOut{h.Cases, h.Culprits, h.Folds, score(h.Before), score(h.After), answer.Num(h.Gain), answer.Num(h.Error)}
	}
}

func logOdds(p float64) float64 { return math.Log(p / (1 - p)) }

// agree counts the numbers that stay because the cases agree with them.
func (out *Learned) agree() int {
	n := 0
	for _, r := range out.Reasons {
		if r.Why == string(refine.Confirmed) || r.Why == string(refine.Allowed) || r.Why == string(refine.Chance) {
			n += r.Count
		}
	}
	return n
}

func learnNumber(n *wording.Numbers, p rulepath.Path, x engine.Number) LearnNumber {
	out := LearnNumber{Path: p.String(), Words: n.Words(p), File: x.At.File, Line: x.At.Line}
	if x.Basis != nil {
		out.Basis = string(x.Basis.Kind)
	}
	return out
}

// doubts are the warnings that go with a proposal.
func doubts(out *Learned) []answer.Message {
	var list []answer.Message
	if out.Cases == 0 {
		return nil
	}
	if out.Cases < shown.FewCases {
		list = append(list, fault.Warning(wording.FewCases(out.Cases, shown.FewCases)))
	}
	if out.Cut {
		list = append(list, fault.Warning(wording.StillMoving()))
	}
	if len(out.Changes) == 0 {
		return list
	}
	switch h := out.HeldOut; {
	case h == nil:
		list = append(list, fault.Warning(wording.Untried()))
	case h.Gain < 0:
		list = append(list, fault.Warning(wording.DoWorse()))
	case !(h.Gain >= 2*h.Error):
		list = append(list, fault.Warning(wording.WithinChance()))
	}
	return list
}

// applied is the note that goes with numbers that are written, or why they are
// not: new numbers that do worse on cases that they were not learned from are
// written only when the asker says so, and that stays beside them.
func applied(out *Learned, anyway bool) (note string, err error) {
	h := out.HeldOut
	worse := h != nil && h.Gain < 0
	if worse && !anyway {
		return "", fault.Conflict(wording.WorseNotWritten(float64(h.Gain), float64(h.Error), h.Cases), answer.Do(answer.ApplyWorse))
	}
	return wording.LearnedFrom(out.Cases, worse), nil
}

// apply writes a proposal to the shop's own rules.
func (d *Learning) apply(out *Learned, p *refine.Proposal, note string) error {
	changes := make([]edit.Change, len(p.Changes))
	for i, c := range p.Changes {
		changes[i] = edit.Change{Path: c.Path, Text: c.Text, Cases: int(math.Max(1, math.Round(c.Cases))), Note: note, Was: edit.Origin(c.Prior)}
	}
	files, err := edit.Apply(d.load.Shop(), []rules.Layer{{Name: load.BuiltIn, FS: knowledge.FS}}, changes)
	if err != nil {
		return editFailure(err, answer.Do(answer.UndoLearned))
	}
	out.State = "applied"
	for _, f := range files {
		state := "changed"
		if f.Before == nil {
			state = "new"
		}
		out.Files = append(out.Files, LearnFile{d.inShop(f.Path), state})
	}
	return nil
}

func (d *Learning) inShop(path string) string {
	return filepath.Join(d.load.Shop(), filepath.FromSlash(path))
}

// LearnUndo takes the last apply back, byte for byte. Fails with Conflict where
// there is none, with Unavailable where files cannot be written.
func (d *Learning) LearnUndo(ctx context.Context) (answer.Answer[Learned], error) {
	restored, err := edit.Undo(d.load.Shop())
	if errors.Is(err, edit.ErrNothingToUndo) {
		return answer.Answer[Learned]{}, fault.Conflict(wording.NothingApplied(d.load.Shop()), answer.Do(answer.ApplyLearned))
	}
	if err != nil {
		return answer.Answer[Learned]{}, editFailure(err, answer.Do(answer.UndoLearnedAgain))
	}
	out := Learned{State: "undone", Book: d.books.Name(), Shop: d.load.Shop(), Changes: []LearnChange{}, Kept: []LearnKept{},
		Reasons: []LearnReason{}, Skipped: []LearnSkipped{}, Files: []LearnFile{}}
	for _, f := range restored {
		state := "restored"
		if _, err := os.Lstat(d.inShop(f)); errors.Is(err, fs.ErrNotExist) {
			state = "removed"
		}
		out.Files = append(out.Files, LearnFile{d.inShop(f), state})
	}
	out.Sentence = wording.Unlearned(len(restored))
	return answer.Answer[Learned]{Data: out}, nil
}

// editFailure tells what is wrong with the shop's files, at its place where
// there is one.
func editFailure(err error, hints ...answer.Hint) error {
	var at engine.Diagnostic
	if errors.As(err, &at) {
		return &answer.Failure{Code: answer.Rules, Messages: answer.Messages([]engine.Diagnostic{at}), Err: err}
	}
	return answer.Fail(answer.Unavailable, strings.TrimPrefix(err.Error(), "edit: "), "", hints...).Because(err)
}
