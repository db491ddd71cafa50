package casework

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/books"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/fold"
)

// Undo takes entries back: those named, or the last one that is in force and
// takes nothing back itself. To take back what took back is to have it again.
// A closed case may be undone too: most often its closing is meant. Fails with
// NotFound for a case that is not there, with Conflict where nothing is left to
// take back, with WrongUse for entries that cannot be.
func (d *Casework) Undo(ctx context.Context, ref opened.Ref, seqs []int64, reason string) (answer.Answer[opened.Written], error) {
	j, err := d.job(ctx, ref)
	if err != nil {
		return answer.Answer[opened.Written]{}, err
	}
	defer j.Close()
	entries := j.Rec.Entries
	force, err := fold.InForce(entries)
	if err != nil {
		return answer.Answer[opened.Written]{}, books.Unreadable(err)
	}
	if len(seqs) == 0 {
		for i := len(entries) - 1; i >= 0 && len(seqs) == 0; i-- {
			if _, back := entries[i].Body.(engine.Retraction); force[i] && !back {
				seqs = []int64{entries[i].Seq}
			}
		}
		if len(seqs) == 0 {
			return answer.Answer[opened.Written]{}, fault.Conflict(wording.NothingToUndo(j.Case.ID), answer.Do(answer.ShowCase, j.Case.ID))
		}
	}
	if err := j.model(); err != nil {
		return answer.Answer[opened.Written]{}, err
	}
	lines := j.Lines()
	var bad []answer.Message
	var bodies []engine.Body
	out := opened.Written{}
	for i, s := range seqs {
		switch {
		case slices.Contains(seqs[:i], s):
			continue
		case s < 1 || s > int64(len(entries)):
			bad = append(bad, fault.WrongUse(wording.NoEntry(j.Case.ID, s, len(entries)), answer.Do(answer.ShowCase, j.Case.ID)).Messages...)
		case !force[s-1]:
			by := lines[s-1].TakenBackBy
			bad = append(bad, fault.WrongUse(wording.UndoneAlready(s, by), answer.Do(answer.UndoEntry, fmt.Sprint(by))).Messages...)
		default:
			bodies = append(bodies, engine.Retraction{Of: s, Reason: reason})
			out.Said = append(out.Said, opened.Say(wording.Was(s, lines[s-1].Words)))
		}
	}
	if len(bad) > 0 {
		return answer.Answer[opened.Written]{}, j.w.Refused(nothing(bad, len(seqs)))
	}
	if len(seqs) == 1 {
		if first, last := j.batch(seqs[0]); first < last {
			out.Said = append(out.Said, opened.Say(wording.CameWithOthers()).With(answer.Do(answer.UndoRest, fmt.Sprint(first), fmt.Sprint(last))))
		}
	}
	ans, err := j.Write(out, bodies...)
	if err != nil {
		return answer.Answer[opened.Written]{}, err
	}
	var again []string
	for _, e := range ans.Data.Entries {
		again = append(again, fmt.Sprint(e.Seq))
	}
	ans.Data.Said = append(ans.Data.Said, opened.Remark{}.With(answer.Do(answer.HaveAgain, again...)))
	return ans, nil
}

// batch is the stretch of entries in force that were written by the same
// command as this one, itself left out.
func (j *job) batch(seq int64) (first, last int64) {
	prefix := func(e engine.Entry) string {
		i := strings.LastIndexByte(e.Key, '-')
		if i < 0 {
			return ""
		}
		return e.Key[:i]
	}
	key := prefix(j.Rec.Entries[seq-1])
	if key == "" {
		return 0, 0
	}
	force, err := fold.InForce(j.Rec.Entries)
	if err != nil {
		return 0, 0
	}
	for i, e := range j.Rec.Entries {
		if prefix(e) == key && force[i] && e.Seq != seq {
			if first == 0 {
				first = e.Seq
			}
			last = e.Seq
		}
	}
	// Only a stretch that holds nothing else can be named as one.
	for i := first; i <= last && first > 0; i++ {
		if i == seq || !force[i-1] || prefix(j.Rec.Entries[i-1]) != key {
			return 0, 0
		}
	}
	return first, last
}
