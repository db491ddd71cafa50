package desk

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/fold"
)

// Undo takes entries back: those named, or the last one that is in force and
// takes nothing back itself. To take back what took back is to have it again.
// A closed case may be undone too: most often its closing is meant.
func (d *Desk) Undo(ref JobRef, seqs []int64, reason string) (Answer, error) {
	j, err := d.job(ref)
	if err != nil {
		return Answer{}, err
	}
	defer j.close()
	entries := j.rec.Entries
	force, err := fold.InForce(entries)
	if err != nil {
		return Answer{}, failed(err.Error(), "")
	}
	if len(seqs) == 0 {
		for i := len(entries) - 1; i >= 0 && len(seqs) == 0; i-- {
			if _, back := entries[i].Body.(engine.Retraction); force[i] && !back {
				seqs = []int64{entries[i].Seq}
			}
		}
		if len(seqs) == 0 {
			return Answer{}, failed(fmt.Sprintf("there is nothing to take back in case %s", j.c.ID), "slipcase cases show "+j.c.ID+" shows its entries")
		}
	}
	if err := j.model(); err != nil {
		return Answer{}, err
	}
	lines := j.lines()
	var diags []engine.Diagnostic
	var bodies []engine.Body
	out := Written{}
	for i, s := range seqs {
		switch {
		case slices.Contains(seqs[:i], s):
			continue
		case s < 1 || s > int64(len(entries)):
			diags = append(diags, usage(fmt.Sprintf("case %s has no entry %d", j.c.ID, s), fmt.Sprintf("its entries are 1 to %d: slipcase cases show %s", len(entries), j.c.ID)).Diagnostics...)
		case !force[s-1]:
			by := lines[s-1].TakenBackBy
			diags = append(diags, usage(fmt.Sprintf("entry %d is taken back already, by entry %d", s, by), fmt.Sprintf("slipcase undo %d has it again", by)).Diagnostics...)
		default:
			bodies = append(bodies, engine.Retraction{Of: s, Reason: reason})
			out.Said = append(out.Said, fmt.Sprintf("entry %d was: %s", s, lines[s-1].Words))
		}
	}
	if len(diags) > 0 {
		return Answer{}, &Failure{Rules: j.w.k.Hash, Usage: true, Diagnostics: nothing(diags, len(seqs))}
	}
	if len(seqs) == 1 {
		if first, last := j.batch(seqs[0]); first < last {
			out.Said = append(out.Said, fmt.Sprintf("it came together with others; slipcase undo %d-%d takes back what is left of them", first, last))
		}
	}
	ans, err := j.write(out, bodies...)
	if err != nil {
		return Answer{}, err
	}
	w := ans.Data.(Written)
	var again []string
	for _, e := range w.Entries {
		again = append(again, fmt.Sprint(e.Seq))
	}
	w.Said = append(w.Said, "to have it again: slipcase undo "+strings.Join(again, " "))
	ans.Data = w
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
	key := prefix(j.rec.Entries[seq-1])
	if key == "" {
		return 0, 0
	}
	force, err := fold.InForce(j.rec.Entries)
	if err != nil {
		return 0, 0
	}
	for i, e := range j.rec.Entries {
		if prefix(e) == key && force[i] && e.Seq != seq {
			if first == 0 {
				first = e.Seq
			}
			last = e.Seq
		}
	}
	// Only a stretch that holds nothing else can be named as one.
	for i := first; i <= last && first > 0; i++ {
		if i == seq || !force[i-1] || prefix(j.rec.Entries[i-1]) != key {
			return 0, 0
		}
	}
	return first, last
}
