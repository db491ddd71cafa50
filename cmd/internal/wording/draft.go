package wording

import (
	"errors"
	"fmt"
	"strings"

	"slipcase/cmd/internal/draft"
	"slipcase/engine"
	"slipcase/engine/geartrain"
	"slipcase/rules/check"
)

// DraftAsks is a question about a unit in the making.
func DraftAsks(q draft.Question) string {
	switch q.Kind {
	case draft.AskTrain:
		var b strings.Builder
		b.WriteString("Which of these is built like yours?")
		for i, c := range q.Choices {
			fmt.Fprintf(&b, "\n%3d  %s (%s)", i+1, c.Title, c.ID)
		}
		b.WriteString("\nBuilt like none of them? Type none, and describe it member by member.")
		return b.String()
	case draft.AskGearset:
		if q.Again {
			return "Another gear set? Press Enter when done."
		}
		return "A gear set: its name, single or double, its sun, carrier and ring, and the teeth of sun and ring if you know them, such as: front single sun output front_ring 28 62. Press Enter when done."
	case draft.AskEnds:
		return "Which members are input and output? Example: turbine output"
	case draft.AskElement:
		if q.Again {
			return "Another element? Press Enter when done."
		}
		return "An element: clutch with the two members that it joins, brake or band with what it holds, one-way with what it keeps from turning backward, converter-clutch with its name alone, such as: clutch C1 turbine front_ring. Press Enter when done."
	case draft.AskTitle:
		return "What is it?"
	case draft.AskSource:
		return "Where are its chart and ratios printed? Press Enter if from memory."
	case draft.AskDrive:
		return "Which wheels does it drive: rear, front or all?"
	case draft.AskControls:
		return "How is it controlled: hydraulic, electronic or adaptive?"
	case draft.AskName:
		return "What does the manual call " + elementWords(q.Element) + "?"
	case draft.AskRatio:
		return fmt.Sprintf("Printed ratio of gear %s? Press Enter if not known.", q.Gear)
	case draft.AskRow:
		return fmt.Sprintf("What does the chart apply in %s?", q.Row)
	case draft.AskMore:
		if !q.Again {
			return fmt.Sprintf("Now the chart, row by row: range and gear, and what it applies, such as \"D/1 = %s\"; its elements are %s. P/P and N/N are rows too, = none if nothing is applied. Press Enter when done.", q.Names[0], List(q.Names))
		}
		return fmt.Sprintf("Another row, such as \"2/2 = %s\"? Press Enter if none.", strings.Join(q.Names[:min(2, len(q.Names))], ", "))
	case draft.AskOrder:
		return "In which order do they come out of the case, front to back?"
	case draft.AskMend:
		return fmt.Sprintf("Which row do you want to redo: %s? Or keep the chart as it is?", strings.Join(q.Names, ", "))
	}
	return ""
}

func elementWords(e engine.Element) string {
	between := "joins " + e.A + " and " + e.B
	switch e.Kind {
	case engine.Brake, engine.Band:
		between = "holds " + e.A
	case engine.OneWay:
		between = "keeps " + e.A + " from turning backward"
		if e.B != engine.CaseMember {
			between += " against " + e.B
		}
	}
	kind := map[engine.ElementKind]string{engine.Clutch: "clutch", engine.Brake: "brake", engine.Band: "band", engine.OneWay: "one-way clutch"}[e.Kind]
	return fmt.Sprintf("the %s that %s", kind, engine.Spaced(between))
}

// DraftNames says once what rows can be told with.
func DraftNames(q draft.Question) string {
	return fmt.Sprintf("Now the chart, row by row. Its elements are %s; add lockup if the converter clutch is on at cruise. Type none if nothing is applied, - if your unit has no such row.", List(q.Names))
}

// DraftSays is what the gear train says to an answer, "" for nothing.
func DraftSays(r draft.Reply) string {
	var out []string
	if x := r.Row; x != nil {
		out = append(out, rowWords(x))
	}
	if f := r.Fit; f != nil {
		switch {
		case f.Many:
			out = append(out, "These ratios do not pin down the tooth counts. Those of the unit you started from are used for now.")
		case f.Teeth == nil:
			out = append(out, "No tooth counts give these ratios with this train. Compare the ratios with the manual, or start from another unit.")
		case f.Sets == 1:
			out = append(out, "One set of teeth (sun, ring) gives these ratios: "+f.Teeth.String()+".")
		default:
			out = append(out, fmt.Sprintf("%d sets of teeth give these ratios; the simplest (sun, ring): %s. All of them give the printed ratios.", f.Sets, f.Teeth))
		}
	}
	if len(r.Disagree) > 0 {
		s := "Chart and gear train disagree in " + strings.Join(r.Disagree, ", ") + "."
		for i, set := range r.Repairs {
			s += []string{" They would agree with ", "; or with "}[min(i, 1)] + editsWords(set)
		}
		if len(r.Repairs) > 0 {
			s += "."
		}
		out = append(out, s)
	}
	return strings.Join(out, "\n")
}

