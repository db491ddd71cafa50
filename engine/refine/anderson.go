package refine

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// anderson remembers the last points and steps of an iteration, in log-odds, and
// mixes them into a better step (Anderson 1965; with expectation-maximization,
// Henderson and Varadhan 2019): the combination of the steps remembered that
// cancels the present one best, each number weighed by the information on it,
// is where the iteration would come to rest if it were linear.
type anderson struct {
	x, f   []float64   // the last point and its step
	dx, df [][]float64 // differences of those before, oldest first
}

// remembered is the number of differences kept.
const remembered = 6

// Bounds of an accelerated step: what is missing on one number may lengthen its step
// by no more than stretch; no log-odds moves by more than leap.
const (
	stretch = 4
	leap    = 2
)

func (m *anderson) clear() { *m = anderson{} }

// accelerated is the next point after theta, whose plain step leads to next, and
// whether it is the plain step. The first is.
func (l *learner) accelerated(m *anderson, theta, next []float64, o outlook) ([]float64, bool) {
	x, f := make([]float64, len(theta)), make([]float64, len(theta))
	for i := range theta {
		x[i] = logit(theta[i])
		f[i] = (logit(next[i]) - x[i]) * math.Min(o.slow[i], stretch)
	}
	first := m.x == nil
	step := m.mixed(x, f, o.info)
	if first {
		return next, true // far off: no straight line yet
	}
	out := slices.Clone(next)
	for i := range out {
		if o.info[i] > 0 {
			s := math.Max(-leap, math.Min(leap, step[i]))
			out[i] = max(l.params[i].least, inside(1/(1+math.Exp(-x[i]-s))))
		}
	}
	return out, false
}

// mixed is the step from x where f is the present one, from those remembered and it.
func (m *anderson) mixed(x, f, info []float64) []float64 {
	if m.x != nil {
		m.dx, m.df = append(m.dx, minus(x, m.x)), append(m.df, minus(f, m.f))
		if len(m.dx) > remembered {
			m.dx, m.df = m.dx[1:], m.df[1:]
		}
	}
	m.x, m.f = x, f
	step := slices.Clone(f)
	for k, g := range m.weights(info) {
		for i := range step {
			step[i] -= g * (m.dx[k][i] + m.df[k][i])
		}
	}
	return step
}

// weights are the coefficients of the differences that leave the least of the
// present step.
func (m *anderson) weights(info []float64) []float64 {
	if len(m.df) == 0 {
		return nil
	}
	n := len(m.df)
	a, b := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	dot := func(u, v []float64) float64 {
		sum := 0.0
		for i, w := range info {
			sum += w * u[i] * v[i]
		}
		return sum
	}
	for p := range n {
		for q := range p + 1 {
			a.SetSym(p, q, dot(m.df[p], m.df[q]))
		}
		b.SetVec(p, dot(m.df[p], m.f))
	}
	for p := range n {
		a.SetSym(p, p, a.At(p, p)*(1+1e-8))
	}
	var c mat.Cholesky
	var g mat.VecDense
	if !c.Factorize(a) || c.SolveVecTo(&g, b) != nil {
		return nil
	}
	return g.RawVector().Data
}

func minus(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i] - b[i]
	}
	return out
}
