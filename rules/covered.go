package rules

import (
	"slipcase/engine"
	"slipcase/rules/syntax"
)

// whyNot says of each thing that is not covered what it would take.
var whyNot = map[string]string{
	engine.TwoInputs:     "A gear train here has one input, the turbine. Power split between an engine and a motor or generator is not covered, and answers for such a unit would be wrong.",
	engine.VariableRatio: "Every row here has one ratio, made by teeth. A belt, chain or roller that varies it is not covered, and answers for such a unit would be wrong.",
}

// uncovered reports a name in a unit that speaks of a train that is not
// covered; false for any other.
func (p *problems) uncovered(at engine.Range, name string) bool {
	why := engine.NotCovered(name)
	if why == "" {
		return false
	}
	p.Error(at, why, whyNot[why])
	return true
}

// ofTrain tells blocks that describe the gear train.
func ofTrain(spec *blockSpec) bool {
	switch spec.name {
	case "unit", "train", "gearset", "row":
		return true
	}
	return false
}

// oneInput refuses a list of inputs, at its place.
func (d *decoder) oneInput(n *node) bool {
	a := n.attr("input")
	if a == nil || a.Value.Kind != syntax.List || len(a.Value.Items) < 2 {
		return true
	}
	d.Error(a.at(), engine.TwoInputs, whyNot[engine.TwoInputs])
	return false
}