func rowWords(x *draft.RowReply) string {
	s := rowDoes(x)
	if !x.Wrong {
		return s
	}
	switch {
	case x.Class == geartrain.Drives && x.Printed != "":
		s += fmt.Sprintf(" The manual prints %s for it.", x.Printed)
	case x.Class == geartrain.Drives:
		s += " A row in N or P must not drive."
	default:
		s += " A gear must drive."
	}
	for i, e := range x.Repairs {
		s += []string{" It would agree with ", "; or with "}[min(i, 1)] + editsWords([]geartrain.Edit{e})
	}
	if len(x.Repairs) > 0 {
		s += "."
	}
	return s + " Go on; you can redo rows at the end."
}

func rowDoes(x *draft.RowReply) string {
	switch x.Class {
	case geartrain.NoDrive:
		return x.Row + ": no drive."
	case geartrain.TieUp:
		return x.Row + ": tied up, two gears at once."
	}
	s := x.Row + ": drives at " + x.Ratio.FloatString(3)
	if !x.Teeth {
		s += " (teeth of the unit you started from)"
	}
	if len(x.Holding) > 0 {
		s += ", " + strings.Join(x.Holding, " and ") + " holds"
	}
	if x.Braking {
		return s + ", engine braking."
	}
	return s + ", no engine braking."
}

func editsWords(set []geartrain.Edit) string {
	var out []string
	for _, e := range set {
		out = append(out, check.Change(e))
	}
	return strings.Join(out, " and ")
}

// DraftRefuses says why an answer cannot be taken.
func DraftRefuses(err error) string {
	var bad *draft.ErrAnswer
	if !errors.As(err, &bad) {
		return err.Error()
	}
	switch {
	case bad.NotCovered == engine.TwoInputs:
		return "Two inputs: not covered. A train that splits power between an engine and a motor cannot be described here."
	case bad.NotCovered != "":
		return "Continuously variable ratio: not covered. A gear here has one ratio, made by teeth."
	case bad.Question == draft.AskName:
		return fmt.Sprintf("%q cannot be its name: it is taken, or has no letter.", bad.Text)
	case bad.Question == draft.AskGearset && len(bad.Known) == 0:
		return fmt.Sprintf("%q cannot be taken. Write name, single or double, sun, carrier, ring, and after them both tooth counts or none; a ring has more teeth than its sun, and each name is used once.", bad.Text)
	case bad.Question == draft.AskElement && len(bad.Known) == 0:
		return fmt.Sprintf("%q cannot be taken. Write kind, name and members: clutch C1 turbine sun; brake B1 sun; one-way F1 carrier; converter-clutch TCC. Each name is used once.", bad.Text)
	case bad.Question == draft.AskEnds:
		return fmt.Sprintf("%q is not two members. Write input and output: turbine output", bad.Text)
	case bad.Question == draft.AskRatio:
		return fmt.Sprintf("%q is not a ratio. Write it as printed: 2.80", bad.Text)
	case len(bad.Known) > 0 && Nearest(bad.Text, bad.Known) != "":
		return fmt.Sprintf("%q is not among them; %s", bad.Text, Nearest(bad.Text, bad.Known))
	case len(bad.Known) > 0:
		return fmt.Sprintf("%q is not among them: %s.", bad.Text, strings.Join(bad.Known, ", "))
	case bad.Question == draft.AskMore:
		return fmt.Sprintf("%q is not a row. Write range/gear = elements, such as 2/2 = forward, second.", bad.Text)
	}
	return fmt.Sprintf("%q cannot be taken.", bad.Text)
}

// Made says how much of a unit was made from its chart, "" where nothing was.
func Made(parts, ofParts, steps, ofSteps int) string {
	if parts+steps == 0 {
		return ""
	}
	return fmt.Sprintf("%d of %s and %d of %s are the usual ones, added from the chart.", parts, Count(ofParts, "part", "parts"), steps, Count(ofSteps, "step", "steps"))
}
