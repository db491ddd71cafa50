package trial

import (
	"math/rand/v2"

	"slipcase/engine"
	"slipcase/engine/model"
)

// world is one simulated vehicle for comparing ways of asking. A complaint is
// drawn from the findings that a driver can come in with, and the unit from the
// network until the complaint is there, a fault leads to it, and those who state
// it report it: the driver, and the builder after a first short drive. Every
// further report depends on the world, the finding and the reporter alone, so
// that all ways of asking hear the same answers.
type world struct {
	s       *sources
	truth   Truth // Failed is not set
	opening []engine.Report
	seed    uint64
}

// complaints lists the plain findings that a driver comes in with.
func complaints(m *model.Model) []string {
	var out []string
	for _, i := range m.Complaints() {
		out = append(out, m.Nodes[i].Name)
	}
	return out
}

// sources knows the unit's findings as reports name them.
type sources struct {
	m    *model.Model
	list []string // complaints
	// by are the reporters who state the complaint: the driver, and the builder
	// on the first short drive.
	by []string
	// nodes of findings in the form in which all conditions of one finding
	// agree with each other, and the reporters' rates.
	node map[string]int
	rate map[string][2]float64 // finding and reporter -> hit, false alarm
}

func newSources(m *model.Model) *sources {
	s := &sources{m: m, list: complaints(m), by: []string{"driver"}, node: map[string]int{}, rate: map[string][2]float64{}}
	for _, r := range m.Knowledge.Reporters {
		if r.Name == "road_test" {
			s.by = append(s.by, r.Name)
		}
	}
	for _, name := range s.list {
		s.learn(name, s.by...)
	}
	for _, c := range m.Knowledge.Checks {
		for _, pattern := range c.Yields {
			for _, name := range m.Match(pattern) {
				s.learn(name, c.Reporter)
			}
		}
	}
	return s
}

// learn resolves a finding. A case that reports a finding under two names uses
// nodes that agree with each other; those are the ones that are drawn.
func (s *sources) learn(name string, by ...string) {
	f := engine.ParseFindingName(name)
	second := f
	second.Condition = engine.Hot
	if f.Condition == engine.Hot {
		second.Condition = ""
	}
	for _, b := range by {
		c := engine.CaseFile{Reports: []engine.Report{{Finding: name, State: engine.Present, By: b}, {Finding: second.String(), State: engine.Present, By: b}}}
		pieces, _ := s.m.Hypothetical(&c)
		if len(pieces) == 0 || pieces[0].Label != name {
			continue
		}
		s.node[name] = pieces[0].Node
		s.rate[name+"\x00"+b] = [2]float64{pieces[0].On, pieces[0].Off}
	}
}

// draw makes one case. It gives up, with nil, after many tries: the rules then
// hardly ever lead to a complaint.
func (s *sources) draw(perturb float64, seed, index uint64) (*world, error) {
	r := rand.New(rand.NewPCG(seed, index))
	net := s.m.Net
	if perturb > 1 {
		m, err := Perturbed(s.m, perturb, seed+1, index)
		if err != nil {
			return nil, err
		}
		net = m.Net
	}
	w := &world{s: s, truth: Truth{On: make([]bool, len(net.Nodes))}}
	for try := range uint64(200_000) {
		if try%64 == 0 && s.m.Ended() != nil {
			return nil, s.m.Ended()
		}
		name := s.list[r.IntN(len(s.list))]
		w.truth.sample(net, r)
		node, known := s.node[name]
		if !known || !w.truth.On[node] || !w.behind(node) {
			continue
		}
		w.opening, w.seed = nil, seed^(index+1)*0x9E3779B97F4A7C15^(try+1)*0xD1B54A32D192ED03
		all := true
		for _, by := range s.by {
			rep := engine.Report{Finding: name, State: w.say(name, by), By: by}
			all = all && rep.State == engine.Present
			w.opening = append(w.opening, rep)
		}
		if all {
			return w, nil
		}
	}
	return nil, nil
}

// say is a reporter's answer about a finding in this world, always the same.
func (w *world) say(finding, by string) engine.State {
	h := uint64(14695981039346656037)
	for _, b := range []byte(finding + "\x00" + by) {
		h = (h ^ uint64(b)) * 1099511628211
	}
	rates, ok := w.s.rate[finding+"\x00"+by]
	if !ok {
		return engine.Unknown
	}
	rate := rates[1]
	if w.truth.On[w.s.node[finding]] {
		rate = rates[0]
	}
	if rand.New(rand.NewPCG(w.seed, h)).Float64() < rate {
		return engine.Present
	}
	return engine.Absent
}

// behind tells whether a fault leads to a finding through nodes that are there.
func (w *world) behind(node int) bool {
	m := w.s.m
	seen := map[int]bool{node: true}
	queue := []int{node}
	for i := 0; i < len(queue); i++ {
		for _, l := range m.Net.Nodes[queue[i]].Links {
			if seen[l.Parent] || !w.truth.On[l.Parent] {
				continue
			}
			if m.Nodes[l.Parent].Layer == model.ModeLayer {
				return true
			}
			seen[l.Parent] = true
			queue = append(queue, l.Parent)
		}
	}
	return false
}
