package trial

import (
	"hash/fnv"
	"math/rand/v2"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/network"
)

// Sample draws the state of every node of a network, parents before children,
// into on; nil makes a new list. One number is drawn for each node.
func Sample(net *network.Net, rng *rand.Rand, on []bool) []bool {
	if on == nil {
		on = make([]bool, len(net.Nodes))
	}
	for i := range net.Nodes {
		n := &net.Nodes[i]
		off := 1 - n.Leak
		for _, l := range n.Links {
			if on[l.Parent] {
				off *= 1 - l.Strength
			}
		}
		on[i] = rng.Float64() >= off
	}
	return on
}

// Vehicles draws simulated vehicles of a unit that can be asked anything.
type Vehicles struct {
	m    *model.Model
	list []string // complaints
	// by are the reporters who state the complaint: the driver, and the builder
	// on the first short drive.
	by []string
	// node has the nodes of findings in the form in which all conditions of one
	// finding agree with each other; rate has the reporters' rates.
	node map[string]int
	rate map[string][2]float64 // finding and reporter -> hit, false alarm
}

// NewVehicles makes a source of vehicles.
func NewVehicles(m *model.Model) *Vehicles {
	s := &Vehicles{m: m, by: []string{engine.Driver}, node: map[string]int{}, rate: map[string][2]float64{}}
	for _, r := range m.Knowledge.Reporters {
		if r.Name == "road_test" {
			s.by = append(s.by, r.Name)
		}
	}
	for _, i := range m.Complaints() {
		s.list = append(s.list, m.Nodes[i].Name)
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
func (s *Vehicles) learn(name string, by ...string) {
	f := engine.ParseFindingName(name)
	second := f
	second.Condition = engine.Hot
	if f.Condition == engine.Hot {
		second.Condition = ""
	}
	for _, b := range by {
		c := engine.CaseFile{Reports: []engine.Report{{Finding: name, State: engine.Present, By: b}, {Finding: second.String(), State: engine.Present, By: b}}}
		pieces, _ := s.m.AsAsked().Hypothetical(&c)
		if len(pieces) == 0 || pieces[0].Label != name {
			continue
		}
		s.node[name] = pieces[0].Node
		s.rate[name+"\x00"+b] = [2]float64{pieces[0].On, pieces[0].Off}
	}
}

// Vehicle is a simulated vehicle that came in with a complaint. What a reporter
// says of it depends on the vehicle, the finding and the reporter alone, so that
// all ways of asking hear the same answers.
type Vehicle struct {
	s       *Vehicles
	net     *network.Net
	on      []bool
	opening []engine.Report
	seed    uint64
}

// mostTries bounds the vehicles that are drawn for one with a complaint: rules
// that need more hardly ever lead to one.
const mostTries = 200_000

// Draw makes the vehicle of a seed and a number; nil when the rules hardly
// ever lead to a complaint. The same numbers give the same vehicle.
func (s *Vehicles) Draw(seed, index uint64) (*Vehicle, error) { return s.draw(1, seed, index, true) }

// draw draws vehicles as the rules have them, with the numbers off by up to a
// factor, until one comes in: a symptom that a driver complains of is there, a
// fault has brought it about, the driver states it, and the first short drive
// shows it. Each vehicle is drawn once, however many such symptoms it has; one of
// them, any, is the complaint. Without complain any vehicle will do, and it has no
// complaint.
func (s *Vehicles) draw(perturb float64, seed, index uint64, complain bool) (*Vehicle, error) {
	r := rand.New(rand.NewPCG(seed, index))
	v := &Vehicle{s: s, net: s.m.Net}
	if perturb > 1 {
		m, err := Perturbed(s.m, perturb, seed+1, index)
		if err != nil {
			return nil, err
		}
		v.net = m.Net
	}
	for try := range uint64(mostTries) {
		if try%64 == 0 && s.m.Ended() != nil {
			return nil, s.m.Ended()
		}
		v.on = Sample(v.net, r, v.on)
		v.seed = seed ^ (index+1)*0x9E3779B97F4A7C15 ^ (try+1)*0xD1B54A32D192ED03
		if !complain {
			return v, nil
		}
		var there []string
		for _, name := range s.list {
			if v.complains(name) {
				there = append(there, name)
			}
		}
		if len(there) == 0 {
			continue
		}
		name := there[r.IntN(len(there))]
		for _, by := range s.by {
			v.opening = append(v.opening, engine.Report{Finding: name, State: engine.Present, By: by})
		}
		return v, nil
	}
	return nil, nil
}

// complains tells whether a finding can be what this vehicle comes in for.
func (v *Vehicle) complains(name string) bool {
	node, known := v.s.node[name]
	if !known || !v.on[node] {
		return false
	}
	for _, by := range v.s.by {
		if v.Say(name, by) != engine.Present {
			return false
		}
	}
	for _, n := range v.behind(node) {
		if v.s.m.Nodes[n].Layer == model.ModeLayer {
			return true
		}
	}
	return false
}

// Opening is the complaint, as the driver states it and as the first short
// drive confirms it.
func (v *Vehicle) Opening() []engine.Report { return v.opening }

// Say is what a reporter says of a finding, the same each time; Unknown where
// the reporter cannot tell.
func (v *Vehicle) Say(finding, by string) engine.State {
	rates, ok := v.s.rate[finding+"\x00"+by]
	if !ok {
		return engine.Unknown
	}
	rate := rates[1]
	if v.on[v.s.node[finding]] {
		rate = rates[0]
	}
	if rand.New(rand.NewPCG(v.seed, hash(finding+"\x00"+by))).Float64() < rate {
		return engine.Present
	}
	return engine.Absent
}

func hash(s string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(s)) // never fails
	return h.Sum64()
}

// On tells what is really so: whether a node of the model is on.
func (v *Vehicle) On(node int) bool { return v.on[node] }

// Behind lists the nodes that have brought the complaint about, each with its
// first cause last: modes and root causes.
func (v *Vehicle) Behind() []int {
	if len(v.opening) == 0 {
		return nil
	}
	var out []int
	for _, n := range v.behind(v.s.node[v.opening[0].Finding]) {
		if layer := v.s.m.Nodes[n].Layer; layer == model.ModeLayer || layer == model.CauseLayer {
			out = append(out, n)
		}
	}
	return out
}

// behind lists the nodes that have brought a node about, directly or through
// others, nearest first.
func (v *Vehicle) behind(node int) []int {
	seen := map[int]bool{node: true}
	queue := []int{node}
	for i := 0; i < len(queue); i++ {
		for _, p := range v.fired(queue[i]) {
			if !seen[p] {
				seen[p] = true
				queue = append(queue, p)
			}
		}
	}
	return queue[1:]
}

// fired lists the parents that have brought a node about that is on: of those
// that are on each has, with the strength of its link, and so has the leak, given
// that at least one of them has.
func (v *Vehicle) fired(node int) []int {
	n := &v.net.Nodes[node]
	var parents []int
	var p []float64
	for _, l := range n.Links {
		if v.on[l.Parent] {
			parents, p = append(parents, l.Parent), append(p, l.Strength)
		}
	}
	if len(parents) == 0 {
		return nil
	}
	r := rand.New(rand.NewPCG(v.seed, 0x5851F42D4C957F2D^uint64(node)))
	any := false
	var out []int
	// One after the other, the leak last: as long as none has, the chance of each
	// is that given that one of it and of those to come must.
	none := make([]float64, len(p)+1) // of p[i:] and the leak
	none[len(p)] = 1 - n.Leak
	for i := len(p) - 1; i >= 0; i-- {
		none[i] = none[i+1] * (1 - p[i])
	}
	for i := range p {
		chance := p[i]
		if !any {
			chance /= 1 - none[i]
		}
		if r.Float64() < chance {
			any = true
			out = append(out, parents[i])
		}
	}
	return out
}
