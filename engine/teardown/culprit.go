package teardown

import (
	"strings"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/engine/network"
)

// culprits are the modes that count, by component, in the model's order.
type culprits struct {
	m     *model.Model
	r     *diagnose.Result
	modes map[string][]int
	memo  map[string]float64 // key of a list of nodes -> P(any of them | reports)
}

// least is the probability under which a fault is left out: a plan is not
// changed by one in a thousand, and every fault more is work.
const least = 0.001

// newCulprits finds the modes that can be behind what is reported, less those
// of parts that were looked at and those less likely than least.
func newCulprits(m *model.Model, c *engine.CaseFile, r *diagnose.Result) *culprits {
	about, any := m.Culprits(r.Pieces)
	seen := seenComponents(c)
	k := &culprits{m: m, r: r, modes: map[string][]int{}, memo: map[string]float64{"": 0}}
	for _, n := range m.Modes() {
		name := m.Nodes[n].Component.Name
		if (about[n] || !any) && !seen[name] && r.Posterior[n] >= least {
			k.modes[name] = append(k.modes[name], n)
		}
	}
	return k
}

// of joins the culprit modes of components.
func (k *culprits) of(components []string) []int {
	var out []int
	for _, c := range components {
		out = append(out, k.modes[c]...)
	}
	return out
}

// key is the name of a list of modes in the memo, whatever its order.
func key(nodes []int) string {
	max := -1
	for _, n := range nodes {
		if n > max {
			max = n
		}
	}
	bits := make([]byte, max+1)
	for i := range bits {
		bits[i] = '0'
	}
	for _, n := range nodes {
		bits[n] = '1'
	}
	return strings.TrimRight(string(bits), "0")
}

// work makes P(any of a list | reports) known for every list, all on one tree.
func (k *culprits) work(lists [][]int) error {
	var sets [][]network.Hard
	var keys []string
	for _, list := range lists {
		id := key(list)
		if _, ok := k.memo[id]; ok {
			continue
		}
		k.memo[id] = -1
		if len(list) == 1 {
			k.memo[id] = k.r.Posterior[list[0]]
			continue
		}
		var set []network.Hard
		for _, n := range list {
			set = append(set, network.Hard{Node: n})
		}
		sets, keys = append(sets, set), append(keys, id)
	}
	if len(sets) == 0 {
		return nil
	}
	none, err := k.m.SolverOf(k.r.Pieces).Chances(k.m.Likelihoods(k.r.Pieces), sets)
	if err != nil {
		return err
	}
	for i, p := range none {
		k.memo[keys[i]] = max(0, 1-p)
	}
	return nil
}

// any is P(any of the modes | reports), worked out before by work.
func (k *culprits) any(nodes []int) float64 {
	p, ok := k.memo[key(nodes)]
	if !ok || p < 0 {
		panic("teardown: a probability is asked for that was not worked out")
	}
	return p
}

// another is how far the reports raise P(any of the modes has failed) over what
// it is with the finds alone, as a share of what it could be raised: 0 where
// the finds explain all reports, 1 where another fault is certain.
func (k *culprits) another(nodes []int) (float64, error) {
	if len(nodes) == 0 {
		return 0, nil
	}
	var finds []model.Piece
	for _, p := range k.r.Pieces {
		if !p.Ranked {
			finds = append(finds, p)
		}
	}
	var none []network.Hard
	for _, n := range nodes {
		none = append(none, network.Hard{Node: n})
	}
	base, err := k.m.Solver().Chances(k.m.Likelihoods(finds), [][]network.Hard{none})
	if err != nil {
		return 0, err
	}
	if err := k.work([][]int{nodes}); err != nil {
		return 0, err
	}
	if base[0] <= 0 {
		return 1, nil
	}
	return max(0, 1-(1-k.any(nodes))/base[0]), nil
}

// some is P(at least one culprit | reports).
func (k *culprits) some() (float64, error) {
	var all []int
	for i := range k.m.Unit.Components {
		all = append(all, k.modes[k.m.Unit.Components[i].Name]...)
	}
	err := k.work([][]int{all})
	if err != nil {
		return 0, err
	}
	return k.any(all), nil
}

// weights is P(any culprit mode | reports) of every component.
func (k *culprits) weights() (map[string]float64, error) {
	var lists [][]int
	for i := range k.m.Unit.Components {
		lists = append(lists, k.modes[k.m.Unit.Components[i].Name])
	}
	if err := k.work(lists); err != nil {
		return nil, err
	}
	out := map[string]float64{}
	for i := range k.m.Unit.Components {
		out[k.m.Unit.Components[i].Name] = k.any(lists[i])
	}
	return out, nil
}

func seenComponents(c *engine.CaseFile) map[string]bool {
	seen := map[string]bool{}
	for _, s := range c.Seen {
		seen[s.Component] = true
	}
	return seen
}
