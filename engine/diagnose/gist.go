package diagnose

import (
	"slices"
	"sort"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/tie"
)

// Gist is what the first sentence of an answer says.
type Gist struct {
	// Complaint is up to three reports present that the leader or the rival can
	// bring about, the heaviest first; where there are none, what else is
	// reported present.
	Complaint []model.Piece
	// Unmet is up to three reported symptoms that neither brings about, where
	// Complaint has such as they do.
	Unmet []model.Piece
	Lead  Blame
	Rival *Blame // the second suspect, where it is more than half as likely as the leader
	Both  bool   // the best joint explanation has the leader and the rival in it
	InPan bool   // the leader's likeliest mode shows in the pan as likely as not, or more
	// Elsewhere is the likeliest part that can bring about what is reported on
	// the other side: outside the transmission, or inside when the leader is
	// outside.
	Elsewhere *Blame
	// Cause is the likeliest root cause of 5% or more, where the leader is
	// inside and Elsewhere is nil.
	Cause *CauseBelief
}

// Blame is a component with one of its modes. P is that of the component for
// the leader and the rival, and of the mode for Elsewhere (0 to 1).
type Blame struct {
	Component *engine.Component // nil: the unit has no component that a rule can blame
	Mode      *engine.Mode
	P         float64 // probability
	Outside   bool    // not part of the transmission
}

const (
	mostComplaints = 3
	panStrength    = 0.5  // of a mode on a sign in the pan, from which on InPan
	leastCause     = 0.05 // probability from which on a root cause is named
)

// gist picks what is said first.
func gist(m *model.Model, r *Result) Gist {
	var g Gist
	if len(r.Suspects) == 0 {
		return g
	}
	lead := r.Suspects[0]
	g.Lead = Blame{lead.Component, lead.Modes[0].Mode, lead.P, lead.Outside}
	if len(r.Suspects) > 1 && lead.P < 2*r.Suspects[1].P {
		s := r.Suspects[1]
		g.Rival, g.Both = &Blame{s.Component, s.Modes[0].Mode, s.P, s.Outside}, together(m, r, lead, s)
	}
	named := []Suspect{lead}
	if g.Rival != nil {
		named = append(named, r.Suspects[1])
	}
	g.Complaint, g.Unmet = complaint(m, r, named)
	g.InPan = shownInPan(m, lead.Modes[0].Node)
	if g.Elsewhere = likeliest(m, r, !lead.Outside); g.Elsewhere == nil && !lead.Outside {
		for i := range r.Causes {
			if r.Causes[i].P >= leastCause {
				g.Cause = &r.Causes[i]
				break
			}
		}
	}
	return g
}

// complaint picks the reported symptoms that the suspects named can bring
// about, the heaviest for the leader first, up to three; where there are none,
// what else is reported. Symptoms before history: "high mileage" is no
// complaint. Then the symptoms that none of them brings about.
func complaint(m *model.Model, r *Result, named []Suspect) (met, unmet []model.Piece) {
	weight := map[string]float64{}
	for _, w := range named[0].Weights {
		weight[w.Label+w.By] = w.Decibans
	}
	type said struct {
		piece  model.Piece
		base   string
		weight float64
		rank   int
		road   bool // of a row, a shift or an engagement
	}
	var all []said
	for _, p := range r.Pieces {
		if p.State != engine.Present || !p.Ranked {
			continue
		}
		s := said{piece: p, base: engine.ParseFindingName(p.Label).Base(), weight: weight[p.Label+p.By]}
		if f := m.Nodes[p.Node].Finding; f != nil {
			s.road = f.Per == engine.PerRow || f.Per == engine.PerShift || f.Per == engine.PerEngagement
		}
		if !symptom(m, p.Label) {
			s.rank += 2
		}
		if !slices.ContainsFunc(named, func(x Suspect) bool { return m.BringsAbout(x.Modes[0].Node, p.Node) }) {
			s.rank++
		}
		all = append(all, s)
	}
	sort.SliceStable(all, func(i, j int) bool {
		if all[i].rank != all[j].rank {
			return all[i].rank < all[j].rank
		}
		if all[i].road != all[j].road {
			return all[i].road
		}
		return tie.More(all[i].weight, all[j].weight)
	})
	have := map[string]bool{}
	for _, s := range all {
		if s.rank > all[0].rank || have[s.base] || len(met) == mostComplaints {
			continue
		}
		have[s.base] = true
		met = append(met, s.piece)
	}
	// A code is no complaint: some of them only say that there are others.
	const notBroughtAbout = 1 // a symptom, and of none of those named
	for _, s := range all {
		if m.Nodes[s.piece.Node].Finding != nil && all[0].rank == 0 && s.rank == notBroughtAbout && !have[s.base] && len(unmet) < mostComplaints {
			have[s.base] = true
			unmet = append(unmet, s.piece)
		}
	}
	return met, unmet
}

// together tells whether the best joint explanation has both suspects in it.
func together(m *model.Model, r *Result, a, b Suspect) bool {
	if len(r.Explanations) == 0 {
		return false
	}
	has := map[string]bool{}
	for _, n := range r.Explanations[0].Modes {
		has[m.Nodes[n].Component.Name] = true
	}
	return has[a.Component.Name] && has[b.Component.Name]
}

// symptom tells what is seen on the vehicle from what is only told about its
// past.
func symptom(m *model.Model, label string) bool {
	i, ok := m.LookupFinding(label)
	if !ok {
		return false
	}
	f := m.Nodes[i].Finding
	return f == nil || f.Per != engine.PerUnit || f.Stage != engine.StageInterview
}

// shownInPan tells whether a mode is likely (half or more) to leave something
// in the pan.
func shownInPan(m *model.Model, node int) bool {
	for i, n := range m.Nodes {
		if n.Layer != model.FindingLayer && n.Layer != model.PartLayer || n.Finding == nil || n.Finding.Stage != engine.StagePan {
			continue
		}
		for _, l := range m.Net.Nodes[i].Links {
			if l.Parent == node && l.Strength >= panStrength {
				return true
			}
		}
	}
	return false
}

// likeliest is the likeliest part outside the transmission, or inside it, that
// can bring about what is reported; nil when there is none.
func likeliest(m *model.Model, r *Result, outside bool) *Blame {
	about := m.SpeaksOf(r.Pieces)
	for _, s := range r.Suspects {
		if s.Outside != outside {
			continue
		}
		for _, b := range s.Modes {
			if about[b.Node] {
				return &Blame{s.Component, b.Mode, b.P, s.Outside}
			}
		}
	}
	return nil
}
