package refine

import (
	"errors"
	"hash/fnv"
	"slices"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/network"
)

// Case is a case of the casebook as learning takes it: the fold of its
// entries, how it was closed, and the earlier case whose repair came back.
type Case struct {
	ID         string
	File       engine.CaseFile
	Outcome    engine.CaseStatus
	ComeBackOf string // id of the earlier case, also while this one is open; "" for none
}

// Skipped is a case that was not learned from.
type Skipped struct {
	ID      string
	Why     Unfit
	Unit    string         // NotLoaded
	Problem *model.Problem // Unknown: the first name that the rules do not know
	Err     error          // Failed
}

// Unfit says why a case cannot be learned from.
type Unfit string

// The reasons.
const (
	Twice       Unfit = "twice"        // an earlier case has the same id
	Unconfirmed Unfit = "unconfirmed"  // not closed as fixed or as a comeback
	NothingSeen Unfit = "nothing_seen" // nothing was found or cleared
	CameBack    Unfit = "came_back"    // its repair came back, and nobody has found yet what was missed
	NotLoaded   Unfit = "not_loaded"   // its unit is not loaded
	Unknown     Unfit = "unknown"      // it names what the rules do not know
	Impossible  Unfit = "impossible"   // what was found contradicts what was reported, under these rules
	Failed      Unfit = "failed"       // inference failed otherwise
)

// item is a case made ready.
type item struct {
	id      string
	b       *binding
	fold    uint32               // cases of one family of comebacks share it
	all     []network.Likelihood // what was reported and measured, found, cleared and settled; answers as in the rules
	reports int                  // so many of them were reported and measured; they stand first
	answers []answered           // the reports that are answers
	stated  int                  // in all, of what the vehicle was brought in for; -1 for none
	unsaid  bool                 // that is left out of what is learned from, see ascertain
	seen    []network.Likelihood // found and cleared, without settled causes
	silent  []bool               // by node: a mode or cause of which nothing was noted
	there   [2]int               // failed modes and root causes noted
	found   []string             // components confirmed failed
	came    bool                 // with a complaint
	brought bool                 // that is learned from, see binding.brought
	scored  bool                 // its findings are confirmed: not followed by a comeback
	sampled bool                 // of a large casebook: counted again, see census
	kept    *network.Solver      // holds its tree between iterations; nil: the tree is built each time
}

// answered is an answer of a reporter. How often it errs is one number of the
// reporter, at its most fallible, times a share for the finding; without a number
// the share alone.
type answered struct {
	at                      int // in item.all
	node                    int
	falseAlarm, miss        int     // numbers, or -1
	oftenFalse, oftenMissed float64 // shares, 0 to 1
	left                    float64 // of what is there, what can still be seen
	present                 bool
}

// choose turns cases into items, in their order, and says which were left out.
func (l *learner) choose(cases []Case) (items []*item, skipped []Skipped) {
	var files []*engine.CaseFile
	byID := make(map[string]*Case, len(cases))
	followed, doubted := map[string][]*Case{}, map[string]bool{}
	for i := range cases {
		byID[cases[i].ID] = &cases[i]
	}
	for i := range cases {
		switch c := &cases[i]; {
		case c.ComeBackOf == "":
		case c.confirms():
			followed[c.ComeBackOf] = append(followed[c.ComeBackOf], c)
		default:
			doubted[c.ComeBackOf] = true
		}
	}
	for i := range cases {
		c := &cases[i]
		skip := func(s Skipped) { s.ID = c.ID; skipped = append(skipped, s) }
		switch {
		case byID[c.ID] != c:
			skip(Skipped{Why: Twice})
			continue
		case c.Outcome != engine.CaseFixed && c.Outcome != engine.CaseComeBack:
			skip(Skipped{Why: Unconfirmed})
			continue
		case len(c.File.Seen) == 0:
			skip(Skipped{Why: NothingSeen})
			continue
		case doubted[c.ID] && len(followed[c.ID]) == 0:
			skip(Skipped{Why: CameBack})
			continue
		case l.byUnit[c.File.Unit] == nil:
			skip(Skipped{Why: NotLoaded, Unit: c.File.Unit})
			continue
		}
		back := followed[c.ID]
		it, problem := l.byUnit[c.File.Unit].item(unsettle(c, back), len(back) == 0)
		if problem != nil {
			skip(Skipped{Why: Unknown, Problem: problem})
			continue
		}
		it.id, it.fold = c.ID, family(c, byID)
		items = append(items, it)
		files = append(files, &c.File)
	}
	l.listen(files)
	l.heed(items)
	if !l.opt.AnyVehicle {
		ascertain(items)
	}
	return items, skipped
}

