package diagnose

import (
	"errors"
	"math"
	"slices"
	"sort"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/network"
	"slipcase/engine/tie"
)

// Options steer how much of the answer is worked out.
type Options struct {
	Top     int // suspects worked out in full (default 5)
	Weights int // of how many suspects to weigh each report (the leader's words are chosen by it)
	Doubt   int // of how many suspects to ask whether they keep their place when all numbers are off by up to two
}

// Result is the answer to a case.
type Result struct {
	Gist         Gist          // what to say first
	Suspects     []Suspect     // components: those behind the complaint, then the others, each most probable first
	Explanations []Explanation // joint: sets of faults with their root cause
	Causes       []CauseBelief // root causes to settle, most probable first; no context
	Together     *Together     // the element whose parts together stand out; nil where one part does
	Unexplained  float64       // P(no mode that could bring about a reported finding is there | reports)
	Pieces       []model.Piece
	// Near are reports that count approximately: exactly they would tie too many causes
	// together, see model.Within. Where there are any, no figure is exact.
	Near []model.Piece
	// Left are reports that did not count: past model.MostPresent findings present,
	// those that tell least. nil for none.
	Left    []model.Piece
	Reports int // reports that counted
	// Firmness is how the leader fares when all numbers are off; nil without
	// Options.Doubt.
	Firmness    *Firmness
	Method      network.Method
	LogEvidence float64 // natural logarithm of P(reports)
	Posterior   []float64
	Prior       []float64 // before any report, per node

	given map[int][]*network.Posterior // of the nodes weighed: it on, it off
}

// Suspect is a component with its modes.
type Suspect struct {
	Component *engine.Component
	P         float64 // P(at least one of its modes | reports)
	Prior     float64 // the same before any report
	// Behind is the sum of the probabilities of those of its modes that can bring
	// about what the vehicle came in for, 0 where none can.
	Behind   float64
	Explains bool // stands before all that cannot, or hardly, be behind the complaint
	Bounded  bool // P and Prior are upper bounds (the sums of its modes), not worked out exactly
	Modes    []ModeBelief
	Outside  bool
	Step     *engine.Step    // where it comes into view; nil when nowhere
	ToReach  float64         // minutes of that step and of all that must be done before it and is not yet
	Weights  []Weight        // with Options.Weights
	Rows     []model.RowSign // rows of the chart that its likely modes change
	Bases    []engine.BasisKind
	// Stands tells whether it keeps its place in nine of ten draws of all
	// numbers, each off by up to a factor of two; with Options.Doubt.
	Stands *bool
}

// ModeBelief is one mode with its posterior.
type ModeBelief struct {
	Node int
	Mode *engine.Mode
	P    float64 // P(the mode | reports)
}

// CauseBelief is a root cause with its posterior.
type CauseBelief struct {
	Node  int
	Cause *engine.Cause
	P     float64 // P(the cause | reports)
	Prior float64 // before any report
}

// Weight is what one report says for (positive) or against a suspect, in
// decibans: ten times the decimal logarithm of the ratio of the odds with all
// reports to the odds without this one.
type Weight struct {
	Group    int
	Label    string
	About    *model.Node
	Value    string // of a reading
	State    engine.State
	By       string
	Decibans float64
}

// Explanation is a set of faults that are present together while the other
// modes that the reports speak of are absent.
type Explanation struct {
	Modes []int
	P     float64       // P(these and no other candidate | reports)
	Cause *engine.Cause // the root cause that goes best with it; nil when none is likelier than before
	PC    float64       // P(cause | this explanation, reports)
}

// Read is the least of a diagnosis: the posterior and the prior of every node,
// without ranking and joint explanations. Problems and errors are those of
// Case.
func Read(m *model.Model, c *engine.CaseFile) (*Result, []model.Problem, error) {
	pieces, problems := m.Evidence(c)
	if model.Refused(problems) {
		return nil, problems, nil
	}
	var r *Result
	err := within(m, pieces, func(m *model.Model, exactly, approx float64) (err error) {
		r, _, _, err = begin(m, pieces, exactly, approx)
		return err
	})
	return r, problems, err
}

// deepWork bounds a pass of higher precision, in entries as a float64 pass has
// them: an answer takes some forty passes.
const deepWork = 1 << 21

// crowd is how many findings reported present make a crowd, throng how many pieces in
// all, crowdWork the tree then.
const (
	crowd     = 160
	throng    = 400
	crowdWork = 1 << 14
)

