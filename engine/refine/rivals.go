package refine

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// scores are sums over cases of the scores of numbers.
type scores struct {
	summed      int     // cases that the sums are from
	scale       float64 // all cases over those
	sum, square []float64
	shared      []common // of every two, see row

	trials, heard, hits, lost []float64 // as in information
}

// add takes in a case.
func (s *scores) add(list []signal) {
	k := len(s.sum)
	for i := range list {
		x := &list[i]
		s.trials[x.param] += x.occurs
		s.heard[x.param] += x.heard
		s.hits[x.param] += x.hits
		s.sum[x.param] += x.score
		s.square[x.param] += x.score * x.score
		s.lost[x.param] += x.missing
		x.missing = math.Sqrt(math.Max(0, x.missing)) // of bare trials there may be less
	}
	// Row by row: this is most of the work, and its time goes into
	// fetching the matrix.
	for i := range list {
		x := &list[i]
		after := s.shared[row(x.param, k)+x.param+1:]
		for j := i + 1; j < len(list); j++ {
			o := &list[j]
			c := &after[o.param-x.param-1]
			c.cross += x.score * o.score
			c.bound += x.missing * o.missing
		}
	}
}

// row is where the pairs of number i of k with those after it stand: that with j at
// row+j.
func row(i, k int) int { return i*(2*k-i-1)/2 - i - 1 }

// common are the products of the scores of two numbers, and the most that what is
// missing on them can have in common.
type common struct{ cross, bound float64 }

// common is the information that two numbers share, with its sign, and the
// square of the correlation of their scores. By Louis it is the covariance of
// their scores given a case, summed up; over cases the scores' own covariance
// estimates it. It can be no more than the missing information allows, nor
// than what there is of the two, as closely as they go together.
func (s *scores) common(inf *information, i, j int) (c, closeness float64) {
	at := row(min(i, j), len(s.sum)) + max(i, j)
	n := float64(max(s.summed, 1))
	c = s.scale * (s.shared[at].cross - s.sum[i]*s.sum[j]/n)
	if c == 0 || inf.own[i] == 0 || inf.own[j] == 0 {
		return 0, 0
	}
	spread := s.scale * math.Sqrt(max(0, s.square[i]-s.sum[i]*s.sum[i]/n)*max(0, s.square[j]-s.sum[j]*s.sum[j]/n))
	r := math.Min(math.Abs(c)/spread, 1)
	most := math.Min(s.scale*s.shared[at].bound, r*math.Sqrt(inf.own[i]*inf.own[j]))
	return math.Max(-most, math.Min(most, c)), r * r
}

// rival is another number that explains the same cases, closer than any of so many
// would come by chance.
type rival struct {
	param  int
	common float64
	takes  float64 // of the information, its prior known
}

// closest is the number of rivals that are estimated together with a number.
const closest = 8

// chanceOf is how closely two of so many numbers go together by chance, squared.
func chanceOf(s *scores) float64 {
	return 2 * math.Log(float64(max(len(s.sum), 2))) / float64(max(s.summed, 1))
}

// rivalry works out what is left of the information on each number when
// others have to be estimated with it. It fails with the context's error alone.
func (l *learner) rivalry(ctx context.Context, inf *information, s *scores, theta []float64) error {
	k := len(theta)
	chance := chanceOf(s)
	var certain []rival
	for i := range k {
		if err := ctx.Err(); err != nil {
			return err
		}
		inf.net[i], inf.alone[i], inf.rival[i] = inf.own[i], inf.own[i], -1
		if inf.own[i] == 0 {
			continue
		}
		// Of thousands of rivals few are certain: only these are put in order.
		worst := 0.0
		certain = certain[:0]
		for j := range k {
			if j == i {
				continue
			}
			c, r := s.common(inf, i, j)
			if c == 0 {
				continue
			}
			takes := c * c / (inf.own[j] + l.priorInformation(j, theta))
			if worst = math.Max(worst, takes); r > chance {
				certain = append(certain, rival{j, c, takes})
			}
			if left := inf.own[i] - c*c/inf.own[j]; left < inf.alone[i] {
				inf.alone[i], inf.rival[i] = max(left, 0), j
			}
		}
		slices.SortFunc(certain, func(a, b rival) int {
			return cmp.Or(cmp.Compare(b.takes, a.takes), cmp.Compare(a.param, b.param))
		})
		taken := max(worst, l.together(inf, s, theta, certain[:min(len(certain), closest)]))
		inf.net[i] = max(inf.own[i]-taken, 0)
	}
	l.levels(inf, theta)
	return nil
}

// levels takes away what the shop's detection models leave open. How often what failed
// is noted moves all numbers behind failed modes together, with its inverse.
// No single one of them tells much of it, and a detection model's own information, all
// of them known, looks large. What holds their common level is how far they
// are bound to their priors, and the prior of the detection model.
func (l *learner) levels(inf *information, theta []float64) {
	for _, h := range l.detections {
		if h.param < 0 {
			continue
		}
		lack := 1 - theta[h.param] // of the logarithm, by log-odds
		hold := l.priorInformation(h.param, theta) / (lack * lack)
		for i := range l.params {
			if prior := l.priorInformation(i, theta); l.params[i].detection == h.param && inf.own[i] > 0 {
				hold += inf.own[i] * prior / (inf.own[i] + prior)
			}
		}
		for i := range l.params {
			if l.params[i].detection != h.param || inf.net[i] == 0 {
				continue
			}
			prior := l.priorInformation(i, theta)
			follows := inf.own[i] / (inf.own[i] + prior)
			variance := 1/(inf.net[i]+prior) + follows*follows/hold
			inf.net[i] = max(1/variance-prior, 0)
		}
	}
}

// together is what rivals take of a number when all of them have to be
// estimated with it, their priors known.
func (l *learner) together(inf *information, s *scores, theta []float64, rivals []rival) float64 {
	n := len(rivals)
	if n < 2 {
		return 0 // no more than it takes alone
	}
	m, c := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	for a, x := range rivals {
		m.SetSym(a, a, inf.own[x.param]+l.priorInformation(x.param, theta))
		c.SetVec(a, x.common)
		for b, y := range rivals[:a] {
			v, _ := s.common(inf, x.param, y.param)
			m.SetSym(a, b, v)
		}
	}
	var f mat.Cholesky
	var x mat.VecDense
	if !f.Factorize(m) || f.SolveVecTo(&x, c) != nil {
		return 0 // not a matrix of information: the approximations clash
	}
	return mat.Dot(c, &x)
}
