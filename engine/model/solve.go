package model

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"slipcase/engine/network"
)

// ClashError says that reports contradict each other under the rules: no
// combination of faults allows all of them.
type ClashError struct{ Pieces []Piece }

// Error names the smallest set found.
func (e *ClashError) Error() string {
	s := "these reports contradict each other:"
	for _, p := range e.Pieces {
		s += fmt.Sprintf(" %s %s (%s);", p.Label, p.State, p.By)
	}
	return s + " take one of them back"
}

// Solve is the posterior for pieces of evidence, with clashes named.
func (m *Model) Solve(pieces []Piece) (*network.Posterior, error) {
	post, err := m.SolverOf(pieces).Solve(m.Likelihoods(pieces))
	var clash *network.ImpossibleError
	if errors.As(err, &clash) {
		e := &ClashError{}
		for _, t := range clash.Tags {
			if t >= 0 && t < len(pieces) {
				e.Pieces = append(e.Pieces, pieces[t])
			}
		}
		return nil, e
	}
	return post, err
}

// Named is an error of some evidence with the reports named, where it is that they
// contradict each other; any other error as it is.
func (m *Model) Named(pieces []Piece, err error) error {
	var never *network.ImpossibleError
	if errors.As(err, &never) {
		if _, clash := m.Solve(pieces); clash != nil {
			return clash
		}
	}
	return err
}

// CaseWork bounds the tree of a case, in table entries: the answers to one case
// take some hundred passes over it, a few seconds at this size.
const CaseWork = 1 << 21

// NearWork bounds the tree of a case in which reports are shared out: for each of
// them some ten answers are worked out.
const NearWork = CaseWork / 16

// Within holds a case below a number of table entries (exactly), with the nodes in
// want in the tree. Where all reports together make more, those that tell least
// for the work that they make do not stand in the tree: they are shared out
// among the faults behind them (Piece.Shares) beside a tree of so many entries
// (approx). That is near the exact answer and not the exact answer: what the error
// was measured to be is SharedError, and nothing bounds it. It returns
// all pieces, those shared out last, and these by themselves. Looks at parts
// always stay in the tree.
func (m *Model) Within(s *network.Solver, pieces []Piece, want []int, exactly, approx float64) (all, near []Piece, err error) {
	kept, near, err := m.fit(s, inOrder(pieces), want, exactly)
	if err != nil {
		return nil, nil, err
	}
	if len(near) == 0 {
		return pieces, nil, nil
	}
	// Every mode may get a share, so that it must have a place. What the larger
	// tree has no room for the smaller one has none for either.
	kept, more, err := m.fit(s, kept, slices.Concat(want, m.Modes()), approx)
	if err == nil {
		near = append(more, near...)
		// Those that tell least first: what they weigh is worked out with the least
		// known of the others.
		slices.SortStableFunc(near, func(a, b Piece) int { return cmp.Compare(m.tells(a), m.tells(b)) })
		all, err = m.shared(s, kept, near)
	}
	if err != nil {
		return nil, nil, err
	}
	return all, all[len(kept):], nil
}

// inOrder are the pieces in an order that does not hang on which was noted first:
// which are shared out, and what they weigh, would hang on it too.
func inOrder(pieces []Piece) []Piece {
	out := slices.Clone(pieces)
	slices.SortStableFunc(out, func(a, b Piece) int {
		return cmp.Or(cmp.Compare(b.On-b.Off, a.On-a.Off), cmp.Compare(a.Node, b.Node), cmp.Compare(a.On, b.On))
	})
	return out
}

// fit splits the pieces into those that a tree of so many entries holds and the
// others.
func (m *Model) fit(s *network.Solver, pieces []Piece, want []int, entries float64) (kept, left []Piece, err error) {
	var tags []int
	gone := map[int]bool{}
	for {
		ev, quick, at := m.evidenceBut(pieces, gone)
		_, tags, err = s.Within(ev, want, entries, func(tag int) float64 {
			if quick[tag] {
				return math.Inf(1) // nothing would be saved
			}
			return m.tells(pieces[at[tag]])
		})
		for i := range tags {
			tags[i] = at[tags[i]]
		}
		if !errors.Is(err, network.ErrWide) {
			break
		}
		// What is reported absent hangs on effects while something there is
		// reported that stays in its place: present, or absent of one condition.
		// Without half of that, those that tell least, it goes up to the modes,
		// where it ties nothing together.
		var open []int
		for tag, i := range at {
			if !quick[tag] && pieces[i].On > 0 && pieces[i].Off > 0 {
				open = append(open, i)
			}
		}
		if len(open) == 0 {
			break
		}
		tell := make([]float64, len(pieces))
		for _, i := range open {
			tell[i] = m.tells(pieces[i])
		}
		slices.SortStableFunc(open, func(i, j int) int { return cmp.Compare(tell[i], tell[j]) })
		for _, i := range open[:(len(open)+1)/2] {
			gone[i] = true
		}
	}
	for i := range gone {
		tags = append(tags, i)
	}
	if err != nil {
		return nil, nil, m.Named(pieces, err)
	}
	for i, p := range pieces {
		if slices.Contains(tags, i) {
			left = append(left, p)
		} else {
			kept = append(kept, p)
		}
	}
	return kept, left, nil
}

// evidenceBut is evidenceOf without some pieces; at gives the piece of each tag.
func (m *Model) evidenceBut(pieces []Piece, gone map[int]bool) (ev []network.Likelihood, quick []bool, at []int) {
	var rest []Piece
	for i, p := range pieces {
		if !gone[i] {
			rest, at = append(rest, p), append(at, i)
		}
	}
	ev, quick = m.evidenceOf(rest)
	return ev, quick, at
}

// tells is how much a report can say by itself of any one mode that leads to
// what it is about: the natural logarithm of the likelihood ratio between that
// mode being there and nothing, the largest there is. It sees no other report,
// so that it is quick, and it takes absence as seriously as presence: a level
// that was found right says more of low fluid than most slips do.
func (m *Model) tells(p Piece) float64 {
	strength := map[int]float64{} // of a node on the finding
	var up func(n int, s float64)
	up = func(n int, s float64) {
		if s <= strength[n] {
			return
		}
		strength[n] = s
		if m.Nodes[n].Layer <= ModeLayer {
			return
		}
		for _, l := range m.Net.Nodes[n].Links {
			up(l.Parent, s*l.Strength)
		}
	}
	up(p.Node, 1)
	leak := m.Net.Nodes[p.Node].Leak
	without := p.Off*(1-leak) + p.On*leak
	most := 0.0
	for n, s := range strength {
		if m.Nodes[n].Layer > ModeLayer {
			continue
		}
		on := leak + s - leak*s
		if d := math.Abs(math.Log((p.Off*(1-on) + p.On*on) / without)); d > most && !math.IsInf(d, 0) {
			most = d
		}
	}
	return most
}