// within answers a case as exactly as its budget allows. Hundreds of reports can be
// so unlikely together that an exact answer needs many digits, at a hundred times
// the price: then more of them are shared out, on smaller and smaller trees, for
// which fewer digits do; what was shared out is said (Result.Near). The last try
// has no bound on digits.
//
// Where a crowd is reported the tree beside which it is shared out is a small
// one from the start: some two passes over it for each, and as a rule the larger one
// needs many digits in the end.
func within(m *model.Model, pieces []model.Piece, try func(m *model.Model, exactly, approx float64) error) error {
	approx := float64(model.NearWork)
	if len(pieces) > throng || m.Presents(pieces) > crowd {
		approx = crowdWork
	}
	err := try(m.Shallow(deepWork), model.CaseWork, approx)
	for _, entries := range []float64{1 << 16, 1 << 14, 1 << 12} {
		if !errors.Is(err, network.ErrDeep) {
			break
		}
		err = try(m.Shallow(deepWork), entries, entries)
	}
	if errors.Is(err, network.ErrDeep) || errors.Is(err, network.ErrWide) {
		return try(m, model.CaseWork, model.NearWork)
	}
	return err
}

// Hold is the evidence of a case as Case counts it: all pieces, and by themselves
// those that count approximately and those that do not count.
func Hold(m *model.Model, pieces []model.Piece) (all, near, left []model.Piece, err error) {
	err = within(m, pieces, func(m *model.Model, exactly, approx float64) error {
		r, _, _, err := begin(m, pieces, exactly, approx)
		if err == nil {
			all, near, left = r.Pieces, r.Near, r.Left
		}
		return err
	})
	return all, near, left, err
}

// begin solves a case and the unit without any report.
func begin(m *model.Model, pieces []model.Piece, exactly, approx float64) (r *Result, post, prior *network.Posterior, err error) {
	all, near, left, err := m.Hold(pieces, exactly, approx)
	if err != nil {
		return nil, nil, nil, err
	}
	if post, err = m.Solve(all); err != nil {
		return nil, nil, nil, err
	}
	if prior, err = m.Solve(nil); err != nil {
		return nil, nil, nil, err
	}
	r = &Result{Pieces: all, Near: near, Left: left, Method: post.Method, LogEvidence: post.LogEvidence, Posterior: post.P, Prior: prior.P}
	groups := map[int]bool{}
	for _, p := range all {
		groups[p.Group] = true
	}
	r.Reports = len(groups)
	return r, post, prior, nil
}

// Case answers a case. Problems of severity error mean that reports of
// the case are not known; there is no result then, so that nothing is left
// out in silence.
func Case(m *model.Model, c *engine.CaseFile, opt Options) (*Result, []model.Problem, error) {
	pieces, problems := m.Evidence(c)
	if model.Refused(problems) {
		return nil, problems, nil
	}
	if opt.Top == 0 {
		opt.Top = 5
	}
	var r *Result
	err := within(m, pieces, func(m *model.Model, exactly, approx float64) (err error) {
		r, err = answer(m, c, pieces, opt, exactly, approx)
		return err
	})
	if err != nil {
		return nil, problems, err
	}
	return r, problems, nil
}

// answer is Case on trees of so many entries.
func answer(m *model.Model, c *engine.CaseFile, pieces []model.Piece, opt Options, exactly, approx float64) (*Result, error) {
	r, post, prior, err := begin(m, pieces, exactly, approx)
	if err != nil {
		return nil, err
	}
	pieces = r.Pieces
	if err := rank(m, r, post, prior, pieces, opt); err != nil {
		return nil, err
	}
	rankCauses(m, r, post, prior)
	if err := explain(m, r, pieces); err != nil {
		return nil, err
	}
	for i := range r.Suspects {
		place(m, &r.Suspects[i], c.Done)
	}
	if opt.Weights > 0 {
		if err := weigh(m, r, opt.Weights); err != nil {
			return nil, err
		}
	}
	if opt.Doubt > 0 {
		if err := doubt(m, r, pieces, opt.Doubt); err != nil {
			return nil, err
		}
	}
	r.Gist = gist(m, r)
	return r, nil
}

// Ranked is the ranking of a case by itself, the first top suspects worked out:
// no priors, joint explanations and places. Each answer is held below so many
// table entries (exactly), beyond which reports count approximately (Result.Near), see
// model.Within.
func Ranked(m *model.Model, pieces []model.Piece, top int, exactly, approx float64) (*Result, error) {
	all, near, err := m.Within(m.Solver(), pieces, nil, exactly, approx)
	if err != nil {
		return nil, err
	}
	post, err := m.Solve(all)
	if err != nil {
		return nil, err
	}
	r := &Result{Pieces: all, Near: near, Method: post.Method, LogEvidence: post.LogEvidence, Posterior: post.P}
	list(m, r, post.P, post.P, all)
	return r, settle(m, r, top, func(at []int) ([]float64, error) { return anyMode(m, r, at, all) })
}

