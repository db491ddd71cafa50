package wording

import (
	"fmt"
	"strings"

	"slipcase/engine"
	"slipcase/engine/model"
)

// Silent says of a report that it is no evidence, and why.
func Silent(p model.Problem) string {
	d := Problem(p)
	return d.Summary + "; " + d.Detail
}

// Problems are what a case holds that is no evidence, as diagnostics at their
// places.
func Problems(list []model.Problem) []engine.Diagnostic {
	var out []engine.Diagnostic
	for _, p := range list {
		out = append(out, Problem(p))
	}
	return out
}

// layers are the layers of the network that hold what nobody observes.
var layers = map[string]string{
	model.CauseLayer.String(): "a root cause", model.StressLayer.String(): "a stress", model.ModeLayer.String(): "a fault",
	model.EffectLayer.String(): "an effect", model.PartLayer.String(): "part of a finding",
}

// Problem is one of them.
func Problem(p model.Problem) engine.Diagnostic {
	d := engine.Diagnostic{Severity: p.Severity, Subject: p.Where, Also: p.Also}
	near := "no similar name is known"
	if len(p.Names) > 0 {
		near = "did you mean " + strings.Join(p.Names, ", ") + "?"
	}
	switch names := strings.Join(p.Names, ", "); p.Kind {
	case model.UnknownFinding:
		d.Summary, d.Detail = fmt.Sprintf("unknown finding %q", p.Name), near
	case model.NotObserved:
		d.Summary = fmt.Sprintf("unknown finding %q", p.Name)
		d.Detail = fmt.Sprintf("%s is %s, not something that is observed; report what it looks like instead", p.Name, layers[p.Other])
	case model.UnknownCondition:
		d.Summary, d.Detail = fmt.Sprintf("unknown finding %q", p.Name), "the conditions are "+names
	case model.UnknownReporter:
		d.Summary, d.Detail = fmt.Sprintf("unknown reporter %q", p.Name), "name a reporter of the rules: "+names
	case model.BadReading:
		d.Summary, d.Detail = p.Err.Error(), "a reading goes by the name that a finding reads or by a limit of the unit, with its place if it has one"
	case model.UnknownComponent:
		d.Summary, d.Detail = fmt.Sprintf("unknown component %q", p.Name), near
	case model.UnknownMode:
		d.Summary, d.Detail = fmt.Sprintf("%s cannot fail as %q", p.Name, p.Other), "it can fail as: "+names
	case model.UnknownCause:
		d.Summary, d.Detail = fmt.Sprintf("unknown root cause %q", p.Name), near
	case model.Contested:
		d.Summary = fmt.Sprintf("%s says that %s is good, and %s present", p.By, p.Other, p.Name)
		d.Detail = "Delete the wrong one. If it changed between two looks, give both reports a time with `at`."
	case model.HiddenBy:
		d.Summary = fmt.Sprintf("%s is left out: with %s it says nothing", Node(p.About), Node(p.Beside))
		d.Detail = "it can neither show nor be ruled out there"
	case model.OneCondition:
		d.Summary, d.Detail = fmt.Sprintf("%s: not %s says nothing", Node(p.About), Condition(engine.Condition(p.Other))), "no rule shows it in one condition alone"
	default:
		d.Summary = p.Error()
	}
	return d
}
