package advise

import (
	"math"

	"slipcase/engine"
	"slipcase/engine/tie"
)

// Apart are the two components that the likely answers drive apart most,
// or the one that they move most when all others move with it.
func Apart(answers []Answer) []*engine.Component {
	type pair struct{ a, b *engine.Component }
	apart := map[pair]float64{}
	moved := map[*engine.Component]float64{}
	var pairs []pair
	var all []*engine.Component
	for _, ans := range answers {
		for i, s := range ans.Shifts {
			if _, ok := moved[s.Component]; !ok {
				all = append(all, s.Component)
			}
			moved[s.Component] += ans.P * math.Abs(s.To-s.From)
			for _, t := range ans.Shifts[i+1:] {
				if (s.To-s.From)*(t.To-t.From) >= 0 {
					continue
				}
				k := pair{s.Component, t.Component}
				if k.a.Name > k.b.Name {
					k.a, k.b = k.b, k.a
				}
				if _, ok := apart[k]; !ok {
					pairs = append(pairs, k)
				}
				apart[k] += ans.P * math.Abs(s.To-s.From-t.To+t.From)
			}
		}
	}
	var best pair
	for _, k := range pairs {
		d := tie.Compare(apart[k], apart[best])
		if best.a == nil || d > 0 || d == 0 && k.a.Name+" "+k.b.Name < best.a.Name+" "+best.b.Name {
			best = k
		}
	}
	const worthNaming = 0.005 // a shift of half a percent
	if best.a != nil && apart[best] >= worthNaming {
		if tie.More(moved[best.b], moved[best.a]) {
			best.a, best.b = best.b, best.a
		}
		return []*engine.Component{best.a, best.b}
	}
	var most *engine.Component
	for _, c := range all {
		if most == nil || tie.More(moved[c], moved[most]) {
			most = c
		}
	}
	if most == nil || moved[most] < worthNaming {
		return nil
	}
	return []*engine.Component{most}
}