// rank orders the components. P(any mode of a component) is 1 − P(all off);
// the sum of its modes bounds it from above, so the exact figure is worked out
// only until nothing below can overtake the top.
func rank(m *model.Model, r *Result, post, prior *network.Posterior, pieces []model.Piece, opt Options) error {
	list(m, r, post.P, prior.P, pieces)
	err := settle(m, r, opt.Top+2, func(at []int) ([]float64, error) { return anyMode(m, r, at, pieces) })
	if err != nil {
		return err
	}
	return rankPriors(m, r)
}

// Leader is the first of the suspects, with its probability, as Case has it: p is
// the posterior of every mode, any P(at least one of some modes is there).
func Leader(m *model.Model, pieces []model.Piece, p []float64, any func(modes []int) (float64, error)) (*engine.Component, float64, error) {
	r := &Result{}
	list(m, r, p, p, pieces)
	err := settle(m, r, 1, func(at []int) ([]float64, error) {
		var out []float64
		for _, i := range at {
			var modes []int
			for _, b := range r.Suspects[i].Modes {
				modes = append(modes, b.Node)
			}
			x, err := any(modes)
			if err != nil {
				return nil, err
			}
			out = append(out, clamp(x))
		}
		return out, nil
	})
	if err != nil || len(r.Suspects) == 0 {
		return nil, 0, err
	}
	return r.Suspects[0].Component, r.Suspects[0].P, nil
}

// list makes suspects of the components, with the sums of their modes.
func list(m *model.Model, r *Result, post, prior []float64, pieces []model.Piece) {
	about := m.SpeaksOf(complaints(m, pieces))
	for i := range m.Unit.Components {
		c := &m.Unit.Components[i]
		nodes := m.ModesOf(c.Name)
		if len(nodes) == 0 {
			continue
		}
		s := Suspect{Component: c, Outside: m.Outside(c)}
		for _, n := range nodes {
			s.Modes = append(s.Modes, ModeBelief{n, m.Nodes[n].Mode, post[n]})
			s.P += post[n]
			s.Prior += prior[n]
			if about[n] {
				s.Behind += post[n]
			}
		}
		s.P, s.Prior = math.Min(s.P, 1), math.Min(s.Prior, 1)
		s.Bounded = len(nodes) > 1
		sort.SliceStable(s.Modes, func(a, b int) bool {
			if x, y := s.Modes[a], s.Modes[b]; about[x.Node] != about[y.Node] && s.Behind >= hardly*s.P {
				return about[x.Node]
			}
			if d := tie.Compare(s.Modes[a].P, s.Modes[b].P); d != 0 {
				return d > 0
			}
			return s.Modes[a].Mode.Name < s.Modes[b].Mode.Name
		})
		r.Suspects = append(r.Suspects, s)
	}
	order(m, r)
}

// settle works out the first so many suspects.
func settle(m *model.Model, r *Result, top int, any func(at []int) ([]float64, error)) error {
	for {
		// Work out whatever of the top is still a bound, all at once.
		var at []int
		for i := 0; i < len(r.Suspects) && i < top; i++ {
			if r.Suspects[i].Bounded {
				at = append(at, i)
			}
		}
		if len(at) == 0 {
			return nil
		}
		p, err := any(at)
		if err != nil {
			return err
		}
		for j, i := range at {
			r.Suspects[i].P, r.Suspects[i].Bounded = p[j], false
		}
		order(m, r)
	}
}

// rankPriors works out P(any mode) without any report, of the suspects whose P
// is worked out with the reports. Modes of a component share causes and
// stresses: as if they were independent it would come out up to a tenth too
// high.
func rankPriors(m *model.Model, r *Result) error {
	var at []int
	for i, s := range r.Suspects {
		if !s.Bounded && len(s.Modes) > 1 {
			at = append(at, i)
		}
	}
	any, err := anyMode(m, r, at, nil)
	for j, i := range at {
		if err == nil {
			r.Suspects[i].Prior = any[j]
		}
	}
	return err
}

