package advise

import (
	"errors"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/engine/network"
)

// wholeWork bounds the tree, in entries, on which the checks that are shown are
// priced again with the reports that counted approximately when they were chosen: some
// forty answers take a quarter of a second of one core at this size.
const wholeWork = 1 << 20

// whole is the base with all reports exactly: b itself where all are, or where
// they make too large a tree.
func (a *Adviser) whole(b *base, pieces []model.Piece, read *diagnose.Result) (*base, error) {
	if len(b.shared) == 0 || b.crowd {
		return b, nil
	}
	all, near, err := a.counted(pieces, read)
	if err != nil {
		return nil, err
	}
	w := &base{s: b.s, c: b.c, ev: a.Model.Likelihoods(all), kept: all}
	if len(near) > 0 {
		w.shared = b.shared
	}
	w.site = w.newSite(w.ev, nil)
	switch g, err := w.site.tree(); {
	case errors.Is(err, errWide), err == nil && (g.Entries() > wholeWork || !quick(g)):
		return b, nil
	case err != nil:
		return nil, err
	}
	if _, err := w.solve(); err != nil {
		return nil, err
	}
	for n, p := range b.near {
		if w.near[n] < 0 {
			w.near[n] = p
		}
	}
	return w, nil
}

// counted is the evidence of a case as the diagnosis counts it, and what of it counts
// approximately: as it was read before, else worked out.
func (a *Adviser) counted(pieces []model.Piece, read *diagnose.Result) (all, near []model.Piece, err error) {
	if read != nil {
		return read.Pieces, read.Near, nil
	}
	all, near, _, err = diagnose.Hold(a.Model, pieces)
	return all, near, err
}

// anew prices the best of a ranking again with all reports and ranks them by that.
func (a *Adviser) anew(w *base, r *ranking, out *Advice, opt Options) (*ranking, error) {
	if w.shared != nil || opt.Best <= 0 {
		return r, nil
	}
	k, err := w.s.newCosts(w.c, opt.Values)
	if err != nil {
		return nil, err
	}
	if err := k.start(w.belief); err != nil {
		return nil, err
	}
	w.value = k.value(w.belief)
	var cands []*candidate
	for _, c := range r.cands[:min(opt.Best, len(r.cands))] {
		own := w.site.take(c.check, c.chosen)
		own.many = own.site.behind(own.nodes)
		cands = append(cands, own)
	}
	err = each(w.lots(cands), k, opt.Workers, func(l lot, k *costs) error {
		// Exactly at once where that can be; what is near would be of no use.
		hangs := l[0].many != nil
		if hangs {
			if done, err := l.apart(w, k); done || err != nil {
				return err
			}
		}
		for _, c := range l {
			if err := c.price(w, k); err != nil {
				return err
			}
			c.release(w)
		}
		if hangs {
			l.near()
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	again := a.newRanking(w, k, opt)
	again.rank(cands)
	again.pointless = append(again.pointless, r.pointless...)
	again.wide = append(again.wide, r.wide...)
	out.Causes, out.ToRepair = w.value.causes, w.value.j-w.value.causes
	out.NextStep, out.Whole = again.next, true
	// Chosen, not proven: for that all would have to be priced so.
	out.Unpriced, again.unproven = len(r.list)-len(cands), true
	return again, nil
}

// leader is the first of the suspects.
func (b *base) leader() (*engine.Component, float64, error) {
	g, err := b.site.tree()
	if err != nil {
		return nil, 0, err
	}
	return diagnose.Leader(b.s.a.Model, b.kept, b.near, func(modes []int) (float64, error) {
		var off []network.Likelihood
		for _, n := range modes {
			off = append(off, network.Likelihood{Node: n, Off: 1, Tag: -1})
		}
		none, err := g.Chance(off)
		return 1 - none, err
	})
}