func (c *Case) confirms() bool {
	return (c.Outcome == engine.CaseFixed || c.Outcome == engine.CaseComeBack) && len(c.File.Seen) > 0
}

// unsettle takes out of a case what its comebacks put in doubt: the root
// causes that were settled on, and the clearing of what a comeback found
// failed. What was seen failed stays seen.
func unsettle(c *Case, back []*Case) *engine.CaseFile {
	f := c.File
	if len(back) == 0 {
		return &f
	}
	f.Settled = slices.DeleteFunc(slices.Clone(f.Settled), func(s engine.SettledCause) bool { return s.Present })
	var seen []engine.Seen
	for _, s := range f.Seen {
		s.Cause = ""
		doubted := false
		for _, b := range back {
			for _, o := range b.File.Seen {
				doubted = doubted || s.Cleared && !o.Cleared && o.Component == s.Component
			}
		}
		if !doubted {
			seen = append(seen, s)
		}
	}
	f.Seen = seen
	return &f
}

// family is a hash of the first case of a chain of comebacks.
func family(c *Case, byID map[string]*Case) uint32 {
	for range 16 { // a chain is short; a circle ends too
		e := byID[c.ComeBackOf]
		if e == nil || e == c {
			break
		}
		c = e
	}
	h := fnv.New32a()
	h.Write([]byte(c.ID))
	// FNV leaves the low digits of short names in step: mix.
	x := h.Sum32()
	x ^= x >> 16
	x *= 0x7feb352d
	x ^= x >> 15
	return x
}

// item turns a case into likelihoods, or gives the name that the rules do not
// know.
// confirmed says that no comeback puts it in doubt.
func (b *binding) item(f *engine.CaseFile, confirmed bool) (*item, *model.Problem) {
	pieces, diags := b.m.Evidence(f)
	for _, d := range diags {
		if d.Severity == engine.Error {
			return nil, &d
		}
	}
	it := &item{b: b, scored: confirmed, stated: -1}
	for i, p := range model.Plain(pieces) {
		it.all = append(it.all, p)
		if x := &pieces[i]; x.Answer == nil && x.Ranked && x.Value == "" {
			it.stated = i
		}
		if a := pieces[i].Answer; a != nil {
			x := answered{at: i, node: p.Node, oftenFalse: a.FalseAlarm, oftenMissed: a.Miss, left: a.Left, present: pieces[i].State == engine.Present}
			x.falseAlarm, x.oftenFalse = b.errs(a.FalseAlarms, a.FalseAlarm)
			x.miss, x.oftenMissed = b.errs(a.Misses, a.Miss)
			it.answers = append(it.answers, x)
		}
		if node, ok := b.m.Lookup(engine.ParseFindingName(pieces[i].Label).Base()); ok && pieces[i].State == engine.Present {
			it.came = it.came || b.complains[node] // hot only is a complaint too
		}
		if pieces[i].Ranked {
			it.reports++
		}
	}
	for _, s := range f.Seen {
		if s.Cleared {
			for _, n := range b.m.ModesOf(s.Component) {
				it.seen = append(it.seen, network.Likelihood{Node: n, On: 0, Off: 1, Tag: -1})
			}
			continue
		}
		if n, ok := b.m.Lookup(s.Component + "/" + s.Mode); ok {
			it.seen = append(it.seen, network.Likelihood{Node: n, On: 1, Off: 0, Tag: -1})
		}
		if !slices.Contains(it.found, s.Component) {
			it.found = append(it.found, s.Component)
		}
	}
	it.silent = make([]bool, len(b.m.Nodes))
	for i, n := range b.m.Nodes {
		it.silent[i] = n.Layer == model.ModeLayer || n.Layer == model.CauseLayer
	}
	for _, e := range it.all {
		if e.On > 0 && e.Off > 0 || !it.silent[e.Node] {
			continue
		}
		it.silent[e.Node] = false
		if e.Off == 0 {
			which := found
			if b.m.Nodes[e.Node].Layer == model.CauseLayer {
				which = settled
			}
			it.there[which]++
		}
	}
	return it, nil
}

// trouble is a case that inference cannot do.
func trouble(id string, err error) Skipped {
	var clash *network.ImpossibleError
	if errors.As(err, &clash) {
		return Skipped{ID: id, Why: Impossible}
	}
	return Skipped{ID: id, Why: Failed, Err: err}
}
