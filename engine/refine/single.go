package refine

import (
	"cmp"
	"math"
	"slices"

	"slipcase/engine/model"
	"slipcase/engine/refine/rulepath"
)

// The rules have one rate for a way to fail of every part that can: one for the
// sealing rings of a unit, however many there are. Where one of them fails more
// often than the others, the rate of all is the wrong number to move. A part is
// given a rate of its own when that tells the cases better than the rate of its
// kind does, moved or not, by more than the many parts that might be meant would
// give by chance. Its prior is that of the rate of its kind.

// single is a mode of one part that is told by the rate of its kind.
type single struct {
	b    *binding
	node int
}

// part is what the cases say about the rate of one node by itself.
type part struct {
	occurs, score, missing float64
}

func (x *part) add(occurs, score, missing float64) {
	x.occurs += occurs
	x.score += score
	x.missing += missing
}

// kinds are the nodes that share a rate, by number; of those that stand alone
// none.
func (l *learner) kinds() map[int][]single {
	out := map[int][]single{}
	for _, b := range l.models {
		for i, p := range b.leak {
			if p >= 0 && b.m.Nodes[i].Layer == model.ModeLayer {
				out[p] = append(out[p], single{b, i})
			}
		}
	}
	for p, list := range out {
		if len(list) < 2 {
			delete(out, p)
		}
	}
	return out
}

// Prices in the logarithm of the probability of the cases: of a rate that moves,
// and of a part that gets one of its own, for each of those that might.
const (
	priceOfMove = 2.3 // one rate in ten is off (invented)
	mostSingles = 3   // of one kind
)

// singles gives rates of their own to parts of which the cases ask for it, and
// tells how many.
func (l *learner) singles(base []float64) int {
	kinds := l.kinds()
	all := 0
	for _, list := range kinds {
		all += len(list)
	}
	price := priceOfMove + math.Log(float64(max(all, 1)))
	numbers := make([]int, 0, len(kinds))
	for p := range kinds {
		numbers = append(numbers, p)
	}
	slices.Sort(numbers)
	n := 0
	for _, p := range numbers {
		if l.params[p].single >= 0 {
			continue
		}
		for _, s := range l.apart(p, kinds[p], base[p], price) {
			l.alone(s, p)
			n++
		}
	}
	return n
}

// tally is what the cases say about one rate as if it had been seen: so many
// failed of so many, with the same score and information.
type tally struct {
	failed, of float64
}

func (t tally) plus(o tally) tally { return tally{t.failed + o.failed, t.of + o.of} }
func (t tally) less(o tally) tally { return tally{t.failed - o.failed, t.of - o.of} }

// stays is the log-likelihood at one value.
func (t tally) stays(v float64) float64 {
	return t.failed*math.Log(v) + (t.of-t.failed)*math.Log1p(-v)
}

// moves is the log-likelihood where the value is not known but by its prior.
func (t tally) moves(p Prior) float64 {
	return lbeta(p.A+t.failed, p.B+t.of-t.failed) - lbeta(p.A, p.B)
}

func lbeta(a, b float64) float64 {
	x, _ := math.Lgamma(a)
	y, _ := math.Lgamma(b)
	z, _ := math.Lgamma(a + b)
	return x + y - z
}

// apart are the parts of a kind that the cases set apart from the others.
func (l *learner) apart(p int, list []single, base, price float64) []single {
	told := make([]tally, len(list))
	var sum tally
	theta := l.lastAt[p]
	for i, s := range list {
		x := l.last.parts[s.b.first+s.node]
		of := math.Max(0, x.occurs-x.missing/(theta*(1-theta)))
		told[i] = tally{within(theta*of+x.score, of), of}
		sum = sum.plus(told[i])
	}
	prior := l.params[p].prior
	together := func(t tally) float64 { return math.Max(t.stays(base), t.moves(prior)-priceOfMove) }
	var out []single
	gone := make([]bool, len(list))
	for len(out) < min(mostSingles, len(list)-1) {
		best, gain := -1, 0.0
		now := together(sum)
		for i := range list {
			if gone[i] {
				continue
			}
			if g := together(sum.less(told[i])) + told[i].moves(prior) - price - now; g > gain {
				best, gain = i, g
			}
		}
		if best < 0 {
			break
		}
		gone[best] = true
		sum = sum.less(told[best])
		out = append(out, list[best])
	}
	slices.SortFunc(out, func(a, b single) int { return cmp.Compare(a.b.first+a.node, b.b.first+b.node) })
	return out
}

// alone gives a part a rate of its own.
func (l *learner) alone(s single, p int) {
	x := l.params[p] // a copy
	n := s.b.m.Nodes[s.node]
	x.path = rulepath.OfComponent(s.b.m.Unit.ID, n.Component.Name, n.Mode.Name)
	x.name = x.path.String()
	x.single, x.of = p, s
	// Its own rate is what its duty makes of that of its kind.
	if duty := s.b.m.Duties[s.node]; duty != 1 {
		x.scale /= duty
		x.number.Value *= duty
		x.number.Text = text(x.number.Value)
		x.origin.Value *= duty
	}
	s.b.leak[s.node] = len(l.params)
	l.params = append(l.params, x)
}

// rejoin has a part told by the rate of its kind again.
func (l *learner) rejoin(i int) {
	x := &l.params[i]
	x.of.b.leak[x.of.node] = x.single
	l.anchor.joins(i, x.single)
}

// lone tells whether the number is the rate of a part that was set apart.
func (l *learner) lone(i int) bool { return l.params[i].single >= 0 }

// habitual tells whether the number is a habit of the shop and not of the rules.
func (l *learner) habitual(i int) bool { return l.rules <= i && i < l.fixed }

// joined takes back what singles did.
func (l *learner) joined() {
	for i := l.fixed; i < len(l.params); i++ {
		l.rejoin(i)
	}
	l.params = l.params[:l.fixed]
}

// wider is values for all numbers: those of parts set apart since are those of
// their kind.
func (l *learner) wider(values []float64) []float64 {
	out := slices.Clone(values)
	for i := len(values); i < len(l.params); i++ {
		out = append(out, values[l.params[i].single])
	}
	return out
}