// anyMode is P(at least one of its modes | pieces) of some suspects.
func anyMode(m *model.Model, r *Result, at []int, pieces []model.Piece) ([]float64, error) {
	sets := make([][]network.Hard, len(at))
	for j, i := range at {
		for _, b := range r.Suspects[i].Modes {
			sets[j] = append(sets[j], network.Hard{Node: b.Node})
		}
	}
	p, err := m.SolverOf(pieces).Chances(m.Likelihoods(pieces), sets)
	for j := range p {
		p[j] = clamp(1 - p[j])
	}
	return p, err
}

func clamp(p float64) float64 { return math.Max(0, math.Min(1, p)) }

// hardly is the share of the largest Behind below which a suspect does not stand
// among those that explain the complaint (our own choice: what is twenty times
// less likely is not what anybody looks at first).
const hardly = 0.05

// order puts what can be behind the complaint first: a seal that weeps for
// certain is not why reverse slips.
func order(m *model.Model, r *Result) {
	most := 0.0
	for _, s := range r.Suspects {
		most = math.Max(most, s.Behind)
	}
	for i := range r.Suspects {
		s := &r.Suspects[i]
		s.Explains = s.Behind > 0 && s.Behind >= hardly*most
	}
	sort.SliceStable(r.Suspects, func(i, j int) bool {
		a, b := r.Suspects[i], r.Suspects[j]
		if a.Explains != b.Explains {
			return a.Explains
		}
		if a.Explains {
			if d := tie.Compare(math.Min(a.P, a.Behind), math.Min(b.P, b.Behind)); d != 0 {
				return d > 0
			}
		}
		if d := tie.Compare(a.P, b.P); d != 0 {
			return d > 0
		}
		return a.Component.Name < b.Component.Name
	})
}

func rankCauses(m *model.Model, r *Result, post, prior *network.Posterior) {
	for i, n := range m.Nodes {
		if n.Layer == model.CauseLayer && !n.Cause.Context {
			r.Causes = append(r.Causes, CauseBelief{i, n.Cause, post.P[i], prior.P[i]})
		}
	}
	sort.SliceStable(r.Causes, func(i, j int) bool {
		if d := tie.Compare(r.Causes[i].P, r.Causes[j].P); d != 0 {
			return d > 0
		}
		return r.Causes[i].Cause.Name < r.Causes[j].Cause.Name
	})
}

// place says where a suspect comes into view and how far that is.
func place(m *model.Model, s *Suspect, done []string) {
	for i := range m.Unit.Steps {
		if slices.Contains(m.Unit.Steps[i].Exposes, s.Component.Name) {
			s.Step = &m.Unit.Steps[i]
			s.ToReach = m.MinutesTo(s.Step.Name, done)
		}
	}
	seen := map[string]bool{}
	for _, b := range s.Modes {
		if b.P < 0.2*s.Modes[0].P {
			continue
		}
		for _, kind := range m.BasesOf(b.Node) {
			if !seen[string(kind)] {
				seen[string(kind)] = true
				s.Bases = append(s.Bases, kind)
			}
		}
	}
	if len(s.Modes) > 0 {
		s.Rows = m.RowsOf(s.Modes[0].Node)
	}
}

// weigh works out what each report says of the top suspects. With a and b the
// probabilities that the finding is there given all reports and the suspect
// present or absent, taking the report back multiplies the odds by
// (a/On + (1-a)/Off) / (b/On + (1-b)/Off): no further solving is needed.
func weigh(m *model.Model, r *Result, top int) error {
	var nodes []int
	for i := 0; i < len(r.Suspects) && i < top; i++ {
		nodes = append(nodes, r.Suspects[i].Modes[0].Node)
	}
	post, err := given(m, r, nodes)
	if err != nil {
		return err
	}
	r.given = map[int][]*network.Posterior{}
	for i, n := range nodes {
		r.given[n] = post[2*i : 2*i+2]
		r.Suspects[i].Weights = weights(r, post[2*i], post[2*i+1])
	}
	return nil
}

// weights are those of a node, from what is reported with it on and with it off.
func weights(r *Result, on, off *network.Posterior) []Weight {
	if on == nil || off == nil {
		return nil
	}
	var out []Weight
	for _, p := range r.Pieces {
		if !p.Ranked || p.On == 0 || p.Off == 0 || on.P[p.Node] < 0 {
			continue
		}
		without := func(q float64) float64 { return q/p.On + (1-q)/p.Off }
		db := 10 * math.Log10(without(off.P[p.Node])/without(on.P[p.Node]))
		if math.IsNaN(db) || math.IsInf(db, 0) {
			continue
		}
		out = append(out, Weight{p.Group, p.Label, p.About, p.Value, p.State, p.By, db})
	}
	sort.SliceStable(out, func(a, b int) bool {
		return tie.More(math.Abs(out[a].Decibans), math.Abs(out[b].Decibans))
	})
	return out
}

