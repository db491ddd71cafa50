package rules

import (
	"fmt"
	"slices"

	"slipcase/engine"
	"slipcase/rules/syntax"
)

// targets reads what a component serves.
func (v values) targets(n *node) []engine.Target {
	a := n.attr("serves")
	if a == nil {
		return nil
	}
	var out []engine.Target
	items := v.items(a)
	for i := range items {
		item := &items[i]
		at := syntax.Range(item.At)
		if item.Kind == syntax.Bad {
			continue
		}
		var t engine.Target
		switch item.Kind {
		case syntax.Ref:
			t = engine.Target{Kind: engine.TargetKind(item.Text), Name: item.Key, At: at}
		case syntax.Word:
			t = engine.Target{Kind: engine.TargetKind(item.Text), At: at}
		default:
			v.p.Error(at, fmt.Sprintf("serves is %s, not a reference", kindName(item)), "Write what it serves: element.forward, circuit.line, shift[\"1-2\"], range[\"R\"], converter or unit.")
			continue
		}
		alone := t.Kind == engine.OnConverter || t.Kind == engine.OnUnit
		switch {
		case !slices.Contains(targetWords, string(t.Kind)):
			v.p.Error(at, fmt.Sprintf("nothing to serve called %q", syntax.Clip(string(t.Kind))), "What a component serves begins with a kind: element.forward, circuit.line. "+didYouMean(string(t.Kind), targetWords))
		case alone && t.Name != "":
			v.p.Error(at, fmt.Sprintf("%s takes no name", t.Kind), fmt.Sprintf("There is one %s. Write: serves = %s", t.Kind, t.Kind))
		case !alone && t.Name == "":
			v.p.Error(at, fmt.Sprintf("which %s?", t.Kind), fmt.Sprintf("Write: %s.name, or %s[\"name\"] where the name does not start with a letter.", t.Kind, t.Kind))
		default:
			twice := false
			for _, o := range out {
				twice = twice || o.Kind == t.Kind && o.Name == t.Name
			}
			if twice {
				v.p.Error(at, "served twice", "Once is enough.")
				continue
			}
			out = append(out, t)
		}
	}
	return out
}

// required reports the arguments that a block must have.
func (v values) required(n *node) {
	if n.flawed || n.src.torn {
		return // told: what is missing may be what could not be read
	}
	for _, s := range n.spec.args {
		if s.required && n.attr(s.name) == nil {
			v.p.Error(n.at(), fmt.Sprintf("%s without %s", n.title(), s.name), requiredHelp(s))
		}
	}
}

func requiredHelp(s argSpec) string {
	switch s.form {
	case fName:
		return fmt.Sprintf("Add: %s = \"name\"", s.name)
	case fNames:
		return fmt.Sprintf("Add: %s = [\"name\"]", s.name)
	case fWord:
		return fmt.Sprintf("Add: %s = … (%s)", s.name, orList(s.words))
	case fBool:
		return fmt.Sprintf("Add: %s = true or false", s.name)
	case fStrength:
		return fmt.Sprintf("Add: %s = probable, or a number from 0 to 1", s.name)
	case fRate:
		return fmt.Sprintf("Add: %s = 0.02, a number from 0 to 1", s.name)
	case fTeeth:
		return "Add: teeth = [sun, ring]"
	case fMeasured, fQuantity:
		return fmt.Sprintf("Add: %s = \"62 psi\"", s.name)
	case fTarget:
		return fmt.Sprintf("Add: %s = element.name", s.name)
	}
	return fmt.Sprintf("Add: %s = \"…\"", s.name)
}
