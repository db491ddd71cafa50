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
func (a *Adviser) whole(b *base, pieces []model.Piece) (*base, error) {
	if len(b.shared) == 0 || b.crowd {
		return b, nil
	}
	all, near, _, err := diagnose.Hold(a.Model, pieces)
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
		cands = append(cands, w.site.take(c.check, c.chosen))
	}
	err = each(cands, k, opt.Workers, func(c *candidate, k *costs) error {
		if err := c.price(w, k); err != nil || c.many == nil {
			return err
		}
		return c.exactly(w, k)
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
