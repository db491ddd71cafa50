package order

import "math/bits"

// bounds computes what the jobs outside an ideal must still cost at least.
type bounds[M mask] struct {
	min, wt               []float64
	minShare, weightShare []float64 // of all minutes and of all weight
	all                   M
	w, p                  float64
	tight                 bool
}

func newBounds[M mask](g *graph, perm []int, tight bool) *bounds[M] {
	n := len(perm)
	b := &bounds[M]{
		min: make([]float64, n), wt: make([]float64, n),
		minShare: make([]float64, n), weightShare: make([]float64, n),
	}
	for i, v := range perm {
		b.min[i], b.wt[i] = g.min[v], g.wt[v]
		b.w += g.wt[v]
		b.p += g.min[v]
		b.all[i>>6] |= 1 << (i & 63)
	}
	if b.tight = tight && b.w > 0 && b.p > 0; b.tight {
		for i := range perm {
			b.minShare[i], b.weightShare[i] = b.min[i]/b.p, b.wt[i]/b.w
		}
	}
	return b
}

// rest bounds Σ weight × completion time of the jobs outside the ideal s,
// whose own jobs end at the time done. It takes the best of
//
//   - the order by falling ratio, without conditions (W. E. Smith, 1956,
//     recalled);
//   - in a Sidney module, where no prefix of any order has a greater share of
//     the weight than of the minutes: the share not in view at the start of a
//     job is at least 1 − share of minutes gone;
//   - likewise, a job's end comes no sooner, as a share of all minutes, than
//     the share of weight in view with it.
func (b *bounds[M]) rest(s M, done float64) float64 {
	t, cost := done, 0.0
	weight, w2, p2 := 0.0, 0.0, 0.0 // share of weight left, sums of squared shares
	for i := 0; i < len(s); i++ {
		for m := b.all[i] &^ s[i]; m != 0; m &= m - 1 {
			j := i<<6 + bits.TrailingZeros64(m)
			t += b.min[j]
			cost += float64(b.wt[j] * t)
			weight += b.weightShare[j]
			w2 += float64(b.weightShare[j] * b.weightShare[j])
			p2 += float64(b.minShare[j] * b.minShare[j])
		}
	}
	if b.tight {
		gone := done / b.p
		byTime := float64(gone*weight) + (1 - gone) - (1-float64(gone*gone)-p2)/2
		byWeight := (1 - float64((1-weight)*(1-weight)) + w2) / 2
		// Leave them what rounding may take.
		cost = max(cost, (max(byTime, byWeight)-1e-12)*b.w*b.p)
	}
	return cost
}

// shares is the second and third bound of rest for a whole Sidney module of
// any size: half of all minutes times all weight, and a little more.
func (g *graph) shares() float64 {
	w, p := 0.0, 0.0
	for v := range g.n() {
		w += g.wt[v]
		p += g.min[v]
	}
	if w == 0 || p == 0 {
		return 0
	}
	w2, p2 := 0.0, 0.0
	for v := range g.n() {
		w2 += (g.wt[v] / w) * (g.wt[v] / w)
		p2 += (g.min[v] / p) * (g.min[v] / p)
	}
	return ((1+max(w2, p2))/2 - 1e-12 - 1e-15*float64(g.n())) * w * p
}