// given is, for each of some nodes, the posterior of what is reported with it on and
// with it off.
func given(m *model.Model, r *Result, nodes []int) ([]*network.Posterior, error) {
	var sets [][]network.Hard
	for _, n := range nodes {
		sets = append(sets, []network.Hard{{Node: n, On: true}}, []network.Hard{{Node: n}})
	}
	with := m.Likelihoods(r.Pieces)
	return m.SolverOf(r.Pieces).Given(with, sets, reported(m, r.Pieces, with))
}

// reported lists the nodes that the evidence is about, and those of pieces that
// something else hangs on.
func reported(m *model.Model, pieces []model.Piece, with []network.Likelihood) []int {
	own, leads := map[int]bool{}, map[int]bool{}
	for _, e := range with {
		own[e.Node] = true
	}
	for i := range m.Net.Nodes {
		for _, l := range m.Net.Nodes[i].Links {
			leads[l.Parent] = true
		}
	}
	for _, p := range pieces {
		if leads[p.Node] {
			own[p.Node] = true
		}
	}
	out := make([]int, 0, len(own))
	for n := range own {
		out = append(out, n)
	}
	slices.Sort(out)
	return out
}

// candidates bounds the modes that joint explanations are made of.
const candidates = 5

// explain finds the best joint explanations over the modes that the reports
// speak of: those that can bring about a reported finding, the likeliest five
// of them, alone and in pairs. What else may be worn in the unit, and no
// report tells of, is summed out.
func explain(m *model.Model, r *Result, pieces []model.Piece) error {
	about := m.SpeaksOf(pieces)
	var cand []int
	var none []network.Hard
	for _, n := range m.Modes() {
		if about[n] {
			cand = append(cand, n)
			none = append(none, network.Hard{Node: n})
		}
	}
	if len(cand) == 0 {
		return nil
	}
	p := r.Posterior
	sort.SliceStable(cand, func(i, j int) bool { return tie.More(p[cand[i]], p[cand[j]]) })
	if len(cand) > candidates {
		cand = cand[:candidates]
	}
	sets := [][]network.Hard{none}
	var all []Explanation
	add := func(on ...int) {
		var set []network.Hard
		for _, n := range cand {
			set = append(set, network.Hard{Node: n, On: on[0] == n || on[len(on)-1] == n})
		}
		sets = append(sets, set)
		all = append(all, Explanation{Modes: on})
	}
	for i, n := range cand {
		add(n)
		for _, other := range cand[:i] {
			add(other, n)
		}
	}
	together := elements(m, p, about)
	for i := range together {
		sets = append(sets, together[i].off())
	}
	chance, err := m.SolverOf(pieces).Chances(m.Likelihoods(pieces), sets)
	if err != nil {
		return err
	}
	r.Unexplained = chance[0]
	for i := range together {
		together[i].P = clamp(1 - chance[1+len(all)+i])
	}
	r.Together = standOut(r, together)
	for i := range all {
		all[i].P = chance[i+1]
	}
	sort.SliceStable(all, func(i, j int) bool { return tie.More(all[i].P, all[j].P) })
	if len(all) > 5 {
		all = all[:5]
	}
	r.Explanations = all
	return blame(m, r, pieces)
}

// blame finds, for each likely explanation, the root cause that goes best with
// it and is likelier than before any report.
func blame(m *model.Model, r *Result, pieces []model.Piece) error {
	var sets [][]network.Hard
	for _, e := range r.Explanations {
		if e.P < 0.01 {
			break
		}
		var set []network.Hard
		for _, n := range e.Modes {
			set = append(set, network.Hard{Node: n, On: true})
		}
		sets = append(sets, set)
	}
	var causes []int
	for n := range m.Nodes {
		if m.Nodes[n].Layer == model.CauseLayer {
			causes = append(causes, n)
		}
	}
	post, err := m.SolverOf(pieces).Given(m.Likelihoods(pieces), sets, causes)
	if err != nil {
		return err
	}
	for i, q := range post {
		e := &r.Explanations[i]
		for n := range m.Nodes {
			if q != nil && m.Nodes[n].Layer == model.CauseLayer && !m.Nodes[n].Cause.Context && tie.More(q.P[n], e.PC) && tie.More(q.P[n], r.Prior[n]) {
				e.Cause, e.PC = m.Nodes[n].Cause, q.P[n]
			}
		}
	}
	return nil
}
