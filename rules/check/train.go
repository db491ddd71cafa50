package check

import (
	"fmt"
	"strings"

	"slipcase/engine"
	"slipcase/engine/geartrain"
)

// Train says in words what keeps a gear train from being built.
func Train(list geartrain.Problems) []engine.Diagnostic {
	var out []engine.Diagnostic
	for _, p := range list {
		summary, detail := trainProblem(p)
		out = append(out, engine.Diagnostic{Severity: engine.Error, Summary: summary, Detail: detail, Subject: p.At})
	}
	return out
}

// trainProblem is what is wrong, and what to do.
func trainProblem(p geartrain.Problem) (summary, detail string) {
	named := fmt.Sprintf("%s %q", strings.ReplaceAll(p.What, "_", "-"), p.Name)
	switch p.Kind {
	case geartrain.NoUnit:
		return "no unit", "load a unit first"
	case geartrain.NoName:
		return p.What + " without a name", "give it a name"
	case geartrain.NameTaken:
		return named + " is not the only one of that name", fmt.Sprintf("a %s has it already; gearsets, elements and joints share one name space", p.Other)
	case geartrain.NoGearset:
		return "train without a gearset", fmt.Sprintf("list the gearsets of unit %q", p.Name)
	case geartrain.GearsetKind:
		return fmt.Sprintf("gearset %q is of kind %q", p.Name, p.Other), fmt.Sprintf("single-pinion gearsets are %q, double-pinion ones %q", engine.Single, engine.Double)
	case geartrain.LacksMember:
		if p.What == "gearset" {
			return named + " lacks a member", "name its sun, carrier and ring"
		}
		return named + " lacks a member", "name the members that it acts on"
	case geartrain.MemberTwice:
		return fmt.Sprintf("gearset %q names one member twice", p.Name), "sun, carrier and ring are three members; join two with a joint if they never part"
	case geartrain.BadTeeth:
		return fmt.Sprintf("gearset %q has teeth [%d, %d]", p.Name, p.Sun, p.Ring), fmt.Sprintf("give teeth of sun and ring; the ring has more, at most %d", p.Most)
	case geartrain.ToItself:
		return fmt.Sprintf("%s joins %q to itself", named, p.Other), "name two members"
	case geartrain.ManyLinks:
		return "too many elements and joints", fmt.Sprintf("at most %d together", p.Most)
	case geartrain.ManyOneWays:
		return "too many one-way clutches", fmt.Sprintf("at most %d", p.Most)
	case geartrain.ManyMembers:
		return "too many members", fmt.Sprintf("%d; at most %d", p.Number, p.Most)
	case geartrain.KindOfElement:
		return fmt.Sprintf("element %q is of kind %q", p.Name, p.Other), "kinds are clutch, brake, band, one_way and converter_clutch"
	case geartrain.MovedWith:
		return fmt.Sprintf("%q is moved with %q", p.Name, p.Other), "name another clutch, brake or band of the unit"
	case geartrain.NoEnd:
		return "train without " + p.What, "name the member that is the " + p.What
	case geartrain.UnknownEnd:
		return fmt.Sprintf("unknown member %q as %s", p.Name, p.What), "no gearset, element or joint names it; members are " + strings.Join(p.Names, ", ")
	case geartrain.CaseAsEnd:
		return "the case as " + p.What, "name a member that turns"
	case geartrain.OneEnd:
		return fmt.Sprintf("%q is both input and output", p.Name), "name two members"
	case geartrain.NoRows:
		return fmt.Sprintf("unit %q has no rows", p.Name), "write its apply chart"
	case geartrain.RowTwice:
		return "two rows " + p.Name, "a range has each gear once"
	case geartrain.NotElement:
		return fmt.Sprintf("row %s applies %q, which is not an element", p.Name, p.Other), "elements are " + strings.Join(p.Names, ", ")
	case geartrain.AppliesOneWay:
		return fmt.Sprintf("row %s applies the one-way clutch %q", p.Name, p.Other), "one-way clutches work by themselves; list it under holding"
	case geartrain.AppliesBoth:
		return fmt.Sprintf("row %s applies %q and %q", p.Name, p.Names[0], p.Names[1]), "one sleeve or valve moves them (moved_with): one comes on as the other lets go"
	case geartrain.NotOneWay:
		return fmt.Sprintf("row %s holds %q, which is not a one-way clutch", p.Name, p.Other), "list one-way clutches only"
	case geartrain.BadFactor:
		return fmt.Sprintf("row %s has the %s factor %q", p.Name, p.What, p.Other), "give a number above 0"
	}
	return "gear train cannot be built", p.Error()
}
