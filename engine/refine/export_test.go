package refine

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"

	"slipcase/engine/model"
	"slipcase/engine/refine/rulepath"
)

// Distance is how far the estimate lies from the optimum of the posterior
// density: of the farthest number and in the quadratic mean, in the numbers'
// own standard deviations.
func Distance(models []*model.Model, cases []Case, opt Options) (far, mean float64, err error) {
	ctx := context.Background()
	estimate := func(opt Options) (*learner, []*item, []float64, error) {
		l, err := newLearner(ctx, models, opt)
		if err != nil {
			return nil, nil, nil, err
		}
		items, _ := l.choose(cases)
		items, theta, err := l.usable(ctx, items, l.originValues(), &Proposal{}, MaxTree)
		if err != nil {
			return nil, nil, nil, err
		}
		if theta, err = l.start(ctx, "", items, nil, theta); err != nil {
			return nil, nil, nil, err
		}
		theta, _, err = l.fit(ctx, "", items, theta, nil, 1, l.opt.Tolerance)
		return l, items, theta, err
	}
	_, _, now, err := estimate(opt)
	if err != nil {
		return 0, 0, err
	}
	opt.Tolerance, opt.MaxIterations = 1e-5, 1000
	l, items, best, err := estimate(opt)
	if err != nil {
		return 0, 0, err
	}
	l.set(best)
	inf, err := l.inform(ctx, "", items, best)
	if err != nil {
		return 0, 0, err
	}
	for i := range best {
		d := math.Abs(logit(now[i])-logit(best[i])) * math.Sqrt(inf.net[i]+l.priorInformation(i, best))
		far = max(far, d)
		mean += d * d / float64(len(best))
	}
	return far, math.Sqrt(mean), nil
}

// Judge scores a proposal on cases that it was not learned from: the rules of
// the models before, its values after, with the shop's detection models that it found
// on both sides.
func Judge(models []*model.Model, p *Proposal, cases []Case) (*HeldOut, error) {
	l, err := newLearner(context.Background(), models, Options{})
	if err != nil {
		return nil, err
	}
	items, _ := l.choose(cases)
	kinds := l.kinds()
	for _, name := range slices.Sorted(maps.Keys(p.Values())) {
		if _, ok := l.index[name]; ok {
			continue
		}
		for _, i := range slices.Sorted(maps.Keys(kinds)) { // a part set apart
			for _, s := range kinds[i] {
				if n := s.b.m.Nodes[s.node]; rulepath.OfComponent(s.b.m.Unit.ID, n.Component.Name, n.Mode.Name).String() == name {
					l.index[name] = len(l.params)
					l.alone(s, i)
				}
			}
		}
	}
	before := l.originValues()
	for i, noted := range []float64{p.Found, p.Settled} {
		if noted > 0 {
			before[l.detections[i].param] = noted
		}
	}
	after := append([]float64(nil), before...)
	for name, v := range p.Values() {
		i, ok := l.index[name]
		if !ok {
			return nil, fmt.Errorf("no number %s", name)
		}
		after[i] = v * l.params[i].scale
	}
	out := &HeldOut{}
	b, a, err := l.ask(context.Background(), items, before, after)
	if err != nil {
		return nil, err
	}
	return out.compare(b, a), nil
}

// Values are the new numbers by the String of their path.
func (p *Proposal) Values() map[string]float64 {
	out := make(map[string]float64, len(p.Changes))
	for _, c := range p.Changes {
		out[c.Path.String()] = c.New
	}
	return out
}
